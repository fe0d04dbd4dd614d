#include "access/deck.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "access/parts.hpp"
#include "access/sample_bridge.hpp"

namespace skewback {
namespace {

constexpr double kSpan = 12, kRise = 1.5;

Brief brief_of() {
  Brief brief = sample::straight_brief(0, kSpan, kSpan / 2, 1);
  brief.walkway.width_m = 1.4;
  brief.walkway.weight_pa = 600;
  brief.access.landing_m = 0.02;  // next to none, so that the closed forms of a parabola hold
  return brief;
}

Assembly blocks() { return sample::slices(sample::parabola(kSpan, kRise, 0.05), 1); }

TEST(Deck, OnTheBackIsAsSteepAsTheBack) {
  const Deck deck = design_deck(brief_of(), blocks(), DeckKind::kBack);
  EXPECT_NEAR(deck.gradient_max, 4 * kRise * (kSpan - 0.6) / (kSpan * kSpan), 1e-6);
  EXPECT_TRUE(deck.surface.empty());
  EXPECT_EQ(deck.frame_kg, 0);
}

// Ends at f + g2 L2 / (16 f) - g L / 2 over the springing (tangent of slope g to the parabola); the
// rest is ramp: height / g, and landings.
TEST(Deck, WithRampsMeetsTheGradient) {
  const Deck deck = design_deck(brief_of(), blocks(), DeckKind::kRamps);
  const double g = 1.0 / 12;
  const double end = kRise + g * g * kSpan * kSpan / (16 * kRise) - g * kSpan / 2;
  ASSERT_EQ(deck.lines.size(), 2U);
  for (const DeckLine& line : deck.lines) {
    EXPECT_NEAR(line.end_height_m, end, 2e-3);
    EXPECT_EQ(line.approach_runs, 2);  // 1.04 m over 0.76 m
    EXPECT_NEAR(line.approach_m, 12 * line.end_height_m + 3 * 0.02, 1e-9);
  }
  EXPECT_NEAR(deck.gradient_max, g, 1e-6);
  EXPECT_TRUE(deck.step_free);
}

// A tangent that ends h over the springing is 4 f / L (1 - sqrt(h / f)) steep.
TEST(Deck, OnFramesIsGentlerByItsSteps) {
  const Deck deck = design_deck(brief_of(), blocks(), DeckKind::kFrames);
  const double h = 3 * 0.16;
  EXPECT_NEAR(deck.gradient_max, 4 * kRise / kSpan * (1 - std::sqrt(h / kRise)), 2e-3);
  EXPECT_FALSE(deck.step_free);
  EXPECT_EQ(deck.lines[0].steps, 3);
  EXPECT_NEAR(deck.lines[0].step_m, 0.16, 1e-3);
}

// Between the tangent from x = a = g L2 / (8 f) to the springing and the parabola lies a third of
// its end height times the run: 4 f (x - a)2 / L2.
TEST(Deck, FramesWeighTheirHeight) {
  const Deck deck = design_deck(brief_of(), blocks(), DeckKind::kRamps);
  const double g = 1.0 / 12, run = kSpan / 2 - g * kSpan * kSpan / (8 * kRise);
  const double end = 4 * kRise * run * run / (kSpan * kSpan);
  const double volume = 2 * 1.4 * end * run / 3;
  const Sticks timber = access::size_sticks(brief_of());
  EXPECT_NEAR(deck.frame_kg, access::frame_density(timber, 1.4) * volume, 0.01 * deck.frame_kg);
  // By hand: four posts 0.1 x 0.1 of 450 kg/m3 and half as much bracing, each 1.2 m of 1.4 m width.
  // On three the cap is sheared by 13.5 (1 - 0.15 / 0.65) = 10.4 kN, 2.33 of 2.15 MPa; on four
  // by 8.8 kN.
  EXPECT_EQ(timber.posts, 4);
  EXPECT_NEAR(access::frame_density(timber, 1.4), 1.5 * 4 * 0.01 * 450 / (1.2 * 1.4), 1e-12);
}

TEST(Deck, ItsSurfaceIsFoundAgainByTheJudge) {
  Brief brief = brief_of();
  brief.access.landing_m = 1.5;
  const Assembly assembly = blocks();
  const Deck deck = design_deck(brief, assembly, DeckKind::kRamps);
  ASSERT_EQ(deck.surface.size(), 1U);
  EXPECT_NEAR((deck.surface[0].front().head<2>() - Vec2(0, 0)).norm(), 0, 1e-9);
  EXPECT_NEAR((deck.surface[0].back().head<2>() - Vec2(kSpan, 0)).norm(), 0, 1e-9);
  const AccessReport report = judge_access(with_deck(brief, deck), assembly);
  EXPECT_NEAR(report.gradient_max, 1.0 / 12, 1e-6);
  const auto top = std::ranges::find(report.findings, "landing at the top", &AccessFinding::what);
  ASSERT_NE(top, report.findings.end());
  EXPECT_NEAR(top->found, 1.5, 1e-6);
}

}  // namespace
}  // namespace skewback
