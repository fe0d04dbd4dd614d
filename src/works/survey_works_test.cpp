#include "works/survey_works.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/sample_give.hpp"

namespace skewback {
namespace {

/// Blocks of 1 x 0.6 x 1 m one on the other, 8 mm pads of that stiffness between them.
Assembly column(int blocks, double kn) {
  constexpr double kPad = 0.008;
  Assembly assembly;
  for (int i = 0; i <= blocks; ++i) {
    Block block;
    block.id = "b" + std::to_string(i);
    block.solid = box({-0.5, -0.3, i + kPad / 2}, {0.5, 0.3, i + 1 - kPad / 2});
    block.density = 2000;
    block.fixed = i == 0;
    assembly.blocks.push_back(block);
    if (i == 0) continue;
    Joint joint;
    joint.a = i - 1;
    joint.b = i;
    joint.frame = {{0, 0, static_cast<double>(i)}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
    joint.contact = {{{{-0.5, -0.3}, {0.5, -0.3}, {0.5, 0.3}, {-0.5, 0.3}}, {}}};
    joint.pad = Pad{kPad, kn, kn / 10};
    assembly.joints.push_back(joint);
  }
  LoadCase dead;
  dead.id = "dead";
  assembly.cases = {dead};
  measure(assembly);
  return assembly;
}

// By hand: a pad gives the weight above over its stiffness and area.
TEST(PadsClosing, WeightOverStiffness) {
  const Assembly assembly = column(2, 1e8);
  const std::vector<double> closing = pads_closing(assembly, prove_all(assembly));
  ASSERT_EQ(closing.size(), 2u);
  const double weight = 2000 * 0.6 * (1 - 0.008) * 9.81;
  EXPECT_NEAR(closing[0], 2 * weight / (1e8 * 0.6), 1e-9);
  EXPECT_NEAR(closing[1], weight / (1e8 * 0.6), 1e-9);
}

// The same column: no more squeeze than its upper pad gives, and none without a pad in a joint.
TEST(PadsClosing, SqueezeIsNoMoreThanTheLeastPadGives) {
  Assembly assembly = column(2, 1e8);
  PackingRequest packing;
  packing.squeeze_m = 1e-3;
  const double weight = 2000 * 0.6 * (1 - 0.008) * 9.81;
  EXPECT_NEAR(squeeze_there_is_m(packing, assembly, prove_all(assembly)), weight / (1e8 * 0.6),
              1e-9);
  packing.squeeze_m = 1e-5;
  EXPECT_EQ(squeeze_there_is_m(packing, assembly, prove_all(assembly)), 1e-5);
  assembly.joints[0].pad.reset();
  EXPECT_EQ(squeeze_there_is_m(packing, assembly, prove_all(assembly)), 0);
  EXPECT_EQ(squeeze_there_is_m(packing, assembly, {}), 1e-5);  // not known
}

TEST(PadsClosing, NothingWithoutAState) {
  const Assembly assembly = column(1, 1e8);
  EXPECT_TRUE(pads_closing(assembly, {}).empty());
  EXPECT_TRUE(pads_closing(assembly, limit_loads(assembly)).empty());
}

/// An arch on springings found 40 mm farther apart, 1 mm packers at most.
Dossier apart(const sample::Arch& arch) {
  Dossier dossier;
  dossier.brief = sample::barrel_brief(arch.radius, arch.width);
  dossier.brief.section.depth_springing_m = arch.thickness;
  dossier.brief.packing = sample::half_mm();
  dossier.brief.packing.most_m = 0.001;
  dossier.brief.packing.step_m = 0.0005;
  dossier.brief.survey.emplace();
  for (const Mark& mark : springing_marks(dossier.brief)) {
    const bool east = mark.of == dossier.brief.plan.supports[1].id;
    dossier.brief.survey->points.push_back({mark.of, mark.name.substr(mark.of.size() + 1),
                                            mark.designed + Vec3(east ? 0.040 : 0, 0, 0)});
  }
  dossier.cut.emplace().assembly = sample::arch_assembly(arch);
  dossier.proofs = limit_loads(dossier.cut->assembly);  // what pads give is not known: as asked
  for (const LoadCase& load : dossier.cut->assembly.cases)
    dossier.notes.push_back({.id = load.id, .words = load.id});
  return dossier;
}

constexpr sample::Arch kArch{.voussoirs = 7, .radius = 3, .thickness = 0.6};

// Springers are made anew, and the stages are tried on the bridge as packed.
TEST(PutRight, SpringersMadeAnewAndStages) {
  Dossier dossier = apart(kArch);
  const auto faults = put_right(dossier, nullptr, {});
  ASSERT_FALSE(faults.has_value()) << describe(faults->front());
  ASSERT_TRUE(dossier.refit.has_value());
  EXPECT_TRUE(dossier.refit->key_goes_in) << dossier.refit->finding;
  EXPECT_FALSE(dossier.refit->packed.springers.empty());
  EXPECT_EQ(dossier.refit->table.front().what, "as drawn");
  EXPECT_GT(dossier.refit->stages, 7);
  EXPECT_GT(dossier.refit->stages_standing, 0);
  EXPECT_LE(dossier.refit->stages_standing, dossier.refit->stages);
  const bool named = std::ranges::any_of(dossier.refit->remarks, [](const std::string& remark) {
    return remark.starts_with("as packed, the stage \"");
  });
  EXPECT_EQ(dossier.refit->stages_standing == dossier.refit->stages, !named);
  EXPECT_FALSE(dossier.reprinted.has_value());  // the brief prints nothing
}

// A springer made anew is another solid than the one drawn, and what is printed is that solid, no
// other block's.
TEST(PutRight, SpringersMadeAnewArePrinted) {
  Dossier dossier = apart(kArch);
  dossier.brief.print.wanted = true;
  const auto faults = put_right(dossier, nullptr, {});
  ASSERT_FALSE(faults.has_value()) << describe(faults->front());
  ASSERT_TRUE(dossier.reprinted.has_value());
  const Refit& found = *dossier.refit;
  ASSERT_EQ(dossier.reprinted->blocks.size(), found.packed.springers.size());
  for (const BlockPrint& print : dossier.reprinted->blocks) {
    const auto id = [&](const Block& b) { return b.id == print.id; };
    const auto& drawn = dossier.cut->assembly.blocks;
    const auto was = std::ranges::find_if(drawn, id),
               now = std::ranges::find_if(found.as_built.blocks, id);
    ASSERT_NE(was, drawn.end()) << print.id;
    ASSERT_NE(now, found.as_built.blocks.end());
    EXPECT_GT(std::abs(now->mass.volume - was->mass.volume), 1e-6);
    EXPECT_NEAR(print.solid_m3, now->mass.volume, 1e-9) << print.id;
    EXPECT_GT(print.layers.size(), 1u);
  }
}

}  // namespace
}  // namespace skewback
