#include "access/back_height.hpp"

#include <algorithm>
#include <cmath>

namespace skewback::access {
namespace {

constexpr double kInPlane = 2e-3;   // m beyond half a pad: still the face of the joint
constexpr double kSlotDeep = 0.02;  // m: no top between two others falls by so much
constexpr double kSliver = 1e-12;   // m2, twice the plan area of a face too upright to walk on

std::size_t place(int i) { return static_cast<std::size_t>(i); }

bool in_plane(const std::vector<Vec3>& face, const Joint& joint) {
  const double reach = kInPlane + (joint.pad ? joint.pad->thickness_m / 2 : 0);
  return std::ranges::all_of(
      face, [&](const Vec3& p) { return std::abs(joint.frame.plane().distance(p)) <= reach; });
}

double twice_area(const Vec2& a, const Vec2& b, const Vec2& c) {
  return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

}  // namespace

BackHeight::BackHeight(const Assembly& assembly) {
  std::vector<std::vector<const Joint*>> joints(assembly.blocks.size());
  for (const Joint& joint : assembly.joints) {
    for (const int b : {joint.a, joint.b}) {
      if (b >= 0) joints[place(b)].push_back(&joint);
    }
    if (joint.pad) slot_m_ = std::max(slot_m_, 2 * joint.pad->thickness_m);
  }
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    const Block& block = assembly.blocks[b];
    if (block.fixed) continue;
    for (const std::vector<int>& corners : block.solid.faces) {
      std::vector<Vec3> face;
      for (const int v : corners) face.push_back(block.solid.vertices[place(v)]);
      const bool in_joint = std::ranges::any_of(
          joints[b], [&](const Joint* joint) { return in_plane(face, *joint); });
      add(face, static_cast<int>(b), in_joint);
    }
  }
  sort_into_cells();
}

void BackHeight::add(const std::vector<Vec3>& face, int block, bool in_joint) {
  for (std::size_t i = 1; i + 1 < face.size(); ++i) {
    const Triangle t{{face[0], face[i], face[i + 1]}, block, in_joint};
    if (twice_area(t.corner[0].head<2>(), t.corner[1].head<2>(), t.corner[2].head<2>()) > kSliver)
      triangles_.push_back(t);
  }
}

void BackHeight::sort_into_cells() {
  if (triangles_.empty()) return;
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Triangle& t : triangles_) {
    for (const Vec3& p : t.corner) {
      low = low.cwiseMin(p.head<2>());
      high = high.cwiseMax(p.head<2>());
    }
  }
  low_ = low;
  columns_ = static_cast<int>((high.x() - low.x()) / size_) + 1;
  rows_ = static_cast<int>((high.y() - low.y()) / size_) + 1;
  cells_.resize(place(columns_) * place(rows_));
  for (std::size_t i = 0; i < triangles_.size(); ++i) {
    const auto& c = triangles_[i].corner;
    const Vec2 least = c[0].head<2>().cwiseMin(c[1].head<2>()).cwiseMin(c[2].head<2>()) - low_,
               most = c[0].head<2>().cwiseMax(c[1].head<2>()).cwiseMax(c[2].head<2>()) - low_;
    for (int x = static_cast<int>(least.x() / size_); x <= static_cast<int>(most.x() / size_); ++x)
      for (int y = static_cast<int>(least.y() / size_); y <= static_cast<int>(most.y() / size_);
           ++y)
        cells_[place(x) * place(rows_) + place(y)].push_back(static_cast<int>(i));
  }
}

std::optional<BackHeight::Top> BackHeight::over(const Triangle& triangle, const Vec2& p) const {
  const auto& [a, b, c] = triangle.corner;
  const double whole = twice_area(a.head<2>(), b.head<2>(), c.head<2>());
  const double wa = twice_area(b.head<2>(), c.head<2>(), p) / whole,
               wb = twice_area(c.head<2>(), a.head<2>(), p) / whole, wc = 1 - wa - wb;
  if (std::min({wa, wb, wc}) < -1e-9) return std::nullopt;
  const Vec3 n = (b - a).cross(c - a);
  return Top{wa * a.z() + wb * b.z() + wc * c.z(), Vec2(-n.x(), -n.y()) / n.z(), triangle.block};
}

std::optional<BackHeight::Top> BackHeight::highest(const Vec2& p) const {
  const Vec2 in_cells = (p - low_) / size_;
  if (cells_.empty() || in_cells.minCoeff() < 0 || in_cells.x() >= columns_ ||
      in_cells.y() >= rows_)
    return std::nullopt;
  const std::size_t cell =
      place(static_cast<int>(in_cells.x())) * place(rows_) + place(static_cast<int>(in_cells.y()));
  std::optional<Top> best;
  bool in_joint = false;
  for (const int i : cells_[cell]) {
    const Triangle& triangle = triangles_[place(i)];
    const std::optional<Top> top = over(triangle, p);
    if (!top || (best && top->z <= best->z)) continue;
    best = top;
    in_joint = triangle.in_joint;
  }
  return in_joint ? std::nullopt : best;
}

/// Between two higher tops, near on opposite sides.
bool BackHeight::in_slot(const Vec2& p, double z) const {
  for (const Vec2& way : {Vec2(1, 0), Vec2(0.7, 0.7), Vec2(0, 1), Vec2(-0.7, 0.7)}) {
    const auto a = highest(p + slot_m_ * way), b = highest(p - slot_m_ * way);
    if (a && b && std::min(a->z, b->z) > z + kSlotDeep) return true;
  }
  return false;
}

std::optional<BackHeight::Top> BackHeight::at(const Vec2& p) const {
  const auto top = highest(p);
  return top && slot_m_ > 0 && in_slot(p, top->z) ? std::nullopt : top;
}

}  // namespace skewback::access
