#pragma once
// How the assembly swings: small vibrations of rigid blocks on pads that stay closed.

#include "stand/pads.hpp"

namespace skewback {

struct Mode {
  double hz = 0;
  Vec3 share = Vec3::Zero();  // of the kinetic energy of translation, along x, y and z; sum 1
};

/// The lowest `count`, rising. Every joint is taken as closed over its whole contact and as not
/// slipping (linear: small swings about a state that presses all of it); props do not count.
/// `people_kg`: mass that moves with the blocks, as the live load of `load` over g; none if null.
/// By subspace iteration (Bathe 1971) on K u = w2 M u. Empty if a block hangs on no joint or if K
/// cannot be factorised.
[[nodiscard]] std::vector<Mode> lowest_modes(const Assembly& assembly, const PadOptions& pads,
                                             int count, const LoadCase* people = nullptr);

}  // namespace skewback
