#include "print/clearance.hpp"

#include <algorithm>
#include <cmath>

#include "print/bricks.hpp"
#include "print/poses.hpp"
#include "print/tool.hpp"

namespace skewback {
namespace {

constexpr double kStep = 0.0125;     // m between places of the tool
constexpr double kTableThick = 0.1;  // m

/// Branch and bound: the distance at a box's centre less its radius is under the distance of all
/// its points, because distances change no faster than places.
class Search {
 public:
  explicit Search(const PrintRequest& cell) : tool_(tool_shape(cell)) {}

  void move_to(const ToolPlace& place) { place_ = place; }

  /// Whether the box was searched to a nearer point than any before.
  bool nearer(const Brick& box) {
    const double middle = place_.height(box.centre), up = box.reach(place_.axis);
    if (middle + up <= kFlush) return false;
    const double to_centre = distance(tool_, place_, box.centre);
    if (to_centre - box.radius() >= bound_ - kClearanceSlack) return false;
    bool found = middle > kFlush ? take(box.centre) : take(highest(box));
    std::size_t longest = 0;
    for (std::size_t k = 1; k < 3; ++k)
      if (box.half[k].squaredNorm() > box.half[longest].squaredNorm()) longest = k;
    Brick part = box;
    part.half[longest] /= 2;
    part.centre = box.centre + part.half[longest];
    found = nearer(part) || found;
    part.centre = box.centre - part.half[longest];
    return nearer(part) || found;
  }

  /// Bricks laid before `pose`.
  bool nearer(const BrickTree& tree, std::size_t pose) {
    const bool above = std::any_of(tree.hull.begin(), tree.hull.end(),
                                   [&](const Vec3& p) { return place_.height(p) > kFlush; });
    return above && nearer(tree, 0, pose);
  }

  [[nodiscard]] double bound() const { return bound_; }
  [[nodiscard]] const Vec3& point() const { return point_; }

 private:
  bool take(const Vec3& p) {
    const double d = distance(tool_, place_, p);
    if (d >= bound_) return false;
    bound_ = d;
    point_ = p;
    return true;
  }

  [[nodiscard]] Vec3 highest(const Brick& box) const {
    Vec3 p = box.centre;
    for (const Vec3& h : box.half) p += (h.dot(place_.axis) >= 0 ? 1.0 : -1.0) * h;
    return p;
  }

  bool nearer(const BrickTree& tree, std::size_t index, std::size_t pose) {
    const BrickTree::Node& node = tree.nodes[index];
    if (tree.bricks[node.first].pose >= pose) return false;
    if (place_.height(node.centre) + node.half.dot(place_.axis.cwiseAbs()) <= kFlush) return false;
    if (distance(tool_, place_, node.centre) - node.half.norm() >= bound_ - kClearanceSlack)
      return false;
    bool found = false;
    if (node.left != 0) {
      found = nearer(tree, node.left, pose);
      return nearer(tree, node.right, pose) || found;
    }
    for (std::size_t i = node.first; i < node.end; ++i)
      if (tree.bricks[i].pose < pose) found = nearer(tree.bricks[i]) || found;
    return found;
  }

  ToolShape tool_;
  ToolPlace place_;
  double bound_ = kClearanceCap + kClearanceSlack;
  Vec3 point_ = Vec3::Zero();
};

Brick table_box(const PrintRequest& cell) {
  Brick box;
  box.centre = -kTableThick / 2 * Vec3::UnitZ();
  box.half = {cell.table_length_m / 2 * Vec3::UnitX(), cell.table_width_m / 2 * Vec3::UnitY(),
              kTableThick / 2 * Vec3::UnitZ()};
  return box;
}

/// No point of the tool is lower than this.
double lowest(const ToolShape& tool, const ToolPlace& place) {
  const double lean = Vec2(place.axis.x(), place.axis.y()).norm();
  double least = place.tip.z();
  for (const Vec2& corner : tool.outline)
    least = std::min(least, place.tip.z() + corner.y() * place.axis.z() - corner.x() * lean);
  return least;
}

}  // namespace

ToolClearance check_clearance(const PrintRequest& cell, const std::vector<Pose>& poses) {
  ToolClearance out;
  const std::vector<BrickTree> trees = brick_trees(poses);
  const ToolShape tool = tool_shape(cell);
  const Brick table = table_box(cell);
  Search search(cell);
  const auto try_place = [&](const ToolPlace& place, std::size_t pose) {
    search.move_to(place);
    ++out.checked;
    std::string against;
    if (lowest(tool, place) < search.bound() && search.nearer(table)) against = "the table";
    for (auto tree = trees.rbegin(); tree != trees.rend(); ++tree)
      if (tree->bricks.front().pose < pose && search.nearer(*tree, pose))
        against = "layer " + std::to_string(tree->layer + 1);
    if (against.empty()) return;
    out.against = against;
    out.at = search.point();
    out.layer = poses[pose].layer;
    out.pose = pose;
  };
  for (std::size_t i = 0; i < poses.size(); ++i) {
    const Vec3 axis = axis_of(poses[i]);
    try_place({poses[i].tip, axis}, i);
    if (i + 1 == poses.size()) break;
    const Vec3 way = poses[i + 1].tip - poses[i].tip, turn = axis_of(poses[i + 1]) - axis;
    const int parts = static_cast<int>(std::ceil(way.norm() / kStep - 1e-9));
    for (int j = 1; j < parts; ++j) {
      const double t = static_cast<double>(j) / parts;
      try_place({poses[i].tip + t * way, (axis + t * turn).normalized()}, i);
    }
  }
  out.least_m = std::min(kClearanceCap, search.bound() - kClearanceSlack);
  return out;
}

}  // namespace skewback
