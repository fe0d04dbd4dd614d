#include "form/levelness.hpp"

#include <algorithm>
#include <array>

namespace skewback {
namespace {

constexpr double kKinkWeight = 1;

// Plan distances along a chain from its first point.
std::vector<double> stations(const std::vector<int>& chain, const std::vector<Vec3>& points) {
  std::vector<double> s{0};
  for (std::size_t i = 1; i < chain.size(); ++i)
    s.push_back(s.back() + (points[chain[i]] - points[chain[i - 1]]).head<2>().norm());
  return s;
}

// The same along one side of an opening in a leg, but that the opening counts by how far it gets up
// the leg: fibres further out do not go round it as far.
std::vector<double> stations_past(const Arm& arm, const std::vector<int>& chain,
                                  const std::vector<Vec3>& points) {
  std::vector<double> s = stations(chain, points);
  if (arm.parts == arm.joins) return s;
  const auto at = [&](int i) -> Vec2 { return points[chain[i]].head<2>(); };
  const Vec2 low = at(arm.parts), way = at(arm.joins) - low;
  const double begin = s[arm.parts], detour = s[arm.joins] - begin - way.norm();
  for (int i = arm.parts + 1; i < int(s.size()); ++i)
    s[i] =
        i < arm.joins ? begin + std::max(0.0, (at(i) - low).dot(way.normalized())) : s[i] - detour;
  for (std::size_t i = 1; i < s.size(); ++i) s[i] = std::max(s[i], s[i - 1] + 1e-9);
  return s;
}

// Rows of a linear map of the heights, each wanted to be zero.
class Rows {
 public:
  using Entries = std::vector<std::pair<int, double>>;  // point, factor
  void add(const Entries& row, double weight) {
    for (const auto& [point, factor] : row) entries_.emplace_back(count_, point, weight * factor);
    ++count_;
  }
  [[nodiscard]] SparseMatrix matrix(std::size_t points) const {
    SparseMatrix m(count_, Eigen::Index(points));
    m.setFromTriplets(entries_.begin(), entries_.end());
    return m;
  }

 private:
  int count_ = 0;
  std::vector<Eigen::Triplet<double>> entries_;
};

// Height of each point of a fibre less that of the centreline as far from the support; along an
// eye's edge, less that of its first point. `rim`: whether the centreline goes on along one.
std::vector<Rows::Entries> over_centre(const std::vector<int>& fibre,
                                       const std::vector<int>& centre, const Arm& arm, bool rim,
                                       const std::vector<Vec3>& points) {
  const std::vector<double> along = stations_past(arm, centre, points), s = stations(fibre, points);
  const int trunk = arm.trunk;
  std::vector<Rows::Entries> rows;
  for (std::size_t i = 0; i < s.size(); ++i) {
    if (fibre[i] == centre[i]) {
      rows.emplace_back();
      if (rim && int(i) > trunk) rows.back() = {{fibre[i], 1.0}, {centre[trunk], -1.0}};
      continue;
    }
    // round the bend from leg to spine ways differ: along the spine they count from its middle
    const double as_far = rim || int(i) <= trunk ? s[i] : along.back() - (s.back() - s[i]);
    const auto above = std::upper_bound(along.begin() + 1, along.end() - 1, as_far);
    const std::size_t c = std::size_t(above - along.begin());
    const double t = std::min(1.0, (as_far - along[c - 1]) / (along[c] - along[c - 1]));
    rows.push_back({{fibre[i], 1.0}, {centre[c - 1], t - 1}, {centre[c], -t}});
  }
  return rows;
}

// Second difference of three places side by side.
Rows::Entries kink(const Rows::Entries& a, const Rows::Entries& b, const Rows::Entries& c) {
  Rows::Entries row;
  for (const auto& [part, share] : {std::pair{&a, -0.5}, {&b, 1.0}, {&c, -0.5}})
    for (const auto& [point, factor] : *part) row.emplace_back(point, share * factor);
  return row;
}

}  // namespace

SparseMatrix levelness(const FibreMesh& mesh, const std::vector<Vec3>& points) {
  Rows rows;
  for (const Arm& arm : mesh.arms) {
    std::array<std::vector<std::vector<Rows::Entries>>, 2> over;
    for (const int side : {0, 1}) {
      const auto& fibres = side == 0 ? arm.before : arm.after;
      for (const std::vector<int>& fibre : fibres)
        over[side].push_back(over_centre(fibre, fibres.front(), arm, !mesh.spine, points));
      for (std::size_t i = 1; i < over[side].front().size(); ++i)
        for (std::size_t f = 0; f < fibres.size(); ++f) {
          if (!over[side][f][i].empty()) rows.add(over[side][f][i], 1.0);
          if (f > 0 && f + 1 < fibres.size())
            rows.add(kink(over[side][f - 1][i], over[side][f][i], over[side][f + 1][i]),
                     kKinkWeight);
        }
    }
    for (int i = 1; i <= arm.trunk; ++i) {
      if (arm.parted(i))  // level over an opening
        rows.add({{arm.before[0][i], 1.0}, {arm.after[0][i], -1.0}}, 1.0);
      else
        rows.add(kink(over[0][1][i], over[0][0][i], over[1][1][i]), kKinkWeight);
    }
  }
  if (mesh.spine) {
    const auto height = [](int point) { return Rows::Entries{{point, 1.0}}; };
    for (std::size_t i = 1; i + 1 < mesh.spine->chain.size(); ++i)
      rows.add(kink(height(mesh.spine->left[i]), height(mesh.spine->chain[i]),
                    height(mesh.spine->right[i])),
               kKinkWeight);
  }
  return rows.matrix(points.size());
}

}  // namespace skewback
