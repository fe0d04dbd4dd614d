#include "erect/laying.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"

namespace skewback {
namespace {

std::vector<const Stage*> of(const Programme& programme, const std::string& what) {
  std::vector<const Stage*> stages;
  for (const Stage& stage : programme.stages) {
    if (stage.what == what) stages.push_back(&stage);
  }
  return stages;
}

double carried_kg(const Assembly& assembly) {
  double sum = 0;
  for (const Block& block : assembly.blocks)
    for (const CarriedMass& mass : block.carried) sum += mass.mass_kg;
  return sum;
}

// A barrel with a walkway of 100 kg and a parapet of 40 kg on its keystone's neighbour: halves to
// either side, and the whole at the end.
TEST(Laying, OneSideBeforeTheOtherAndAllOfItInTheEnd) {
  const sample::Arch arch;
  Assembly assembly = sample::arch_assembly(arch);
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.walkway.width_m = 1.2;
  Block& block = assembly.blocks[2];
  ASSERT_FALSE(block.fixed);
  ASSERT_GE(block.place.arm, 0);
  const Vec3 on = block.mass.centroid + Vec3(0, 0, 0.3);
  block.carried = {{100, on, Carried::kWalkway},
                   {40, on + Vec3(0, 0.4, 0), Carried::kParapet},
                   {7, on, Carried::kOther}};
  const auto steps = laying_by_sides(brief, assembly);
  ASSERT_EQ(steps.size(), 3u);
  double sum = 0;
  for (const LayingStep& step : {steps[0], steps[1]}) {
    ASSERT_EQ(step.on.size(), 1u);
    const CarriedMass& half = step.on[0].second;
    EXPECT_DOUBLE_EQ(half.mass_kg, 50);
    EXPECT_NEAR((half.point - on).norm(), 0.3, 1e-12);  // a quarter of 1.2 m
    EXPECT_NEAR(half.point.x(), on.x(), 1e-9);          // the leg runs along x
    sum += half.point.y();
  }
  // towards the key, which lies at larger x, +y is to the left
  EXPECT_EQ(steps[0].words, "walkway of west, left half");
  EXPECT_GT(steps[0].on[0].second.point.y(), on.y());
  EXPECT_EQ(steps[2].words, "parapet of west, left");
  EXPECT_NEAR(sum, 2 * on.y(), 1e-12);
  brief.loads.working_people_pa = 0;
  const Programme programme = plan_erection(brief, assembly, nullptr);
  const auto laid = of(programme, "lay");
  ASSERT_EQ(laid.size(), 3u);
  const auto carries = [&](const Stage& stage) {
    const Assembly there =
        stage_assembly(assembly, programme, static_cast<std::size_t>(stage.step - 1));
    double kg = 0;
    for (const CarriedMass& mass : there.blocks[2].carried) kg += mass.mass_kg;
    return kg;
  };
  EXPECT_DOUBLE_EQ(carries(programme.stages[0]), 7);
  EXPECT_DOUBLE_EQ(carries(*laid[0]), 57);
  EXPECT_DOUBLE_EQ(carries(*laid[2]), 147);
  EXPECT_DOUBLE_EQ(carries(*of(programme, "unload")[0]), 107);
  EXPECT_EQ(of(programme, "unload")[0]->words, laid[2]->words);
  EXPECT_TRUE(stage_options(brief, programme, 0, true).own_carried);
  EXPECT_FALSE(stage_options(brief, programme, static_cast<std::size_t>(laid[2]->step - 1), true)
                   .own_carried);
}

// By hand: a walk of 4 m on five blocks, 100 kg on each; bays of 2 m and the rest under a landing.
// What lies beyond the last bay is the landing's, what lies nearest a bay's stretch is that bay's.
TEST(Laying, ByPartsAsTheyAreListed) {
  Assembly assembly;
  for (const double x : {0.5, 1.5, 2.5, 3.5, 4.5}) {
    Block& block = assembly.blocks.emplace_back();
    block.id = "v" + std::to_string(assembly.blocks.size());
    block.carried = {{100, Vec3(x, 0.2, 1), Carried::kWalkway},
                     {10, Vec3(x, 0.6, 1), Carried::kParapet}};
    block.place = {.arm = 0, .course = 0};
  }
  AccessReport access;
  WalkLine& line = access.lines.emplace_back();
  line.name = "west to meeting";
  for (int i = 0; i <= 100; ++i)
    line.stations.push_back({.along_m = 0.05 * i, .point = Vec3(0.05 * i, 0, 1)});
  const auto part = [&](const std::string& id, PartKind kind, double from, double to) {
    WalkPart& p = access.parts.emplace_back();
    p.id = id;
    p.kind = kind;
    p.line = line.name;
    p.from_m = from;
    p.to_m = to;
  };
  part("west-F1", PartKind::kFrame, 0, 0);
  part("west-F2", PartKind::kFrame, 2, 2);
  part("west-P1", PartKind::kPanel, 0, 2);
  part("west-F3", PartKind::kFrame, 4, 4);
  part("west-P2", PartKind::kStairFlight, 2, 4);
  part("landing", PartKind::kLanding, 4, 5);
  const Brief brief = sample::barrel_brief(3, 1);
  const auto steps = laying_by_parts(brief, assembly, &access);
  ASSERT_GE(steps.size(), 4u);
  const auto blocks = [&](std::size_t k) {
    std::vector<int> out;
    for (const auto& [block, mass] : steps[k].on) out.push_back(block);
    return out;
  };
  EXPECT_EQ(steps[0].words, "parts 1 to 3 of the walkway, up to west-P1");
  EXPECT_EQ(blocks(0), (std::vector{0, 1}));
  EXPECT_EQ(steps[1].words, "parts 4 to 5 of the walkway, up to west-P2");
  EXPECT_EQ(blocks(1), (std::vector{2, 3}));
  EXPECT_EQ(steps[2].words, "part 6 of the walkway, up to landing");
  EXPECT_EQ(blocks(2), (std::vector{4}));
  double walkway = 0, parapet = 0;
  for (const LayingStep& step : steps)
    for (const auto& [block, mass] : step.on)
      (mass.kind == Carried::kParapet ? parapet : walkway) += mass.mass_kg;
  EXPECT_DOUBLE_EQ(walkway, 500);
  EXPECT_DOUBLE_EQ(parapet, 50);
  const auto by_sides = laying_by_sides(brief, assembly);
  EXPECT_EQ(laying_by_parts(brief, assembly, nullptr).size(), by_sides.size());
}

// The same on the blocks in the end, laid by parts or taken off by halves: the states that view 1
// shares are those and the bare bridge, none between.
TEST(Laying, LaidByPartsTakenOffByHalves) {
  const sample::Arch arch;
  Assembly assembly = sample::arch_assembly(arch);
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.walkway.width_m = 0.8;
  AccessReport access;
  WalkLine& line = access.lines.emplace_back();
  line.name = "west to top";
  for (Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const Vec3 on = block.mass.centroid + Vec3(0, 0, 0.3);
    block.carried = {{40, on, Carried::kWalkway}};
    line.stations.push_back({.along_m = on.x() + arch.radius, .point = on});
  }
  for (const char* id : {"west-P1", "west-P2"}) {
    WalkPart& part = access.parts.emplace_back();
    part.id = id;
    part.kind = PartKind::kPanel;
    part.line = line.name;
    part.from_m = access.parts.size() == 1 ? 0 : arch.radius;
    part.to_m = part.from_m + arch.radius;
  }
  const Programme programme = plan_erection(brief, assembly, nullptr, &access);
  ASSERT_EQ(programme.laying.size(), 2u);
  ASSERT_GE(programme.unlaying.size(), 4u);
  int laid = 0, unloaded = 0;
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const Stage& stage = programme.stages[i];
    laid += stage.what == "lay";
    unloaded += stage.what == "unload";
    if (stage.same_as < 0) continue;
    const double mine = carried_kg(stage_assembly(assembly, programme, i)),
                 theirs = carried_kg(
                     stage_assembly(assembly, programme, static_cast<std::size_t>(stage.same_as)));
    EXPECT_NEAR(mine, theirs, 1e-9) << i;
  }
  EXPECT_EQ(laid, 2);
  EXPECT_EQ(unloaded, static_cast<int>(programme.unlaying.size()));
}

}  // namespace
}  // namespace skewback
