#include "works/settled_ground.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "works/works.hpp"

namespace skewback {
namespace {

Brief drovers_hop() {
  return read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml")
      .value();
}

Dossier to_the_ground(const Brief& brief) { return run_works(brief, {0, "ground"}, {}).value(); }

std::vector<TriedState> settled_states(const Dossier& dossier) {
  std::vector<TriedState> out;
  for (const TriedState& state : dossier.tried)
    if (state.what.starts_with(kSettledFeet)) out.push_back(state);
  return out;
}

const TriedState* under_weight(const std::vector<TriedState>& states) {
  const auto it = std::ranges::find(states, "dead", &TriedState::case_id);
  return it == states.end() ? nullptr : &*it;
}

double settlement(const Dossier& dossier) {
  return dossier.ground->footings.front().settlement_m.value();
}

// Both feet go down nearly alike, and the bridge with them: ten times as soft, ten times as far,
// and nine times that further down.
TEST(SettledGround, TheBridgeGoesDownWithItsFeet) {
  Brief brief = drovers_hop();
  const Dossier firm = to_the_ground(brief);
  brief.soil.stiffness_pa /= 10;
  const Dossier soft = to_the_ground(brief);
  EXPECT_NEAR(settlement(soft) / settlement(firm), 10, 0.05);
  const auto on_firm = settled_states(firm), on_soft = settled_states(soft);
  ASSERT_EQ(on_firm.size(), 4U);
  const TriedState *a = under_weight(on_firm), *b = under_weight(on_soft);
  ASSERT_TRUE(a != nullptr && b != nullptr);
  EXPECT_TRUE(a->holds);
  EXPECT_TRUE(b->holds) << b->reason;
  EXPECT_GT(a->move_max_m, settlement(firm));
  EXPECT_NEAR((b->move_max_m - a->move_max_m) / (9 * settlement(firm)), 1, 0.35);
  // the blocks lean inwards with their feet, so joints are pressed harder than as drawn
  const auto dead = std::ranges::find(firm.proofs, "dead", &CaseProof::id);
  EXPECT_GT(a->peak_pa, dead->pads->peak_pa);
}

TEST(SettledGround, WithoutTheSoilsStiffnessNothingIsSaid) {
  Brief brief = drovers_hop();
  brief.soil.stiffness_pa = 0;
  EXPECT_TRUE(settled_states(to_the_ground(brief)).empty());
}

// What strength and ground have looked at is no longer "not checked" where a run ends there.
TEST(SettledGround, ARunThatEndsThereSaysWhatItChecked) {
  const Dossier run = to_the_ground(drovers_hop());
  for (const char* name : {"block_strength", "footings"}) {
    const auto it = std::ranges::find(run.required, name, &RequiredCheck::name);
    ASSERT_NE(it, run.required.end());
    EXPECT_TRUE(it->passes) << name;
  }
}

}  // namespace
}  // namespace skewback
