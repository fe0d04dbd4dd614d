// A bolt in each end of every brace, through brace and post.

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"

namespace skewback {
namespace {

// M10 to M20; two in one end have no room in posts and boards of these sizes
constexpr std::array kBolts{0.010, 0.012, 0.016, 0.020};
constexpr double kBoltStrength_pa = 400e6;  // f_u of grade 4.6
constexpr double kSawnDensity = 350;        // kg/m3, characteristic of C24, EN 338, from memory
constexpr double kGammaJoint = 1.3;         // of connections, EN 1995-1-1 table 2.3, from memory

/// What all braces have in common, the least of each.
struct Ends {
  double thin_m = 0, deep_m = 0, beyond_m = 0;  // of the boards
  double sine = 0;                              // greatest, of the angle between board and post
};

std::optional<Ends> ends_of(const Centring& centring) {
  std::optional<Ends> ends;
  for (const Stick& stick : centring.sticks) {
    const Vec3 axis = stick.to - stick.from;
    if (stick.kind != "brace" || axis.norm() <= 0) continue;
    const double thin = std::min(stick.width_m, stick.depth_m);
    const double deep = std::max(stick.width_m, stick.depth_m);
    const double sine = axis.head<2>().norm() / axis.norm();
    if (!ends) ends = Ends{thin, deep, stick.beyond_m, sine};
    ends->thin_m = std::min(ends->thin_m, thin);
    ends->deep_m = std::min(ends->deep_m, deep);
    ends->beyond_m = std::min(ends->beyond_m, stick.beyond_m);
    ends->sine = std::max(ends->sine, sine);
  }
  return ends;
}

/// From the bolt to the edge of the post that it presses towards (EN 1995-1-1 table 8.4, from
/// memory: (2 + 2 sin a) d, at least 3 d).
double to_edge_m(double bolt_m, double sine) { return std::max(2 + 2 * sine, 3.0) * bolt_m; }

/// Edge of the post; edge of the board, 3 d; end of the board, 7 d and at least 80 mm.
bool has_room(double bolt_m, const Ends& ends, double post_m) {
  return to_edge_m(bolt_m, ends.sine) <= post_m / 2 && 3 * bolt_m <= ends.deep_m / 2 &&
         std::max(7 * bolt_m, 0.08) <= ends.beyond_m + 1e-9;
}

}  // namespace

std::vector<std::string> check_brace_ends(const Brief& brief, const Centring& centring,
                                          double force_n, Judged& out) {
  const std::optional<Ends> ends = ends_of(centring);
  if (!(force_n > 0) || !ends) return {};
  const double post_m = brief.centring.post_m;
  double bolt_m = 0, carries_n = 0;
  for (const double tried_m : kBolts) {
    if (!has_room(tried_m, *ends, post_m)) continue;
    bolt_m = tried_m;
    carries_n = bolt_in_two_n(ends->thin_m, post_m, kSawnDensity, tried_m, kBoltStrength_pa) *
                brief.centring.k_mod / std::max(brief.centring.gamma_m, kGammaJoint);
    if (carries_n >= force_n) break;
  }
  if (bolt_m == 0) {
    out.worst.offer(check_of("bolt in a post", to_edge_m(kBolts.front(), ends->sine), post_m / 2,
                             "m", "the steepest or flattest brace", "worst stage",
                             "an M10 from the edge of its post (EN 1995-1-1 table 8.4, from "
                             "memory)"));
    return {};
  }
  out.brace_bolt_m = bolt_m;
  out.asks.brace_ends.used = force_n / carries_n;
  const std::string name = "one bolt M" + std::to_string(std::lround(1e3 * bolt_m));
  out.worst.offer(check_of(
      "end of a brace", force_n, carries_n, "N", "the hardest pressed brace", "worst stage",
      name + " of grade 4.6 through board and post, one shear plane, across the "
             "post's grain (EN 1995-1-1, (8.6), (8.30) to (8.34), table 8.4, from memory)"));
  return {"A brace carries up to " + kilonewtons_of(force_n) + ", pushed or pulled: " + name +
          " in each end of each, on the post's axis, " + millimetres_of(ends->beyond_m) +
          " from the board's end " + (carries_n >= force_n ? "(" : "does not do (") +
          kilonewtons_of(carries_n) +
          "). Of each pair one board lies on either face of the posts; where they cross a packing "
          "as thick as the posts is nailed to both, two nails from each."};
}

}  // namespace skewback
