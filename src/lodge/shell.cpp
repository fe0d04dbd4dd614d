#include "lodge/shell.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <tuple>
#include <utility>

#include "base/constants.hpp"
#include "deliver/triangles.hpp"
#include "lodge/arrays.hpp"

namespace skewback::lodge {
namespace {

using Corners = std::array<int, 3>;

constexpr double kSliver = 1e-6;  // m; lower triangles have no direction of their own

struct Side {             // of a triangle: between its k-th corner and the next
  int low = 0, high = 0;  // the corners' indices
  std::size_t triangle = 0, k = 0;
  [[nodiscard]] bool same_edge(const Side& other) const {
    return low == other.low && high == other.high;
  }
};

/// Sides of one edge stand together.
std::vector<Side> sides_of(const std::vector<Corners>& triangles) {
  std::vector<Side> sides;
  sides.reserve(3 * triangles.size());
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      const int a = triangles[t][k], b = triangles[t][(k + 1) % 3];
      sides.push_back({std::min(a, b), std::max(a, b), t, k});
    }
  }
  std::ranges::sort(sides, {},
                    [](const Side& s) { return std::tuple(s.low, s.high, s.triangle, s.k); });
  return sides;
}

/// From `from`, past the last side of the same edge.
std::size_t past_edge(const std::vector<Side>& sides, std::size_t from) {
  std::size_t to = from + 1;
  while (to < sides.size() && sides[to].same_edge(sides[from])) ++to;
  return to;
}

struct Directions {
  std::vector<Vec3> normals;     // per triangle; zero for a sliver
  std::vector<char> is_longest;  // per side, 3 t + k: the longest of a sliver
};

Directions directions_of(const Solid& solid, const std::vector<Corners>& triangles) {
  Directions out{std::vector<Vec3>(triangles.size(), Vec3::Zero()),
                 std::vector<char>(3 * triangles.size(), 0)};
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    const auto at = [&](std::size_t k) -> const Vec3& {
      return solid.vertices[static_cast<std::size_t>(triangles[t][k % 3])];
    };
    const auto length = [&](std::size_t k) { return (at(k + 1) - at(k)).norm(); };
    std::size_t longest = length(1) > length(0) ? 1 : 0;
    if (length(2) > length(longest)) longest = 2;
    const Vec3 twice = (at(1) - at(0)).cross(at(2) - at(0));
    if (length(longest) > 0 && twice.norm() / length(longest) > kSliver) {
      out.normals[t] = twice.normalized();
    } else {
      out.is_longest[3 * t + longest] = 1;
    }
  }
  return out;
}

/// Slivers, left by cuts that almost meet, lie as the neighbour across their longest side does.
std::vector<Vec3> normals_of(const Solid& solid, const std::vector<Corners>& triangles,
                             const std::vector<Side>& sides) {
  auto [normals, is_longest] = directions_of(solid, triangles);
  std::vector<std::pair<std::size_t, std::size_t>> slivers;  // and the neighbour
  for (std::size_t from = 0, to = 0; from < sides.size(); from = to) {
    to = past_edge(sides, from);
    for (std::size_t s = from; s < to; ++s) {
      if (is_longest[3 * sides[s].triangle + sides[s].k] == 0) continue;
      for (std::size_t o = from; o < to; ++o)
        if (sides[o].triangle != sides[s].triangle)
          slivers.emplace_back(sides[s].triangle, sides[o].triangle);
    }
  }
  for (int round = 0; round < 3; ++round) {  // slivers beside slivers
    for (const auto& [t, neighbour] : slivers)
      if (normals[t].isZero(0)) normals[t] = normals[neighbour];
  }
  return normals;
}

struct Groups {  // of corners of triangles, 3 t + k
  std::vector<std::size_t> parent;
  explicit Groups(std::size_t n) : parent(n) { std::iota(parent.begin(), parent.end(), 0); }
  std::size_t of(std::size_t i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
  }
  void join(std::size_t a, std::size_t b) { parent[of(a)] = of(b); }
};

/// Corners of two triangles at the two ends of the side they share.
void join_across(const std::vector<Corners>& triangles, const Side& one, const Side& other,
                 Groups& groups) {
  for (const std::size_t k : {one.k, (one.k + 1) % 3}) {
    for (const std::size_t l : {other.k, (other.k + 1) % 3}) {
      if (triangles[one.triangle][k] == triangles[other.triangle][l])
        groups.join(3 * one.triangle + k, 3 * other.triangle + l);
    }
  }
}

}  // namespace

void Shell::add(const Solid& solid, std::uint32_t owner) {
  const std::vector<Corners> triangles = deliver::triangle_corners(solid);
  const std::vector<Side> sides = sides_of(triangles);
  const std::vector<Vec3> normals = normals_of(solid, triangles, sides);
  Groups groups(3 * triangles.size());
  const double flat = std::cos(kEdgeDeg * kPi / 180);
  for (std::size_t from = 0, to = 0; from < sides.size(); from = to) {
    to = past_edge(sides, from);
    const Side &one = sides[from], &last = sides[to - 1];
    if (to - from == 2 && normals[one.triangle].dot(normals[last.triangle]) >= flat) {
      join_across(triangles, one, last, groups);
      continue;
    }
    put(lines_, solid.vertices[static_cast<std::size_t>(one.low)]);
    put(lines_, solid.vertices[static_cast<std::size_t>(one.high)]);
    line_owner_.push_back(owner);
  }
  constexpr std::uint32_t kNew = ~std::uint32_t{0};
  std::vector<std::uint32_t> place(3 * triangles.size(), kNew);  // of each group's point
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      std::uint32_t& at = place[groups.of(3 * t + k)];
      if (at == kNew) {
        at = static_cast<std::uint32_t>(points_.size() / 3);
        put(points_, solid.vertices[static_cast<std::size_t>(triangles[t][k])]);
      }
      triangles_.push_back(at);
    }
    owner_.push_back(owner);
  }
}

void Shell::move_to(Sheaf& sheaf, const std::string& owner) {
  sheaf.add("points", std::move(points_), 3);
  sheaf.add("triangles", std::move(triangles_), 3);
  sheaf.add(owner, std::move(owner_));
  sheaf.add("lines", std::move(lines_), 6);
  sheaf.add("line_" + owner, std::move(line_owner_));
}

}  // namespace skewback::lodge
