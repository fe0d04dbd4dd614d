#include "works/feet_actions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "works/ask_sample.hpp"
#include "works/states.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

/// The arch of solid stone up to the ground stage.
const Dossier& drovers_hop() {
  static const Dossier made = [] {
    const Brief brief =
        read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml")
            .value();
    return run_works(brief, {0, "ground", true}, Progress()).value();
  }();
  return made;
}

const FootingCase* case_of(const FootingReport& footing, const std::string& id) {
  const auto it = std::ranges::find(footing.cases, id, &FootingCase::case_id);
  return it == footing.cases.end() ? nullptr : &*it;
}

double leading(const FootingCase& c, double a1, double a2) {
  return c.approach == "DA1-2" ? a2 : a1;
}

TEST(FeetActions, EveryActionOfTheBriefReachesTheFootings) {
  const Groundworks& ground = *drovers_hop().ground;
  ASSERT_EQ(ground.footings.size(), 2U);
  for (const FootingReport& footing : ground.footings) {
    for (const char* id : {"wind-east", "wind-people-north", "snow", "warmer", "colder"}) {
      const FootingCase* c = case_of(footing, id);
      ASSERT_NE(c, nullptr) << id;
      EXPECT_DOUBLE_EQ(c->live_factor, leading(*c, 1.5, 1.3)) << id << ": " << c->words;
    }
    for (const char* id : {"full", "push-1-in", "people-wind-north", "people-warmer"}) {
      const FootingCase* c = case_of(footing, id);
      ASSERT_NE(c, nullptr) << id;
      EXPECT_DOUBLE_EQ(c->live_factor, leading(*c, 1.35, 1.15)) << id << ": " << c->words;
    }
    EXPECT_EQ(case_of(footing, "heavy-full"), nullptr) << "that is full with heavy weight";
  }
}

// Statics of the whole: both bases together carry the weight, what is on it and themselves. Snow of
// 0.8 x 600 Pa lies on 9 m x 1.9 m.
TEST(FeetActions, BothBasesTogetherCarryWeightAndSnow) {
  const Dossier& run = drovers_hop();
  double weight = 0;
  for (const Block& block : run.cut->assembly.blocks)
    weight += block.fixed ? 0 : mass_kg(block) * 9.81;
  double vertical = 0, expected = 0;
  for (const FootingReport& footing : run.ground->footings) {
    const FootingCase* c = case_of(footing, "snow");
    ASSERT_NE(c, nullptr);
    vertical += c->vertical_n;
    expected +=
        c->dead_factor * (footing.weight_n + weight / 2) + c->live_factor * 0.8 * 600 * 9 * 1.9 / 2;
  }
  ASSERT_EQ(case_of(run.ground->footings[0], "snow")->words,
            case_of(run.ground->footings[1], "snow")->words);
  EXPECT_NEAR(vertical, expected, 2e-3 * expected);
}

// Wind across the arch is a push on the whole that rods along it cannot hold: the bases' H along
// their lines add up to it. 24 m/s, both parapets open; the silhouette is the tool's own.
TEST(FeetActions, WindAcrossIsLeftToTheBases) {
  const Dossier& run = drovers_hop();
  double wind = 0;
  for (const LoadCase& action : run.actions)
    if (action.id == "wind-north")
      for (const LiveForce& f : action.live) wind += f.force.y();
  ASSERT_GT(wind, 0);
  double along = 0, factor = 0;
  for (const FootingReport& footing : run.ground->footings) {
    const FootingCase* c = case_of(footing, "wind-north");
    ASSERT_NE(c, nullptr);
    along += std::abs(c->horizontal_n.y());
    factor = c->live_factor;
  }
  EXPECT_NEAR(along, factor * wind, 1e-2 * factor * wind);
}

/// The made arch on bases of 3 m, judged with a point load of `newtons` near one haunch.
Groundworks judged_under(double newtons) {
  const sample::Arch arch;
  Brief brief = sample::arch_brief(arch);
  brief.soil.phi_rad = brief.soil.phi_cv_rad = 35 * kPi / 180;
  brief.soil.cover_m = brief.ground.footing_depth_m;
  brief.ground.footing_length_m = brief.ground.footing_width_m = 3;
  Assembly assembly = sample::arch_assembly(arch);
  LoadCase heavy;
  heavy.id = "heavy";
  heavy.live = {{1, centre_of_gravity(assembly.blocks[1]), {0, 0, -newtons}}};
  assembly.cases.push_back(heavy);
  Dossier run = *sample::dossier_of(std::move(brief), std::move(assembly));
  run.ground = hold_feet(run.brief, run.cut->assembly, pattern_proofs(run));
  judge_ground(run, Progress());
  return *run.ground;
}

// 1 MN on an arch of some 100 kN makes it fall: such a pattern has no reactions, so nothing is
// known of its footings. 100 N it does not feel.
TEST(FeetActions, APatternThatFallsClearsNoFooting) {
  const Groundworks light = judged_under(100), falls = judged_under(1e6);
  ASSERT_EQ(light.footings.size(), 2U);
  ASSERT_EQ(falls.footings.size(), 2U);
  for (const FootingReport& footing : light.footings)
    EXPECT_TRUE(footing.cleared) << footing.reason;
  for (const FootingReport& footing : falls.footings) {
    EXPECT_FALSE(footing.cleared);
    EXPECT_EQ(footing.reason, "not tried under heavy (falls)");
  }
}

TEST(FeetActions, SaysHowFarAddingUpIsOff) {
  const Groundworks& ground = *drovers_hop().ground;
  ASSERT_TRUE(ground.adding_up);
  EXPECT_GT(ground.adding_up->rel, 0);
  EXPECT_FALSE(ground.adding_up->case_id.empty());
}

}  // namespace
}  // namespace skewback
