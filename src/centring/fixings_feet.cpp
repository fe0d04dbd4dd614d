// What feet are held and lowered by, and the packing between legs.

#include <algorithm>
#include <cmath>
#include <map>

#include "centring/fixings_parts.hpp"
#include "centring/foot_ground.hpp"
#include "centring/jack.hpp"
#include "centring/strap.hpp"

namespace skewback {
namespace {

// of straps: nails in a row, EN 1995-1-1, 8.3.1.4 and table 8.2, from memory: 15 d to the end of
// the timber, 0.7 x 10 d between; the steel's own end is common practice
constexpr double kNail_m = 0.004, kToEnd = 15, kBetween = 7, kSteelEnd_m = 0.015, kStep_m = 0.01;
constexpr int kStraps = 2;

double nailed_m(int nails) { return (kToEnd + kBetween * (nails - 1)) * kNail_m + kSteelEnd_m; }

double up_to_step(double m) { return kStep_m * std::ceil(m / kStep_m - 1e-9); }

const FootFinding* found_of(const Centring& centring, const CentringFoot& foot) {
  const auto it = std::ranges::find(centring.foot_findings, foot.id, &FootFinding::foot);
  return it == centring.foot_findings.end() ? nullptr : &*it;
}

struct Tie {
  int straps = 0, ends = 0;  // nailed
  double force_n = 0;
  std::vector<std::string> at;
};
using Ties = std::map<std::tuple<std::string, int, int>, Tie>;  // where, nails, length in mm

void tie(Ties& ties, const char* where, int nails, double length_m, int ends, double pull_n,
         const std::string& id) {
  Tie& one = ties[{where, nails, static_cast<int>(std::lround(1e3 * up_to_step(length_m)))}];
  one.straps += kStraps;
  one.ends += kStraps * ends;
  one.force_n = std::max(one.force_n, pull_n);
  one.at.push_back(id);
}

void straps(const Brief& brief, const Centring& centring, Fixings& out) {
  Ties ties;
  for (const CentringFoot& foot : centring.feet) {
    const FootFinding* found = found_of(centring, foot);
    if (!foot.held_down || found == nullptr) continue;
    const double pull = found->hold_up_n / brief.centring.foot_hold_factor;
    const int nails = strap_for(brief, std::max(pull, 1.0)).nails;  // the least where none pulls
    const double end = nailed_m(nails);
    if (foot.post < 0) {
      tie(ties, "rib to foot", nails, end + foot.head.z() - foot.at.z() + foot.up_m, 1, pull,
          foot.id);
      continue;
    }
    const Stick& post = centring.sticks[static_cast<std::size_t>(foot.post)];
    tie(ties, "rib to post", nails, 2 * end, 2, pull, foot.id);
    tie(ties, "post to foot", nails, end + post.from.z() - foot.at.z() + foot.up_m, 1, pull,
        foot.id);
  }
  int nailed = 0, open = 0;
  for (const auto& [key, one] : ties) {
    const auto& [where, nails, length] = key;
    const bool to_foot = where != "rib to post";
    out.rows.push_back(
        {"strap", where,
         "40 x 1.5 x " + std::to_string(length) + ", " + std::to_string(nails) + " nails an end",
         "S250", one.straps, 0, one.force_n / kStraps, one.at,
         std::string("one on each face") +
             (to_foot ? ", nailed at its upper end; as long as to the ground with the foot raised, "
                        "what its hold takes up comes to it"
                      : ", nailed at both ends") +
             "; 15 d to the end of the timber, 7 d between (EN 1995-1-1, table 8.2, from memory); "
             "force: design pull in one"});
    nailed += nails * one.ends;
    if (to_foot) open += one.straps;
  }
  if (nailed > 0)
    out.rows.push_back({"nail",
                        "straps",
                        "4.0 x 40, ring shanked",
                        "",
                        nailed,
                        0.0015,
                        0,
                        {},
                        "in the ends of straps that lie on timber"});
  if (open > 0)
    out.missing.push_back("Straps at their holds: how the lower ends of " + std::to_string(open) +
                          " straps are made fast to stake, screw or kentledge.");
  const double step = (brief.centring.post_m - brief.centring.sheet_thickness_m) / 2;
  if (std::ranges::any_of(ties,
                          [](const auto& t) { return std::get<0>(t.first) == "rib to post"; }))
    out.missing.push_back("Straps at heads of posts: the post's face lies " + size_in_mm(step) +
                          " mm outside the rib's; straps are bent over it, or the rib is packed "
                          "out under them, and neither is in the model.");
}

void holds(const Centring& centring, Fixings& out) {
  Fixing sideways{"hold",
                  "foot, sideways",
                  "stake, ground screw or kentledge",
                  "",
                  0,
                  0,
                  0,
                  {},
                  "feet held; force: the greatest it must be good for, characteristic. Each: "
                  "feet.csv"};
  Fixing down = sideways;
  down.where = "foot, down";
  for (const CentringFoot& foot : centring.feet) {
    const FootFinding* found = found_of(centring, foot);
    for (const bool up : {false, true}) {
      if (!(up ? foot.held_down : foot.held)) continue;
      Fixing& row = up ? down : sideways;
      ++row.number;
      row.at.push_back(foot.id);
      if (found != nullptr)
        row.force_n = std::max(row.force_n, up ? found->hold_up_n : found->hold_n);
    }
  }
  for (const Fixing& row : {sideways, down})
    if (row.number > 0) out.rows.push_back(row);
}

double greatest_design_n(const Centring& centring) {
  double most = 0;
  for (const FootFinding& foot : centring.foot_findings) most = std::max(most, foot.design_n);
  return most;
}

std::string travel_words(const Centring& centring) {
  double down = 0, up = 0;
  for (const CentringFoot& foot : centring.feet)
    down = std::max(down, foot.down_m), up = std::max(up, foot.up_m);
  return "travel " + size_in_mm(down) + " mm down, " + size_in_mm(up) + " mm up";
}

void wedges(const Brief& brief, const Centring& centring, Fixings& out) {
  Fixing row{"folding wedges, pairs",
             "under a post or rib",
             "in contact over " + size_in_mm(brief.centring.post_m) + " x " +
                 size_in_mm(brief.centring.post_m) + " at least",
             "",
             static_cast<int>(centring.feet.size()),
             0,
             greatest_design_n(centring),
             {},
             "one pair a foot, " + travel_words(centring) +
                 "; force: greatest design load of a foot. Each: feet.csv"};
  out.rows.push_back(row);
  out.missing.push_back("Wedges: their slope and length, and how much of the " +
                        size_in_mm(foot_room_m(brief.centring)) +
                        " mm or more under each post is packs.");
}

void jacks(const Brief& brief, const Centring& centring, Fixings& out) {
  Fixing row{"jack",
             "under a post",
             "",
             "",
             0,
             0,
             greatest_design_n(centring),
             {},
             "one a foot, " + travel_words(centring) +
                 "; force: greatest design load of a foot. Each: feet.csv"};
  std::vector<std::string> bare;
  const bool bought = brief.centring.jack_capacity_n > 0;
  for (const CentringFoot& foot : centring.feet) {
    if (foot.post >= 0 || bought)
      ++row.number;
    else
      bare.push_back(foot.id);
  }
  if (bought) {
    row.size = "for " + std::to_string(std::lround(brief.centring.jack_capacity_n)) +
               " N in design, raised all the way (centring.jack_capacity)";
  } else if (!centring.foot_findings.empty()) {
    const Jack jack = jack_for(brief, centring);
    row.size = jack.thread.name() + ", screw of " + size_in_mm(jack.length_m) + ", nut " +
               size_in_mm(jack.nut_m) + " high, bore " + size_in_mm(jack.bore_m) +
               " deep in the post";
    row.grade = "S235";
  }
  if (row.number > 0) out.rows.push_back(row);
  if (!bare.empty())
    out.missing.push_back(
        "Jacks with a tube of their own, for feet without a post: " + named_ids(bare) + ".");
}

}  // namespace

void list_feet(const Brief& brief, const Centring& centring, Fixings& out) {
  straps(brief, centring, out);
  holds(centring, out);
  if (centring.feet.empty()) return;
  if (brief.centring.feet == "jacks")
    jacks(brief, centring, out);
  else
    wedges(brief, centring, out);
}

void list_packings(const Centring& centring, Fixings& out) {
  for (const LegPacking& packing : centring.leg_packings) {
    const std::string along =
        std::abs(packing.long_m - packing.short_m) < 5e-4
            ? size_in_mm(packing.long_m)
            : size_in_mm(packing.short_m) + " to " + size_in_mm(packing.long_m);
    out.rows.push_back(
        {"packing between legs",
         packing.id + ", " + packing.rib + " against " + packing.other,
         along + " along the rib, " + size_in_mm(packing.width_m) + " wide, " +
             size_in_mm(std::floor(1e3 * packing.height_m + 1e-6) / 1e3) + " high",
         "",
         1,
         0,
         packing.force_n,
         {packing.id},
         "sawn timber, grain upright; area from k_mod f_c,90 / gamma_M on the "
         "sheet's thickness; nailed so that it cannot fall; not among the lengths of sawn "
         "timber; force: design"});
  }
  if (centring.legs_push_n > 0 && centring.leg_packings.empty())
    out.missing.push_back(
        "Packing between legs that push each other: no rib's end is near "
        "another leg's rib.");
}

}  // namespace skewback
