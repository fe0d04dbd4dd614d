#include "stand/envelope.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

/// One box on another, 1 m wide (x), 0.6 m deep (y): loads where the resultant is known.
Assembly two_boxes() {
  Assembly assembly;
  for (int i = 0; i < 2; ++i) {
    Block block;
    block.id = "b" + std::to_string(i);
    block.density = 1000;
    block.fixed = i == 0;
    block.solid = box({-0.5, -0.3, 0.5 * i}, {0.5, 0.3, 0.5 * (i + 1)});
    block.place.arm = 0;
    block.place.course = i;
    assembly.blocks.push_back(std::move(block));
  }
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  measure(assembly);
  return assembly;
}

// By statics: weight 300 kg in the middle and P at y = 0.15 m give y = 0.15 P / (W + P).
TEST(Envelope, IsWhatStaticsGives) {
  Assembly assembly = two_boxes();
  const double W = 0.3 * 1000 * 9.81, P = W;
  ASSERT_EQ(assembly.joints.size(), 1u);
  const Vec3 up = assembly.joints[0].frame.y;  // a level joint: along x or y
  const double half = std::abs(up.y()) > 0.5 ? 0.3 : 0.5;
  LoadCase dead, front, back;
  dead.id = "dead";
  front.id = "front";
  front.live = {{1, 0.15 * up + Vec3(0, 0, 1), {0, 0, -P}}};
  back.id = "back";
  back.live = {{1, -0.15 * up + Vec3(0, 0, 1), {0, 0, -P}},
               {1, -0.15 * up + Vec3(0, 0, 0.5), 0.2 * P * up}};
  assembly.cases = {dead, front, back};
  const auto found = envelopes(assembly, prove_all(assembly));
  ASSERT_EQ(found.size(), 1u);
  const CourseEnvelope& e = found[0];
  EXPECT_NEAR(e.depth_m, 2 * half, 1e-9);
  EXPECT_NEAR(e.normal_n.least, W, 1e-6 * W);
  EXPECT_NEAR(e.normal_n.greatest, W + P, 1e-6 * W);
  EXPECT_EQ(e.normal_n.case_least, 0);
  EXPECT_NEAR(e.angle_deg, std::atan(0.2 * P / (W + P)) * 180 / 3.14159265358979, 1e-4);
  EXPECT_EQ(e.case_angle, 2);
  EXPECT_NEAR(e.place.greatest, 0.15 * P / (W + P) / half, 1e-5);
  EXPECT_NEAR(e.place.least, -0.15 * P / (W + P) / half, 1e-5);
  EXPECT_EQ(e.place.case_least, 2);
}

}  // namespace
}  // namespace skewback
