#include "print/print.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "print/sample_prints.hpp"

namespace skewback {
namespace {

using sample::arch;
using sample::kVoussoirs;
using sample::named;
using sample::print;
using sample::pushes_along_the_normals;
using sample::solid_brief;

// Radius 3 m, 0.45 m thick, straight-edged voussoirs: layers turn about the arch's axis, so their
// heights are radius times angle over the number of layers (closed form).
TEST(Print, VoussoirsOfASolidArch) {
  const Assembly assembly = arch();
  const PrintSet set = print(solid_brief(), assembly);
  ASSERT_EQ(set.blocks.size(), static_cast<std::size_t>(kVoussoirs));
  for (const BlockPrint& block : set.blocks) {
    EXPECT_TRUE(block.printable) << block.id << ": " << block.reason;
    EXPECT_EQ(block.way, PrintWay::kBedToBed);
    const double angle = kPi / kVoussoirs, n = static_cast<double>(block.layers.size());
    EXPECT_NEAR(block.layer_max_m, 3.225 * angle / n, 1e-4);
    EXPECT_NEAR(block.layer_min_m, 2.775 * angle / n * std::cos(angle / 2), 1e-4);
    EXPECT_NEAR(block.volume_m3, block.solid_m3, 1e-3 * block.solid_m3);
    EXPECT_NEAR(block.overhang_max_rad, angle / 2, angle);  // flat faces for arcs
    EXPECT_LT(block.far_bed_error_m, 1e-9);
    EXPECT_LT(block.normal_to_thrust_rad, 1e-9);
    for (const LayerFacts& layer : block.layers) EXPECT_EQ(layer.strokes, 1);
  }
}

TEST(Print, PosesStayWithinTheLimitsOfTheCell) {
  const Brief brief = solid_brief();
  const PrintSet set = print(brief, arch());
  for (const BlockPrint& block : set.blocks) {
    ASSERT_FALSE(block.poses.empty());
    double volume = 0;
    for (std::size_t i = 0; i + 1 < block.poses.size(); ++i) {
      const Pose &a = block.poses[i], &b = block.poses[i + 1];
      const double step = (b.tip - a.tip).norm();
      volume += section_m2(a) * step;
      EXPECT_LE(step, brief.print.step_m + 1e-9);
      EXPECT_LE(a.speed_m_s, brief.print.speed_max_m_s * (1 + 1e-6));
      EXPECT_GE(b.time_s, a.time_s);
      EXPECT_LE(a.height_m, brief.print.layer_max_m + 1e-6);
      EXPECT_GE(a.tip.z(), 0);
    }
    EXPECT_NEAR(volume, block.volume_m3, 1e-6 * volume);
  }
}

// Faces touch, for the brief has no pads: a bead's round and a millimetre are left.
TEST(Print, BeadsKeepToTheOutline) {
  const Brief brief = solid_brief();
  for (const BlockPrint& block : print(brief, arch()).blocks) {
    const PrintCheck* out = named(block, "stands out");
    ASSERT_NE(out, nullptr);
    EXPECT_TRUE(out->passes()) << out->value << " " << out->place;
    EXPECT_GT(out->value, 0);
    for (const char* name : {"stands out", "tightest turn"})
      EXPECT_EQ(named(block, name)->place.find("(0 mm, 0 mm)"), std::string::npos);
    EXPECT_NEAR(out->limit, 1e3 * (0.2146 * brief.print.layer_max_m / 2 + 0.001), 1e-3);
  }
  Brief padded = brief;
  padded.joints.pad_thickness_m = 0.001;  // less than the round of a bead takes
  padded.print.otherwise = {"divide"};
  const BlockPrint block = print(padded, arch()).blocks.at(3);
  EXPECT_FALSE(named(block, "stands out")->passes());
  EXPECT_NE(block.reason.find("joints.pad_thickness"), std::string::npos) << block.reason;
}

// Turns of 7.5 mm at 50 mm/s are 6.7 rad/s, twice what the axis does.
TEST(Print, ARoundNozzleIsOfferedWhereOneThatTurnsIsTooSlow) {
  Brief brief = solid_brief();
  brief.print.nozzle_follows = true;
  brief.print.turns_max = 1;
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  EXPECT_FALSE(block.printable);
  const PrintCheck* speed = named(block, "nozzle speed");
  EXPECT_FALSE(speed->passes());
  EXPECT_TRUE(speed->change.starts_with("print.nozzle_follows = false, with a round nozzle"))
      << speed->change;
  // a closed path that crosses nothing turns once (Hopf), and every layer goes the same way round
  const PrintCheck* turns = named(block, "turns");
  ASSERT_NE(turns, nullptr);
  EXPECT_FALSE(turns->passes());
  EXPECT_GT(block.turns, static_cast<double>(block.layers.size()) - 1);
  EXPECT_EQ(turns->value, block.turns / 2);
}

TEST(Print, LowFlowIsCountedByItsLength) {
  BlockPrint block;
  block.poses.resize(4);
  for (std::size_t i = 0; i < 4; ++i) {
    Pose& pose = block.poses[i];
    pose.tip = {0.1 * static_cast<double>(i * i), 0, 0};  // 0, 0.1, 0.4, 0.9
    pose.speed_m_s = 0.1F;
    pose.share_m = i < 3 ? 0.05F : 0.0F;
    pose.height_m = i == 1 ? 0.0009F : 0.01F;
  }
  const FlowRange flow = flow_range(block);
  EXPECT_NEAR(flow.greatest_m3_s, 5e-5, 1e-11);
  EXPECT_NEAR(flow.least_m3_s, 4.5e-6, 1e-11);
  EXPECT_NEAR(flow.low_m, 0.3, 1e-12);
}

TEST(Print, AngleToTheThrustIsThatOfTheForces) {
  const Assembly assembly = arch();
  const double turned = 7 * kPi / 180;
  const PrintSet set =
      print_blocks(solid_brief(), assembly, pushes_along_the_normals(assembly, turned));
  // Half-way up a block the mean of both beds' forces is turned as they are.
  EXPECT_NEAR(set.normal_to_thrust_median_rad, turned, 1e-6);
}

TEST(Print, OrderFollowsBuilding) {
  const Assembly assembly = arch();
  const PrintSet set = print(solid_brief(), assembly);
  ASSERT_EQ(set.order.size(), set.blocks.size());
  for (std::size_t i = 0; i + 1 < set.order.size(); ++i) {
    const auto course = [&](const PrintSlot& slot) {
      return assembly.blocks[static_cast<std::size_t>(slot.block)].place.course;
    };
    EXPECT_LE(course(set.order[i]), course(set.order[i + 1]));
  }
}

TEST(Print, BlockLargerThanTheReachIsNotPrintable) {
  Brief brief = solid_brief();
  brief.print.reach_max_m = 1.5;
  for (const BlockPrint& block : print(brief, arch()).blocks) {
    EXPECT_FALSE(block.printable);
    EXPECT_NE(block.reason.find("reach"), std::string::npos) << block.reason;
    EXPECT_FALSE(named(block, "reach")->passes());
  }
}

TEST(Print, UnequalLengthsOutOfTheLimitsAreSaid) {
  Brief brief = solid_brief();
  brief.print.layer_min_m = 0.010;  // the arch asks for 1.16 times the least
  brief.print.layer_max_m = 0.0105;
  brief.print.otherwise = {"divide"};
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  EXPECT_FALSE(block.printable);
  EXPECT_NE(block.reason.find("partial layers"), std::string::npos) << block.reason;
}

// The pump is too slow: no reason to cast the block, but to change the pump.
TEST(Print, ColdJointIsFound) {
  Brief brief = solid_brief();
  brief.print.layer_time_max_s = 22;  // a layer of 0.225 m2 x 9 mm takes 24 s at 5 L/min
  brief.print.otherwise = {"cast"};
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  EXPECT_FALSE(block.printable);
  EXPECT_EQ(block.way, PrintWay::kBedToBed);
  EXPECT_NE(block.reason.find("print.flow"), std::string::npos) << block.reason;
  ASSERT_NE(named(block, "layer time, greatest"), nullptr);
  EXPECT_FALSE(named(block, "layer time, greatest")->passes());
}

// A mix that sets slowly: waiting is named, and with the time that is named all blocks are printed.
TEST(Print, TheWaitThatIsNamedIsEnough) {
  Brief brief = solid_brief();
  brief.print.fresh_yield_growth_pa_s = 2;
  PrintSet set = print(brief, arch());
  double most_s = 0;
  for (const BlockPrint& block : set.blocks) {
    ASSERT_FALSE(block.printable) << block.id;
    ASSERT_TRUE(block.layer_time_needed_s) << block.reason;
    EXPECT_NE(block.reason.find("print.layer_time_min"), std::string::npos) << block.reason;
    most_s = std::max(most_s, *block.layer_time_needed_s);
  }
  ASSERT_FALSE(set.remarks.empty());
  EXPECT_NE(set.remarks.front().find("31 blocks"), std::string::npos) << set.remarks.front();
  const double named_s = std::ceil(1.02 * most_s);  // paces change a little with it
  EXPECT_NE(set.remarks.front().find(std::to_string(static_cast<int>(named_s)) + " s"),
            std::string::npos)
      << set.remarks.front();
  brief.print.layer_time_min_s = named_s;
  for (const BlockPrint& block : print(brief, arch()).blocks)
    EXPECT_TRUE(block.printable) << block.id << ": " << block.reason;
}

/// The key of the arch with a third bed, as where three arms meet.
Assembly with_a_third_bed() {
  Assembly assembly = arch();
  Joint third = assembly.joints[kVoussoirs / 2];
  third.a = 0;
  third.b = kVoussoirs / 2;
  third.frame = {third.frame.origin, Vec3::UnitX(), -Vec3::UnitZ(), Vec3::UnitY()};
  assembly.joints.push_back(third);
  return assembly;
}

TEST(Print, ThreeBedsAreLaidFlatOrCast) {
  const Assembly assembly = with_a_third_bed();
  Brief brief = solid_brief();
  brief.print.turn_radius_m = 0.006;         // a narrow block: loops lie close
  brief.print.fresh_yield_growth_pa_s = 10;  // and it stands 0.45 m high
  const BlockPrint flat = print(brief, assembly).blocks.at(kVoussoirs / 2);
  EXPECT_EQ(flat.way, PrintWay::kFlat) << flat.reason;
  EXPECT_TRUE(flat.printable) << flat.reason;
  EXPECT_NEAR(flat.volume_m3, flat.solid_m3, 1e-2 * flat.solid_m3);
  brief.print.otherwise = {"cast"};
  const BlockPrint cast = print(brief, assembly).blocks.at(kVoussoirs / 2);
  EXPECT_EQ(cast.way, PrintWay::kCast);
  EXPECT_TRUE(cast.poses.empty());
  EXPECT_NE(cast.reason.find("3 beds"), std::string::npos) << cast.reason;
}

// A course that meets two staggered blocks of the next does so in one bed, not in two.
TEST(Print, StaggeredBlocksShareABed) {
  Assembly assembly = arch();
  Joint half = assembly.joints[6];  // between v6 and v7
  assembly.joints[6].contact =
      intersect(half.contact, {{{{-1, -1}, {0, -1}, {0, 1}, {-1, 1}}, {}}});
  half.contact = intersect(half.contact, {{{{0, -1}, {1, -1}, {1, 1}, {0, 1}}, {}}});
  Block beside = assembly.blocks[6];
  beside.id = "v7-2";
  beside.place.place = 2;
  half.b = static_cast<int>(assembly.blocks.size());
  assembly.blocks.push_back(beside);
  assembly.joints.push_back(half);
  const BlockPrint block = print(solid_brief(), assembly).blocks.at(5);
  EXPECT_EQ(block.way, PrintWay::kBedToBed) << block.reason;
  EXPECT_TRUE(block.printable) << block.reason;
}

/// A tenth of a metre of one section on the ground, the top `aside_m` out of the foot along x.
Assembly pile(const Polygon& section, double aside_m) {
  const auto n = static_cast<int>(section.size());
  Solid solid;
  for (const Vec2& p : section) solid.vertices.emplace_back(p.x(), p.y(), 0);
  for (const Vec2& p : section) solid.vertices.emplace_back(p.x() + aside_m, p.y(), 0.1);
  solid.faces.resize(2);
  for (int i = 0; i < n; ++i) {
    solid.faces[0].push_back(n - 1 - i);
    solid.faces[1].push_back(n + i);
    solid.faces.push_back({i, (i + 1) % n, n + (i + 1) % n, n + i});
  }
  Assembly assembly;
  assembly.blocks.resize(2);
  assembly.blocks[0].id = "ground";
  assembly.blocks[0].fixed = true;
  assembly.blocks[1].id = "pile";
  assembly.blocks[1].solid = solid;
  assembly.blocks[1].place = {.arm = 0, .course = 1};
  Joint bed;
  bed.a = 0, bed.b = 1;
  bed.contact = {{section, {}}};
  assembly.joints.push_back(bed);
  measure(assembly);
  return assembly;
}

Brief pile_brief() {
  Brief brief = solid_brief();
  brief.print.bead_max_m = 0.06;
  return brief;
}

// Beads of 40 mm lay 6 % of this section twice; narrower ones, which go round once more, 4 %.
TEST(Print, NarrowerBeadsWhereOthersLieTwice) {
  const BlockPrint block =
      print(pile_brief(), pile({{0, 0}, {0.37, 0}, {0.39, 0.14}, {0.03, 0.25}}, 0)).blocks.at(0);
  EXPECT_TRUE(block.printable) << block.reason;
  for (const LayerFacts& layer : block.layers) EXPECT_LE(layer.overfill_share, 0.05);
}

// Intrados and back are folded, which no smooth surface follows to a millimetre.
TEST(Print, LaidFlatTheLayersFollowTheFold) {
  Assembly assembly = with_a_third_bed();
  Solid& solid = assembly.blocks[kVoussoirs / 2].solid;
  const auto ring = [](double x, double z) {
    return std::vector<Vec3>{{x, -0.25, z}, {x, 0.25, z}, {x, 0.25, z + 0.2}, {x, -0.25, z + 0.2}};
  };
  solid = skin({ring(-0.4, 3), ring(0.03, 3.03), ring(0.4, 3)});
  if (mass_properties(solid).volume < 0)
    for (auto& face : solid.faces) std::ranges::reverse(face);
  measure(assembly);
  Brief brief = solid_brief();
  brief.print.fresh_yield_growth_pa_s = 10;
  const BlockPrint block = print(brief, assembly).blocks.at(kVoussoirs / 2);
  EXPECT_EQ(block.way, PrintWay::kFlat);
  EXPECT_TRUE(block.printable) << block.reason;
  // paths run straight across the fold, in pieces of 20 mm: 20 / 4 x 0.151 rad
  EXPECT_GT(block.far_bed_error_m, 1e-4);
  EXPECT_LE(block.far_bed_error_m, 0.76e-3);
}

TEST(Print, NoSettingIsNamedForALeanThatNoMixStands) {
  const auto change = [](double lean_deg) {
    Brief brief = pile_brief();
    brief.print.otherwise = {"divide"};
    const Polygon square = {{0, 0}, {0.4, 0}, {0.4, 0.3}, {0, 0.3}};
    const PrintSet set = print(brief, pile(square, 0.1 * std::tan(lean_deg * kPi / 180)));
    EXPECT_FALSE(set.blocks.at(0).printable);
    const PrintCheck* lean = named(set.blocks.at(0), "overhang");
    EXPECT_NEAR(lean->value, lean_deg, 0.01);
    return lean->change;
  };
  EXPECT_TRUE(change(28.5).starts_with("print.overhang_max 29 degrees")) << change(28.5);
  EXPECT_TRUE(change(31.5).starts_with("no setting of the cell")) << change(31.5);
}

TEST(Print, SectionsWithoutAPathAreSaid) {
  Brief brief = solid_brief();
  brief.print.bead_min_m = brief.print.bead_m = 0.4;  // wider than half the block
  brief.print.bead_max_m = 0.5;
  brief.print.otherwise = {"divide"};
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  EXPECT_FALSE(block.printable);
  EXPECT_FALSE(block.reason.empty());
}

TEST(Print, SameTwice) {
  const PrintSet a = print(solid_brief(), arch()), b = print(solid_brief(), arch());
  ASSERT_EQ(a.blocks[5].poses.size(), b.blocks[5].poses.size());
  for (std::size_t i = 0; i < a.blocks[5].poses.size(); ++i) {
    EXPECT_EQ(a.blocks[5].poses[i].tip, b.blocks[5].poses[i].tip);
    EXPECT_EQ(a.blocks[5].poses[i].time_s, b.blocks[5].poses[i].time_s);
  }
}

}  // namespace
}  // namespace skewback
