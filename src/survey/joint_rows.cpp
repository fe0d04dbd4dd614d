#include "survey/joint_rows.hpp"

#include <cstdio>

namespace skewback {

Vec6 coordinates(const SmallMove& move) {
  Vec6 u;
  u << move.shift, move.turn;
  return u;
}

SmallMove small_move(const Vec6& u) { return {u.head<3>(), u.tail<3>()}; }

Vec6 relative(const JointRows& rows, const Joint& joint, const std::vector<SmallMove>& moves) {
  return rows.to_b * coordinates(moves[static_cast<std::size_t>(joint.b)]) -
         rows.to_a * coordinates(moves[static_cast<std::size_t>(joint.a)]);
}

std::array<double, 4> bed_gaps(const StackModel& model, const AsMade& made, int joint) {
  const auto j = static_cast<std::size_t>(joint);
  const JointCorners& corners = model.corners()[j];
  const double pad = made.pad_m.empty() ? 0 : made.pad_m[j];
  const auto height = [&](const std::vector<BedError>& beds, std::size_t k) {
    if (beds.empty()) return 0.0;
    return beds[j].height_m + beds[j].slope.dot(corners[k]) + beds[j].corner_m[k];
  };
  std::array<double, 4> out;
  for (std::size_t k = 0; k < 4; ++k) {
    out[k] = height(made.on_b, k) - height(made.on_a, k) - pad;
    if (!made.turning_m.empty()) out[k] += made.turning_m[j][k];
  }
  return out;
}

std::string joint_name(const Assembly& assembly, int joint) {
  const Joint& at = assembly.joints[static_cast<std::size_t>(joint)];
  return assembly.blocks[static_cast<std::size_t>(at.a)].id + " | " +
         assembly.blocks[static_cast<std::size_t>(at.b)].id;
}

std::string in_mm(double m) {
  char text[40];
  std::snprintf(text, sizeof text, "%.1f mm", m * 1e3);
  return text;
}

void lie_in_least_squares(const StackModel& model, const AsMade& made,
                          const std::vector<std::array<double, 4>>& wanted_m,
                          std::vector<SmallMove>& moves) {
  const StackPlan& plan = model.plan();
  if (plan.block.empty()) return;
  for (const int b : plan.block) moves[static_cast<std::size_t>(b)] = {};
  BlockCholesky factor(plan.pattern);
  VectorX x = VectorX::Zero(6 * static_cast<Eigen::Index>(plan.block.size()));
  for (std::size_t j = 0; j < plan.rows.size(); ++j) {
    const JointRows& rows = plan.rows[j];
    Vec6 pull = rows.flush * relative(rows, model.assembly().joints[j], moves);
    const std::array<double, 4> gap = bed_gaps(model, made, static_cast<int>(j));
    for (std::size_t k = 0; k < 4; ++k) pull += (gap[k] - wanted_m[j][k]) * rows.gap[k];
    if (rows.a >= 0) {
      factor.add_diagonal(rows.a, rows.to_a.transpose() * rows.flush * rows.to_a);
      x.segment<6>(6 * rows.a) += rows.to_a.transpose() * pull;
    }
    if (rows.b >= 0) {
      factor.add_diagonal(rows.b, rows.to_b.transpose() * rows.flush * rows.to_b);
      x.segment<6>(6 * rows.b) -= rows.to_b.transpose() * pull;
    }
    if (rows.a >= 0 && rows.b >= 0)
      factor.add_pair(rows.a, rows.b, -(rows.to_a.transpose() * rows.flush * rows.to_b));
  }
  if (!factor.factorise() && !factor.factorise(1e-12)) return;
  factor.solve(x);
  for (std::size_t i = 0; i < plan.block.size(); ++i) {
    moves[static_cast<std::size_t>(plan.block[i])] =
        small_move(x.segment<6>(6 * static_cast<Eigen::Index>(i)));
  }
}

}  // namespace skewback
