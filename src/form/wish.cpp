#include "form/wish.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kCrownWeight = 30;  // the rise is put exactly right after each step anyway

// Gathers residuals row by row; derivatives only where they are asked for.
class Gatherer {
 public:
  Gatherer(const Net& net, const ShapeWish& wish, bool derivatives)
      : net_(net), wish_(wish), derivatives_(derivatives) {
    places();
    levels();
    for (const BetweenWish& between : wish.between) add(between);
    for (const SpotWish& spot : wish.spots) add(spot);
    for (const WithinWish& within : wish.within) add(within);
    for (const ThrustWish& thrust : wish.thrusts) add(thrust);
    evenness();
    crown();
    for (std::size_t i = 0; i < r_.size() && wish.standing.size() > 0; ++i)
      r_[i] -= wish.standing[Eigen::Index(i)];
  }

  [[nodiscard]] VectorX values() const {
    return Eigen::Map<const VectorX>(r_.data(), Eigen::Index(r_.size()));
  }
  [[nodiscard]] SparseMatrix by_place() const {
    return matrix(place_, 3 * Eigen::Index(net_.points.size()));
  }
  [[nodiscard]] SparseMatrix by_force() const {
    return matrix(force_, Eigen::Index(net_.edges.size()));
  }

 private:
  using Triplets = std::vector<Eigen::Triplet<double>>;

  [[nodiscard]] SparseMatrix matrix(const Triplets& entries, Eigen::Index columns) const {
    SparseMatrix m(Eigen::Index(r_.size()), columns);
    m.setFromTriplets(entries.begin(), entries.end());
    return m;
  }
  [[nodiscard]] const Vec3& at(int point) const { return net_.points[point]; }
  void row(double value) { r_.push_back(value); }
  void by(int point, int axis, double factor) {  // of the row added last
    if (derivatives_) place_.emplace_back(int(r_.size()) - 1, 3 * point + axis, factor);
  }
  void by_u(int edge, double by_q) {
    if (derivatives_)
      force_.emplace_back(int(r_.size()) - 1, edge,
                          by_q * above_floor(net_.edges[edge].q, wish_.floor_q[edge]));
  }

  void places() {
    for (int i = 0; i < int(wish_.place.size()); ++i) {
      const PlaceWish& place = wish_.place[i];
      const Vec2 off = place.weight * (at(i).head<2>() - place.drawn);
      for (int c = 0; c < 2; ++c) {
        row(off[c]);
        by(i, 0, place.weight(c, 0));
        by(i, 1, place.weight(c, 1));
      }
    }
  }

  void levels() {
    const int first = int(r_.size());
    r_.resize(r_.size() + wish_.level.rows(), 0.0);
    for (int i = 0; i < wish_.level.outerSize(); ++i)
      for (SparseMatrix::InnerIterator it(wish_.level, i); it; ++it) {
        const double factor = wish_.level_weight * it.value();
        r_[first + it.row()] += factor * at(i).z();
        if (derivatives_) place_.emplace_back(first + int(it.row()), 3 * i + 2, factor);
      }
  }

  void by_plan(int point, const Vec2& factor) {
    by(point, 0, factor.x());
    by(point, 1, factor.y());
  }

  void add(const BetweenWish& between) {
    const Vec2 n = between.weight * between.across;
    const double rest = 1 - between.share;
    const Vec3 off =
        at(between.point) - rest * at(between.before) - between.share * at(between.after);
    row(n.dot(off.head<2>()));
    by_plan(between.point, n);
    by_plan(between.before, -rest * n);
    by_plan(between.after, -between.share * n);
  }

  void add(const SpotWish& spot) {
    Vec3 here = Vec3::Zero();
    for (int c = 0; c < 3; ++c) here += spot.share[c] * at(spot.corner[c]);
    const Vec3 off = here - spot.target;
    const double above = off.z() - spot.slope.dot(off.head<2>());
    const bool counts = !spot.at_most || above > 0;
    row(counts ? spot.weight * above : 0);
    for (int c = 0; counts && c < 3; ++c) {
      const double factor = spot.weight * spot.share[c];
      by(spot.corner[c], 0, -factor * spot.slope.x());
      by(spot.corner[c], 1, -factor * spot.slope.y());
      by(spot.corner[c], 2, factor);
    }
  }

  void add(const WithinWish& within) {
    const double off = within.normal.dot(at(within.point).head<2>() - within.foot);
    const double beyond = std::abs(off) - within.most_m;
    row(beyond > 0 ? within.weight * beyond : 0);
    if (beyond <= 0) return;
    const double factor = off > 0 ? within.weight : -within.weight;
    by_plan(within.point, factor * within.normal);
  }

  void add(const ThrustWish& thrust) {
    Vec2 sum = Vec2::Zero();
    const auto towards = [&](int edge, int end) -> Vec2 {
      const NetEdge& e = net_.edges[edge];
      return (at(end) - at(e.a == end ? e.b : e.a)).head<2>();
    };
    for (const auto& [edge, end] : thrust.edges) sum += net_.edges[edge].q * towards(edge, end);
    const double beyond = sum.norm() - thrust.most_n;
    row(beyond > 0 ? thrust.weight * beyond : 0);
    if (beyond <= 0) return;
    const Vec2 along = thrust.weight * sum.normalized();
    for (const auto& [edge, end] : thrust.edges) {
      const NetEdge& e = net_.edges[edge];
      const int free = e.a == end ? e.b : e.a;
      by(free, 0, -e.q * along.x());
      by(free, 1, -e.q * along.y());
      by_u(edge, along.dot(towards(edge, end)));
    }
  }

  void evenness() {
    for (const EvenWish& even : wish_.even) {
      row(even.of_a * net_.edges[even.a].q - even.of_b * net_.edges[even.b].q);
      by_u(even.a, even.of_a);
      if (even.of_b != 0) by_u(even.b, -even.of_b);
    }
    for (int k = 0; k < int(wish_.first.size()); ++k) {
      const double above = above_floor(net_.edges[k].q, wish_.floor_q[k]);
      row(wish_.keep * (std::log(above / wish_.unit_q[k]) - wish_.first[k]));
      by_u(k, wish_.keep / above);
    }
  }

  void crown() {
    row(kCrownWeight * (mean_height(net_.points, wish_.crown) - wish_.crown_z));
    for (int i : wish_.crown) by(i, 2, kCrownWeight / double(wish_.crown.size()));
  }

  const Net& net_;
  const ShapeWish& wish_;
  bool derivatives_;
  std::vector<double> r_;
  Triplets place_, force_;
};

}  // namespace

double above_floor(double q, double floor) { return std::max(q - floor, 1e-3 * floor); }

Linear linearise(const Net& net, const ShapeWish& wish) {
  const Gatherer all(net, wish, true);
  return {all.values(), all.by_place(), all.by_force()};
}

VectorX residuals(const Net& net, const ShapeWish& wish) {
  return Gatherer(net, wish, false).values();
}

VectorX standing_residuals(const Net& net, const ShapeWish& wish) {
  VectorX r = residuals(net, wish);
  const Eigen::Index equalities =
      2 * Eigen::Index(wish.place.size()) + wish.level.rows() + Eigen::Index(wish.between.size());
  r.segment(equalities, Eigen::Index(wish.spots.size() + wish.within.size() + wish.thrusts.size()))
      .setZero();
  r[r.size() - 1] = 0;
  return r;
}

}  // namespace skewback
