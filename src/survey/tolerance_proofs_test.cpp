#include <gtest/gtest.h>

#include <algorithm>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/poses.hpp"
#include "survey/sample_give.hpp"
#include "survey/tolerances.hpp"

namespace skewback {
namespace {

struct Sample {
  Assembly assembly;
  Brief brief;
};

/// A semicircular arch with a load on its key and one on a haunch.
Sample loaded_arch(double thickness) {
  sample::Arch arch;
  arch.thickness = thickness;
  Sample out{sample::arch_assembly(arch), sample::barrel_brief(arch.radius, arch.width)};
  for (const auto& [id, block] : {std::pair("middle", 3), std::pair("haunch", 1)}) {
    LoadCase load;
    load.id = id;
    load.live.push_back({block, centre_of_gravity(out.assembly.blocks[block]), {0, 0, -3000}});
    out.assembly.cases.push_back(load);
  }
  out.brief.tolerances.draws = 100;
  out.brief.tolerances.proof_draws = 5;
  return out;
}

double least_factor(const std::vector<CaseProof>& proofs) {
  double least = 1e300;
  for (const CaseProof& proof : proofs) least = std::min(least, proof.load_factor.value_or(1e300));
  return least;
}

TEST(ToleranceProofs, WithoutErrorsEveryDrawHasTheLoadFactorAsDrawn) {
  Sample s = loaded_arch(0.6);
  TolerancesRequest& t = s.brief.tolerances;
  t.footing_plan_m = t.footing_level_m = t.footing_turn_rad = t.footing_tilt_rad = 0;
  t.centring_m = t.block_length_m = t.bed_tilt_rad = t.bed_flatness_m = t.pad_share = 0;
  const double drawn = least_factor(limit_loads(s.assembly));
  const ToleranceReport report = judge_tolerances(s.brief, s.assembly, {});
  ASSERT_EQ(report.proved, 5);
  EXPECT_EQ(report.stands.share, drawn >= 1.35 ? 1 : 0);
  ASSERT_EQ(report.load_factor.size(), 5u);
  for (const double factor : report.load_factor) EXPECT_NEAR(factor / drawn, 1, 1e-5);
}

TEST(ToleranceProofs, SmallErrorsMoveTheLoadFactorALittleAndTheGivenProofsAreUsed) {
  const Sample s = loaded_arch(0.6);
  const std::vector<CaseProof> proofs = limit_loads(s.assembly);
  const ToleranceReport own = judge_tolerances(s.brief, s.assembly, {});
  const ToleranceReport given = judge_tolerances(s.brief, s.assembly, {}, {}, proofs);
  EXPECT_EQ(own.load_factor, given.load_factor);
  ASSERT_FALSE(own.load_factor.empty());
  double lowest = 1e300, highest = 0;
  for (const double factor : own.load_factor) {
    lowest = std::min(lowest, factor);
    highest = std::max(highest, factor);
  }
  EXPECT_LT(lowest, highest);
  EXPECT_LT(lowest, least_factor(proofs) * 1.2);
}

TEST(ToleranceProofs, AnArchThatFallsAsDrawnStandsInNoDraw) {
  // A semicircle stands by its own weight from thickness / radius 0.107 (Milankovitch 1907;
  // Ochsendorf 2006, 0.1075)
  const Sample s = loaded_arch(0.09 * 3);
  const ToleranceReport report = judge_tolerances(s.brief, s.assembly, {});
  EXPECT_GT(report.proved, 0);
  EXPECT_EQ(report.stands.share, 0);
}

/// Loads so great that the two cases differ, errors so great that some draws do not go in.
Sample heavily_loaded() {
  Sample s = loaded_arch(0.6);
  for (LoadCase& load : s.assembly.cases)
    for (auto& live : load.live) live.force *= load.id == "middle" ? 10 : 20;
  s.brief.tolerances.footing_plan_m = 0.03;
  s.brief.packing = sample::half_mm();
  s.brief.packing.most_m = 0.004;
  s.brief.packing.step_m = 0.0005;
  s.brief.tolerances.draws = s.brief.tolerances.proof_draws = 12;
  return s;
}

TEST(ToleranceProofs, AreOfTheArchAsPackedAndOfTheCaseThatGoverns) {
  const Sample s = heavily_loaded();
  const std::vector<CaseProof> as_drawn = limit_loads(s.assembly);
  const auto least = std::ranges::min_element(
      as_drawn, {}, [](const CaseProof& proof) { return proof.load_factor.value_or(1e300); });
  const auto governing = static_cast<std::size_t>(least - as_drawn.begin());
  ASSERT_NE(as_drawn[1].load_factor, as_drawn[2].load_factor);
  const ToleranceReport report = judge_tolerances(s.brief, s.assembly, {});
  ASSERT_FALSE(report.load_factor.empty());
  const StackModel model(s.assembly);
  int with_packers = 0;
  for (std::size_t k = 0; k < report.load_factor.size(); ++k) {
    const AsMade made =
        draw_errors(s.brief, model, static_cast<std::uint64_t>(report.load_factor_of[k]));
    const Packed packed = pack_up(model, made, s.brief.packing, {.springers = false});
    with_packers += packed.packers.empty() ? 0 : 1;
    const Assembly as_packed = bearing_only(
        rebuilt(model, Laid{&made, packed.moves, Rigid{}, packed.packers}, s.brief.packing));
    EXPECT_NEAR(*limit_load(as_packed, as_packed.cases[governing]).load_factor,
                report.load_factor[k], 1e-6 * report.load_factor[k]);
  }
  EXPECT_GT(with_packers, 0);
}

TEST(ToleranceProofs, OnlyDrawsThatGoInAreProvedAndTheyMustHaveTheFactor) {
  Sample s = heavily_loaded();
  const StackModel model(s.assembly);
  int go_in = 0;
  for (std::uint64_t i = 0; i < 12; ++i) go_in += try_draw(s.brief, model, i).goes_in ? 1 : 0;
  ASSERT_GT(go_in, 1);
  ASSERT_LT(go_in, 12);
  s.brief.required.live_factor = 0.01;
  const ToleranceReport low = judge_tolerances(s.brief, s.assembly, {});
  EXPECT_EQ(low.proved, go_in);
  EXPECT_EQ(low.stands.share, 1);
  const double middle =
      (*std::ranges::min_element(low.load_factor) + *std::ranges::max_element(low.load_factor)) / 2;
  const auto over = std::ranges::count_if(low.load_factor, [&](double f) { return f >= middle; });
  s.brief.required.live_factor = middle;
  EXPECT_EQ(judge_tolerances(s.brief, s.assembly, {}).stands.share,
            static_cast<double>(over) / go_in);
}

}  // namespace
}  // namespace skewback
