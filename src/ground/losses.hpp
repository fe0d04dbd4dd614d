#pragma once
// One tie, or one rod of it, gone: do the others and the ground hold the feet? Accident: weight and
// characteristic live load as they are, gamma 1.0 on steel.

#include "ground/rods.hpp"

namespace skewback {

/// First every tie whole, then every rod of it. Reactions stay those of `cases` (held feet): that
/// the bridge could find another state as its feet give is not looked into. `sized`: of `ties`.
[[nodiscard]] std::vector<LossState> lose_each(const Brief& brief, const std::vector<Tie>& ties,
                                               const std::vector<TieForce>& sized,
                                               const std::vector<const TieState*>& cases);

}  // namespace skewback
