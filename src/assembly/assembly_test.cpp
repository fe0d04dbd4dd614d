#include "assembly/assembly.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <stdexcept>

namespace skewback {
namespace {

Block block(std::string id, Solid solid, bool fixed = false) {
  Block b;
  b.id = std::move(id);
  b.solid = std::move(solid);
  b.density = 2000;
  b.fixed = fixed;
  return b;
}

Assembly read_text(const std::string& name, const std::string& text) {
  const std::string file = testing::TempDir() + name;
  std::ofstream(file) << text;
  auto read = read_assembly(file);
  if (!read) {
    for (const Fault& f : read.faults()) ADD_FAILURE() << describe(f);
    return {};
  }
  return std::move(read).value();
}

// A box 0.6 x 0.4 x h with a square tube 0.2 x 0.2 through it from bed to bed. Beds are rings of
// triangles. Volume in closed form: (0.24 - 0.04) h.
Solid tube_block(double h, double z0) {
  Solid s;
  const double outer[4][2] = {{0, 0}, {0.6, 0}, {0.6, 0.4}, {0, 0.4}};
  const double inner[4][2] = {{0.2, 0.1}, {0.4, 0.1}, {0.4, 0.3}, {0.2, 0.3}};
  for (double z : {z0, z0 + h}) {
    for (const auto& p : outer) s.vertices.emplace_back(p[0], p[1], z);
    for (const auto& p : inner) s.vertices.emplace_back(p[0], p[1], z);
  }
  for (int i = 0; i < 4; ++i) {
    const int j = (i + 1) % 4;
    s.faces.push_back({8 + i, 8 + j, 12 + j});  // upper ring
    s.faces.push_back({8 + i, 12 + j, 12 + i});
    s.faces.push_back({j, i, 4 + i});  // lower ring
    s.faces.push_back({j, 4 + i, 4 + j});
    s.faces.push_back({i, j, 8 + j, 8 + i});            // outside
    s.faces.push_back({4 + j, 4 + i, 12 + i, 12 + j});  // the tube
  }
  return s;
}

TEST(Mass, CarriedMassMovesTheCentreOfGravity) {
  Assembly assembly;
  assembly.blocks.push_back(block("b", box({0, 0, 0}, {1, 1, 1})));
  assembly.blocks[0].carried.push_back({500, {0.5, 0.5, 2.5}});
  measure(assembly);
  const Block& b = assembly.blocks[0];
  EXPECT_NEAR(concrete_mass_kg(b), 2000, 1e-9);
  EXPECT_NEAR(mass_kg(b), 2500, 1e-9);
  // closed form: (2000 * 0.5 + 500 * 2.5) / 2500
  EXPECT_LT((centre_of_gravity(b) - Vec3(0.5, 0.5, 0.9)).norm(), 1e-12);
}

TEST(Mass, HollowBlockWeighsWhatIsThere) {
  Assembly assembly;
  assembly.blocks.push_back(block("b", tube_block(0.5, 1)));
  measure(assembly);
  EXPECT_NEAR(assembly.blocks[0].mass.volume, 0.2 * 0.5, 1e-12);  // closed form
  EXPECT_LT((centre_of_gravity(assembly.blocks[0]) - Vec3(0.3, 0.2, 1.25)).norm(), 1e-12);
}

TEST(Detect, StackOverlappingByHalves) {
  std::vector<Block> blocks;
  for (int i = 0; i < 4; ++i) {
    blocks.push_back(block("s" + std::to_string(i),
                           box({0.5 * i, 0, 0.3 * i}, {0.5 * i + 1, 1, 0.3 * i + 0.3})));
  }
  const auto joints = detect_joints(blocks, 0.7);
  ASSERT_EQ(joints.size(), 3u);
  for (int i = 0; i < 3; ++i) {
    const Joint& j = joints[i];
    EXPECT_EQ(j.a, i);
    EXPECT_EQ(j.b, i + 1);
    EXPECT_NEAR(area(j.contact), 0.5, 1e-9);
    EXPECT_LT((j.frame.z - Vec3::UnitZ()).norm(), 1e-12) << "z must point from a into b";
    EXPECT_LT((j.frame.origin - Vec3(0.5 * i + 0.75, 0.5, 0.3 * i + 0.3)).norm(), 1e-8);
    EXPECT_EQ(j.friction, 0.7);
    EXPECT_FALSE(j.pad);
  }
}

TEST(Detect, OrderOfTheBlocksTurnsTheNormal) {
  const auto joints = detect_joints(
      {block("upper", box({0, 0, 1}, {1, 1, 2})), block("lower", box({0, 0, 0}, {1, 1, 1}))}, 0.6);
  ASSERT_EQ(joints.size(), 1u);
  EXPECT_LT((joints[0].frame.z + Vec3::UnitZ()).norm(), 1e-12);
}

TEST(Detect, CornersAndEdgesThatTouchAreNoJoints) {
  const Block base = block("base", box({0, 0, 0}, {1, 1, 1}));
  const Block corner = block("corner", box({1, 1, 1}, {2, 2, 2}));
  const Block edge = block("edge", box({0, 1, 1}, {1, 2, 2}));
  const Block beside = block("beside", box({1, 1, 0}, {2, 2, 1}));
  EXPECT_TRUE(detect_joints({base, corner}, 0.6).empty());
  EXPECT_TRUE(detect_joints({base, edge}, 0.6).empty());
  EXPECT_TRUE(detect_joints({base, beside}, 0.6).empty());
}

TEST(Detect, GapUpToTheTolerance) {
  const auto with_gap = [](double gap) {
    return std::vector<Block>{block("a", box({0, 0, 0}, {1, 1, 1})),
                              block("b", box({0, 0, 1 + gap}, {1, 1, 2 + gap}))};
  };
  EXPECT_EQ(detect_joints(with_gap(0.0009), 0.6).size(), 1u);
  EXPECT_TRUE(detect_joints(with_gap(0.0011), 0.6).empty());
  EXPECT_EQ(detect_joints(with_gap(0.0011), 0.6, 2e-3).size(), 1u);
  // the joint lies midway
  EXPECT_NEAR(detect_joints(with_gap(0.0008), 0.6)[0].frame.origin.z(), 1.0004, 1e-12);
}

TEST(Detect, LShapedBlockMeetsItsNeighbourInTwoPlanes) {
  const Polygon outline = {{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}};
  const Frame upright{Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  const Block l = block("l", prism(upright, outline, 0, 1));
  const Block in_its_arm = block("cube", box({1, -1, 1}, {2, 0, 2}));
  const auto joints = detect_joints({l, in_its_arm}, 0.6);
  ASSERT_EQ(joints.size(), 2u);
  for (const Joint& j : joints) {
    EXPECT_NEAR(area(j.contact), 1, 1e-9);
    EXPECT_GT(j.frame.z.x() + j.frame.z.z(), 0.99);
  }
  EXPECT_NEAR(joints[0].frame.z.dot(joints[1].frame.z), 0, 1e-12);
}

TEST(Detect, BridgeBlockOnTwoFeetIsOneJointInTwoParts) {
  const Polygon outline = {{0, 0}, {1, 0}, {1, 1}, {2, 1}, {2, 0}, {3, 0}, {3, 2}, {0, 2}};
  const Frame upright{Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  const auto joints = detect_joints({block("ground", box({-1, -2, -1}, {4, 2, 0}), true),
                                     block("bridge", prism(upright, outline, 0, 1))},
                                    0.6);
  ASSERT_EQ(joints.size(), 1u);
  EXPECT_EQ(joints[0].contact.size(), 2u);
  EXPECT_NEAR(area(joints[0].contact), 2, 1e-9);
}

TEST(Detect, HollowBlocksMeetInARing) {
  const auto joints = detect_joints(
      {block("lower", tube_block(0.5, 0)), block("upper", tube_block(0.3, 0.5))}, 0.6);
  ASSERT_EQ(joints.size(), 1u);
  ASSERT_EQ(joints[0].contact.size(), 1u);
  EXPECT_EQ(joints[0].contact[0].holes.size(), 1u);
  EXPECT_NEAR(area(joints[0].contact), 0.2, 1e-8);
}

TEST(Detect, WallOfAThousandBlocks) {
  std::vector<Block> blocks;
  constexpr int kCourses = 40, kLong = 25;  // running bond: every second course half a block along
  for (int c = 0; c < kCourses; ++c) {
    for (int i = 0; i < kLong; ++i) {
      const double x = 0.5 * i + (c % 2) * 0.25, z = 0.25 * c;
      blocks.push_back(block(std::to_string(c) + "-" + std::to_string(i),
                             box({x, 0, z}, {x + 0.5, 0.3, z + 0.25})));
    }
  }
  const auto joints = detect_joints(blocks, 0.6);
  // counted by hand: 24 heads in each course; between courses each block but one meets two
  EXPECT_EQ(joints.size(), 40u * 24u + 39u * (2u * 25u - 1u));
}

Assembly everything() {
  Assembly assembly;
  assembly.blocks.push_back(block("ground", box({-1, -1, -1}, {2, 2, 0}), true));
  assembly.blocks.push_back(block("lower", tube_block(0.5, 0.008)));
  assembly.blocks.push_back(block("upper", tube_block(1.0 / 3.0, 0.508)));
  assembly.blocks[2].carried = {{12.5, {0.1, 0.2, 0.9}}};
  assembly.blocks[2].place = {2, 3, 1, true, 1.25, 0.3, 0.4};
  assembly.joints = detect_joints(assembly.blocks, 0.55);
  Joint padded;
  padded.a = 0;
  padded.b = 1;
  padded.frame = {{0.3, 0.2, 0.004}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
  padded.contact = {{{{-0.3, -0.2}, {-0.1, -0.2}, {-0.1, 0.2}, {-0.3, 0.2}}, {}},
                    {{{0.1, -0.2}, {0.3, -0.2}, {0.3, 0.2}, {0.1, 0.2}}, {}}};
  padded.pad = Pad{0.008, 2e9, 7e8};
  padded.gap_tolerance_m = 0.004;
  assembly.joints.push_back(padded);
  assembly.cases.push_back({"dead", {0, 0, -9.81}, {}, Vec3::Zero()});
  assembly.cases.push_back(
      {"push", {0, 0.1, -9.8}, {{2, {0.1, 0.1, 0.7}, {0, 0, -1e5 / 3}}}, {0.1, 0, 0}});
  measure(assembly);
  return assembly;
}

TEST(File, RoundTrip) {
  const Assembly before = everything();
  const Assembly after = read_text("assembly-round.json", write_assembly(before));
  ASSERT_EQ(after.blocks.size(), before.blocks.size());
  for (std::size_t i = 0; i < before.blocks.size(); ++i) {
    EXPECT_EQ(after.blocks[i].id, before.blocks[i].id);
    EXPECT_EQ(after.blocks[i].solid.vertices, before.blocks[i].solid.vertices) << "to the last bit";
    EXPECT_EQ(after.blocks[i].solid.faces, before.blocks[i].solid.faces);
    EXPECT_EQ(after.blocks[i].fixed, before.blocks[i].fixed);
    EXPECT_EQ(after.blocks[i].mass.volume, before.blocks[i].mass.volume);
  }
  ASSERT_EQ(after.blocks[2].carried.size(), 1u);
  EXPECT_EQ(after.blocks[2].carried[0].mass_kg, 12.5);
  EXPECT_EQ(after.blocks[2].place.arm, 2);
  EXPECT_TRUE(after.blocks[2].place.crown);
  EXPECT_EQ(after.blocks[2].place.phi_length_max_m, 0.4);
  ASSERT_EQ(after.joints.size(), 2u);
  EXPECT_EQ(after.joints[1].pad->kn, 2e9);
  EXPECT_EQ(after.joints[1].gap_tolerance_m, 0.004);
  for (std::size_t i = 0; i < 2; ++i) {
    const Joint &x = before.joints[i], &y = after.joints[i];
    EXPECT_EQ(x.a, y.a);
    EXPECT_EQ(x.b, y.b);
    EXPECT_EQ(x.friction, y.friction);
    EXPECT_NEAR(area(x.contact), area(y.contact), 1e-12);
    EXPECT_LT((x.frame.origin - y.frame.origin).norm(), 1e-8);
    EXPECT_LT((x.frame.z - y.frame.z).norm(), 1e-12);
    EXPECT_EQ(x.contact.size(), y.contact.size());
  }
  ASSERT_EQ(after.cases.size(), 2u);
  EXPECT_EQ(after.cases[1].live[0].block, 2);
  EXPECT_EQ(after.cases[1].live[0].force.z(), -1e5 / 3);
  EXPECT_EQ(after.cases[1].live_acceleration.x(), 0.1);
  EXPECT_EQ(after.cases[1].gravity.y(), 0.1);
}

TEST(File, NormalPointsFromAIntoBWhicheverWayThePolygonRuns) {
  Assembly assembly = everything();
  const Assembly straight = read_text("assembly-way.json", write_assembly(assembly));
  for (Joint& joint : assembly.joints) {
    joint.frame = {joint.frame.origin, joint.frame.x, -joint.frame.y, -joint.frame.z};
  }
  const Assembly turned = read_text("assembly-way.json", write_assembly(assembly));
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_GT(straight.joints[i].frame.z.z(), 0.999);
    EXPECT_GT(turned.joints[i].frame.z.z(), 0.999);
  }
}

TEST(File, WritingTwiceGivesTheSameText) {
  EXPECT_EQ(write_assembly(everything()), write_assembly(everything()));
}

TEST(File, NumbersThatAreNotFiniteAreNotWritten) {
  Assembly assembly = everything();
  assembly.blocks[1].solid.vertices[0].x() = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW((void)write_assembly(assembly), std::invalid_argument);
  assembly = everything();
  assembly.cases[1].live[0].force.x() = std::numeric_limits<double>::infinity();
  EXPECT_THROW((void)write_assembly(assembly), std::invalid_argument);
}

}  // namespace
}  // namespace skewback
