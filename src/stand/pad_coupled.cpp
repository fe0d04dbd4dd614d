#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>

#include "stand/pad_state.hpp"

namespace skewback {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

constexpr int kStepsMost = 60;
constexpr double kShortest = 1.0 / 128;  // of a Newton step
constexpr double kNudge = 1e-10;         // m or rad: corners may be closed by no more than 1e-8 m
constexpr double kRegularise = 1e-9;     // of the mean stiffness

/// Bounds from the pressures at u, and everything else at u with these bounds.
void evaluate_coupled(const PadSystem& system, PadWork& work) {
  static const std::vector<Vec2> kNoDrift;
  work.bound.resize(system.places.size());
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    respond(place.law, movement_of(place, work.u, work.given[i]), kNoDrift, {}, work.response[i]);
    work.bound[i].resize(work.response[i].normal.size());
    for (std::size_t k = 0; k < work.bound[i].size(); ++k) {
      work.bound[i][k] = place.friction * work.response[i].normal[k];
    }
  }
  evaluate(system, work.u, work);
}

/// Minus the derivative of a place's wrench: that for given bounds, and what the change of pressure
/// does to the bounds where it slips.
Mat6 coupled_stiffness(const PadPlace& place, const Vec6& movement, const PadResponse& r,
                       const std::vector<double>& bound) {
  static const std::vector<Vec2> kNoDrift;
  Mat6 S = r.stiffness;
  std::vector<std::size_t> slipping;
  for (std::size_t k = 0; k < bound.size(); ++k) {
    const double size = r.tangential[k].norm();
    if (size > 0 && size >= bound[k] * (1 - 1e-12)) slipping.push_back(k);
  }
  if (slipping.empty()) return S;
  PadResponse nudged;
  for (const int axis : {2, 3, 4}) {
    Vec6 d = movement;
    const double step = axis == 2 ? -kNudge : kNudge;
    d[axis] += step;
    respond(place.law, d, kNoDrift, {}, nudged);
    for (const std::size_t k : slipping) {
      const double change = (nudged.normal[k] - r.normal[k]) / step;
      const Vec2 along = -r.tangential[k].normalized();  // the way it slips
      const Vec2& p = place.law.mesh.points[k];
      const double t = place.friction * change;
      S(0, axis) += t * along.x();
      S(1, axis) += t * along.y();
      S(5, axis) += t * (p.x() * along.y() - p.y() * along.x());
    }
  }
  return S;
}

void put(std::vector<Eigen::Triplet<double>>& entries, int row, int column, const Mat6& m) {
  for (int i = 0; i < 6; ++i) {
    for (int j = 0; j < 6; ++j) {
      entries.emplace_back(6 * row + i, 6 * column + j, m(i, j));
    }
  }
}

Sparse jacobian(const PadSystem& system, const PadWork& work) {
  std::vector<Eigen::Triplet<double>> entries;
  double trace = 0;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const Mat6 S = coupled_stiffness(place, movement_of(place, work.u, work.given[i]),
                                     work.response[i], work.bound[i]);
    const std::pair<int, const Mat6*> ends[] = {{place.slot_a, &place.from_a},
                                                {place.slot_b, &place.from_b}};
    for (const auto& [row, to] : ends) {
      for (const auto& [column, from] : ends) {
        if (row < 0 || column < 0) continue;
        const Mat6 block = to->transpose() * S * *from;
        if (row == column) trace += block.trace();
        put(entries, row, column, block);
      }
    }
  }
  const int n = static_cast<int>(system.blocks.size());
  const double shift = std::max(kRegularise * trace / (6.0 * n), 1e-300);
  for (int s = 0; s < n; ++s) put(entries, s, s, shift * Mat6::Identity());
  Sparse J(6 * n, 6 * n);
  J.setFromTriplets(entries.begin(), entries.end());
  return J;
}

}  // namespace

bool settle_coupled(const PadSystem& system, double tolerance, int& steps, PadWork& work) {
  if (system.blocks.empty()) return false;
  evaluate_coupled(system, work);
  PadWork trial = work;
  Eigen::SparseLU<Sparse> factor;
  for (int step = 0; step < kStepsMost; ++step) {
    const double off = work.gradient.lpNorm<Eigen::Infinity>() / system.force_unit;
    if (off <= tolerance) return work.u.lpNorm<Eigen::Infinity>() <= system.length_unit;
    ++steps;
    const Sparse J = jacobian(system, work);
    if (step == 0) factor.analyzePattern(J);
    factor.factorize(J);
    if (factor.info() != Eigen::Success) return false;
    const VectorX du = factor.solve(-work.gradient);
    if (!du.allFinite()) return false;
    double s = 1;
    for (;; s /= 2) {
      if (s < kShortest) return false;
      trial.u = work.u + s * du;
      evaluate_coupled(system, trial);
      if (trial.gradient.norm() < (1 - 0.1 * s) * work.gradient.norm()) break;
    }
    std::swap(work, trial);
  }
  return false;
}

}  // namespace skewback
