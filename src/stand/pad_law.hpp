#pragma once
// Private to stand/: what a joint answers to a small movement of its two rigid blocks.
// Pressure kn x closing where the joint is closed, none where it is open; along the joint
// ks x slip, up to a bound at each point. Frame of the joint: displacement (and turn) of b less
// that of a at the origin, wrench on b about the origin, both (x, y, z, about x, about y, about z).

#include "assembly/contact_mesh.hpp"

namespace skewback {

using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;

struct PadLaw {
  ContactMesh mesh;           // without triangles: springs at the points, `share` their weights
  std::vector<double> share;  // m2 that each point stands for along the joint
  std::vector<double> areas;  // per triangle
  std::vector<Vec3> whole;    // per point: integral of its hat function x (1, y, -x)
  Mat3 whole_stiffness = Mat3::Zero();  // integral of (1, y, -x)(1, y, -x)'
  double kn = 0, ks = 0;                // Pa/m
};

struct PadResponse {
  double energy = 0;              // J
  Vec6 wrench = Vec6::Zero();     // on b
  Mat6 stiffness = Mat6::Zero();  // - d wrench / d movement; symmetric, not negative
  std::vector<double> normal;     // N, per point; their sum and moments are those of the pressure
  std::vector<Vec2> tangential;   // N, per point, on b
  std::vector<Vec3> rate;  // per point, of respond_coulomb: d normal / d (closing's 1, y, -x)
};

/// `drift`: per point, slip that is already there and takes no force; `bound`: per point, the most
/// that |tangential| may be (infinity: sticks). Both may be empty: none, and unbounded.
void respond(const PadLaw& law, const Vec6& movement, const std::vector<Vec2>& drift,
             const std::vector<double>& bound, PadResponse& out);

/// The same with every bound at friction x pressure: what slips takes it, so the stiffness is not
/// symmetric and there is no energy. `rounding`, 0 to 1: of the corner between sticking and
/// slipping; with any, forces stay below the bound.
void respond_coulomb(const PadLaw& law, const Vec6& movement, const std::vector<Vec2>& drift,
                     double friction, double rounding, PadResponse& out);

[[nodiscard]] PadLaw pad_law(const Regions& contact, double kn, double ks, double edge_most_m);
[[nodiscard]] double closing_at(const Vec6& movement, const Vec2& p);
[[nodiscard]] Vec2 slip_at(const Vec6& movement, const Vec2& p);

}  // namespace skewback
