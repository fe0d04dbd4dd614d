#include "survey/stack.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>

#include "survey/joint_rows.hpp"

namespace skewback {
namespace {

Vec6 from_rigid(const Rigid& X, const Vec3& about) {
  const Eigen::AngleAxisd turn(X.R);
  Vec6 u;
  u << X(about) - about, turn.angle() * turn.axis();
  return u;
}

/// One stacking: what is there so far, and the rise that timber asks for.
struct Laying {
  const StackModel& model;
  const AsMade& made;
  std::vector<SmallMove>& moves;
  std::vector<char> there;          // per block
  const std::vector<double>* rise;  // per block; null: no timber
};

struct Normal {  // of least squares in the move of one block
  Block6 matrix = Block6::Zero();
  Vec6 rhs = Vec6::Zero();
};

Vec6 pull_of(const Laying& lay, int j) {
  const JointRows& rows = lay.model.plan().rows[static_cast<std::size_t>(j)];
  const Joint& joint = lay.model.assembly().joints[static_cast<std::size_t>(j)];
  Vec6 pull = rows.flush * relative(rows, joint, lay.moves);
  const std::array<double, 4> gap = bed_gaps(lay.model, lay.made, j);
  for (std::size_t k = 0; k < 4; ++k) pull += gap[k] * rows.gap[k];
  return pull;
}

/// Over its joints to what is there; the block itself has not moved yet.
Normal normal_of(const Laying& lay, int block) {
  const StackPlan& plan = lay.model.plan();
  Normal out;
  for (const int j : plan.joints_of[static_cast<std::size_t>(block)]) {
    const JointRows& rows = plan.rows[static_cast<std::size_t>(j)];
    const Joint& joint = lay.model.assembly().joints[static_cast<std::size_t>(j)];
    const bool is_b = joint.b == block;
    if (lay.there[static_cast<std::size_t>(is_b ? joint.a : joint.b)] == 0) continue;
    const Block6& to = is_b ? rows.to_b : rows.to_a;
    out.matrix += to.transpose() * rows.flush * to;
    out.rhs += (is_b ? -1.0 : 1.0) * (to.transpose() * pull_of(lay, j));
  }
  if (lay.rise != nullptr) {
    out.matrix(2, 2) += kTimber * kTimber;
    out.rhs[2] += kTimber * kTimber * (*lay.rise)[static_cast<std::size_t>(block)];
  }
  return out;
}

void lay_one(Laying& lay, int block, const LayingOne& on) {
  lay.there[static_cast<std::size_t>(block)] = 1;
  if (on.joints.empty() && lay.rise == nullptr) return;
  Vec6 rhs = Vec6::Zero();
  for (const int j : on.joints) {
    const JointRows& rows = lay.model.plan().rows[static_cast<std::size_t>(j)];
    const bool is_b = lay.model.assembly().joints[static_cast<std::size_t>(j)].b == block;
    const Vec6 pull = (is_b ? rows.to_b : rows.to_a).transpose() * pull_of(lay, j);
    rhs += (is_b ? -1.0 : 1.0) * pull;
  }
  if (lay.rise != nullptr)
    rhs[2] += kTimber * kTimber * (*lay.rise)[static_cast<std::size_t>(block)];
  const auto& factor = lay.rise != nullptr ? on.on_timber : on.bare;
  lay.moves[static_cast<std::size_t>(block)] = small_move(factor.solve(rhs));
}

void lay_keys(Laying& lay) {
  const StackPlan& plan = lay.model.plan();
  const std::vector<int>& order = lay.model.order();
  if (plan.keys_from >= order.size()) return;
  BlockCholesky factor(plan.keys);
  VectorX x(6 * static_cast<Eigen::Index>(order.size() - plan.keys_from));
  std::vector<int> node(lay.moves.size(), -1);
  for (std::size_t i = plan.keys_from; i < order.size(); ++i) {
    const int n = static_cast<int>(i - plan.keys_from);
    const Normal normal = normal_of(lay, order[i]);
    factor.add_diagonal(n, normal.matrix);
    x.segment<6>(6 * n) = normal.rhs;
    node[static_cast<std::size_t>(order[i])] = n;
  }
  for (std::size_t j = 0; j < plan.rows.size(); ++j) {
    const JointRows& rows = plan.rows[j];
    const Joint& joint = lay.model.assembly().joints[j];
    const int a = node[static_cast<std::size_t>(joint.a)],
              b = node[static_cast<std::size_t>(joint.b)];
    if (a < 0 || b < 0) continue;
    const Vec6 pull = pull_of(lay, static_cast<int>(j));
    factor.add_diagonal(a, rows.to_a.transpose() * rows.flush * rows.to_a);
    factor.add_diagonal(b, rows.to_b.transpose() * rows.flush * rows.to_b);
    factor.add_pair(a, b, -(rows.to_a.transpose() * rows.flush * rows.to_b));
    x.segment<6>(6 * a) += rows.to_a.transpose() * pull;
    x.segment<6>(6 * b) -= rows.to_b.transpose() * pull;
  }
  if (!factor.factorise() && !factor.factorise(1e-12)) return;
  factor.solve(x);
  for (std::size_t i = plan.keys_from; i < order.size(); ++i) {
    const auto n = static_cast<Eigen::Index>(i - plan.keys_from);
    lay.moves[static_cast<std::size_t>(order[i])] = small_move(x.segment<6>(6 * n));
  }
}

std::vector<SmallMove> laid(const StackModel& model, const AsMade& made,
                            const std::vector<double>* rise) {
  std::vector<SmallMove> moves = footing_moves(model, made);
  Laying lay{model, made, moves, std::vector<char>(moves.size(), 0), rise};
  for (std::size_t i = 0; i < moves.size(); ++i)
    lay.there[i] = model.assembly().blocks[i].fixed ? 1 : 0;
  for (std::size_t i = 0; i < model.plan().keys_from; ++i)
    lay_one(lay, model.order()[i], model.plan().laying[i]);
  lay_keys(lay);
  return moves;
}

/// The block of a joint that is laid later.
const std::string& later(const StackModel& model, int joint) {
  const Assembly& assembly = model.assembly();
  const Joint& at = assembly.joints[static_cast<std::size_t>(joint)];
  const auto turn = [&](int block) { return std::ranges::find(model.order(), block); };
  const bool fixed_a = assembly.blocks[static_cast<std::size_t>(at.a)].fixed;
  return assembly.blocks[static_cast<std::size_t>(fixed_a || turn(at.b) > turn(at.a) ? at.b : at.a)]
      .id;
}

std::string in_words(const StackModel& model, const PackingRequest& packing, const Stack& stack) {
  if (stack.tightest < 0) return "no joints: nothing to stack";
  const auto lie = [&](int j) -> const JointLie& {
    return stack.joints[static_cast<std::size_t>(j)];
  };
  const auto named = [&](int j) { return "the joint " + joint_name(model.assembly(), j); };
  if (stack.key_goes_in) {
    const double open = lie(stack.widest).gap_max_m();
    if (open < 1e-4) return "the key goes in and every joint closes";
    return "the key goes in; " + named(stack.widest) + " is open by " + in_mm(open);
  }
  const double tight = -lie(stack.tightest).gap_min_m();
  if (tight > packing.squeeze_m + kLieNear_m) {
    const std::string by = tight < 1e-4 ? "under 0.1 mm" : in_mm(tight);
    return "the key does not go in: " + later(model, stack.tightest) + " is " + by +
           " too wide at " + named(stack.tightest);
  }
  const auto worst = std::ranges::max_element(stack.joints, {}, &JointLie::step_max_m);
  const int step = static_cast<int>(worst - stack.joints.begin());
  return "the key does not go in: " + later(model, step) + " is " + in_mm(worst->step_max_m()) +
         " out of line at " + named(step);
}

}  // namespace

Rigid rigid(const SmallMove& move, const Vec3& about) {
  Rigid X;
  const double angle = move.turn.norm();
  if (angle > 0) X.R = Eigen::AngleAxisd(angle, move.turn / angle).toRotationMatrix();
  X.t = about + move.shift - X.R * about;
  return X;
}

double JointLie::gap_min_m() const { return std::ranges::min(gap_m); }
double JointLie::gap_max_m() const { return std::ranges::max(gap_m); }
double JointLie::step_max_m() const { return std::ranges::max(step_m); }

std::vector<SmallMove> footing_moves(const StackModel& model, const AsMade& made) {
  const std::vector<Block>& blocks = model.assembly().blocks;
  std::vector<SmallMove> moves(blocks.size());
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const int arm = blocks[i].place.arm;
    if (!blocks[i].fixed || arm < 0 || arm >= static_cast<int>(made.supports.size())) continue;
    moves[i] = small_move(
        from_rigid(made.supports[static_cast<std::size_t>(arm)], centre_of_gravity(blocks[i])));
  }
  return moves;
}

std::vector<JointLie> lies(const StackModel& model, const AsMade& made,
                           const std::vector<SmallMove>& moves) {
  const StackPlan& plan = model.plan();
  std::vector<JointLie> out(plan.rows.size());
  for (std::size_t j = 0; j < out.size(); ++j) {
    const Vec6 r = relative(plan.rows[j], model.assembly().joints[j], moves);
    const std::array<double, 4> bed = bed_gaps(model, made, static_cast<int>(j));
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec2& p = model.corners()[j][k];
      out[j].gap_m[k] = plan.rows[j].gap[k].dot(r) + bed[k];
      out[j].step_m[k] = std::hypot(r[0] - r[5] * p.y(), r[1] + r[5] * p.x());
    }
  }
  return out;
}

Stack stack_up(const StackModel& model, const AsMade& made, const PackingRequest& packing) {
  Stack out;
  out.moves = laid(model, made, nullptr);
  // Timber that is too high lifts a block from where it would lie without it, as far as its joints
  // let it: rows of their own beside those of the joints.
  if (std::ranges::any_of(made.timber_m, [](double t) { return t != 0; })) {
    std::vector<double> rise(out.moves.size());
    for (std::size_t i = 0; i < rise.size(); ++i)
      rise[i] = out.moves[i].shift.z() + made.timber_m[i];
    out.moves = laid(model, made, &rise);
  }
  out.joints = lies(model, made, out.moves);
  out.key_goes_in = true;
  for (std::size_t j = 0; j < out.joints.size(); ++j) {
    const JointLie& lie = out.joints[j];
    const auto at = [&](int i) -> const JointLie& {
      return out.joints[static_cast<std::size_t>(i)];
    };
    if (out.tightest < 0 || lie.gap_min_m() < at(out.tightest).gap_min_m())
      out.tightest = static_cast<int>(j);
    if (out.widest < 0 || lie.gap_max_m() > at(out.widest).gap_max_m())
      out.widest = static_cast<int>(j);
    if (lie.gap_min_m() < -packing.squeeze_m - kLieNear_m ||
        lie.step_max_m() > packing.step_m + kLieNear_m)
      out.key_goes_in = false;
  }
  out.finding = in_words(model, packing, out);
  return out;
}

}  // namespace skewback
