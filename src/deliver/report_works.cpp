#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/report.hpp"
#include "deliver/report_ground.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string kn(double newton) { return fixed(newton / 1000, 2); }
std::string mm(double metre) { return fixed(metre * 1000, 1); }

void add_ties(Pages& pages, const Groundworks& ground) {
  if (ground.ties.empty()) {
    pages.paragraph("The brief draws no ties: the ground alone must hold the thrust.");
    return;
  }
  std::vector<Row> rows;
  for (const TieForce& tie : ground.ties) {
    rows.push_back(
        {{tie.id, fixed(tie.length_m, 2), std::to_string(tie.rod_force_n.size()), kn(tie.force_n),
          kn(tie.governing_n), tie.diameter_m > 0 ? fixed(tie.diameter_m * 1000, 0) : "none found"},
         {}});
  }
  pages.table({{"tie", 2},
               {"length (m)", 1, true},
               {"rods", 0.7, true},
               {"dead load, all rods (kN)", 1.4, true},
               {"one rod, worst case, factored (kN)", 1.6, true},
               {"rod (mm)", 0.9, true}},
              rows);
}

}  // namespace

namespace {

/// Per case the further of warm, cold and neither.
void add_spread(Pages& pages, const TieSpread& spread) {
  if (spread.states.empty()) return;
  pages.keep(50);
  pages.subheading("What the ties' stretch does");
  pages.paragraph(
      "Rods, feet and pads brought to one state. \"At striking\": rods are tightened until the "
      "bridge bears its own weight; \"not\": the dead load stretches them too. Required to hold "
      "(other_states) are those at striking, of every pattern: rods must be tightened so. Tried "
      "here: dead load "
      "and "
      "the five patterns that pull a rod hardest; shown: the eight states that spread most.");
  std::vector<const SpreadState*> order;
  for (const SpreadState& state : spread.states) order.push_back(&state);
  std::stable_sort(order.begin(), order.end(), [](const SpreadState* a, const SpreadState* b) {
    return std::pair(a->settled, -a->spread_m) < std::pair(b->settled, -b->spread_m);
  });
  std::vector<Row> rows;
  constexpr std::size_t kShown = 8;
  for (std::size_t i = 0; i < std::min(kShown, order.size()); ++i) {
    const SpreadState& s = *order[i];
    rows.push_back(
        {{s.case_id, s.tightened == Tightened::kAtStriking ? "at striking" : "not",
          s.warmer_k == 0 ? "" : fixed(s.warmer_k, 0), s.settled ? mm(s.spread_m) : s.reason,
          s.settled ? mm(s.crown_drop_spread_m) : "", s.settled ? fixed(s.peak_pa / 1e6, 2) : "",
          s.settled ? fixed(1e3 * s.opening_max_m, 2) : ""},
         s.settled ? std::nullopt : verdict_tint(Verdict::kUndecided)});
  }
  pages.table({{"case", 1.6},
               {"tightened", 1.1},
               {"warmer (K)", 0.8, true},
               {"spread (mm)", 1.4, true},
               {"crown drops by it (mm)", 1.2, true},
               {"peak (MPa)", 0.9, true},
               {"opens (mm)", 0.9, true}},
              rows);
  for (const std::string& remark : spread.remarks) pages.bullet(remark);
}

}  // namespace

void add_ground(Pages& pages, const Dossier& dossier) {
  const Groundworks& ground = *dossier.ground;
  pages.heading("Ground and ties");
  pages.paragraph(
      "Reactions under dead load, of the ground on the bridge. They are those of "
      "the pads on footings that stay where they are, where no remark below says otherwise.");
  std::vector<Row> rows;
  for (const SupportReaction& s : ground.supports) {
    rows.push_back({{s.id, kn(s.force.x()), kn(s.force.y()), kn(s.force.z()), kn(s.thrust_n)}, {}});
  }
  pages.table({{"support", 2},
               {"x (kN)", 1, true},
               {"y (kN)", 1, true},
               {"z (kN)", 1, true},
               {"thrust (kN)", 1, true}},
              rows);
  add_ties(pages, ground);
  for (const TieState& state : ground.cases) {
    if (!state.balanced)
      pages.bullet("Footings not held in case " + state.case_id + ": " + state.reason);
  }
  for (const std::string& remark : ground.remarks) pages.bullet(remark);
  add_feet(pages, dossier.brief, ground);
  if (dossier.spread) add_spread(pages, *dossier.spread);
}

void add_limits(Pages& pages, const Dossier& dossier) {
  pages.heading("What was not looked at");
  for (const std::string& line : not_looked_at(dossier)) pages.bullet(line);
  pages.heading("Once more, before anyone builds");
  for (const std::string& caution : cautions()) pages.bullet(caution);
}

}  // namespace skewback::deliver
