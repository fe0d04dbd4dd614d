// A bolt in each end of every brace, through brace and post.

#include <algorithm>
#include <array>
#include <cmath>

#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"

namespace skewback {
namespace {

struct Bolts {
  int count = 1;
  double size_m = 0;
};
// thicker ones would lie nearer to the edges of a board of 100 mm than three times their size
constexpr std::array kBolts{Bolts{1, 0.010}, Bolts{1, 0.012}, Bolts{1, 0.016}, Bolts{2, 0.016}};
constexpr double kApart = 5;                // times their size, along the brace
constexpr double kBoltStrength_pa = 400e6;  // f_u of grade 4.6
constexpr double kSawnDensity = 350;        // kg/m3, characteristic of C24, EN 338, from memory
constexpr double kGammaJoint = 1.3;         // of connections, EN 1995-1-1 table 2.3, from memory

}  // namespace

std::vector<std::string> check_brace_ends(const Brief& brief, const Centring& centring,
                                          double force_n, Judged& out) {
  if (!(force_n > 0)) return {};
  double thin_m = 0;
  for (const Stick& stick : centring.sticks) {
    if (stick.kind != "brace") continue;
    const double t = std::min(stick.width_m, stick.depth_m);
    thin_m = thin_m > 0 ? std::min(thin_m, t) : t;
  }
  if (!(thin_m > 0)) return {};
  Bolts bolts;
  double carries_n = 0;
  for (const Bolts& tried : kBolts) {
    bolts = tried;
    const double counted =
        tried.count == 1 ? 1 : std::pow(tried.count, 0.9) * std::pow(kApart / 13, 0.25);
    carries_n =
        counted *
        bolt_in_two_n(thin_m, brief.centring.post_m, kSawnDensity, tried.size_m, kBoltStrength_pa) *
        brief.centring.k_mod / std::max(brief.centring.gamma_m, kGammaJoint);
    if (carries_n >= force_n) break;
  }
  const std::string name = std::string(bolts.count == 1 ? "one bolt" : "two bolts") + " M" +
                           std::to_string(std::lround(1e3 * bolts.size_m));
  out.worst.offer(check_of(
      "end of a brace", force_n, carries_n, "N", "the hardest pressed brace", "worst stage",
      name + " of grade 4.6 through board and post, one shear plane, across the "
             "post's grain (EN 1995-1-1, (8.6), (8.30) to (8.34), from memory)"));
  return {"A brace carries up to " + kilonewtons_of(force_n) + ", pushed or pulled: " + name +
          " in each end of each, through board and post " +
          (carries_n >= force_n ? "(" : "does not do (") + kilonewtons_of(carries_n) +
          "), and two nails where two braces cross."};
}

}  // namespace skewback
