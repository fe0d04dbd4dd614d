#include "print/bricks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "print/poses.hpp"

namespace skewback {
namespace {

constexpr std::size_t kLeaf = 4;

/// Half the width times tan(bend / 2), at most half the width.
double lengthening(const std::vector<Pose>& poses, std::size_t corner, double half_width) {
  if (corner == 0 || corner + 1 >= poses.size()) return half_width;
  const Vec3 before = poses[corner].tip - poses[corner - 1].tip;
  const Vec3 after = poses[corner + 1].tip - poses[corner].tip;
  const double bend = std::atan2(before.cross(after).norm(), before.dot(after));
  return half_width * std::min(1.0, std::tan(std::min(bend, 1.6) / 2));
}

void add_nodes(BrickTree& tree, std::size_t first, std::size_t end) {
  const std::size_t me = tree.nodes.size();
  tree.nodes.push_back({Vec3::Zero(), Vec3::Zero(), first, end});
  Vec3 low = Vec3::Constant(std::numeric_limits<double>::max()), high = -low;
  for (std::size_t i = first; i < end; ++i) {
    const Brick& b = tree.bricks[i];
    const Vec3 half = b.half[0].cwiseAbs() + b.half[1].cwiseAbs() + b.half[2].cwiseAbs();
    low = low.cwiseMin(b.centre - half);
    high = high.cwiseMax(b.centre + half);
  }
  tree.nodes[me].centre = (low + high) / 2;
  tree.nodes[me].half = (high - low) / 2;
  if (end - first <= kLeaf) return;
  const std::size_t middle = (first + end) / 2;
  tree.nodes[me].left = tree.nodes.size();
  add_nodes(tree, first, middle);
  tree.nodes[me].right = tree.nodes.size();
  add_nodes(tree, middle, end);
}

/// Corners of a prism that holds all bricks: convex hull in the layer's plane, between two planes.
std::vector<Vec3> hull_of(const std::vector<Brick>& bricks) {
  Vec3 normal = Vec3::Zero();
  for (const Brick& b : bricks) normal -= b.half[2];  // it points down
  const Frame frame = frame_on({bricks.front().centre, normal.normalized()});
  std::vector<Vec2> flat;
  double low = std::numeric_limits<double>::max(), high = -low;
  for (const Brick& b : bricks) {
    for (int corner = 0; corner < 8; ++corner) {
      Vec3 p = b.centre;
      for (int axis = 0; axis < 3; ++axis)
        p += ((corner >> axis) & 1 ? 1.0 : -1.0) * b.half[static_cast<std::size_t>(axis)];
      const Vec3 local = frame.to_local(p);
      flat.emplace_back(local.x(), local.y());
      low = std::min(low, local.z());
      high = std::max(high, local.z());
    }
  }
  std::vector<Vec3> hull;
  for (const Vec2& q : convex_hull(flat))
    for (const double z : {low, high}) hull.push_back(frame.to_world(Vec3(q.x(), q.y(), z)));
  return hull;
}

}  // namespace

Brick brick_of(const std::vector<Pose>& poses, std::size_t i) {
  const Pose &a = poses[i], &b = poses[i + 1];
  const double half_width = width_m(a) / 2, height = static_cast<double>(a.height_m);
  const Vec3 axis = (axis_of(a) + axis_of(b)).normalized();
  const Vec3 way = b.tip - a.tip;
  const double length = way.norm();
  const Vec3 along = length > 0 ? Vec3(way / length) : axis.unitOrthogonal();
  const Vec3 across = axis.cross(along).normalized();
  const Vec3 down = across.cross(along).normalized();  // square to both, against the axis
  const double before = lengthening(poses, i, half_width);
  const double after = lengthening(poses, i + 1, half_width);
  Brick brick;
  brick.centre = (a.tip + b.tip) / 2 + (after - before) / 2 * along + height / 2 * down;
  brick.half = {(length + before + after) / 2 * along, half_width * across, height / 2 * down};
  brick.pose = i;
  return brick;
}

std::vector<BrickTree> brick_trees(const std::vector<Pose>& poses) {
  std::vector<BrickTree> trees;
  for (std::size_t i = 0; i + 1 < poses.size(); ++i) {
    if (poses[i].share_m <= 0) continue;
    if (trees.empty() || trees.back().layer != poses[i].layer) {
      trees.emplace_back();
      trees.back().layer = poses[i].layer;
    }
    trees.back().bricks.push_back(brick_of(poses, i));
  }
  for (BrickTree& tree : trees) {
    add_nodes(tree, 0, tree.bricks.size());
    tree.hull = hull_of(tree.bricks);
  }
  return trees;
}

}  // namespace skewback
