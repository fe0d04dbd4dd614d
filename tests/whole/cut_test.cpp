// What a mason and a printer ask of the cut, on every demo and on two plans of this folder.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <set>

#include "works/works.hpp"

namespace skewback {
namespace {

Brief demo(const std::string& name) {
  const std::filesystem::path source(SKEWBACK_SOURCE_DIR);
  const auto own = source / "tests" / "whole" / "plans" / (name + ".toml");
  Result<Brief> brief =
      read_brief(std::filesystem::exists(own) ? own : source / "examples" / name / "brief.toml");
  EXPECT_TRUE(brief.ok()) << describe(brief.faults().front());
  return std::move(brief).value();
}

Dossier run(const Brief& brief, const std::string& until) {
  Result<Dossier> dossier = run_works(brief, {0, until}, {});
  EXPECT_TRUE(dossier.ok()) << describe(dossier.faults().front());
  return std::move(dossier).value();
}

class Demos : public testing::TestWithParam<const char*> {};

TEST_P(Demos, BlocksCanBeBuilt) {
  const Dossier dossier = run(demo(GetParam()), "cut");
  const Assembly& assembly = dossier.cut->assembly;
  const CutReport& report = dossier.cut->report;
  EXPECT_LE(report.volume_error_rel, 1e-9);
  EXPECT_TRUE(report.watertight);
  // longest over shortest flow line under 0.9 of greatest over least layer height
  const PrintRequest& print = dossier.brief.print;
  EXPECT_LT(report.height_ratio_max, 0.9 * print.layer_max_m / print.layer_min_m);
  std::set<std::string> names;
  for (const Block& block : assembly.blocks) {
    EXPECT_TRUE(names.insert(block.id).second) << block.id;
    EXPECT_FALSE(self_intersects(block.solid).value()) << block.id;
    if (!block.fixed) {
      EXPECT_LE(concrete_mass_kg(block), dossier.brief.blocks.mass_max_kg) << block.id;
    }
  }
  std::vector<int> below(assembly.blocks.size(), 0);
  for (const Joint& joint : assembly.joints) {
    ++below[static_cast<std::size_t>(joint.a)];
    ++below[static_cast<std::size_t>(joint.b)];
    EXPECT_GT(area(joint.contact), 1e-4);  // no sliver of a square centimetre
  }
  for (std::size_t b = 0; b < below.size(); ++b) EXPECT_GT(below[b], 0) << assembly.blocks[b].id;
}

// Thicker leaves are 0.2 % too heavy however little a course loses: one more course is needed.
TEST(Cut, TakesACourseMoreWhereSmallStepsChangeNothing) {
  Brief brief = demo("wren-leat");
  brief.section.leaf_m = 0.07;
  brief.section.web_spacing_m = 0.145;
  const Dossier dossier = run(brief, "cut");
  for (const Block& block : dossier.cut->assembly.blocks) {
    if (block.fixed) continue;
    EXPECT_LE(concrete_mass_kg(block), brief.blocks.mass_max_kg) << block.id;
  }
}

INSTANTIATE_TEST_SUITE_P(All, Demos,
                         testing::Values("wren-leat", "drovers-hop", "lantern-court", "tanyard",
                                         "long-nave", "six-ways", "six-feet", "five-lanes",
                                         "twin-forks"),
                         [](const auto& demo_name) {
                           std::string name = demo_name.param;
                           for (char& c : name)
                             if (c == '-') c = '_';
                           return name;
                         });

TEST(HeadJoints, AreAQuarterOfABlockApart) {
  for (const char* name :
       {"tanyard", "long-nave", "lantern-court", "six-ways", "six-feet", "twin-forks"})
    EXPECT_GE(run(demo(name), "cut").cut->report.stagger_min, 0.25) << name;
}

// A key of five sides cannot shrink to any size: it is divided.
TEST(Key, OfFiveSidesIsDividedToTheMassLimit) {
  const Dossier dossier = run(demo("five-lanes"), "cut");
  const double limit = dossier.brief.blocks.mass_max_kg;
  double key = 0;
  int parts = 0;
  for (const Block& block : dossier.cut->assembly.blocks)
    if (!block.fixed && block.place.arm < 0) key += concrete_mass_kg(block), ++parts;
  EXPECT_GT(key, limit);
  EXPECT_EQ(parts, std::ceil(key / limit));
}

// Beside the key beds are narrow on one side and wide on the other: tubes end further in at the
// wide one, so that no wall between them is under seven tenths of its thickness, square to itself.
TEST(Tubes, LeaveNoThinWallsBesideTheKey) {
  const Dossier d = run(demo("wren-leat"), "cut");
  for (const std::string& remark : d.cut->report.remarks)
    EXPECT_EQ(remark.find("thinner than in the beds"), std::string::npos) << remark;
}

// The count asked for is met within a tenth, where arms meet too.
TEST(Count, OfAllBlocksIsMetWithinATenth) {
  for (const auto& [name, count] : {std::pair{"wren-leat", 70}, {"wren-leat", 110}}) {
    Brief brief = demo(name);
    brief.blocks.length_m = 0;
    brief.blocks.count = count;
    const Dossier dossier = run(brief, "cut");
    int blocks = 0;
    for (const Block& block : dossier.cut->assembly.blocks) blocks += block.fixed ? 0 : 1;
    EXPECT_NEAR(blocks, count, 0.1 * count) << name;
    EXPECT_TRUE(dossier.cut->report.watertight);
  }
}

// Fewer than the mass limit allows: the nearest, and a remark that says so.
TEST(Count, ThatTheMassForbidsIsSaid) {
  Brief brief = demo("wren-leat");
  brief.blocks.length_m = 0;
  brief.blocks.count = 20;
  const Dossier dossier = run(brief, "cut");
  int blocks = 0;
  for (const Block& block : dossier.cut->assembly.blocks) blocks += block.fixed ? 0 : 1;
  EXPECT_GT(blocks, 22);
  ASSERT_FALSE(dossier.cut->report.remarks.empty());
  EXPECT_NE(dossier.cut->report.remarks.back().find("20 asked for"), std::string::npos);
}

double half_factor(const Brief& brief) {
  const Dossier dossier = run(brief, "stand");
  for (const CaseProof& proof : dossier.proofs)
    if (proof.id == "arm-west" && proof.load_factor) return *proof.load_factor;
  ADD_FAILURE() << "no factor";
  return 0;
}

// The thrust line may rise into a working parapet: cut off, it must be missed.
TEST(WorkingParapets, CutOffTheyLowerTheHalfLoadFactor) {
  Brief brief = demo("drovers-hop");
  brief.parapet.weight_n_per_m = 0;
  brief.blocks.mass_max_kg = 2000;
  brief.joints.pad_thickness_m = 0.006;
  const double bare = half_factor(brief);
  brief.parapet.working = {0, 1};
  brief.parapet.inset_m = 0.12;
  brief.parapet.upstand_height_m = 0.3;
  brief.parapet.upstand_width_m = 0.15;
  EXPECT_GT(half_factor(brief), 1.1 * bare);
}

// Two ribs of 0.12 m x 0.4 m along a parabola of 9 m with a rise of 1.8 m, 9.884 m long. Their
// middle is 0.14 + 0.2 m over the middle surface, which turns by 2 atan 0.8 = 1.349: 0.459 m
// longer.
TEST(WorkingParapets, MayBeFlushWithTheEdge) {
  Brief brief = demo("drovers-hop");
  brief.joints.pad_thickness_m = 0.006;
  const double bare = run(brief, "body").body->outer_volume_m3;
  brief.parapet.working = {0, 1};
  brief.parapet.inset_m = 0.06;
  brief.parapet.upstand_height_m = 0.4;
  brief.parapet.upstand_width_m = 0.12;
  const Result<Dossier> flush = run_works(brief, {0, "body"}, {});
  ASSERT_TRUE(flush.ok()) << describe(flush.faults().front());
  const double by_hand = 2 * 0.12 * 0.4 * (9.884 + 0.459);
  EXPECT_NEAR(flush->body->outer_volume_m3 - bare, by_hand, 0.02 * by_hand);
}

}  // namespace
}  // namespace skewback
