// The demonstration bridge on its footings as found.
#include <gtest/gtest.h>

#include <chrono>

#include "demo_cut.hpp"
#include "survey/survey.hpp"

namespace skewback {
namespace {

struct Demo : DemoCut {
  std::optional<Centring> centring;
};
Demo wren_leat() {
  Demo out{demo_cut("wren-leat"), {}};
  out.assembly.cases.clear();  // nothing to prove
  auto centring = make_centring(out.brief, out.assembly);
  EXPECT_TRUE(centring.ok());
  if (centring) out.centring = std::move(centring).value();
  return out;
}

RefitInput input(const Demo& d) {
  RefitInput in;
  in.brief = &d.brief;
  in.assembly = &d.assembly;
  in.centring = d.centring ? &*d.centring : nullptr;
  return in;
}

TEST(WrenLeatAsFound, KeyGoesIn) {
  const Demo d = wren_leat();
  const auto start = std::chrono::steady_clock::now();
  const Result<Refit> found = refit(input(d), {});
  const double seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  RecordProperty("seconds", std::to_string(seconds));
  ASSERT_TRUE(found.ok());
  // as the comment of its brief says
  EXPECT_NE(found->finding.find("footing orchard is 14 mm low"), std::string::npos);
  EXPECT_NE(found->finding.find("footing towpath is 17 mm outward"), std::string::npos);
  EXPECT_NE(found->finding.find("turned 0.40 degrees"), std::string::npos) << found->finding;
  EXPECT_TRUE(found->key_goes_in) << found->finding;
  EXPECT_LE(found->packed.thickest_m, d.brief.packing.most_m);
  // every joint bears, none on more than it was drawn with
  ASSERT_EQ(found->as_built.joints.size(), d.assembly.joints.size());
  for (std::size_t j = 0; j < d.assembly.joints.size(); ++j) {
    EXPECT_GT(area(found->as_built.joints[j].contact), 0) << j;
    EXPECT_LE(area(found->as_built.joints[j].contact), area(d.assembly.joints[j].contact) + 1e-9);
  }
  for (std::size_t i = 0; i < d.assembly.blocks.size(); ++i) {
    EXPECT_TRUE(closed(found->as_built.blocks[i].solid)) << d.assembly.blocks[i].id;
    EXPECT_NEAR(found->as_built.blocks[i].mass.volume, d.assembly.blocks[i].mass.volume,
                1e-9 * d.assembly.blocks[i].mass.volume);
  }
  ASSERT_TRUE(found->feet.has_value());
  ASSERT_EQ(found->feet->feet.size(), d.centring->feet.size());
  for (const FootSetting& foot : found->feet->feet) {
    EXPECT_NEAR(foot.raise_m, foot.by_wedge_m - foot.trim_m + foot.pack_m, 1e-12) << foot.foot;
  }
}

/// Drovers-hop with its east footing 10 mm low.
Brief drovers_hop_low() {
  Brief brief = *read_brief(std::string(SKEWBACK_SOURCE_DIR) + "/examples/drovers-hop/brief.toml");
  brief.survey.emplace();
  const std::string low = brief.plan.supports.front().id;
  for (const Mark& mark : springing_marks(brief))
    brief.survey->points.push_back({mark.of, mark.name.substr(mark.of.size() + 1),
                                    mark.designed - Vec3(0, 0, mark.of == low ? 0.010 : 0)});
  return brief;
}

// The row "as drawn" is the run's own measure: people at the worst place found count in both, and
// in every row that was proved.
TEST(DroversHopAsFound, EveryRowCountsTheWorstPlaceForPeople) {
  const Brief brief = drovers_hop_low();
  WorksOptions options;
  options.until = "stand";
  const Result<Dossier> run = run_works(brief, options, {});
  ASSERT_TRUE(run.ok());
  ASSERT_TRUE(run->worst_pattern.has_value());
  double least = 1e300;
  for (std::size_t i = 0; i < run->proofs.size(); ++i)
    if (run->notes[i].kind == CaseKind::kPattern && run->cut->assembly.cases[i].has_live())
      least = std::min(least, run->proofs[i].load_factor.value_or(1e300));
  const Result<Dossier> again = run_refit(brief, {}, {});
  ASSERT_TRUE(again.ok());
  const Refit& refit = *again->refit;
  ASSERT_FALSE(refit.table.empty());
  EXPECT_EQ(refit.table.front().what, "as drawn");
  EXPECT_NEAR(refit.table.front().load_factor.value_or(0), least, 1e-6 * least);
  ASSERT_TRUE(refit.key_goes_in) << refit.finding;
  EXPECT_EQ(refit.proofs.size(), run->proofs.size());
  EXPECT_EQ(refit.proofs.back().id, run->proofs.back().id);
  EXPECT_EQ(refit.as_built.cases.back().id, run->proofs.back().id);
}

// Names of supports are judged before anything is proved.
TEST(DroversHopAsFound, SwappedSupportsAreRefusedByRunAndRefit) {
  Brief brief = drovers_hop_low();
  auto& points = brief.survey->points;
  for (std::size_t k = 0; k < 3; ++k) std::swap(points[k].measured, points[3 + k].measured);
  for (const Result<Dossier>& found : {run_works(brief, {}, {}), run_refit(brief, {}, {})}) {
    ASSERT_FALSE(found.ok());
    EXPECT_NE(found.faults().front().found.find("look swapped"), std::string::npos);
  }
}

}  // namespace
}  // namespace skewback
