// Jacks under posts: found, and held against the feet they carry.

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "centring/jack.hpp"
#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

constexpr double kBoreClear_m = 0.002;

std::string whole_mm(double m) { return std::to_string(std::lround(1e3 * m)) + " mm"; }

void check_post_ends(const Brief& brief, const Centring& centring, const Jack& jack, Judged& out) {
  const double bore = jack.thread.outer_m + kBoreClear_m;
  for (std::size_t f = 0; f < centring.feet.size(); ++f) {
    const CentringFoot& foot = centring.feet[f];
    if (foot.post < 0) continue;
    const Stick& post = centring.sticks[static_cast<std::size_t>(foot.post)];
    const double end = post.width_m * post.depth_m - kPi / 4 * bore * bore;
    const CentringCheck check =
        check_of("post on its jack", centring.foot_findings[f].design_n,
                 design_pa(brief, brief.centring.post_strength_pa) * end, "N", foot.id,
                 "worst stage of the foot",
                 "k_mod f_c,0 / gamma_M on the post's end less the screw's bore, a plate as wide "
                 "under it (EN 1995-1-1, 6.1.4)");
    out.worst.offer(check);
    out.of_foot[f].offer(check);
  }
}

}  // namespace

std::vector<std::string> check_jacks(const Brief& brief, const Centring& centring, Judged& out) {
  const bool stands = std::ranges::any_of(centring.foot_findings,
                                          [](const FootFinding& f) { return f.design_n > 0; });
  if (brief.centring.feet != "jacks" || !stands) return {};
  if (brief.centring.jack_capacity_n > 0) {
    for (std::size_t f = 0; f < centring.feet.size(); ++f) {
      const CentringCheck check = check_of(
          "jack", centring.foot_findings[f].design_n, brief.centring.jack_capacity_n, "N",
          centring.feet[f].id, "worst stage of the foot",
          "design load of one jack by its maker (centring.jack_capacity); sideways forces at its "
          "head are the maker's to allow");
      out.worst.offer(check);
      out.of_foot[f].offer(check);
    }
    return {"Jacks: bought, each for " + kilonewtons_of(brief.centring.jack_capacity_n) +
            " in design. The head plate must take the post's whole end."};
  }
  const Jack jack = jack_for(brief, centring);
  std::vector<std::string> words;
  if (!jack.foot.empty()) {
    CentringCheck screw =
        check_of("screw of a jack", jack.used, 1, "", jack.foot, "worst stage of the foot",
                 jack.thread.name() +
                     ", compression and bending of second order over its free length, S235, "
                     "gamma_M 1.1 (EN 12811-1, EN 1993-1-1 5.3.2, from memory)");
    if (!jack.found) screw.utilisation = std::max(screw.utilisation, 1.001);
    out.worst.offer(screw);
    check_post_ends(brief, centring, jack, out);
    words.push_back(
        std::string("Jacks: ") + (jack.found ? "" : "none of the table does; the largest is ") +
        jack.thread.name() + ", screw of " + whole_mm(jack.length_m) + ", free over " +
        whole_mm(jack.extension_m) + " raised all the way with " + whole_mm(jack.overlap_m) +
        " left in the post; bores of " + whole_mm(jack.thread.outer_m + kBoreClear_m) + " by " +
        whole_mm(jack.bore_m) + ", nuts " + whole_mm(jack.nut_m) +
        " high. To raise the hardest pressed under its blocks takes " +
        std::to_string(std::lround(jack.turning_nm)) +
        " N m: " + std::to_string(std::lround(jack.turning_nm / 0.5)) + " N on a bar of 0.5 m.");
  }
  if (jack.posts_too_short > 0) {
    words.push_back(std::to_string(jack.posts_too_short) +
                    " posts are shorter than the bore a jack's screw needs: lower ground, a rib "
                    "less deep, or wedges there.");
    CentringCheck check =
        check_of("post long enough for its screw", jack.posts_too_short, 0, "", "shortest posts",
                 "every stage", "bore over the post's length (ours)");
    check.utilisation = 1.001;
    out.worst.offer(check);
  }
  if (jack.without_post > 0)
    words.push_back(std::to_string(jack.without_post) +
                    " feet have no post for a screw to go up into: a jack with a tube of its own "
                    "is needed there, and was not designed.");
  return words;
}

}  // namespace skewback
