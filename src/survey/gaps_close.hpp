#pragma once
// What happens to the gaps that packing leaves, when the centring goes. Private to survey/.

#include "survey/survey.hpp"

namespace skewback {

/// Per joint of `built` (all that `drawn` has), gap beyond pad and packers as g . (1, x, y) of its
/// frame: the plane through what is left at the corners in least squares.
[[nodiscard]] std::vector<Vec3> gaps_left(const StackModel& model, const Refit& found,
                                          const Assembly& built);

/// Of a case without live load: how its blocks move as the gaps close.
struct DeadMoves {
  std::size_t load = 0;
  std::vector<BlockVelocity> moves;
};

/// The pads of every case, begun with those gaps; `plain`: the proofs of the same cases without.
/// None yet: GapsClosing::drop_m waits for further_down() of `dead`.
[[nodiscard]] GapsClosing close_gaps(const Assembly& assembly, const std::vector<Vec3>& gaps,
                                     const std::vector<CaseProof>& plain,
                                     const StandOptions& options, const Progress& progress,
                                     std::vector<DeadMoves>* dead = nullptr);
/// Most that a block's centre of gravity comes down further than in those proofs.
[[nodiscard]] double further_down(const Assembly& assembly, const std::vector<DeadMoves>& dead,
                                  const std::vector<CaseProof>& plain);

}  // namespace skewback
