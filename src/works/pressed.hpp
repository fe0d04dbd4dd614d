#pragma once
// The joint nearest to what it may take, of all cases as they are.

#include "deliver/deliver.hpp"

namespace skewback {

struct Pressed {
  int joint = -1;                 // of the assembly
  const CaseProof* in = nullptr;  // of the dossier's; null: none is pressed
  double peak_pa = 0, limit_pa = 0;
  [[nodiscard]] double reserve() const { return limit_pa / peak_pa; }
};
/// By the pads, with joint_limit. Cases whose pads found no state are passed over.
[[nodiscard]] Pressed most_pressed(const Dossier& dossier);

}  // namespace skewback
