// The centring of the demonstration bridges: every block is carried, nothing stands in the water.
#include "centring/centring.hpp"

#include <gtest/gtest.h>

#include <chrono>

#include "demo_cut.hpp"

namespace skewback {
namespace {

struct Demo : DemoCut {
  Centring centring;
  double seconds = 0;
};

Demo demo(const std::string& name) {
  Demo out{demo_cut(name), {}, 0};
  const auto start = std::chrono::steady_clock::now();
  auto made = make_centring(out.brief, out.assembly);
  out.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  EXPECT_TRUE(made.ok());
  if (made) out.centring = std::move(made).value();
  return out;
}

double off_line(const std::vector<Vec2>& points) {
  double off = 0;
  for (const Vec2& a : points) {
    for (const Vec2& b : points) {
      if ((b - a).norm() < 1e-6) continue;
      const Vec2 u = (b - a).normalized();
      for (const Vec2& c : points) {
        off = std::max(off, std::abs(u.x() * (c - a).y() - u.y() * (c - a).x()));
      }
    }
  }
  return off;
}

/// Three seats or more, not in a line, and the block's weight within them seen from above.
void expect_carried(const Demo& d) {
  for (std::size_t b = 0; b < d.assembly.blocks.size(); ++b) {
    const Block& block = d.assembly.blocks[b];
    if (block.fixed) continue;
    std::vector<Vec2> seats;
    for (const Seat& seat : d.centring.seats) {
      if (seat.prop.block == static_cast<int>(b)) seats.emplace_back(seat.prop.point.head<2>());
    }
    EXPECT_GE(seats.size(), 3u) << block.id;
    EXPECT_GT(off_line(seats), 0.05) << block.id;
    if (seats.size() < 3) continue;
    EXPECT_TRUE(contains({convex_hull(seats), {}}, block.mass.centroid.head<2>()) ||
                block.place.course <= 4)
        << block.id;
  }
}

/// A rib's top touches no block: a hair above it, the sheet's middle is in the block at most at the
/// facet's own height. Checked on the soffit points that seats were given.
void expect_seats_on_tops(const Demo& d) {
  for (const Seat& seat : d.centring.seats) {
    const auto rib = std::ranges::find(d.centring.ribs, seat.rib, &Rib::id);
    ASSERT_NE(rib, d.centring.ribs.end());
    const Vec3 p = rib->place.to_local(seat.prop.point);
    EXPECT_NEAR(p.z(), 0, 1e-9);
    for (std::size_t i = 1; i < rib->top.size(); ++i) {
      const Vec2 &a = rib->top[i - 1], &c = rib->top[i];
      EXPECT_GT(c.x(), a.x()) << rib->id;
      if (p.x() < a.x() || p.x() > c.x()) continue;
      const double top = a.y() + (p.x() - a.x()) / (c.x() - a.x()) * (c.y() - a.y());
      EXPECT_LE(top, p.y() + 1e-9) << rib->id;
      EXPECT_GT(top, p.y() - 0.006) << rib->id;  // a warped soffit, over half a sheet
    }
  }
}

void expect_parts(const Demo& d) {
  const CentringRequest& request = d.brief.centring;
  for (const SheetPart& part : d.centring.parts) {
    // an outline that crosses itself encloses another area than its corners add up to
    const Regions whole = unite({{part.outline.outer, {}}});
    ASSERT_EQ(whole.size(), 1u) << part.id;
    EXPECT_TRUE(whole[0].holes.empty()) << part.id;
    EXPECT_NEAR(area(whole[0]), area(part.outline.outer), 1e-8) << part.id;
    for (const Vec2& p : part.outline.outer) {
      EXPECT_LE(p.x(), request.sheet_length_m - 2 * request.part_gap_m) << part.id;
      EXPECT_LE(p.y(), request.sheet_width_m - 2 * request.part_gap_m) << part.id;
    }
  }
  for (const CentringFoot& foot : d.centring.feet) {
    for (const auto& water : request.no_feet) {
      EXPECT_FALSE(contains({water, {}}, foot.at.head<2>())) << foot.id;
    }
  }
}

TEST(CentringOfDemos, DroversHop) {
  const Demo d = demo("drovers-hop");
  expect_carried(d);
  expect_seats_on_tops(d);
  expect_parts(d);
}

TEST(CentringOfDemos, WrenLeat) {
  const Demo d = demo("wren-leat");
  expect_carried(d);
  expect_seats_on_tops(d);
  expect_parts(d);
  EXPECT_LT(d.seconds, 10);  // well under two on an idle machine; here others may be at work
}

}  // namespace
}  // namespace skewback
