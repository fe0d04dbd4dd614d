// Three hinges: statics of the textbook (checks D8). Joints of almost no size make the arch
// determinate.
#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kSpan = 10, kRise = 3, kHalfHinge = 1e-9;

Joint hinge(int a, int b, const Vec3& at, const Vec3& into_b) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame = frame_on({at, into_b.normalized()});
  joint.friction = 0.9;
  joint.contact = {{{{-kHalfHinge, -kHalfHinge},
                     {kHalfHinge, -kHalfHinge},
                     {kHalfHinge, kHalfHinge},
                     {-kHalfHinge, kHalfHinge}},
                    {}}};
  return joint;
}

Block half_arch(const char* id, double x) {
  Block block;
  block.id = id;
  block.solid = box({x - 1, -0.5, 1}, {x + 1, 0.5, 1.5});
  block.density = 1000;
  return block;
}

// H = W x / f for the halves' weight W at x from each springing, and H = P a / 2f for P at a <=
// L/2.
TEST(ThreeHinges, ThrustOfWeightAndOfAPointLoad) {
  const double x = 2.4, a = 2.5, load_kg = 500;
  Assembly assembly;
  for (const char* id : {"west", "east"}) {
    Block ground = half_arch(id, 0);
    ground.fixed = true;
    assembly.blocks.push_back(ground);
  }
  assembly.blocks.push_back(half_arch("left", x));
  assembly.blocks.push_back(half_arch("right", kSpan - x));
  assembly.joints = {hinge(0, 2, {0, 0, 0}, {kSpan / 2, 0, kRise}),
                     hinge(1, 3, {kSpan, 0, 0}, {-kSpan / 2, 0, kRise}),
                     hinge(2, 3, {kSpan / 2, 0, kRise}, Vec3::UnitX())};
  measure(assembly);
  const double W = mass_kg(assembly.blocks[2]) * kGravity, P = load_kg * kGravity;

  LoadCase dead;
  dead.id = "dead";
  for (const bool loaded : {false, true}) {
    if (loaded) assembly.blocks[2].carried.push_back({load_kg, {a, 0, 2}});
    const CaseProof proof = limit_load(assembly, dead);
    ASSERT_EQ(proof.verdict, Verdict::kStands) << proof.reason;
    const auto resultants = joint_resultants(assembly, std::get<Forces>(proof.evidence));
    const double H = W * x / kRise + (loaded ? P * a / (2 * kRise) : 0);
    for (const std::size_t joint : {0, 1, 2}) {
      EXPECT_NEAR(std::abs(resultants[joint].force.x()) / H, 1, 1e-8) << "joint " << joint;
    }
    const double V = W + (loaded ? P * (1 - a / kSpan) : 0);
    EXPECT_NEAR(resultants[0].force.z() / V, 1, 1e-8);
  }
}

// Worked by hand and by quadrature: a three-hinged parabola of 14 m by 1.75 m, 8 kN/m all over and
// 5 kN/m on the left half: H = g L2 / 8f + q L2 / 16f = 147 kN; the line of thrust leaves the axis
// at the quarter points by M / H = 15.3125 / 147 = 0.10417 m. People times 1.35 on weight as it is:
// 0.12981 m. Both times 1.35: 0.10417 m again, which hides what the partial load does.
TEST(ThreeHinges, EqualFactorsHideThePartialLoad) {
  const double L = 14, f = 1.75, g = 8e3, q = 5e3;
  const auto offset_at_quarter = [&](double on_g, double on_q) {
    Assembly assembly;
    for (const char* id : {"west", "east"}) {
      Block ground = half_arch(id, 0);
      ground.fixed = true;
      assembly.blocks.push_back(ground);
    }
    for (const double x : {L / 4, 3 * L / 4}) {
      Block half = half_arch(x < L / 2 ? "left" : "right", x);
      half.density = 1e-9;
      const double newtons = (on_g * g + (x < L / 2 ? on_q * q : 0)) * L / 2;
      half.carried.push_back({newtons / kGravity, {x, 0, f}});
      assembly.blocks.push_back(half);
    }
    assembly.joints = {hinge(0, 2, {0, 0, 0}, {L / 2, 0, f}),
                       hinge(1, 3, {L, 0, 0}, {-L / 2, 0, f}),
                       hinge(2, 3, {L / 2, 0, f}, Vec3::UnitX())};
    measure(assembly);
    LoadCase dead;
    dead.id = "dead";
    const CaseProof proof = limit_load(assembly, dead);
    EXPECT_EQ(proof.verdict, Verdict::kStands) << proof.reason;
    const auto resultants = joint_resultants(assembly, std::get<Forces>(proof.evidence));
    // what is right of x = L/4 on the left half: the crown's push on it, and its own load
    const Vec3 crown = -resultants[2].force;  // on a, the left half
    const double load = (on_g * g + on_q * q) * L / 4;
    const double moment =
        crown.z() * L / 4 - crown.x() * (f - 0.75 * f) - load * L / 8;  // about the axis there
    return std::pair(std::abs(crown.x()), std::abs(moment / crown.x()));
  };
  const auto [H, e] = offset_at_quarter(1, 1);
  EXPECT_NEAR(H, 147e3, 10);
  EXPECT_NEAR(e, 0.10417, 1e-5);
  EXPECT_NEAR(offset_at_quarter(1, 1.35).second, 0.12981, 1e-5);
  EXPECT_NEAR(offset_at_quarter(1.35, 1.35).second, 0.10417, 1e-5);
}

}  // namespace
}  // namespace skewback
