#pragma once
// The joint nearest to what it may take, of all cases as they are.

#include <cmath>

#include "deliver/deliver.hpp"

namespace skewback {

struct Pressed {
  int joint = -1;                 // of the assembly
  const CaseProof* in = nullptr;  // null: none is pressed
  double peak_pa = 0, limit_pa = 0;
  [[nodiscard]] double reserve() const { return in == nullptr ? HUGE_VAL : limit_pa / peak_pa; }
};
/// By the pads, with joint_limit. Cases whose pads found no state are passed over.
[[nodiscard]] Pressed most_pressed(const Dossier& dossier);
/// Of one of its cases.
[[nodiscard]] Pressed most_pressed(const Dossier& dossier, const CaseProof& proof);
/// "case full, joint a-1 | a-2"
[[nodiscard]] std::string place_of(const Dossier& dossier, const Pressed& pressed);

}  // namespace skewback
