#include "stand/modes.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "solve/solve.hpp"
#include "stand/pad_law.hpp"

namespace skewback {
namespace {

using Dense = Eigen::MatrixXd;

struct Swing {
  std::vector<int> slot;     // per block; -1: fixed
  std::vector<Vec3> centre;  // per slot
  SparseMatrix stiffness, mass;
};

Mat3 cross_matrix(const Vec3& r) {
  Mat3 m;
  m << 0, -r.z(), r.y(), r.z(), 0, -r.x(), -r.y(), r.x(), 0;
  return m;
}

/// About the origin of the joint, in its frame: (force, moment) of a unit (shift, turn) of b.
Mat6 joint_stiffness(const Joint& joint, const PadOptions& pads) {
  const bool soft = joint.pad && joint.pad->kn > 0;
  const double kn = (soft ? joint.pad->kn : pads.dry_kn) / (1 + pads.creep),
               ks = (soft ? joint.pad->ks : pads.dry_ks) / (1 + pads.creep);
  Mat6 K = Mat6::Zero();
  for (const Region& region : joint.contact) {
    const double a = area(region);
    const Vec2 c = a * centroid(region);
    const auto [xx, yy, xy] = second_moments(region);
    const double x = c.x(), y = c.y();
    // normal: closing of dz + tx y - ty x; along: (dx - tz y, dy + tz x)
    Mat6 k = Mat6::Zero();
    k(2, 2) = kn * a, k(2, 3) = kn * y, k(2, 4) = -kn * x;
    k(3, 3) = kn * yy, k(3, 4) = -kn * xy, k(4, 4) = kn * xx;
    k(0, 0) = ks * a, k(0, 5) = -ks * y, k(1, 1) = ks * a, k(1, 5) = ks * x;
    k(5, 5) = ks * (xx + yy);
    K += k;
  }
  return K.selfadjointView<Eigen::Upper>();
}

/// Movement at the joint, in its frame, of a block's (shift of its centre, turn).
Mat6 to_joint(const Frame& frame, const Vec3& centre) {
  Mat3 R;
  R.row(0) = frame.x, R.row(1) = frame.y, R.row(2) = frame.z;
  Mat6 T = Mat6::Zero();
  T.topLeftCorner<3, 3>() = R;
  T.topRightCorner<3, 3>() = -R * cross_matrix(frame.origin - centre);
  T.bottomRightCorner<3, 3>() = R;
  return T;
}

void add_point(double kg, const Vec3& lever, Mat6& M) {
  const Mat3 c = cross_matrix(lever);
  M.topLeftCorner<3, 3>() += kg * Mat3::Identity();
  M.topRightCorner<3, 3>() -= kg * c;
  M.bottomLeftCorner<3, 3>() += kg * c;
  M.bottomRightCorner<3, 3>() -= kg * c * c;
}

Mat6 block_mass(const Block& block, const Vec3& centre) {
  Mat6 M = Mat6::Zero();
  add_point(concrete_mass_kg(block), block.mass.centroid - centre, M);
  M.bottomRightCorner<3, 3>() += block.density * block.mass.inertia;
  for (const CarriedMass& m : block.carried) add_point(m.mass_kg, m.point - centre, M);
  return M;
}

void put(std::vector<Eigen::Triplet<double>>& entries, int row, int column, const Mat6& m) {
  for (int i = 0; i < 6; ++i) {
    for (int j = 0; j < 6; ++j) entries.emplace_back(6 * row + i, 6 * column + j, m(i, j));
  }
}

Swing swing_of(const Assembly& assembly, const PadOptions& pads, const LoadCase* people) {
  Swing out;
  std::vector<Mat6> mass;
  for (const Block& block : assembly.blocks) {
    out.slot.push_back(block.fixed ? -1 : static_cast<int>(out.centre.size()));
    if (block.fixed) continue;
    out.centre.push_back(centre_of_gravity(block));
    mass.push_back(block_mass(block, out.centre.back()));
  }
  if (people != nullptr) {
    for (const LiveForce& live : people->live) {
      const int slot = out.slot[static_cast<std::size_t>(live.block)];
      if (slot < 0) continue;
      const auto s = static_cast<std::size_t>(slot);
      add_point(live.force.norm() / kGravity, live.point - out.centre[s], mass[s]);
    }
  }
  std::vector<Eigen::Triplet<double>> stiff, heavy;
  for (const Joint& joint : assembly.joints) {
    const Mat6 K = joint_stiffness(joint, pads);
    const int slots[2] = {out.slot[static_cast<std::size_t>(joint.a)],
                          out.slot[static_cast<std::size_t>(joint.b)]};
    const double signs[2] = {-1, 1};
    Mat6 T[2];
    for (int i = 0; i < 2; ++i) {
      if (slots[i] < 0) continue;
      T[i] = signs[i] * to_joint(joint.frame, out.centre[static_cast<std::size_t>(slots[i])]);
    }
    for (int i = 0; i < 2; ++i) {
      for (int j = 0; j < 2; ++j) {
        if (slots[i] >= 0 && slots[j] >= 0)
          put(stiff, slots[i], slots[j], T[i].transpose() * K * T[j]);
      }
    }
  }
  for (std::size_t s = 0; s < mass.size(); ++s)
    put(heavy, static_cast<int>(s), static_cast<int>(s), mass[s]);
  const auto n = 6 * static_cast<Eigen::Index>(out.centre.size());
  out.stiffness.resize(n, n);
  out.stiffness.setFromTriplets(stiff.begin(), stiff.end());
  out.mass.resize(n, n);
  out.mass.setFromTriplets(heavy.begin(), heavy.end());
  return out;
}

/// Deterministic and not square to any mode of interest.
Dense start_vectors(Eigen::Index rows, Eigen::Index columns) {
  Dense X(rows, columns);
  for (Eigen::Index i = 0; i < rows; ++i) {
    for (Eigen::Index j = 0; j < columns; ++j) {
      X(i, j) =
          std::sin(1.0 + 1.7 * static_cast<double>(i * (j + 1)) + 0.3 * static_cast<double>(j));
    }
  }
  return X;
}

}  // namespace

std::vector<Mode> lowest_modes(const Assembly& assembly, const PadOptions& pads, int count,
                               const LoadCase* people) {
  constexpr int kSpare = 6, kStepsMost = 200;
  constexpr double kSettled = 1e-10;
  const Swing swing = swing_of(assembly, pads, people);
  const Eigen::Index n = swing.mass.rows();
  SparseCholesky factor;
  if (n == 0 || count <= 0 || !factor.factorise(swing.stiffness)) return {};
  const Eigen::Index m = std::min<Eigen::Index>(n, count + kSpare);
  Dense X = start_vectors(n, m);
  Eigen::VectorXd last = Eigen::VectorXd::Zero(m);
  const Eigen::Index wanted = std::min<Eigen::Index>(count, m);
  for (int step = 0; step < kStepsMost; ++step) {
    const Dense Y = factor.solve(swing.mass * X);
    const Dense Kr = Y.transpose() * (swing.stiffness * Y), Mr = Y.transpose() * (swing.mass * Y);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Dense> small(Kr, Mr);
    if (small.info() != Eigen::Success) return {};
    X = Y * small.eigenvectors();
    const Eigen::VectorXd now = small.eigenvalues();
    const double change =
        ((now - last).head(wanted).array() / now.head(wanted).array()).abs().maxCoeff();
    last = now;
    if (change < kSettled) break;
  }
  std::vector<Mode> modes;
  for (Eigen::Index k = 0; k < wanted; ++k) {
    Mode mode;
    mode.hz = std::sqrt(std::max(0.0, last[k])) / (2 * kPi);
    for (std::size_t s = 0; s < swing.centre.size(); ++s) {
      const auto row = 6 * static_cast<Eigen::Index>(s);
      const double kg = swing.mass.coeff(row, row);
      mode.share += kg * X.col(k).segment<3>(row).cwiseAbs2();
    }
    const double all = mode.share.sum();
    if (all > 0) mode.share /= all;
    modes.push_back(mode);
  }
  return modes;
}

}  // namespace skewback
