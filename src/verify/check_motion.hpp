#pragma once
// Private to verify/: whether a recorded motion (docs/motion.md) is one of these blocks, and
// whether they end as it says.

#include "verify/check.hpp"

namespace skewback::audit {

inline constexpr double kPlace = 1e-6;     // m, of places written twice
inline constexpr double kLever = 1e-4;     // m, contacts give: of where a force acts
inline constexpr double kMissing = 0.01;   // of the energy turned over
inline constexpr double kPress = 1e-6;     // of the mean block weight: a joint that presses
inline constexpr double kRestMost = 1e-2;  // of the mean block weight: out of balance at rest

/// At rest: the recorded forces balance weight and load on every block where it lies, to the share
/// of a block's weight that the record allows, and each is within its cone and within its faces,
/// derived from the shapes. Moving off: a block has gone as far as it says and is still going.
/// Both: the first frame is where the shapes have their centres of gravity, lengths of quaternions
/// are 1, the ledger misses no more than a hundredth. "motion" is the kind; "none" where it was not
/// settled, or what is in it is not written (loads that fell, faces that met). Never throws.
[[nodiscard]] EvidenceVerdict check_motion(const std::filesystem::path& file, const Model& model,
                                           const std::vector<Contact>& contacts);

}  // namespace skewback::audit
