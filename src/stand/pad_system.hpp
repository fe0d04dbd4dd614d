#pragma once
// Private to stand/: the pads of an assembly as one system in the displacements of its blocks.
// Unknowns: per free block its displacement at the centre of gravity and its turn times
// `length_unit`.

#include <algorithm>
#include <memory>

#include "base/parallel.hpp"
#include "solve/block_cholesky.hpp"
#include "stand/pads.hpp"
#include "stand/program.hpp"

namespace skewback {

struct PadPlace {  // a joint, or a prop, between two groups of six unknowns
  int joint = -1, prop = -1;
  int a = -1, b = -1;  // blocks
  int slot_a = -1, slot_b = -1;
  Frame frame;
  PadLaw law;
  double friction = 0;
  Mat6 from_a = Mat6::Zero(), from_b = Mat6::Zero();  // unknowns to movement of the joint, signed
};

struct PadSystem {
  std::vector<int> slot;    // per block, or -1
  std::vector<int> blocks;  // per slot
  std::vector<Vec3> centre;
  double length_unit = 1, force_unit = 1;  // root mean square lever arm; largest block weight
  std::vector<PadPlace> places;
  std::shared_ptr<const BlockPattern> pattern;
};

[[nodiscard]] PadSystem pad_system(const Assembly& assembly, const StandOptions& options,
                                   const PadOptions& pads, double edge_share);
/// The same system about a moved shape: lever arms from where blocks and joints have gone, with
/// finite turns. `drawn`: as made; `u`: where the blocks are. Returns, per place, the movement
/// there less what the new levers make of u: to be added to what is given (a secant that is exact
/// at u).
[[nodiscard]] std::vector<Vec6> put_moved(const PadSystem& drawn,
                                          const std::vector<BlockVelocity>& moves, const VectorX& u,
                                          PadSystem& moved);

/// Movement of the joint from the unknowns and what is given.
[[nodiscard]] Vec6 movement_of(const PadPlace& place, const VectorX& u, const Vec6& given);

struct PadWork {                           // what one run needs; sized by `start`
  std::vector<Vec6> given;                 // per place: movement that does not come from unknowns
  std::vector<std::vector<Vec2>> drift;    // per place and point, or empty
  std::vector<std::vector<double>> bound;  // per place and point, or empty: unbounded
  std::vector<PadResponse> response;       // at `u`
  VectorX loads, u, gradient;
  double energy = 0;
};

/// body(i) for every place; on several threads where there are many.
template <class Body>
void for_each_place(const PadSystem& system, const Body& body) {
  constexpr std::size_t kStretch = 128;
  const std::size_t n = system.places.size();
  const auto stretch = [&](std::size_t k) {
    for (std::size_t i = k * kStretch; i < std::min(n, (k + 1) * kStretch); ++i) body(i);
  };
  if (n < 4 * kStretch) {
    for (std::size_t i = 0; i < n; ++i) body(i);
  } else {
    for_each_index((n + kStretch - 1) / kStretch, stretch);
  }
}

/// Responses, energy and gradient at u.
void evaluate(const PadSystem& system, const VectorX& u, PadWork& work);

/// A first guess of u: the balance with every joint closed and sticking, whatever is pulled on;
/// left as it is where that goes far.
void start_closed(const PadSystem& system, PadWork& work);

enum class PadOutcome { kBalanced, kTooFar, kRunsAway, kStuck };
/// Newton steps with a line search on the energy, which is convex for given bounds, from work.u.
/// `tolerance`: of force_unit. Too far: balanced, but a block has moved
/// by more than length_unit, where small movements mean nothing.
[[nodiscard]] PadOutcome balance(const PadSystem& system, double tolerance, int& steps,
                                 PadWork& work);

}  // namespace skewback
