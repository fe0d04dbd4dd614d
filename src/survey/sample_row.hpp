#pragma once
// For tests only: blocks in a straight level row between two footings. All errors along the row
// add up in what is left for the key.

#include <string>

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback::sample {

struct StraightRow {
  int blocks = 21;  // the middle one is the key
  double length = 0.4, width = 0.3, pad = 0;
  Assembly assembly;
  Brief brief;
};

inline Joint row_joint(const StraightRow& row, double x, int a, int b) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame = frame_on({{x, 0, 0}, Vec3::UnitX()});
  const double h = row.width / 2;
  joint.contact = {{{{-h, -h}, {h, -h}, {h, h}, {-h, h}}, {}}};
  if (row.pad > 0) joint.pad = Pad{row.pad, 1e8, 1e7};
  return joint;
}

/// Grounds "west" (arm 0) and "east" (arm 1), then blocks from west to east; every error 0.
inline StraightRow straight_row(int blocks, double pad = 0) {
  StraightRow row;
  row.blocks = blocks;
  row.pad = pad;
  const double step = row.length + pad, end = blocks * step, h = row.width / 2;
  const auto add = [&](const std::string& id, double from, double to, BlockPlace place,
                       bool fixed) {
    Block block;
    block.id = id;
    block.solid = box({from + pad / 2, -h, -h}, {to - pad / 2, h, h});
    block.density = 2400;
    block.fixed = fixed;
    block.place = place;
    row.assembly.blocks.push_back(block);
  };
  add("west", -step, 0, {.arm = 0}, true);
  add("east", end, end + step, {.arm = 1}, true);
  const int key = blocks / 2;
  for (int i = 0; i < blocks; ++i) {
    const bool left = i < key;
    BlockPlace place;
    place.arm = i == key ? -1 : (left ? 0 : 1);
    place.course = i == key ? key + 1 : (left ? i + 1 : blocks - i);
    place.phi_m = step * (left ? i + 0.5 : blocks - i - 0.5);
    add("b" + std::to_string(i + 1), i * step, (i + 1) * step, place, false);
  }
  row.assembly.joints.push_back(row_joint(row, 0, 0, 2));
  for (int i = 1; i < blocks; ++i)
    row.assembly.joints.push_back(row_joint(row, i * step, i + 1, i + 2));
  row.assembly.joints.push_back(row_joint(row, end, blocks + 1, 1));
  measure(row.assembly);
  row.brief.plan.supports = {{"west", {0, h}, {0, -h}, 0}, {"east", {end, -h}, {end, h}, 0}};
  TolerancesRequest& t = row.brief.tolerances;
  t.footing_plan_m = t.footing_level_m = t.footing_turn_rad = t.footing_tilt_rad = 0;
  t.centring_m = t.block_length_m = t.bed_tilt_rad = t.bed_flatness_m = t.pad_share = 0;
  t.proof_draws = 0;
  return row;
}

}  // namespace skewback::sample
