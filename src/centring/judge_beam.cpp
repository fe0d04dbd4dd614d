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

/// So soft that it carries nothing worth counting, yet a beam let go of finds a place: with it the
/// search for the feet that stand ends (Murty 1974, least index).
double weak_spring(const BeamShape& shape) {
  const double h = *std::ranges::max_element(shape.depth_m);
  const double length = (shape.axis.back() - shape.axis.front()).norm();
  return 1e-5 * shape.stiffness_pa * shape.thickness_m * std::pow(h / length, 3) / 12;
}

using Triplets = std::vector<Eigen::Triplet<double>>;

/// k (u + b theta)^2 / 2: it holds the point under the axis.
void add_spring(const BeamSupport& support, const std::vector<char>& fixed, Triplets& all,
                Triplets& held) {
  const Eigen::Index place[] = {along(support.at), along(support.at) + 2};
  const double lever[] = {1, support.below_m};
  for (int r = 0; r < 2; ++r) {
    for (int c = 0; c < 2; ++c) {
      all.emplace_back(place[r], place[c], support.sideways_n_m * lever[r] * lever[c]);
      if (!fixed[static_cast<std::size_t>(place[r])] && !fixed[static_cast<std::size_t>(place[c])])
        held.push_back(all.back());
    }
  }
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

bool Beam::held_sideways() const {
  return std::ranges::any_of(supports_, [](const auto& s) { return s.sideways_n_m > 0; });
}

Beam::Factor& Beam::factor(const Active& active) {
  auto& slot = factors_[active];
  if (slot) return *slot;
  slot = std::make_unique<Factor>();
  const auto size = static_cast<Eigen::Index>(3 * shape_.axis.size());
  slot->fixed.assign(static_cast<std::size_t>(size), 0);
  const bool springs = held_sideways();
  // where nothing holds sideways, forces come balanced (state()): one hold feels nothing
  if (!springs) slot->fixed[static_cast<std::size_t>(along(supports_[0].at))] = 1;
  for (std::size_t k = 0; k < active.size(); ++k) {
    if (active[k]) slot->fixed[static_cast<std::size_t>(up(supports_[k].at))] = 1;
  }
  Triplets all, held;
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
  for (const BeamSupport& support : supports_) add_spring(support, slot->fixed, all, held);
  for (std::size_t k = 0; k < active.size(); ++k) {
    const Eigen::Index place = up(supports_[k].at);
    if (active[k] || slot->fixed[static_cast<std::size_t>(place)]) continue;
    held.emplace_back(place, place, weak_spring(shape_));
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
  const bool springs = held_sideways();
  const double share = springs ? 0 : -push / static_cast<double>(supports_.size());
  Vector f = loads;
  for (const BeamSupport& support : supports_) {
    f[along(support.at)] += share;
    f[along(support.at) + 2] += support.below_m * share;
  }
  Vector right = f;
  for (Eigen::Index k = 0; k < f.size(); ++k) {
    if (with.fixed[static_cast<std::size_t>(k)]) right[k] = 0;
  }
  const Vector u = with.held.solve(right);
  const Vector rest = with.whole * u - f;
  for (std::size_t k = 0; k < active.size(); ++k) {
    const Eigen::Index a = along(supports_[k].at);
    const double moved = u[a] + supports_[k].below_m * u[a + 2];
    const double hold = springs ? -supports_[k].sideways_n_m * moved : share;
    out.reaction.emplace_back(hold, active[k] ? rest[a + 1] : 0);
  }
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
  constexpr double kSinks = 1e-9;  // m; less is rounding
  Active active(supports_.size(), 1);
  const std::size_t boldly = 3 * supports_.size(), most = 40 * supports_.size();
  for (std::size_t turn = 0; turn < most; ++turn) {
    BeamState found = state(f, active);
    // how wrong each is: pulled though it stands, or under its foot though it has lifted
    std::size_t change = supports_.size();
    double worst = 0;
    for (std::size_t k = 0; k < active.size(); ++k) {
      if (supports_[k].held_down) continue;
      const double wrong = active[k] ? -found.reaction[k].y() / (1e-7 * scale)
                                     : -found.move[supports_[k].at].y() / kSinks;
      if (wrong <= 1 || (change < active.size() && (turn >= boldly || wrong <= worst))) continue;
      worst = wrong;
      change = k;
    }
    if (change == supports_.size()) {
      if (count(active) < 2) return {};
      found.balances = true;
      return found;
    }
    active[change] = !active[change];
  }
  return {};
}

}  // namespace skewback
