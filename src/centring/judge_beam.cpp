#include "centring/judge_beam.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace skewback {
namespace {

using Matrix36 = Eigen::Matrix<double, 3, 6>;
using Vector = Eigen::VectorXd;

/// From the moments at both ends, counter-clockwise on the piece, to the turns of its ends.
Eigen::Matrix2d flexibility(const BeamShape& shape, std::size_t i, double length) {
  constexpr double kAt[] = {0.1127016653792583, 0.5, 0.8872983346207417};
  constexpr double kWeight[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
  Eigen::Matrix2d f = Eigen::Matrix2d::Zero();
  for (int k = 0; k < 3; ++k) {
    const double s = kAt[k], h = (1 - s) * shape.depth_m[i] + s * shape.depth_m[i + 1];
    const Eigen::Vector2d m(-(1 - s), s);
    f += kWeight[k] * length / (shape.stiffness_pa * shape.thickness_m * h * h * h / 12) * m *
         m.transpose();
    if (shape.shear_modulus_pa) {
      const double give = 5.0 / 6 * *shape.shear_modulus_pa * shape.thickness_m * h * length;
      f.array() += kWeight[k] / give;
    }
  }
  return f;
}

/// From the movements of both ends to its stretch and the turns of its ends against its chord.
Matrix36 stretch_of(const Vec2& way) {
  const double length = way.norm(), c = way.x() / length, s = way.y() / length;
  Matrix36 stretch = Matrix36::Zero();
  stretch.row(0) << -c, -s, 0, c, s, 0;
  stretch.row(1) << -s / length, c / length, 1, s / length, -c / length, 0;
  stretch.row(2) << -s / length, c / length, 0, s / length, -c / length, 1;
  return stretch;
}

/// Rows: axial force (tension), moments at both ends (counter-clockwise on the piece).
Matrix36 natural_stiffness(const BeamShape& shape, std::size_t i) {
  const Vec2 way = shape.axis[i + 1] - shape.axis[i];
  const double depth = (shape.depth_m[i] + shape.depth_m[i + 1]) / 2;
  Eigen::Matrix3d stiff = Eigen::Matrix3d::Zero();
  stiff(0, 0) = shape.stiffness_pa * shape.thickness_m * depth / way.norm();
  stiff.bottomRightCorner<2, 2>() = flexibility(shape, i, way.norm()).inverse();
  return stiff * stretch_of(way);
}

Eigen::Index up(std::size_t point) { return static_cast<Eigen::Index>(3 * point + 1); }
Eigen::Index along(std::size_t point) { return static_cast<Eigen::Index>(3 * point); }

std::size_t count(const std::vector<char>& active) {
  return static_cast<std::size_t>(std::accumulate(active.begin(), active.end(), 0));
}

}  // namespace

struct Beam::Factor {
  Eigen::SparseMatrix<double> whole;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> held;
  std::vector<char> fixed;  // per movement
};

Beam::Beam(BeamShape shape, std::vector<BeamSupport> supports)
    : shape_(std::move(shape)), supports_(std::move(supports)) {
  for (std::size_t i = 0; i + 1 < shape_.axis.size(); ++i) {
    natural_.push_back(natural_stiffness(shape_, i));
    stiffness_.emplace_back(stretch_of(shape_.axis[i + 1] - shape_.axis[i]).transpose() *
                            natural_.back());
  }
}
Beam::~Beam() = default;
Beam::Beam(Beam&&) noexcept = default;
Beam& Beam::operator=(Beam&&) noexcept = default;

Beam::Factor& Beam::factor(const Active& active) {
  auto& slot = factors_[active];
  if (slot) return *slot;
  slot = std::make_unique<Factor>();
  const auto size = static_cast<Eigen::Index>(3 * shape_.axis.size());
  slot->fixed.assign(static_cast<std::size_t>(size), 0);
  bool first = true;
  for (std::size_t k = 0; k < active.size(); ++k) {
    if (!active[k]) continue;
    slot->fixed[static_cast<std::size_t>(up(supports_[k].at))] = 1;
    // sideways forces come balanced (state()), so that one hold feels nothing
    if (first) slot->fixed[static_cast<std::size_t>(along(supports_[k].at))] = 1;
    first = false;
  }
  std::vector<Eigen::Triplet<double>> all, held;
  for (std::size_t i = 0; i < stiffness_.size(); ++i) {
    for (Eigen::Index r = 0; r < 6; ++r) {
      for (Eigen::Index c = 0; c < 6; ++c) {
        const Eigen::Index row = along(i) + r, column = along(i) + c;
        all.emplace_back(row, column, stiffness_[i](r, c));
        if (!slot->fixed[static_cast<std::size_t>(row)] &&
            !slot->fixed[static_cast<std::size_t>(column)])
          held.push_back(all.back());
      }
    }
  }
  for (Eigen::Index k = 0; k < size; ++k) {
    if (slot->fixed[static_cast<std::size_t>(k)]) held.emplace_back(k, k, stiffness_[0](0, 0));
  }
  slot->whole.resize(size, size);
  slot->whole.setFromTriplets(all.begin(), all.end());
  Eigen::SparseMatrix<double> K(size, size);
  K.setFromTriplets(held.begin(), held.end());
  slot->held.compute(K);
  return *slot;
}

BeamState Beam::state(const Vector& loads, const Active& active) {
  BeamState out;
  Factor& with = factor(active);
  double push = 0;
  for (std::size_t i = 0; i < shape_.axis.size(); ++i) push += loads[along(i)];
  const double share = -push / static_cast<double>(count(active));
  Vector f = loads;
  for (std::size_t k = 0; k < active.size(); ++k) {
    if (!active[k]) continue;
    f[along(supports_[k].at)] += share;
    f[along(supports_[k].at) + 2] += supports_[k].below_m * share;
  }
  Vector right = f;
  for (Eigen::Index k = 0; k < f.size(); ++k) {
    if (with.fixed[static_cast<std::size_t>(k)]) right[k] = 0;
  }
  const Vector u = with.held.solve(right);
  const Vector rest = with.whole * u - f;
  for (std::size_t k = 0; k < active.size(); ++k)
    out.reaction.push_back(active[k] ? Vec2(share, rest[up(supports_[k].at)]) : Vec2::Zero());
  for (std::size_t i = 0; i < shape_.axis.size(); ++i) out.move.emplace_back(u[along(i)], u[up(i)]);
  for (std::size_t i = 0; i < natural_.size(); ++i) {
    const Eigen::Vector3d n = natural_[i] * u.segment<6>(along(i));
    const double length = (shape_.axis[i + 1] - shape_.axis[i]).norm();
    const double shear = (n[1] + n[2]) / length;
    out.cuts.push_back({BeamCut{-n[1], shear, n[0]}, BeamCut{n[2], shear, n[0]}});
  }
  return out;
}

BeamState Beam::solve(const std::vector<BeamLoad>& loads) {
  Vector f = Vector::Zero(static_cast<Eigen::Index>(3 * shape_.axis.size()));
  double scale = 0;
  for (const BeamLoad& load : loads) {
    f[along(load.at)] += load.force.x();
    f[up(load.at)] += load.force.y();
    f[along(load.at) + 2] -= load.above_m * load.force.x();
    scale += load.force.norm();
  }
  BeamState found = settle(f, Active(supports_.size(), 1), 1e-9 * scale);
  if (found.balances || supports_.size() < 2) return found;
  // Letting go of one after another may have gone astray: begin again from the outer two.
  Active outer(supports_.size(), 0);
  outer.front() = outer.back() = 1;
  return settle(f, outer, 1e-9 * scale);
}

BeamState Beam::settle(const Vector& loads, Active active, double pull) {
  constexpr double kSinks = 1e-9;  // m; less is rounding
  for (std::size_t turn = 0; turn < 8 * supports_.size() && count(active) >= 2; ++turn) {
    BeamState found = state(loads, active);
    std::size_t change = supports_.size();
    double worst = -pull, deepest = -kSinks;
    for (std::size_t k = 0; k < active.size(); ++k) {
      if (active[k] && found.reaction[k].y() < worst) worst = found.reaction[change = k].y();
    }
    for (std::size_t k = 0; k < active.size() && worst == -pull; ++k) {
      const double sinks = found.move[supports_[k].at].y();
      if (!active[k] && sinks < deepest) deepest = found.move[supports_[change = k].at].y();
    }
    if (change == supports_.size()) {
      found.balances = true;
      return found;
    }
    active[change] = !active[change];
  }
  return {};
}

}  // namespace skewback
