#include "print/clearance.hpp"

#include <algorithm>
#include <cmath>

#include "print/bricks.hpp"
#include "print/poses.hpp"
#include "print/tool.hpp"

namespace skewback {
namespace {

constexpr double kStep = 0.0125;                // m: longest piece of way tried at once
constexpr double kSwept = kClearanceSlack / 2;  // pieces near to anything are halved to this
constexpr double kPruned = kClearanceSlack - kSwept;
constexpr double kTableThick = 0.1;  // m

/// Branch and bound: the distance at a box's centre less its radius is under the distance of all
/// its points, because distances change no faster than places.
class Search {
 public:
  explicit Search(const PrintRequest& cell) : tool_(tool_shape(cell)) {}

  /// Searches from `place` for what is nearer than the bound or would be if the tool came nearer by
  /// `margin`; points count from `flush` over the plane of the tip's face.
  void move_to(const ToolPlace& place, double margin, double flush) {
    place_ = place;
    flush_ = flush;
    here_ = bound_ + margin;
  }
  /// Distance at this place, or what it is not under.
  [[nodiscard]] double here() const { return here_; }
  void settle(double distance) { bound_ = distance; }

  /// Whether the box was searched to a nearer point than any before.
  bool nearer(const Brick& box) {
    const double middle = place_.height(box.centre), up = box.reach(place_.axis);
    if (middle + up <= flush_) return false;
    const double to_centre = distance(tool_, place_, box.centre);
    if (to_centre - box.radius() >= here_ - kPruned) return false;
    bool found = middle > flush_ ? take(box.centre) : take(highest(box));
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
                                   [&](const Vec3& p) { return place_.height(p) > flush_; });
    return above && nearer(tree, 0, pose);
  }

  [[nodiscard]] double bound() const { return bound_; }
  [[nodiscard]] const Vec3& point() const { return point_; }

 private:
  bool take(const Vec3& p) {
    const double d = distance(tool_, place_, p);
    if (d >= here_) return false;
    here_ = d;
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
    if (place_.height(node.centre) + node.half.dot(place_.axis.cwiseAbs()) <= flush_) return false;
    if (distance(tool_, place_, node.centre) - node.half.norm() >= here_ - kPruned) return false;
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
  double bound_ = kClearanceCap + kPruned, here_ = bound_, flush_ = kFlush;
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

/// The tool on its way from one pose to the next.
struct Move {
  std::size_t pose = 0;
  Vec3 tip, way, axis, turn;

  [[nodiscard]] ToolPlace at(double t) const {
    return {tip + t * way, (axis + t * turn).normalized()};
  }
  /// No faster than this, per unit of t, turns the axis.
  [[nodiscard]] double spin() const {
    return turn.norm() / std::sqrt(std::max(1e-6, 1 - turn.squaredNorm() / 4));
  }
};

class Sweep {
 public:
  Sweep(const PrintRequest& cell, const std::vector<Pose>& poses)
      : poses_(poses),
        trees_(brick_trees(poses)),
        tool_(tool_shape(cell)),
        table_(table_box(cell)),
        search_(cell) {
    for (const Vec2& corner : tool_.outline) {
      far_ = std::max(far_, corner.norm());
      wide_ = std::max(wide_, corner.x());
    }
  }

  /// From t0 to t1. Distances change no faster than the tool moves: where what was found from the
  /// middle cannot come nearer than the bound, all of it is done; else it is halved.
  void over(const Move& move, double t0, double t1) {
    const double half = (t1 - t0) / 2, turned = half * move.spin();
    const double moved = half * move.way.norm() + far_ * turned;
    const ToolPlace middle = move.at((t0 + t1) / 2);
    // a point over the plane of the face rises by the way along the axis and by the turn; one that
    // lies near to that plane and could come near to the tool is no farther out than `reach`
    const double reach = wide_ + kClearanceCap + moved;
    const double risen = std::abs(half * move.way.dot(middle.axis)) + turned * reach;
    search_.move_to(middle, moved, kFlush - risen);
    ++out.checked;
    const std::string against = nearest(middle, moved, move.pose);
    if (against.empty() || search_.here() - moved >= search_.bound()) return;
    if (moved > kSwept) {
      over(move, t0, t0 + half);
      over(move, t0 + half, t1);
      return;
    }
    search_.settle(search_.here() - moved);
    out.against = against;
    out.at = search_.point();
    out.layer = poses_[move.pose].layer;
    out.pose = move.pose;
  }

  [[nodiscard]] ToolClearance found() const {
    ToolClearance done = out;
    done.least_m = std::min(kClearanceCap, search_.bound() - kPruned);
    return done;
  }

 private:
  std::string nearest(const ToolPlace& place, double moved, std::size_t pose) {
    std::string against;
    if (lowest(tool_, place) - moved < search_.bound() && search_.nearer(table_))
      against = "the table";
    for (auto tree = trees_.rbegin(); tree != trees_.rend(); ++tree)
      if (tree->bricks.front().pose < pose && search_.nearer(*tree, pose))
        against = "layer " + std::to_string(tree->layer + 1);
    return against;
  }

  const std::vector<Pose>& poses_;
  std::vector<BrickTree> trees_;
  ToolShape tool_;
  Brick table_;
  Search search_;
  double far_ = 0, wide_ = 0;
  ToolClearance out;
};

}  // namespace

ToolClearance check_clearance(const PrintRequest& cell, const std::vector<Pose>& poses) {
  Sweep sweep(cell, poses);
  for (std::size_t i = 0; i < poses.size(); ++i) {
    Move move{i, poses[i].tip, Vec3::Zero(), axis_of(poses[i]), Vec3::Zero()};
    if (i + 1 < poses.size()) {
      move.way = poses[i + 1].tip - poses[i].tip;
      move.turn = axis_of(poses[i + 1]) - move.axis;
    }
    const int parts = std::max(1, static_cast<int>(std::ceil(move.way.norm() / kStep - 1e-9)));
    for (int j = 0; j < parts; ++j)
      sweep.over(move, static_cast<double>(j) / parts, (j + 1.0) / parts);
  }
  return sweep.found();
}

}  // namespace skewback
