#pragma once
// Private to works/: what would bring the pressure in the joints within what they may take.

#include "works/works.hpp"

namespace skewback {

struct JointTrial {
  std::string change;             // in words
  Brief brief;                    // with it
  std::optional<double> reserve;  // joint_stress, in the cases tried
  std::string where;              // case and joint
  std::string reason;             // why there is no `reserve`
  [[nodiscard]] bool passes() const { return reserve && *reserve >= 1; }
};

/// Changes in order of ease, the first that passes last; none where joints take their pressures or
/// the pads found no state. Pads thicker and of harder rubber, narrower blocks, a deeper section, a
/// greater rise: each alone, in the cases that press a joint most now and with a form that follows
/// the bridge's own (live_shape); what comes near, with the form that a run finds, then in all
/// cases.
[[nodiscard]] std::vector<JointTrial> try_joint_remedies(const Dossier& dossier,
                                                         const Progress& progress);

/// In words, with what pads would have to take as they lie; empty without trials.
[[nodiscard]] std::string remedies_in_words(const Dossier& dossier,
                                            const std::vector<JointTrial>& trials);

}  // namespace skewback
