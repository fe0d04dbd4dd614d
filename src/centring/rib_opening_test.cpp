// Ribs of a flat deck with an opening in one half of it.
#include <gtest/gtest.h>

#include <algorithm>

#include "centring/rib_lines.hpp"

namespace skewback {
namespace {

/// 8 m by 2 m along x, in boxes 1 m long; from x = -3 m to -1 m nothing within 0.3 m of the middle.
struct OpenDeck {
  Brief brief;
  Assembly assembly;
  OpenDeck() {
    brief.plan.supports = {{"west", {-4, 1}, {-4, -1}, 0}, {"east", {4, -1}, {4, 1}, 0}};
    brief.plan.free_edges = {{0, 1, {{-4, -1}, {4, -1}}}, {1, 0, {{4, 1}, {-4, 1}}}};
    brief.plan.outline = {{-4, 1}, {-4, -1}, {4, -1}, {4, 1}};
    brief.plan.openings = {{{-3, -0.3}, {-3, 0.3}, {-1, 0.3}, {-1, -0.3}}};
    brief.plan.meeting = Vec2(0, 0);
    for (int i = -4; i < 4; ++i) {
      const bool beside = i == -3 || i == -2;
      if (beside) {
        add(i, -1, -0.3);
        add(i, 0.3, 1);
      } else {
        add(i, -1, 1);
      }
    }
    measure(assembly);
  }
  void add(int x, double from, double to) {
    Block block;
    block.id = "b" + std::to_string(assembly.blocks.size());
    block.solid = box({double(x), from, 1}, {x + 1.0, to, 1.3});
    block.density = 2400;
    block.place.arm = x < 0 ? 0 : 1;
    block.place.course = x < 0 ? x + 5 : 4 - x;
    assembly.blocks.push_back(block);
  }
};

TEST(RibLines, StopAtAnOpeningInALegAndGoOnBehindIt) {
  const OpenDeck deck;
  const auto ribs = rib_lines(deck.brief, deck.assembly, soffits(deck.assembly), {0.5, 0});
  std::vector<std::pair<double, double>> middle;  // from and to of those along the middle
  for (const RibLine& rib : ribs) {
    const Vec2 a = rib.line.point(0), b = rib.line.point(rib.length);
    if (std::abs(a.y()) < 0.05) middle.emplace_back(a.x(), b.x());
    for (double x = 0; x < rib.length; x += 0.05) {
      const Vec2 p = rib.line.point(x);
      EXPECT_FALSE(p.x() > -2.9 && p.x() < -1.1 && std::abs(p.y()) < 0.25)
          << p.x() << ", " << p.y();
    }
  }
  std::ranges::sort(middle);
  ASSERT_EQ(middle.size(), 2u);
  EXPECT_NEAR(middle[0].first, -4, 0.02);
  EXPECT_NEAR(middle[0].second, -3, 0.02);
  EXPECT_NEAR(middle[1].first, -1, 0.02);
  EXPECT_NEAR(middle[1].second, 4, 0.02);
}

}  // namespace
}  // namespace skewback
