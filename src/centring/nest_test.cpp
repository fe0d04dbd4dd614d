#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <functional>
#include <random>

#include "base/constants.hpp"
#include "centring/centring.hpp"
#include "centring/nest_shape.hpp"
#include "centring/nested.hpp"

namespace skewback {
namespace {

SheetPart part(const std::string& id, const Polygon& outer, bool grain = true) {
  SheetPart out;
  out.id = out.rib = id;
  out.kind = "rib";
  out.outline.outer = outer;
  out.grain_along_x = grain;
  return out;
}
Polygon rectangle(double length, double width) {
  return {{0, 0}, {length, 0}, {length, width}, {0, width}};
}
Polygon banana(double chord, double radius, double depth, int steps = 28) {
  Polygon ring;
  const double half = std::asin(chord / 2 / radius);
  for (int i = 0; i <= steps; ++i) {
    const double a = half - 2 * half * i / steps;
    ring.emplace_back(radius * std::sin(a), radius * std::cos(a));
  }
  for (int i = 0; i <= steps; ++i) {
    const double a = -half + 2 * half * i / steps;
    ring.emplace_back((radius - depth) * std::sin(a), (radius - depth) * std::cos(a));
  }
  return ring;
}

/// Least distance between parts and to the edge, by clipping the parts grown: no pair overlaps when
/// each is grown by half the gap, less `slack` for the grid.
void expect_apart(const Brief& brief, const Centring& c, double slack = 4e-5) {
  const CentringRequest& ask = brief.centring;
  std::vector<int> seen(c.parts.size(), 0);
  for (const CutSheet& sheet : c.sheets) {
    std::vector<Regions> grown;
    double used = 0;
    for (const NestedPart& n : sheet.parts) {
      const SheetPart& p = c.parts[static_cast<std::size_t>(n.part)];
      ++seen[static_cast<std::size_t>(n.part)];
      const Region region = on_sheet(n, p.outline);
      EXPECT_NEAR(area(region), area(p.outline), 1e-12) << p.id;
      used += area(region);
      for (const Vec2& q : region.outer) {
        EXPECT_GE(q.x(), ask.part_gap_m - slack) << p.id;
        EXPECT_GE(q.y(), ask.part_gap_m - slack) << p.id;
        EXPECT_LE(q.x(), ask.sheet_length_m - ask.part_gap_m + slack) << p.id;
        EXPECT_LE(q.y(), ask.sheet_width_m - ask.part_gap_m + slack) << p.id;
      }
      EXPECT_NEAR(p.grain_along_x ? std::sin(n.turn_rad) : 0, 0, 1e-12) << p.id;
      grown.push_back(offset({{region.outer, {}}}, ask.part_gap_m / 2 - slack / 2));
    }
    EXPECT_NEAR(sheet.used_share, used / (ask.sheet_length_m * ask.sheet_width_m), 1e-12);
    for (std::size_t i = 0; i < grown.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j)
        EXPECT_LT(area(intersect(grown[i], grown[j])), 1e-9) << sheet.id << " " << i << " " << j;
    }
  }
  for (const int times : seen) EXPECT_EQ(times, 1);
}

void expect_sheets(const Brief& brief, Centring& c, std::size_t sheets) {
  ASSERT_FALSE(nest_parts(brief, c));
  EXPECT_EQ(c.sheets.size(), sheets);
  expect_apart(brief, c);
}

Brief sheets_of(double length, double width) {
  Brief brief;
  brief.centring.sheet_length_m = length;
  brief.centring.sheet_width_m = width;
  return brief;
}

/// Sheets that boxes laid in rows ask for: highest first, each into the first row that has room
/// (first-fit decreasing height: Coffman, Garey, Johnson and Tarjan 1980).
int sheets_by_rows(const Brief& brief, const Centring& c) {
  const CentringRequest& ask = brief.centring;
  struct Row {
    int sheet;
    double height, used;
  };
  std::vector<Vec2> boxes;
  for (const SheetPart& p : c.parts) {
    Vec2 low = p.outline.outer[0], high = low;
    for (const Vec2& q : p.outline.outer) {
      low = low.cwiseMin(q);
      high = high.cwiseMax(q);
    }
    boxes.push_back(high - low + Vec2::Constant(ask.part_gap_m));
  }
  std::ranges::stable_sort(boxes, std::greater{}, [](const Vec2& b) { return b.y(); });
  std::vector<Row> rows;
  std::vector<double> height;  // used of each sheet
  for (const Vec2& box : boxes) {
    auto row = std::ranges::find_if(rows, [&](const Row& r) {
      return r.height >= box.y() && r.used + box.x() <= ask.sheet_length_m - ask.part_gap_m;
    });
    if (row == rows.end()) {
      auto sheet = std::ranges::find_if(
          height, [&](double h) { return h + box.y() <= ask.sheet_width_m - ask.part_gap_m; });
      if (sheet == height.end()) sheet = height.insert(sheet, 0);
      *sheet += box.y();
      row = rows.insert(rows.end(), {static_cast<int>(sheet - height.begin()), box.y(), 0});
    }
    row->used += box.x();
  }
  return static_cast<int>(height.size());
}

TEST(NestShape, TurnsAreAGroup) {
  const nest::IntPoint p(3, 7);
  for (int a = 0; a < 8; ++a) {
    const nest::Turn first{a % 4, a > 3};
    EXPECT_EQ(nest::after(nest::undo(first), first), nest::Turn{});
    for (int b = 0; b < 8; ++b) {
      const nest::Turn second{b % 4, b > 3};
      EXPECT_EQ(nest::turned(p, nest::after(second, first)),
                nest::turned(nest::turned(p, first), second));
    }
  }
}

// A square and the same square: side 2 about the sum of their middles.
TEST(NestShape, SumOfConvexShapes) {
  const nest::Path square = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  const nest::Path triangle = {{0, 0}, {6, 0}, {0, 6}};
  EXPECT_EQ(ClipperLib::Area(nest::convex_sum(square, square)), 400);
  // area(A) + area(B) + 2 V(A, B): mixed area of square and triangle is 10 x (6 + 6) / 2
  EXPECT_EQ(ClipperLib::Area(nest::convex_sum(square, triangle)), 100 + 18 + 120);
}

TEST(NestShape, FewCornersNeverInside) {
  Polygon rib = banana(2.2, 6, 0.3);
  rib.erase(rib.begin() + 43);  // middle of the lower edge: a slot instead
  rib.insert(rib.begin() + 43, {{-0.009, 5.7}, {-0.009, 5.85}, {0.009, 5.85}, {0.009, 5.7}});
  ASSERT_FALSE(self_crossing(rib));
  for (const std::size_t most : {4U, 12U, 40U}) {
    const Polygon few = nest::simplified_outward(rib, most, 1e-3);
    EXPECT_LE(few.size(), std::max<std::size_t>(most, 4));
    // booleans are on a 10 nm grid, and the ring is 5 m round
    EXPECT_LT(area(subtract({{rib, {}}}, {{few, {}}})), 5e-8);
  }
  const nest::Shape shape = nest::make_shape(rib, 0.005, 0.03, 1.5e-3);
  EXPECT_LE(shape.outline.size(), 40U);
  double pieces = 0;
  for (const auto& piece : shape.pieces) {
    EXPECT_TRUE(ClipperLib::Orientation(piece));
    pieces += ClipperLib::Area(piece);
  }
  EXPECT_NEAR(pieces, ClipperLib::Area(shape.outline), 1e-6 * pieces);
  EXPECT_LT(shape.pieces.size(), 20U);
}

// Rectangles that fill the sheet exactly: 4 x 3 of them with their gaps.
TEST(Nest, RectanglesOfAKnownBestPacking) {
  const Brief brief = sheets_of(4 * 0.5 + 5 * 0.01, 3 * 0.3 + 4 * 0.01);
  Centring c;
  for (int i = 0; i < 24; ++i)
    c.parts.push_back(part("p" + std::to_string(i), rectangle(0.5, 0.3)));
  expect_sheets(brief, c, 2);
  EXPECT_NEAR(c.used_share, 24 * 0.15 / (2 * 2.05 * 0.94), 1e-12);
}

// Sawn by straight cuts from edge to edge, without gaps.
TEST(Nest, ASheetSawnUpGoesBackOnOne) {
  Brief brief;
  brief.centring.part_gap_m = 0;
  Centring c;
  double x = 0;
  int k = 0;
  for (const double w : {0.9, 0.7, 0.84}) {
    for (const double h : {0.5, 0.42, 0.3})
      c.parts.push_back(part("p" + std::to_string(k++), rectangle(w, h)));
    x += w;
  }
  ASSERT_NEAR(x, brief.centring.sheet_length_m, 1e-12);
  expect_sheets(brief, c, 1);
}

// Two right triangles in the room of their box: only turning them about makes one sheet enough.
TEST(Nest, TrianglesAreTurnedIntoEachOther) {
  Centring c;
  for (const char* id : {"a", "b"}) c.parts.push_back(part(id, {{0, 0}, {1, 0}, {0, 1}}));
  expect_sheets(sheets_of(1.05, 1.05), c, 1);
}

TEST(Nest, GrainAloneKeepsAPartFromBeingLaidAcross) {
  const Brief brief = sheets_of(2, 1);
  Centring c;
  c.parts.push_back(part("tall", rectangle(0.3, 1.5), false));
  expect_sheets(brief, c, 1);
  EXPECT_NEAR(std::abs(std::sin(c.sheets.at(0).parts.at(0).turn_rad)), 1, 1e-12);
  c.parts[0].grain_along_x = true;
  const auto fault = nest_parts(brief, c);
  ASSERT_TRUE(fault);
  EXPECT_NE(fault->key.find("tall"), std::string::npos);
  EXPECT_NE(fault->found.find("300 mm x 1500 mm"), std::string::npos);
  EXPECT_NE(fault->expected.find("980 mm across"), std::string::npos);
  EXPECT_TRUE(c.sheets.empty());
}

// Boxes in rows are what a sheet takes without nesting: floor(width / box height) ribs of nearly
// its length. Nested arches rise by their depth alone.
TEST(Nest, ArchedRibsNestBetterThanTheirBoxes) {
  Brief brief;
  const double chord = 2.3, radius = 4, depth = 0.2;
  Centring c;
  for (int i = 0; i < 12; ++i)
    c.parts.push_back(part("r" + std::to_string(i), banana(chord, radius, depth)));
  ASSERT_FALSE(nest_parts(brief, c));
  const double rise = radius - std::sqrt(radius * radius - chord * chord / 4);
  const double box =
      rise + depth * std::cos(std::asin(chord / 2 / radius)) + brief.centring.part_gap_m;
  const int in_rows = static_cast<int>((1.22 - brief.centring.part_gap_m) / box);
  ASSERT_EQ(in_rows, 3);
  EXPECT_EQ(c.sheets.size(), 3U);  // four each
  EXPECT_GT(c.used_share, 12 * area(c.parts[0].outline) / (12.0 / in_rows * 2.44 * 1.22));
  expect_apart(brief, c);
}

TEST(Nest, RandomPolygonsLieApartAndTheSameEveryTime) {
  for (const unsigned seed : {3U, 17U, 40U}) {
    std::mt19937 random(seed);
    const auto share = [&] { return static_cast<double>(random()) / 4294967296.0; };
    Brief brief;
    brief.centring.part_gap_m = 0.004 + 0.016 * share();
    Centring c;
    for (int i = 0; i < 40; ++i) {
      Polygon ring;
      const int corners = 3 + static_cast<int>(12 * share());
      const double size = 0.03 * std::pow(12, share());
      for (int k = 0; k < corners; ++k) {
        const double a = 2 * kPi * (k + 0.8 * share()) / corners, r = size * (0.3 + 0.7 * share());
        ring.emplace_back(5 + r * std::cos(a), r * std::sin(a) - 3);
      }
      if (area(ring) < 1e-5) continue;
      c.parts.push_back(part("p" + std::to_string(i), ring, i % 2 == 0));
    }
    ASSERT_FALSE(nest_parts(brief, c)) << seed;
    SCOPED_TRACE(seed);
    expect_apart(brief, c);
    EXPECT_LE(static_cast<int>(c.sheets.size()), sheets_by_rows(brief, c));
    Centring again = c;
    ASSERT_FALSE(nest_parts(brief, again));
    ASSERT_EQ(again.sheets.size(), c.sheets.size());
    for (std::size_t s = 0; s < c.sheets.size(); ++s) {
      for (std::size_t k = 0; k < c.sheets[s].parts.size(); ++k) {
        EXPECT_EQ(again.sheets[s].parts[k].part, c.sheets[s].parts[k].part);
        EXPECT_EQ(again.sheets[s].parts[k].at, c.sheets[s].parts[k].at);
      }
    }
  }
}

// Ribs of three legs in pieces, with slots; cross ribs; splices: what a footbridge asks for.
TEST(Nest, ManyPartsOfABridge) {
  Centring c;
  const auto slotted = [](Polygon ring, std::size_t at, double into) {
    const Vec2 foot = ring[at];
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(at));
    ring.insert(ring.begin() + static_cast<std::ptrdiff_t>(at),
                {foot + Vec2(-0.009, 0), foot + Vec2(-0.009, into), foot + Vec2(0.009, into),
                 foot + Vec2(0.009, 0)});
    return ring;
  };
  for (int leg = 0; leg < 3; ++leg) {
    for (int rib = 0; rib < 5; ++rib) {
      for (int piece = 0; piece < 3; ++piece)
        c.parts.push_back(
            part("R", slotted(banana(1.7 + 0.13 * rib + 0.05 * leg, 5.5 + piece + 0.3 * leg, 0.3),
                              43, 0.15)));
    }
    for (int k = 0; k < 10; ++k) {
      const double width = 0.7 + 0.17 * k;
      c.parts.push_back(part("X", rectangle(width, 0.25 + 0.01 * leg)));
    }
    for (int k = 0; k < 10; ++k) c.parts.push_back(part("S", rectangle(0.5, 0.22)));
  }
  for (std::size_t i = 0; i < c.parts.size(); ++i) c.parts[i].id += std::to_string(i);
  const Brief brief;
  ASSERT_FALSE(nest_parts(brief, c));
  expect_apart(brief, c);
  EXPECT_LT(static_cast<int>(c.sheets.size()), sheets_by_rows(brief, c));
  RecordProperty("sheets", static_cast<int>(c.sheets.size()));
  RecordProperty("by_rows", sheets_by_rows(brief, c));
}

TEST(Nest, StopsWhenAsked) {
  Brief brief;
  Centring c;
  c.parts.push_back(part("a", rectangle(1, 0.3)));
  const std::atomic<bool> stop = true;
  EXPECT_THROW((void)nest_parts(brief, c, Progress({}, &stop)), Interrupted);
}

}  // namespace
}  // namespace skewback
