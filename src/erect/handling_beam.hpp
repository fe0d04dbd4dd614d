#pragma once
// A lifted or carried block as a beam: tension on planes cut through it. Private to erect/.

#include <Eigen/Dense>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct HandlingForce {  // on the block, world
  Vec3 at = Vec3::Zero(), force = Vec3::Zero();
};

struct BeamCut {
  Frame frame;                 // z: along the beam
  double volume = 0;           // m3 in front of it
  Vec3 moment = Vec3::Zero();  // first moment of that about the frame's origin, m4
  Eigen::LDLT<Mat3> solver;    // of the integrals of (1, x, y)(1, x, y)'
  std::vector<Vec2> corners;   // of the section
};

/// Planes square to `along` (unit), at `places` (world origin); those that meet nothing left out.
[[nodiscard]] std::vector<BeamCut> beam_cuts(const Solid& solid, const Vec3& along,
                                             const std::vector<double>& places);
/// `count` places, even, from half a step inside either end.
[[nodiscard]] std::vector<double> even_places(const Solid& solid, const Vec3& along, int count);

/// `count` planes of the pencil between two, near which `centre` lies, both ends left out.
[[nodiscard]] std::vector<BeamCut> layer_cuts(const Solid& solid, const Plane& low,
                                              const Plane& high, const Vec3& centre, int count);

struct BeamTension {
  double greatest_pa = -1e300;  // below 0: compressed everywhere
  Vec3 at = Vec3::Zero();
};
/// Greatest tension on the cuts, uncracked, plane sections (Navier), both ways of bending and the
/// force along the beam; forces that lie in a cut once before it, once behind it. `pull`: weight
/// per mass, m/s2: gravity with all factors on.
[[nodiscard]] BeamTension beam_tension(const std::vector<BeamCut>& cuts, double density,
                                       const Vec3& pull, const std::vector<HandlingForce>& forces);

/// Sizes of forces along given directions that balance `force` at `at`, least sum of squares;
/// `residual`: what is left over (N, N m), over the size of `force` (and 1 m).
struct Balanced {
  std::vector<double> size;
  double residual = 0;
};
[[nodiscard]] Balanced balance(const std::vector<HandlingForce>& directions, const Vec3& at,
                               const Vec3& force);

}  // namespace skewback
