#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"
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

}  // namespace
}  // namespace skewback
