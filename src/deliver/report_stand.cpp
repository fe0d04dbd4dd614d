#include "deliver/drawings.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

/// Share of the joints' depth that a case needs, in %: "13.2", "≤ 18.5", "> 100".
std::string depth_words(const Dossier& dossier, const std::string& id) {
  if (!dossier.depth_needed) return "";
  for (const DepthNeed& need : dossier.depth_needed->cases) {
    if (need.id != id) continue;
    if (!need.share) return "> 100";
    return (need.at_most ? "≤ " : "") + fixed(100 * *need.share, 1);
  }
  return "";
}

bool is_pattern(const Dossier& dossier, std::size_t i) {
  return i >= dossier.notes.size() || dossier.notes[i].kind == CaseKind::kPattern;
}

std::string least_depth(const Dossier& dossier) {
  const DepthNeeds& needs = *dossier.depth_needed;
  std::string text = "Least depth, one shape for all of these patterns: ";
  const std::string with =
      " with the live load times " + fixed(needs.live_factor, 2) + " on dead load as it is";
  if (!needs.share) {
    text += "the full depth of the joints does not hold";
    for (std::size_t k = 0; k < needs.unheld.size(); ++k) {
      text += (k > 0 ? ", " : " ") + needs.cases[static_cast<std::size_t>(needs.unheld[k])].id;
    }
    return text + with + ".";
  }
  text += fixed(100 * *needs.share, 1) + " % of every joint's depth holds them all" + with;
  if (needs.governing < 0) return text + ", and less was not tried.";
  const DepthNeed& need = needs.cases[static_cast<std::size_t>(needs.governing)];
  text += "; " + need.id + " needs it";
  if (need.joint >= 0) {
    text += ", most of all at " + joint_name(dossier.cut->assembly, need.joint) + ", where it is " +
            fixed(1000 * needs.joint_depth_m[static_cast<std::size_t>(need.joint)], 0) + " mm";
  }
  return text + ". The blocks keep their weight, and their strength is not looked at.";
}

std::string mpa(const std::optional<double>& pascal) {
  return pascal ? fixed(*pascal / 1e6, 2) : "";
}

void add_worst_pattern(Pages& pages, const Dossier& dossier) {
  if (!dossier.worst_pattern) return;
  const WorstPattern& worst = *dossier.worst_pattern;
  double newtons = 0;
  for (const LiveForce& cell : worst.load.live) newtons += cell.force.norm();
  std::string text = "The worst place found for people, begun from " + worst.load.id + ": " +
                     fixed(newtons / 1000, 1) + " kN on " + std::to_string(worst.load.live.size()) +
                     " cells of the walking surface, live factor " +
                     (worst.proof.at_cap ? "at least " : "") +
                     fixed(worst.proof.load_factor.value_or(0), 2);
  if (worst.proof.limit_mechanism && dossier.cut) {
    text += "; it would go by " + in_words(dossier.cut->assembly, *worst.proof.limit_mechanism);
  }
  if (worst.proof.at_cap) {
    pages.paragraph("No place for people was found that brings it down: live factors of " +
                    fixed(*worst.proof.load_factor, 0) +
                    " and more, blocks and joints taken as infinitely strong.");
    return;
  }
  pages.paragraph(text + (worst.settled
                              ? ". A least among its neighbours, not proven the least of all."
                              : ". The search stopped there without settling: a worse place may "
                                "lie near."));
}

std::string reach_words(double value, bool beyond, bool turn) {
  const std::string text = fixed(1000 * value, value < 0.01 ? 1 : 0) + (turn ? " mrad" : " mm");
  return beyond ? "over " + text : text;
}

void add_footings(Pages& pages, const Dossier& dossier) {
  if (dossier.reach.empty() || !dossier.cut) return;
  const Assembly& assembly = dossier.cut->assembly;
  pages.subheading("How far each footing may move");
  pages.paragraph(
      "Weight alone, one footing moved one way at a time, pads as they are. \"Opens\": the first "
      "joint "
      "that was closed over half its face no longer is; \"holds\": the furthest at which the pads "
      "still "
      "reach a state, by a theory of small movements. Outward is the way the bridge pushes the "
      "footing; left is for an eye that "
      "looks "
      "that way; turns are right-handed about the bearing. Hold the site to \"opens\": once joints "
      "stand open by more than their pads are thick, a theory of small movements says little, and "
      "\"holds\" is no allowance.");
  std::vector<Row> rows;
  for (const FootingReach& reach : dossier.reach) {
    rows.push_back({{assembly.blocks[static_cast<std::size_t>(reach.block)].id, reach.way,
                     reach_words(reach.opens, reach.opens_beyond, reach.is_turn),
                     joint_name(assembly, reach.joint),
                     reach_words(reach.holds, reach.holds_beyond, reach.is_turn)},
                    {}});
  }
  pages.table({{"footing", 1.4},
               {"moved", 1.8},
               {"opens at", 1.1, true},
               {"joint that opens", 2.0},
               {"holds to", 1.1, true}},
              rows);
  const Sheet stars = reach_sheet(dossier, {pages.width_mm(), 140});
  pages.keep(stars.height_mm + 4);
  pages.figure(stars, "");
  if (!dossier.moved) return;
  const MovedFootings& moved = *dossier.moved;
  pages.paragraph(
      "With each footing moved " + fixed(1000 * moved.shift_m, 0) + " mm times " +
      fixed(dossier.brief.factors.moved, 2) + " along x, y and z, both ways, under the " +
      std::to_string(moved.cases.size()) + " worst cases times " + fixed(moved.live_factor, 2) +
      ": " + std::to_string(moved.held) + " of " + std::to_string(moved.states) + " states hold" +
      (moved.in_steps == 0 ? ""
                           : " (" + std::to_string(moved.in_steps) +
                                 " of them with the footing moved in steps, after the loads)") +
      ", peak " + fixed(moved.peak_pa / 1e6, 2) + " MPa (" + moved.worst + ")." +
      (moved.over == 0 ? "" : " Of all, in " + moved.over_words + ".") +
      (moved.let_go == 0 ? ""
                         : " Let go in time: " + std::to_string(moved.let_go) +
                               ", at rest: " + std::to_string(moved.rested) + "."));
}

void add_patterns(Pages& pages, const Dossier& dossier) {
  std::vector<Row> rows;
  for (const std::size_t i : worst_first(dossier.proofs)) {
    if (!is_pattern(dossier, i)) continue;
    const CaseProof& proof = dossier.proofs[i];
    const std::string joint =
        dossier.cut ? joint_name(dossier.cut->assembly, proof.governing_joint) : "";
    const bool pads = proof.pads && proof.pads->found;
    rows.push_back(
        {{proof.id, verdict_words(proof), factor_words(proof),
          proof.friction_needed ? fixed(*proof.friction_needed, 3) : "",
          mpa(proof.joint_stress_max_pa), joint,
          pads ? fixed(1000 * proof.pads->opening_max_m, 2) : "",
          pads ? fixed(1000 * proof.pads->move_max_m, 1) : "", depth_words(dossier, proof.id)},
         verdict_tint(proof.verdict)});
  }
  pages.table({{"case", 1.6},
               {"verdict", 1.2},
               {"live factor", 1.5, true},
               {"friction needed", 0.95, true},
               {"peak (MPa)", 0.9, true},
               {"at joint", 2.5},
               {"opens (mm)", 0.9, true},
               {"moves (mm)", 0.9, true},
               {"depth (%)", 0.8, true}},
              rows);
}

}  // namespace

void add_verdicts(Pages& pages, const Dossier& dossier, const Outlines& outlines) {
  pages.new_page();
  pages.heading("Does it stand?");
  pages.paragraph(
      "Each case is dead load as it is, with the live load of the case. View 1 grows that load "
      "until "
      "no set of contact forces within friction holds every block: that is the live factor, with "
      "friction taken as associated. View 2 puts the load on once and finds the state that the "
      "elastic pads of the joints reach: pressures, openings and movements are those. A case "
      "stands "
      "if both say so. Depth: the share of the joints' depth that it needs. The evidence files of "
      "a case hold the forces or the mechanism it rests on; "
      "the command skewback verify checks them again by other code.");
  add_patterns(pages, dossier);
  if (dossier.depth_needed && dossier.cut) pages.paragraph(least_depth(dossier));
  for (const std::size_t i : worst_first(dossier.proofs)) {
    const CaseProof& proof = dossier.proofs[i];
    if (!proof.reason.empty()) pages.bullet(proof.id + ": " + proof.reason);
  }
  add_worst_pattern(pages, dossier);
  if (const auto shown = mechanism_to_show(dossier)) {
    const Sheet sheet = mechanism_sheet(dossier, outlines, {pages.width_mm(), 200});
    pages.keep(sheet.height_mm + 14);
    pages.subheading("How it would go");
    if (dossier.cut)
      pages.paragraph(shown->proof->id + ": " + in_words(dossier.cut->assembly, *shown->mechanism) +
                      ".");
    pages.figure(sheet, "");
  }
  add_combinations(pages, dossier);
  add_envelopes(pages, dossier);
  add_footings(pages, dossier);
  add_states(pages, dossier);
  if (dossier.cut && !dossier.dead_resultants.empty()) {
    const Sheet thrust = thrust_sheet(dossier, outlines, {pages.width_mm(), 225});
    pages.keep(thrust.height_mm + 18);
    pages.subheading("Where the thrust runs");
    pages.figure(thrust, "");
  }
}

}  // namespace skewback::deliver
