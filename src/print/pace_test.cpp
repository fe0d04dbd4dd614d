#include "print/pace.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

PrintRequest slow_to(double least_m_s) {
  PrintRequest cell;
  cell.flow_m3_s = 8e-5;
  cell.speed_min_m_s = least_m_s;
  cell.speed_max_m_s = 0.3;
  return cell;
}

// A metre of 1 cm2 and one of 4 cm2 with 80 mL/s: 0.8 m/s, held to 0.3, and 0.2 m/s. To last 30 s
// both take 1e-4 / q + 4e-4 / q = 30, q = 16.7 mL/s: 0.1667 and 0.0417 m/s.
TEST(Pace, AShortLayerIsLaidWithLessFlowAllRound) {
  PrintRequest cell = slow_to(0.01);
  cell.layer_time_min_s = 0;
  const std::vector<Piece> pieces = {{1, 1e-4, 0, 0, 0}, {1, 4e-4, 0, 0, 0}};
  const Pace free = pace(cell, pieces, 1);
  EXPECT_DOUBLE_EQ(free.speed_m_s[0], 0.3);
  EXPECT_DOUBLE_EQ(free.speed_m_s[1], 0.2);
  cell.layer_time_min_s = 30;
  const Pace slow = pace(cell, pieces, 1);
  EXPECT_NEAR(slow.speed_m_s[0], 5e-4 / 30 / 1e-4, 1e-9);
  EXPECT_NEAR(slow.speed_m_s[1], 5e-4 / 30 / 4e-4, 1e-9);
  EXPECT_NEAR(slow.speed_m_s[0] * 1e-4, slow.speed_m_s[1] * 4e-4, 1e-12);
}

// Not under the least speed: 0.1 m/s on both metres is 20 s of the 30; ten are waited for.
TEST(Pace, WhatSlowingLeavesIsWaitedFor) {
  PrintRequest cell = slow_to(0.1);
  cell.layer_time_min_s = 30;
  const Pace out = pace(cell, {{1, 1e-4, 0, 0, 0}, {1, 4e-4, 0, 0, 0}, {1, 4e-4, 0, 0, 1}}, 2);
  EXPECT_NEAR(out.speed_m_s[0], 0.1, 1e-12);
  EXPECT_NEAR(out.speed_m_s[1], 0.1, 1e-12);
  EXPECT_NEAR(out.wait_s[0], 10, 1e-9);
}

}  // namespace
}  // namespace skewback
