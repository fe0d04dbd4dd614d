#include "print/print.hpp"

#include <algorithm>
#include <atomic>

#include "base/parallel.hpp"
#include "print/block_print.hpp"
#include "print/plan_printing.hpp"

namespace skewback {

double width_m(const Pose& pose) {
  return pose.share_m > 0
             ? static_cast<double>(pose.share_m) + kRound * static_cast<double>(pose.height_m)
             : 0;
}

double section_m2(const Pose& pose) {
  return static_cast<double>(pose.share_m) * static_cast<double>(pose.height_m);
}

FlowRange flow_range(const BlockPrint& block) {
  constexpr double kLow = 0.1;
  FlowRange out;
  const auto flow = [](const Pose& pose) {
    return section_m2(pose) * static_cast<double>(pose.speed_m_s);
  };
  for (const Pose& pose : block.poses) {
    const double here = flow(pose);
    if (here <= 0) continue;
    out.least_m3_s = out.greatest_m3_s > 0 ? std::min(out.least_m3_s, here) : here;
    out.greatest_m3_s = std::max(out.greatest_m3_s, here);
  }
  for (std::size_t i = 0; i + 1 < block.poses.size(); ++i) {
    const double here = flow(block.poses[i]);
    if (here > 0 && here < kLow * out.greatest_m3_s)
      out.low_m += (block.poses[i + 1].tip - block.poses[i].tip).norm();
  }
  return out;
}

int stops(const BlockPrint& block) {
  int count = 0;
  bool laid = false, away = false;
  for (const Pose& pose : block.poses) {
    const bool lays = pose.share_m > 0;
    if (lays && away) ++count;
    away = !lays && laid;
    laid = laid || lays;
  }
  return count;
}

PrintSet print_blocks(const Brief& brief, const Assembly& assembly,
                      const std::vector<CaseProof>& proofs, const Progress& progress) {
  const std::vector<CaseJointForces> forces = joint_forces(assembly, proofs);
  std::vector<int> made;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i)
    if (!assembly.blocks[static_cast<std::size_t>(i)].fixed) made.push_back(i);
  PrintSet set;
  set.blocks.resize(made.size());
  std::atomic<int> done = 0;
  for_each_index(made.size(), [&](std::size_t i) {
    set.blocks[i] = print_block(brief, assembly, made[i], forces);
    progress.checkpoint("print: " + set.blocks[i].id,
                        static_cast<double>(++done) / static_cast<double>(made.size()));
  });
  std::vector<double> angles;
  for (const BlockPrint& block : set.blocks)
    if (block.way == PrintWay::kBedToBed && !block.layers.empty())
      angles.push_back(block.normal_to_thrust_rad);
  if (!angles.empty()) {
    const auto middle = angles.begin() + static_cast<std::ptrdiff_t>(angles.size() / 2);
    std::nth_element(angles.begin(), middle, angles.end());
    set.normal_to_thrust_median_rad = *middle;
  }
  plan_printing(brief, assembly, set);
  return set;
}

}  // namespace skewback
