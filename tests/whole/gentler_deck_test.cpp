#include "works/gentler_deck.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <filesystem>

namespace skewback {
namespace {

Brief drovers_hop() {
  return read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml")
      .value();
}

const GentlerStudy& study() {
  static const GentlerStudy made =
      study_gentler_deck(drovers_hop(), {{0.5, 1.0}, 0, false}, Progress()).value();
  return made;
}

TEST(GentlerDeck, HasARowForEachRiseAndKind) {
  ASSERT_EQ(study().rows.size(), 6U);
  for (const GentlerRow& row : study().rows) EXPECT_EQ(row.failed, "");
  EXPECT_NEAR(study().rows[0].rise_m, 0.9, 1e-12);
  EXPECT_EQ(study().rows[5].kind, DeckKind::kRamps);
}

TEST(GentlerDeck, TheRowOnTheBackIsARunOfTheBriefItself) {
  const Result<Dossier> run = run_works(drovers_hop(), {0, "ground", false}, Progress());
  ASSERT_TRUE(run.ok());
  const GentlerRow& row = study().rows[3];
  EXPECT_EQ(row.thrust_n, run->form->thrust_max_n);
  EXPECT_EQ(row.footing_thrust_n,
            std::max(run->ground->supports[0].thrust_n, run->ground->supports[1].thrust_n));
  EXPECT_EQ(row.blocks, 23U);
}

TEST(GentlerDeck, FootingsThatFailAreNoBridgeThatHolds) {
  Brief brief = drovers_hop();
  ASSERT_NE(brief.soil.kind, SoilKind::kUnknown);
  const auto back = [&] {
    return study_gentler_deck(brief, {{1.0}, 0, false}, Progress()).value().rows[0];
  };
  ASSERT_TRUE(study().rows[3].holds) << study().rows[3].why_not;
  brief.ground.footing_width_m /= 4;
  brief.ground.footing_length_m = 0;
  const GentlerRow row = back();
  EXPECT_TRUE(row.stands);
  EXPECT_FALSE(row.holds);
  EXPECT_EQ(row.why_not.rfind("footings", 0), 0U) << row.why_not;
}

// Of an arch with an even load w: H = w L2 / (8 f). At half the rise there is a little less arch to
// weigh and twice the thrust for each of its newtons.
TEST(GentlerDeck, HalfTheRiseIsNearlyTwiceTheThrust) {
  const double ratio = study().rows[0].thrust_n / study().rows[3].thrust_n;
  const double weight = (study().rows[0].concrete_kg) / (study().rows[3].concrete_kg);
  EXPECT_NEAR(ratio, 2 * weight, 0.1);
}

TEST(GentlerDeck, RampsMeetTheGradientAndFramesPushTheArch) {
  for (const std::size_t first : {0U, 3U}) {
    const GentlerRow &back = study().rows[first], &ramps = study().rows[first + 2];
    EXPECT_FALSE(back.gradient_met);
    EXPECT_TRUE(ramps.gradient_met) << ramps.gradient;
    EXPECT_TRUE(ramps.step_free);
    EXPECT_GT(ramps.approach_m, 0);
    EXPECT_GT(ramps.frame_kg, 0);
    EXPECT_GT(ramps.thrust_n, back.thrust_n);
    EXPECT_GT(ramps.timber_kg, back.timber_kg);
  }
}

// The same search as in a run, which has one pattern more (the worst found): no more than that
// needs, and no less than the weight alone. The section is 280 mm throughout.
TEST(GentlerDeck, DepthIsAShareOfTheSectionForPatternsAlone) {
  const Result<GentlerStudy> made = study_gentler_deck(drovers_hop(), {{1.0}, 0, true}, Progress());
  ASSERT_TRUE(made.ok());
  const GentlerRow& row = made->rows[0];
  ASSERT_TRUE(row.depth_share && row.depth_needed_m);
  EXPECT_DOUBLE_EQ(*row.depth_needed_m, 0.28 * *row.depth_share);
  const Result<Dossier> run = run_works(drovers_hop(), {0, "stand", true}, Progress());
  ASSERT_TRUE(run.ok() && run->depth_needed->share);
  EXPECT_LE(*row.depth_share, *run->depth_needed->share * (1 + 1e-9));
  EXPECT_GE(*row.depth_share, *run->depth_needed->cases[0].share);
}

TEST(GentlerDeck, WantsAWalkway) {
  Brief brief = drovers_hop();
  brief.walkway.width_m = brief.walkway.weight_pa = 0;
  const Result<GentlerStudy> none = study_gentler_deck(brief, {{1.0}, 0, false}, Progress());
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.faults().front().key, "walkway.width");
}

TEST(GentlerDeck, AVariantThatCannotBeIsARowThatSaysSo) {
  Brief brief = drovers_hop();
  brief.parapet.working = {0};  // upstands on blocks that touch dry cannot be cut
  brief.parapet.upstand_height_m = 0.3;
  brief.parapet.upstand_width_m = 0.1;
  const Result<GentlerStudy> made = study_gentler_deck(brief, {{1.0}, 0, false}, Progress());
  ASSERT_TRUE(made.ok());
  ASSERT_EQ(made->rows.size(), 3U);
  for (const GentlerRow& row : made->rows) EXPECT_FALSE(row.failed.empty());
}

TEST(GentlerDeck, CanBeInterrupted) {
  std::atomic<bool> stop = true;
  EXPECT_THROW((void)study_gentler_deck(drovers_hop(), {{1.0}, 0, false}, Progress({}, &stop)),
               Interrupted);
}

}  // namespace
}  // namespace skewback
