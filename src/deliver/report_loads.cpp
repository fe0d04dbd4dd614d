#include <cmath>

#include "base/constants.hpp"
#include "deliver/drawings.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {

void add_combinations(Pages& pages, const Dossier& dossier) {
  std::vector<Row> rows;
  for (const std::size_t i : worst_first(dossier.proofs)) {
    if (i >= dossier.notes.size() || dossier.notes[i].kind != CaseKind::kCombination) continue;
    const CaseProof& proof = dossier.proofs[i];
    const bool pads = proof.pads && proof.pads->found;
    rows.push_back({{proof.id, dossier.notes[i].words, verdict_words(proof), factor_words(proof),
                     proof.friction_needed ? fixed(*proof.friction_needed, 3) : "",
                     proof.joint_stress_max_pa ? fixed(*proof.joint_stress_max_pa / 1e6, 2) : "",
                     pads ? fixed(1000 * proof.pads->opening_max_m, 2) : ""},
                    verdict_tint(proof.verdict)});
  }
  if (rows.empty()) return;
  pages.subheading("Combinations");
  pages.paragraph(
      "Factors already on: each must stand as it is. Factors: " + dossier.brief.factors.edition +
      "; they are your choice. \"Times\" is how much more of all but the weight it "
      "would carry.");
  pages.table({{"case", 2.0},
               {"what is on it", 3.4},
               {"verdict", 0.9},
               {"times", 1.1, true},
               {"friction needed", 0.9, true},
               {"peak (MPa)", 0.8, true},
               {"opens (mm)", 0.8, true}},
              rows);
}

void add_envelopes(Pages& pages, const Dossier& dossier) {
  if (dossier.envelopes.empty()) return;
  const CourseEnvelope* steepest = nullptr;
  for (const CourseEnvelope& e : dossier.envelopes) {
    if (e.case_angle >= 0 && (steepest == nullptr || e.angle_deg > steepest->angle_deg))
      steepest = &e;
  }
  const Sheet sheet = envelope_sheet(dossier, {pages.width_mm(), 250});
  pages.keep(sheet.height_mm + 20);
  pages.subheading("Envelopes");
  std::string text = "Across each course, over all " + std::to_string(dossier.proofs.size()) +
                     " cases, by the states of the pads.";
  if (steepest != nullptr) {
    text += " The force is at most " + fixed(steepest->angle_deg, 1) +
            " degrees off square to a joint (" + arm_name(dossier.brief, steepest->arm) +
            ", over course " + std::to_string(steepest->course) + ", case " +
            dossier.proofs[static_cast<std::size_t>(steepest->case_angle)].id + "); it slides at " +
            fixed(std::atan(dossier.brief.joints.friction) * 180 / kPi, 1) + ".";
  }
  pages.paragraph(text);
  pages.figure(sheet, "");
}

void add_states(Pages& pages, const Dossier& dossier) {
  if (dossier.tried.empty()) return;
  std::vector<Row> rows;
  for (const TriedState& state : dossier.tried) {
    const bool found = state.pressed > 0;
    rows.push_back(
        {{state.what, state.case_id,
          state.holds ? state.in_steps == 0
                            ? "holds"
                            : "holds, in " + std::to_string(state.in_steps) + " steps"
          : found     ? state.reason
                      : "no state: " + state.reason,
          found ? fixed(state.peak_pa / 1e6, 2) : "", found ? fixed(state.pressed, 2) : "",
          found ? fixed(1000 * state.opening_max_m, 2) : "",
          found ? fixed(1000 * state.move_max_m, 1) : "",
          state.flattening ? fixed(*state.flattening, 3) : ""},
         state.holds ? std::nullopt : verdict_tint(Verdict::kUndecided)});
  }
  pages.keep(40);
  pages.subheading(
      "Warmth, creep, accidents, settled ground, feet on their ties, and the moved shape");
  pages.paragraph(
      "States of the pads beside those of the cases. Second order: the greatest movement with "
      "balance on the moved shape, over that on the drawn one. Weight first, then people, is "
      "another "
      "history than that of the case, which puts all on at once: where joints slip the two may "
      "differ. Creep and the 20 mm of the accidents are common practice. A joint takes what it "
      "takes in the cases; in an accident what its concrete takes with factors.concrete_accident "
      "(EN 1992-1-1), since pads can be replaced after it. Footings move together with the loads; "
      "where that has no state, in steps after them.");
  pages.table({{"what", 3.4},
               {"case", 1.2},
               {"", 1.2},
               {"peak (MPa)", 0.8, true},
               {"of what the joint takes", 0.9, true},
               {"opens (mm)", 0.8, true},
               {"moves (mm)", 0.8, true},
               {"second order", 0.9, true}},
              rows);
}

}  // namespace skewback::deliver
