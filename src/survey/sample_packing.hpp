#pragma once
// For tests and benches only: the packing program as a plain linear program, a row of cubes, and
// footings that are off.

#include <random>
#include <string>

#include "solve/solve.hpp"
#include "survey/packing_program.hpp"

namespace skewback::sample {

/// Columns: six moves of every free block, in mm and mrad, then tau of every hinge, then one slack
/// a row. Every row: a . r - tau + slack = most.
inline LinearProgram plain_program(const PackProgram& program) {
  const StackPlan& plan = program.model->plan();
  const auto moves = 6 * static_cast<Eigen::Index>(plan.block.size());
  const auto hinges = static_cast<Eigen::Index>(program.hinges.size());
  Eigen::Index rows = 0;
  for (const Hinge& hinge : program.hinges) rows += static_cast<Eigen::Index>(hinge.rows);
  LinearProgram lp;
  lp.b.resize(rows);
  lp.c = VectorX::Zero(moves + hinges + rows);
  lp.lower = VectorX::Zero(lp.c.size());
  lp.lower.head(moves).setConstant(-1e300);
  lp.upper = VectorX::Constant(lp.c.size(), 1e300);
  std::vector<Eigen::Triplet<double>> entries;
  Eigen::Index row = 0;
  for (Eigen::Index h = 0; h < hinges; ++h) {
    const Hinge& hinge = program.hinges[static_cast<std::size_t>(h)];
    const auto j = static_cast<std::size_t>(hinge.joint);
    lp.c[moves + h] = hinge.cost;
    for (std::size_t k = 0; k < hinge.rows; ++k, ++row) {
      Vec6 a = Vec6::Zero();
      for (int i = 0; i < 3; ++i)
        a[parts_of(hinge.kind)[static_cast<std::size_t>(i)]] = hinge.a[k][i];
      const auto put = [&](int node, const Vec6& values) {
        for (int i = 0; node >= 0 && i < 6; ++i) entries.emplace_back(row, 6 * node + i, values[i]);
      };
      put(plan.rows[j].b, plan.rows[j].to_b.transpose() * a);
      put(plan.rows[j].a, -(plan.rows[j].to_a.transpose() * a));
      entries.emplace_back(row, moves + h, -1.0);
      entries.emplace_back(row, moves + hinges + row, 1.0);
      lp.b[row] = hinge.most[k] - a.dot(program.fixed[j]);
    }
  }
  lp.A.resize(rows, lp.c.size());
  lp.A.setFromTriplets(entries.begin(), entries.end());
  return lp;
}

/// Footings off by up to `most_m` any way and `turn_rad` about the vertical, all else as drawn.
inline AsMade footings_off(const Assembly& assembly, double most_m, double turn_rad,
                           std::mt19937_64& random) {
  std::uniform_real_distribution<double> any(-1, 1);
  AsMade made = as_drawn(assembly, 0);
  for (const Block& block : assembly.blocks) {
    if (!block.fixed || block.place.arm < 0) continue;
    const auto arm = static_cast<std::size_t>(block.place.arm);
    if (made.supports.size() <= arm) made.supports.resize(arm + 1);
    const Vec3 shift(any(random), any(random), any(random));
    made.supports[arm] =
        rigid({most_m * shift, {0, 0, turn_rad * any(random)}}, centre_of_gravity(block));
  }
  return made;
}

/// `count` cubes of 1 m in a row along x, from x = 0, between two footings: joints 0 to count.
/// Block 0 is the west footing, block count + 1 the east one; the middle of an odd row is the key.
inline Assembly row_of_cubes(int count) {
  Assembly out;
  for (int i = 0; i <= count + 1; ++i) {
    Block block;
    block.id = i == 0 ? "west" : i == count + 1 ? "east" : "c" + std::to_string(i);
    block.solid = box({i - 1.0, -0.5, -0.5}, {i + 0.0, 0.5, 0.5});
    block.density = 2400;
    block.fixed = i == 0 || i == count + 1;
    const bool west = 2 * i < count + 1, key = 2 * i == count + 1;
    block.place.arm = key ? -1 : west ? 0 : 1;
    block.place.course = west ? i : count + 1 - i;
    block.place.phi_m = block.fixed ? 0 : block.place.course - 0.5;
    out.blocks.push_back(block);
    if (i == 0) continue;
    Joint joint;
    joint.a = i - 1;
    joint.b = i;
    joint.frame = frame_on({{i - 1.0, 0, 0}, Vec3::UnitX()});
    joint.contact = {{{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}, {}}};
    out.joints.push_back(joint);
  }
  measure(out);
  return out;
}

/// An assembly with its model, and its beds and footings to be put off; as drawn to begin with.
struct AsFound {
  Assembly drawn;
  StackModel model;
  AsMade made;
  AsFound(Assembly assembly, std::size_t supports)
      : drawn(std::move(assembly)), model(drawn), made(as_drawn(drawn, supports)) {}
  AsFound(const AsFound&) = delete;
  AsFound& operator=(const AsFound&) = delete;
};
/// Five cubes; the second support is the east footing.
struct FiveCubes : AsFound {
  FiveCubes() : AsFound(row_of_cubes(5), 2) {}
};

}  // namespace skewback::sample
