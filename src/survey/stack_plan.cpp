// What stacking and packing of an assembly share: rows of the joints, order of laying, patterns.

#include <algorithm>
#include <cmath>
#include <tuple>

#include "survey/beds.hpp"
#include "survey/joint_rows.hpp"

namespace skewback {
namespace {

bool of_the_crown(const Block& block) {
  return !block.fixed && block.place.course > 0 && (block.place.crown || block.place.arm < 0);
}

Mat3 cross(const Vec3& v) {
  Mat3 m;
  m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
  return m;
}

/// Movement at the joint's origin, in its frame, of a block with the move u.
Block6 to_joint(const Frame& frame, const Vec3& centre) {
  Mat3 axes;
  axes << frame.x.transpose(), frame.y.transpose(), frame.z.transpose();
  Block6 out = Block6::Zero();
  out.topLeftCorner<3, 3>() = axes;
  out.topRightCorner<3, 3>() = -axes * cross(frame.origin - centre);
  out.bottomRightCorner<3, 3>() = axes;
  return out;
}

void add_flush(const JointCorners& corners, JointRows& rows) {
  rows.flush.setZero();
  for (std::size_t k = 0; k < 4; ++k) {
    const Vec2& p = corners[k];
    Vec6 along, up;
    rows.gap[k] << 0, 0, 1, p.y(), -p.x(), 0;
    along << 1, 0, 0, 0, 0, -p.y();
    up << 0, 1, 0, 0, 0, p.x();
    rows.flush += rows.gap[k] * rows.gap[k].transpose();
    rows.flush += kStepOverGap * kStepOverGap * (along * along.transpose() + up * up.transpose());
  }
}

/// Each the first in `wanted` that touches what is there; those that touch nothing at the end.
std::vector<int> laid_in_turn(const Assembly& assembly, std::vector<int> wanted,
                              std::vector<char>& there, const StackPlan& plan) {
  std::vector<int> out;
  const auto touches = [&](int block) {
    return std::ranges::any_of(plan.joints_of[static_cast<std::size_t>(block)], [&](int j) {
      const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
      return there[static_cast<std::size_t>(joint.a == block ? joint.b : joint.a)] != 0;
    });
  };
  while (!wanted.empty()) {
    auto next = std::ranges::find_if(wanted, touches);
    if (next == wanted.end()) next = wanted.begin();
    there[static_cast<std::size_t>(*next)] = 1;
    out.push_back(*next);
    wanted.erase(next);
  }
  return out;
}

/// Joints from the ground, of every block; for assemblies that say nothing of places.
std::vector<int> breadth(const Assembly& assembly, const StackPlan& plan) {
  std::vector<int> level(assembly.blocks.size(), -1), front;
  for (std::size_t i = 0; i < level.size(); ++i) {
    if (!assembly.blocks[i].fixed) continue;
    level[i] = 0;
    front.push_back(static_cast<int>(i));
  }
  for (std::size_t at = 0; at < front.size(); ++at) {
    for (const int j : plan.joints_of[static_cast<std::size_t>(front[at])]) {
      const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
      const int other = joint.a == front[at] ? joint.b : joint.a;
      if (level[static_cast<std::size_t>(other)] >= 0) continue;
      level[static_cast<std::size_t>(other)] = level[static_cast<std::size_t>(front[at])] + 1;
      front.push_back(other);
    }
  }
  for (int& l : level) l = l < 0 ? static_cast<int>(level.size()) : l;
  return level;
}

std::vector<int> order_of(const Assembly& assembly, StackPlan& plan) {
  const std::vector<int> level = breadth(assembly, plan);
  std::vector<int> arms = plan.block, crown;
  const auto sooner = [&](int i, int j) {
    const auto key = [&](int b) {
      const BlockPlace& place = assembly.blocks[static_cast<std::size_t>(b)].place;
      const bool placed = place.course > 0;
      return std::tuple(placed && place.arm < 0, placed ? std::llround(place.phi_m * 1e6) : 0,
                        placed ? 0 : level[static_cast<std::size_t>(b)], b);
    };
    return key(i) < key(j);
  };
  std::ranges::sort(arms, sooner);
  const auto split = std::ranges::stable_partition(
      arms, [&](int b) { return !of_the_crown(assembly.blocks[static_cast<std::size_t>(b)]); });
  crown.assign(split.begin(), split.end());
  arms.erase(split.begin(), split.end());
  std::vector<char> there(assembly.blocks.size(), 0);
  for (std::size_t i = 0; i < there.size(); ++i) there[i] = assembly.blocks[i].fixed ? 1 : 0;
  std::vector<int> out = laid_in_turn(assembly, arms, there, plan);
  plan.keys_from = out.size();
  for (const int b : laid_in_turn(assembly, crown, there, plan)) out.push_back(b);
  return out;
}

LayingOne laying_one(const StackModel& model, const StackPlan& plan, int block,
                     const std::vector<char>& there) {
  LayingOne out;
  Block6 matrix = Block6::Zero();
  for (const int j : plan.joints_of[static_cast<std::size_t>(block)]) {
    const Joint& joint = model.assembly().joints[static_cast<std::size_t>(j)];
    const bool is_b = joint.b == block;
    if (there[static_cast<std::size_t>(is_b ? joint.a : joint.b)] == 0) continue;
    const JointRows& rows = plan.rows[static_cast<std::size_t>(j)];
    const Block6& to = is_b ? rows.to_b : rows.to_a;
    out.joints.push_back(j);
    matrix += to.transpose() * rows.flush * to;
  }
  if (!out.joints.empty()) out.bare.compute(matrix);
  matrix(2, 2) += kTimber * kTimber;
  out.on_timber.compute(matrix);
  return out;
}

std::shared_ptr<const BlockPattern> pattern_of(const Assembly& assembly,
                                               const std::vector<int>& node, int nodes) {
  std::vector<std::array<int, 2>> pairs;
  for (const Joint& joint : assembly.joints) {
    const int a = node[static_cast<std::size_t>(joint.a)],
              b = node[static_cast<std::size_t>(joint.b)];
    if (a >= 0 && b >= 0 && a != b) pairs.push_back({a, b});
  }
  return analyse(nodes, pairs);
}

}  // namespace

JointCorners joint_corners(const Joint& joint) {
  if (joint.contact.empty()) return {Vec2::Zero(), Vec2::Zero(), Vec2::Zero(), Vec2::Zero()};
  return extreme_points(joint.contact);
}

StackModel::StackModel(const Assembly& assembly) : assembly_(&assembly) {
  auto plan = std::make_shared<StackPlan>();
  plan->node.assign(assembly.blocks.size(), -1);
  plan->joints_of.resize(assembly.blocks.size());
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (assembly.blocks[i].fixed) continue;
    plan->node[i] = static_cast<int>(plan->block.size());
    plan->block.push_back(static_cast<int>(i));
  }
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const auto a = static_cast<std::size_t>(joint.a), b = static_cast<std::size_t>(joint.b);
    corners_.push_back(joint_corners(joint));
    JointRows rows;
    rows.a = plan->node[a];
    rows.b = plan->node[b];
    rows.to_a = to_joint(joint.frame, centre_of_gravity(assembly.blocks[a]));
    rows.to_b = to_joint(joint.frame, centre_of_gravity(assembly.blocks[b]));
    rows.gap_a = rows.to_a.middleRows<3>(2);
    rows.gap_b = rows.to_b.middleRows<3>(2);
    rows.step_a << rows.to_a.topRows<2>(), rows.to_a.bottomRows<1>();
    rows.step_b << rows.to_b.topRows<2>(), rows.to_b.bottomRows<1>();
    add_flush(corners_.back(), rows);
    plan->rows.push_back(rows);
    plan->joints_of[a].push_back(static_cast<int>(j));
    plan->joints_of[b].push_back(static_cast<int>(j));
  }
  order_ = order_of(assembly, *plan);
  plan->pattern = pattern_of(assembly, plan->node, static_cast<int>(plan->block.size()));
  std::vector<char> there;
  for (const Block& block : assembly.blocks) there.push_back(block.fixed ? 1 : 0);
  for (std::size_t i = 0; i < plan->keys_from; ++i) {
    plan->laying.push_back(laying_one(*this, *plan, order_[i], there));
    there[static_cast<std::size_t>(order_[i])] = 1;
  }
  std::vector<int> last(assembly.blocks.size(), -1);
  for (std::size_t i = plan->keys_from; i < order_.size(); ++i)
    last[static_cast<std::size_t>(order_[i])] = static_cast<int>(i - plan->keys_from);
  plan->keys = pattern_of(assembly, last, static_cast<int>(order_.size() - plan->keys_from));
  plan_ = std::move(plan);
}

}  // namespace skewback
