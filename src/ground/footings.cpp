#include "ground/footings.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "ground/nnls.hpp"
#include "ground/words.hpp"

namespace skewback {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kBalanced = 1e-6;     // relative; the proofs behind the forces are good to 1e-9
constexpr double kWorthSaying = 5e-3;  // likewise, beside a want of shear

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

VectorXd needed(const std::vector<Footing>& footings) {
  VectorXd b(3 * static_cast<int>(footings.size()));
  for (int i = 0; i < static_cast<int>(footings.size()); ++i) {
    b.segment<3>(3 * i) << footings[i].force, footings[i].yaw;
  }
  return b;
}

/// min |A x - b| first, then |D x| among those, x >= 0. D diagonal, > 0.
VectorXd least_energy(const MatrixXd& A, const VectorXd& b, const VectorXd& D) {
  if (A.cols() == 0) return VectorXd::Zero(0);
  const double scale = std::max(b.cwiseAbs().maxCoeff(), 1e-12), weight = 1e5;
  MatrixXd stacked(A.rows() + A.cols(), A.cols());
  stacked << weight * A, MatrixXd(D.asDiagonal());
  VectorXd target = VectorXd::Zero(stacked.rows());
  target.head(b.size()) = weight * b / scale;
  VectorXd x = scale * nnls(stacked, target);
  // The penalty has found which rods pull; on those the answer is exact.
  std::vector<int> pulling;
  for (int k = 0; k < x.size(); ++k) {
    if (x[k] > 1e-9 * scale) pulling.push_back(k);
  }
  if (pulling.empty()) return x;
  const VectorXd compliance = D(pulling);
  const MatrixXd part = MatrixXd(A(Eigen::all, pulling)) * compliance.cwiseInverse().asDiagonal();
  const VectorXd exact = compliance.cwiseInverse().asDiagonal() *
                         VectorXd(part.completeOrthogonalDecomposition().solve(b));
  if (exact.minCoeff() < 0) return x;
  x.setZero();
  x(pulling) = exact;
  return x;
}

/// Fills residual, worst footing and verdict from what the rods and the ground give.
void judge(const std::vector<Footing>& footings, const VectorXd& missing, FootingBalance& state) {
  double largest = 0;
  for (const Footing& footing : footings) largest = std::max(largest, footing.force.norm());
  if (largest == 0) largest = 1;
  for (int i = 0; i < static_cast<int>(footings.size()); ++i) {
    state.missing.emplace_back(missing.segment<3>(3 * i));
    const double rel = state.missing.back().cwiseAbs().maxCoeff() / largest;
    if (state.worst < 0 || rel > state.residual_rel) {
      state.residual_rel = rel;
      state.worst = i;
    }
  }
  state.balanced = state.residual_rel <= kBalanced;
}

std::string missing_in_words(const std::vector<Footing>& footings, const std::vector<Rod>& rods,
                             const VectorXd& missing, int worst) {
  const Vec2 force = missing.segment<2>(3 * worst);
  const double yaw = missing[3 * worst + 2], yaw_all = [&] {
    double sum = 0;
    for (int i = 2; i < missing.size(); i += 3) sum += missing[i];
    return sum;
  }();
  std::string text = "footing " + footings[worst].id + " lacks ";
  if (force.norm() > std::abs(yaw)) return text + kilonewtons(force.norm()) + " in plan";
  text += "a yaw moment of " + kilonewton_metres(yaw) + " about the middle of its springing";
  double lever = 0;
  bool any = false;
  for (const Rod& rod : rods) {
    any = any || rod.from == worst || rod.to == worst;
    for (const Rod& other : rods) {
      if (rod.tie != other.tie || (rod.from != worst && rod.to != worst)) continue;
      lever = std::max(lever, (rod.at_from - other.at_from).norm());
    }
  }
  if (!any) return text + "; it has no rods, and shear on the ground gives no yaw";
  text += lever > 0 ? "; its rods have a lever of " + metres(lever) : "; its rods have no lever";
  if (std::abs(yaw_all) > 0.5 * std::abs(yaw)) {
    text += " (over all footings " + kilonewton_metres(yaw_all) +
            ": pairs of parallel rods cannot take a sum)";
  }
  return text;
}

FootingBalance with_rods(const std::vector<Footing>& footings, const std::vector<Rod>& rods) {
  const MatrixXd A = rod_columns(footings, rods);
  const VectorXd b = needed(footings);
  VectorXd D(A.cols());
  for (int k = 0; k < D.size(); ++k) D[k] = std::sqrt(rods[k].length());
  const VectorXd x = least_energy(A, b, D);
  FootingBalance state;
  state.rod_force.assign(x.begin(), x.end());
  state.shear.assign(footings.size(), Vec2::Zero());
  const VectorXd missing = b - A * x;
  judge(footings, missing, state);
  if (!state.balanced) state.reason = missing_in_words(footings, rods, missing, state.worst);
  return state;
}

FootingBalance with_ground(const std::vector<Footing>& footings, const std::vector<Rod>& rods,
                           double shear_max) {
  const int n_rods = static_cast<int>(rods.size()), n = static_cast<int>(footings.size());
  MatrixXd A = MatrixXd::Zero(3 * n, n_rods + 4 * n);  // shear along +x, +y, -x, -y
  A.leftCols(n_rods) = rod_columns(footings, rods);
  for (int i = 0; i < n; ++i) {
    A.block<2, 2>(3 * i, n_rods + 4 * i).setIdentity();
    A.block<2, 2>(3 * i, n_rods + 4 * i + 2) = -Eigen::Matrix2d::Identity();
  }
  VectorXd D = VectorXd::Constant(A.cols(), 100.0);  // the rods come first
  for (int k = 0; k < n_rods; ++k) D[k] = std::sqrt(rods[k].length());
  const VectorXd b = needed(footings);
  const VectorXd x = least_energy(A, b, D);
  FootingBalance state;
  state.rod_force.assign(x.begin(), x.begin() + n_rods);
  for (int i = 0; i < n; ++i) {
    const auto s = x.segment<4>(n_rods + 4 * i);
    state.shear.push_back({s[0] - s[2], s[1] - s[3]});
  }
  const VectorXd missing = b - A * x;
  judge(footings, missing, state);
  if (!state.balanced) state.reason = missing_in_words(footings, rods, missing, state.worst);
  const auto most =
      std::ranges::max_element(state.shear, {}, [](const Vec2& s) { return s.norm(); });
  if (most == state.shear.end() || most->norm() <= shear_max) return state;
  state.balanced = state.shear_enough = false;
  const std::string lacks = state.residual_rel > kWorthSaying ? "; " + state.reason : "";
  state.worst = static_cast<int>(most - state.shear.begin());
  state.reason = "footing " + footings[state.worst].id + " needs " + kilonewtons(most->norm()) +
                 " of shear on the ground and may count on " + kilonewtons(shear_max) + lacks;
  return state;
}

}  // namespace

MatrixXd rod_columns(const std::vector<Footing>& footings, const std::vector<Rod>& rods) {
  MatrixXd A = MatrixXd::Zero(3 * static_cast<int>(footings.size()), static_cast<int>(rods.size()));
  for (int k = 0; k < A.cols(); ++k) {
    const Rod& rod = rods[k];
    const Vec2 pull = (rod.at_to - rod.at_from).normalized();
    A.block<2, 1>(3 * rod.from, k) += pull;
    A(3 * rod.from + 2, k) += cross(rod.at_from - footings[rod.from].point, pull);
    A.block<2, 1>(3 * rod.to, k) -= pull;
    A(3 * rod.to + 2, k) -= cross(rod.at_to - footings[rod.to].point, pull);
  }
  return A;
}

FootingBalance balance(const std::vector<Footing>& footings, const std::vector<Rod>& rods,
                       double shear_max) {
  FootingBalance state = with_rods(footings, rods);
  if (state.balanced || shear_max <= 0) return state;
  return with_ground(footings, rods, shear_max);
}

}  // namespace skewback
