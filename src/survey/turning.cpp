#include "survey/turning.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "survey/joint_rows.hpp"

namespace skewback {

std::vector<std::array<double, 4>> gaps_of_turning(const StackModel& model,
                                                   const std::vector<SmallMove>& moves) {
  const Assembly& assembly = model.assembly();
  const auto pose = [&](int block) {
    const auto i = static_cast<std::size_t>(block);
    return rigid(moves[i], centre_of_gravity(assembly.blocks[i]));
  };
  std::vector<std::array<double, 4>> out(assembly.joints.size());
  for (std::size_t j = 0; j < out.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const Rigid a = pose(joint.a), b = pose(joint.b);
    const Vec3 normal = (a.R * joint.frame.z + b.R * joint.frame.z).normalized();
    const JointRows& rows = model.plan().rows[j];
    const Vec6 r = relative(rows, joint, moves);
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec3 at = joint.frame.to_world(model.corners()[j][k]);
      out[j][k] = normal.dot(b(at) - a(at)) - rows.gap[k].dot(r);
    }
  }
  return out;
}

double most_apart(const std::vector<std::array<double, 4>>& a,
                  const std::vector<std::array<double, 4>>& b) {
  double most = 0;
  for (std::size_t j = 0; j < std::max(a.size(), b.size()); ++j)
    for (std::size_t k = 0; k < 4; ++k)
      most = std::max(most, std::abs((j < a.size() ? a[j][k] : 0) - (j < b.size() ? b[j][k] : 0)));
  return most;
}

Tried try_with_turning(const RefitInput& input, const StackModel& model,
                       const FootingsFound& footings, AsMade& made) {
  constexpr int kRounds = 4;
  constexpr double kStays_m = 1e-5;
  Tried out;
  double left = 0;
  for (int round = 0; round < kRounds; ++round) {
    out.remedies = try_remedies(input, model, footings, made);
    out.chosen = choose(out.remedies, input.brief->packing);
    auto turning = gaps_of_turning(model, out.remedies[out.chosen].packed.moves);
    left = most_apart(turning, made.turning_m);
    if (left < kStays_m) return out;
    made.turning_m = std::move(turning);
  }
  char text[160];
  std::snprintf(text, sizeof text,
                "blocks turn so far that gaps are off by up to %.2f mm: footings this far out are "
                "more than packing is worked out for",
                1e3 * left);
  out.remark = text;
  return out;
}

}  // namespace skewback
