#include "deliver/centring_files.hpp"

#include <gtest/gtest.h>

#include "centring/nested.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/cut_sheets.hpp"
#include "deliver/outline.hpp"
#include "deliver/report_centring.hpp"
#include "deliver/sample_centring.hpp"
#include "deliver/strokes.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

struct Sample {
  Brief brief;
  Assembly assembly = sample::arch_assembly({});
  Centring centring = sample::small_centring(assembly);
  Sample() {
    brief.title = "a bridge";
    brief.plan.supports = {{"west", {-3, 0.5}, {-3, -0.5}, 0}, {"east", {3, -0.5}, {3, 0.5}, 0}};
    brief.plan.outline = {{-3, -0.5}, {3, -0.5}, {3, 0.5}, {-3, 0.5}};
    brief.centring.no_feet = {{{-0.5, -1}, {-0.2, -1}, {-0.2, 1}, {-0.5, 1}}};
  }
};

Sample nested_sample() {
  Sample s;
  EXPECT_FALSE(nest_parts(s.brief, s.centring));
  return s;
}

std::vector<const DxfLine*> on_layer(const DxfDrawing& drawing, const std::string& name) {
  std::vector<const DxfLine*> out;
  for (const DxfLine& line : drawing.lines)
    if (drawing.layers[static_cast<std::size_t>(line.layer)].name == name) out.push_back(&line);
  return out;
}

bool says(const Sheet& sheet, const std::string& part) {
  return std::ranges::any_of(sheet.items, [&](const auto& item) {
    const auto* words = std::get_if<Words>(&item);
    return words != nullptr && words->text.find(part) != std::string::npos;
  });
}

TEST(Strokes, AreAsWideAsTheySay) {
  for (const char* text : {"R3b", "X12", "s-7 (4)", "b\xC3\xA4r", ""}) {
    const double height = 12, width = strokes_width(text, height);
    Extent box;
    for (const auto& stroke : strokes(text, height)) {
      EXPECT_GE(stroke.size(), 2U) << text;
      for (const Vec2& p : stroke) box.add(p);
    }
    if (std::string(text).empty()) continue;
    EXPECT_GE(box.low.x(), -width / 2 - 1e-9) << text;
    EXPECT_LE(box.high.x(), width / 2 + 1e-9) << text;
    EXPECT_LE(box.high.y(), height + 1e-9) << text;
    EXPECT_GE(box.low.y(), -height / 3 - 1e-9) << text;
  }
}

// Near a crown posts stand a hand apart: every number is on the sheet, on no other's nor on a post.
TEST(SettingOut, NumbersOfFeetCloseTogetherAreKeptApart) {
  Sample s;
  s.centring.feet.clear();
  for (int i = 0; i < 4; ++i)
    for (int j = 0; j < 4; ++j) {
      CentringFoot foot;
      foot.id = "R1-" + std::to_string(4 * i + j + 1);
      foot.at = {0.5 + 0.13 * i, 0.13 * j - 0.2, -0.8};
      foot.head = foot.at + Vec3(0, 0, 1);
      foot.held = (i + j) % 2 == 0;
      s.centring.feet.push_back(foot);
    }
  const Sheet sheet = setting_out_sheet(s.brief, s.assembly, s.centring, {}, {287, 200});
  std::vector<Extent> taken;
  const Colour post{20, 60, 110};
  for (const auto& item : sheet.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape == nullptr || !shape->pen.fill || shape->pen.fill->b != post.b) continue;
    Extent square;
    for (const Vec2& p : shape->rings.front()) square.add(p);
    taken.push_back(square);
  }
  ASSERT_EQ(taken.size(), 16U);
  std::size_t numbers = 0;
  for (const auto& item : sheet.items) {
    const auto* words = std::get_if<Words>(&item);
    if (words == nullptr || words->colour.b != post.b) continue;
    ++numbers;
    const Vec2 half(0.27 * words->size_mm * static_cast<double>(words->text.size()), 0);
    const Extent room{words->at - half - Vec2(0, 0.7 * words->size_mm), words->at + half};
    for (const Extent& other : taken)
      EXPECT_FALSE(room.low.x() < other.high.x() && other.low.x() < room.high.x() &&
                   room.low.y() < other.high.y() && other.low.y() < room.high.y())
          << words->text;
    taken.push_back(room);
  }
  EXPECT_EQ(numbers, 16U);
}

// A pair between the first two posts of R1, 60 mm to either side of them: what a foreman needs is
// where it goes, how high its bolts are and how long its boards.
TEST(SettingOut, BracesAreDrawnBesideTheirPostsAndTheirBoltsGiven) {
  Sample s;
  const auto post = [&](int k) {
    return *std::ranges::find(s.centring.sticks, "R1 post " + std::to_string(k), &Stick::id);
  };
  const Stick one = post(1), two = post(2);
  const Vec3 side(0, 0.06, 0);
  s.centring.sticks.push_back({one.id + "/" + two.id, "brace", one.from + Vec3(0, 0, 0.125),
                               two.from + Vec3(0, 0, 1.25), 0.025, 0.1, 0.112, side});
  s.centring.sticks.push_back({two.id + "/" + one.id, "brace", two.from + Vec3(0, 0, 0.2),
                               one.from + Vec3(0, 0, 0.9), 0.025, 0.1, 0.112, -side});
  const std::string csv = centring_parts_csv(s.brief, s.centring);
  const auto row = [&](const std::string& id) {
    const auto at = csv.find("\n" + id + ",");
    return csv.substr(at + 1, csv.find_first_of("\r\n", at + 1) - at - 1);
  };
  const double long_m = std::hypot(two.from.x() - one.from.x(), 1.125) + 0.224;
  EXPECT_NE(row(one.id + "/" + two.id).find("," + fixed(long_m, 4) + ","), std::string::npos);
  EXPECT_TRUE(row(one.id + "/" + two.id).ends_with(",0.125,1.250")) << row(one.id + "/" + two.id);
  EXPECT_TRUE(row(two.id + "/" + one.id).ends_with(",0.200,0.900"));
  EXPECT_TRUE(row(one.id).ends_with(",,"));
  const Sheet sheet = setting_out_sheet(s.brief, s.assembly, s.centring, {}, SheetSize{});
  std::vector<double> ys;
  for (const auto& item : sheet.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape == nullptr || !shape->pen.line || shape->pen.line->g != 140) continue;
    const Polygon& line = shape->rings.front();
    if ((line.front() - line.back()).norm() < 10) continue;  // in the key
    EXPECT_NEAR(line.front().y(), line.back().y(), 1e-9);
    ys.push_back(line.front().y());
  }
  const double mm_per_m = 1000 / setting_out_scale(s.brief, s.centring, SheetSize{});
  ASSERT_EQ(ys.size(), 2U);
  EXPECT_NEAR(std::abs(ys[0] - ys[1]), 0.12 * mm_per_m, 1e-6);
}

TEST(CutSheets, EveryPartIsCutOnceWithItsHoles) {
  const Sample s = nested_sample();
  double drawn = 0, wanted = 0;
  std::size_t outer = 0, inner = 0;
  for (std::size_t i = 0; i < s.centring.sheets.size(); ++i) {
    const DxfDrawing drawing = cut_sheet_dxf(s.brief, s.centring, i);
    for (const DxfLine* line : on_layer(drawing, "CUT_OUTER")) drawn += area(line->points);
    for (const DxfLine* line : on_layer(drawing, "CUT_INNER")) drawn += area(line->points);
    outer += on_layer(drawing, "CUT_OUTER").size();
    inner += on_layer(drawing, "CUT_INNER").size();
  }
  for (const SheetPart& part : s.centring.parts) wanted += area(part.outline);
  EXPECT_EQ(outer, s.centring.parts.size());
  EXPECT_EQ(inner, 6U);  // two in each splice
  EXPECT_NEAR(drawn * 1e-6, wanted, 1e-9);
}

// A 500 x 200 mm plate cut by a kerf of 0.3 mm: line 0.15 mm outside.
TEST(CutSheets, LaserLinesAllowForHalfTheKerf) {
  Sample s;
  s.brief.centring.cutter = "laser";
  s.brief.centring.tool_m = 0.0003;
  SheetPart plate;
  plate.outline = {{{0, 0}, {0.5, 0}, {0.5, 0.2}, {0, 0.2}},
                   {{{0.1, 0.1}, {0.1, 0.15}, {0.2, 0.15}, {0.2, 0.1}}}};
  const Regions cut = cut_lines(s.brief.centring, plate, {});
  ASSERT_EQ(cut.size(), 1U);
  EXPECT_NEAR(area(cut[0].outer), 0.5003 * 0.2003, 1e-9);
  ASSERT_EQ(cut[0].holes.size(), 1U);
  EXPECT_NEAR(-area(cut[0].holes[0]), 0.0997 * 0.0497, 1e-9);
  s.brief.centring.cutter = "router";
  EXPECT_NEAR(area(cut_lines(s.brief.centring, plate, {})), 0.1 - 0.005, 1e-12);
}

TEST(CutSheets, WordsStayOnTheirPart) {
  const Sample s = nested_sample();
  for (const CutSheet& sheet : s.centring.sheets) {
    for (const NestedPart& nested : sheet.parts) {
      const SheetPart& part = s.centring.parts[static_cast<std::size_t>(nested.part)];
      const Region lies = on_sheet(nested, part.outline);
      for (const auto& line : engraved(part, nested)) {
        if (line.size() == 2 && part.kind == "rib") continue;  // seat marks reach the edge
        for (const Vec2& p : line) EXPECT_TRUE(contains(lies, p)) << part.id;
      }
    }
  }
}

// "L" read on a part turned over is still an L: its foot points right of its stem, not left.
TEST(CutSheets, WordsOnAPartTurnedOverAreNotMirrored) {
  SheetPart part;
  part.outline.outer = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
  part.marks = {sample::words_on("L", {0.3, 0.2}, 0.4)};
  for (const bool flipped : {false, true}) {
    for (const double turn : {0.0, kPi}) {
      const NestedPart nested{0, {2, 3}, turn, flipped};
      const auto lines = engraved(part, nested);
      ASSERT_EQ(lines.size(), 1U);
      const Vec2 stem = lines[0][1] - lines[0][0], foot = lines[0][2] - lines[0][1];
      EXPECT_GT(stem.x() * foot.y() - stem.y() * foot.x(), 0) << flipped << turn;
      EXPECT_LT((lines[0][1] - on_sheet(nested, Vec2(0.3, 0.2))).norm(), 0.012);
    }
  }
}

TEST(CentringFiles, AreAllThere) {
  const Sample s = nested_sample();
  std::vector<std::string> paths;
  for (const OutputFile& file : centring_files(s.brief, s.assembly, s.centring, {})) {
    paths.push_back(file.path);
    EXPECT_EQ(file.bytes.find("n/a"), std::string::npos) << file.path;
  }
  for (const char* path :
       {"centring/sheet-1.dxf", "centring/sheet-1.svg", "centring/setting-out.svg",
        "centring/ribs-1.svg", "centring/sheets.svg", "centring/parts.csv", "centring/feet.csv"})
    EXPECT_NE(std::ranges::find(paths, path), paths.end()) << path;
  EXPECT_TRUE(centring_files(s.brief, s.assembly, {}, {}).empty());
}

TEST(CentringSheets, NumberEveryFootAndNameEveryRib) {
  const Sample s = nested_sample();
  std::vector<Regions> plan;
  for (const Block& block : s.assembly.blocks) plan.push_back(silhouette(block.solid, plan_view()));
  const Sheet sheet = setting_out_sheet(s.brief, s.assembly, s.centring, plan, SheetSize{});
  for (const Rib& rib : s.centring.ribs) EXPECT_TRUE(says(sheet, rib.id)) << rib.id;
  for (const CentringFoot& foot : s.centring.feet) EXPECT_TRUE(says(sheet, foot.id)) << foot.id;
  EXPECT_TRUE(says(sheet, "-1.600"));  // of the first foot, x
  const auto ribs = rib_sheets(s.assembly, s.centring, SheetSize{});
  ASSERT_FALSE(ribs.empty());
  for (const SheetPart& part : s.centring.parts)
    EXPECT_TRUE(std::ranges::any_of(ribs, [&](const Sheet& r) { return says(r, part.id); }))
        << part.id;
}

std::string line_of(const std::string& csv, const std::string& foot) {
  const auto at = csv.find("," + foot + ",");
  return at == std::string::npos ? "" : csv.substr(at, csv.find('\n', at) - at);
}

// A foot held of which nothing is asked has a word, one that is not held has nothing, the others a
// figure.
TEST(CentringFiles, WhatHoldsNothingIsSaidInWords) {
  Sample s = nested_sample();
  ASSERT_GE(s.centring.feet.size(), 3U);
  for (std::size_t i = 0; i < 2; ++i) s.centring.feet[i].held_down = true;
  s.centring.foot_findings[0].hold_up_n = 3;  // 0.00 kN
  s.centring.foot_findings[1].hold_up_n = 1200;
  std::string csv;
  for (const OutputFile& file : centring_files(s.brief, s.assembly, s.centring, {}))
    if (file.path == "centring/feet.csv") csv = file.bytes;
  const std::string none = line_of(csv, s.centring.feet[0].id),
                    some = line_of(csv, s.centring.feet[1].id),
                    free = line_of(csv, s.centring.feet[2].id);
  EXPECT_TRUE(none.ends_with(",none") || none.ends_with(",none\r")) << none;
  EXPECT_NE(some.find(",1200.0"), std::string::npos) << some;
  EXPECT_TRUE(free.ends_with(",,") || free.ends_with(",,\r")) << free;
  const Sheet sheet = setting_out_sheet(s.brief, s.assembly, s.centring, {}, SheetSize{});
  EXPECT_TRUE(says(sheet, "none"));
  EXPECT_TRUE(says(sheet, "1.20"));
  for (const auto& item : sheet.items)
    if (const auto* words = std::get_if<Words>(&item)) {
      EXPECT_NE(words->text, "0.00");
    }
}

// A steep rib: the names of its blocks would lie on the line of their seats.
TEST(CentringSheets, NamesOfBlocksLieClearOfTheSeats) {
  Sheet sheet{200, 200, "", {}};
  Labels labels;
  const Vec2 a(50, 110), b(60, 100);
  labels.block_line(a, b, 0.6);
  labels.put_over(sheet, (a + b) / 2, "yard-01", 1.7, kBlack);
  labels.put_over(sheet, (a + b) / 2, "yard-02", 1.7, kBlack);
  ASSERT_EQ(sheet.items.size(), 2U);
  const auto& first = std::get<Words>(sheet.items[0]);
  const auto& second = std::get<Words>(sheet.items[1]);
  const double right = first.at.x() + 0.62 * 1.7 * 7 / 2;
  const double seat_there = 110 - (right - 50);  // it rises by one in one
  EXPECT_LE(first.at.y(), seat_there);
  EXPECT_GT(first.at.y(), seat_there - 3) << "no further off than it must be";
  EXPECT_LE(second.at.y(), first.at.y() - 0.75 * 1.7 + 1e-9);
}

// Twelve points within a millimetre: every one is named, no two names meet.
TEST(CentringSheets, NamesInACrowdAreLedOff) {
  Sheet sheet{200, 200, "", {}};
  Labels labels;
  constexpr double kSize = 1.8;
  for (int k = 0; k < 12; ++k)
    EXPECT_TRUE(labels.put_led(sheet, Vec2(100 + 0.1 * k, 100), "tie " + std::to_string(10 + k),
                               kSize, 1.6, 40, kBlack));
  std::vector<Vec2> at;
  for (const auto& item : sheet.items)
    if (const auto* words = std::get_if<Words>(&item)) at.push_back(words->at);
  ASSERT_EQ(at.size(), 12U);
  EXPECT_GT(sheet.items.size(), 12U);  // with lines
  for (std::size_t i = 0; i < at.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      EXPECT_TRUE(std::abs(at[i].x() - at[j].x()) >= 0.62 * kSize * 6 - 1e-9 ||
                  std::abs(at[i].y() - at[j].y()) >= 0.75 * kSize - 1e-9)
          << i << " " << j;
}

TEST(CentringSheets, ScalesAreThoseThatAreDrawn) {
  const Sample s = nested_sample();
  const std::string scale = "1:" + std::to_string(std::lround(rib_scale(s.centring, SheetSize{})));
  const auto tells = [](const Sheet& sheet, const std::string& text) {
    return std::ranges::any_of(sheet.items, [&](const auto& item) {
      const auto* words = std::get_if<Words>(&item);
      return words != nullptr && words->text.find(text) != std::string::npos;
    });
  };
  EXPECT_TRUE(tells(rib_sheets(s.assembly, s.centring, SheetSize{})[0], scale + ".")) << scale;
  const std::string plan =
      "1:" + std::to_string(std::lround(setting_out_scale(s.brief, s.centring, SheetSize{})));
  EXPECT_TRUE(tells(setting_out_sheet(s.brief, s.assembly, s.centring, {}, SheetSize{}), plan))
      << plan;
}

TEST(CentringReport, SaysWhatFailsAndWhenTheAimIsMissed) {
  const Sample s = nested_sample();
  const std::string summary = centring_summary(s.centring);
  EXPECT_NE(summary.find("3 ribs along the flow and 2 across"), std::string::npos);
  EXPECT_NE(summary.find("some checks fail: the worst uses 112 %"), std::string::npos);
  Centring unjudged = s.centring;
  unjudged.checks.clear();
  EXPECT_NE(centring_summary(unjudged).find("Not checked under load"), std::string::npos);
}

TEST(CentringReport, PagesAreTheSameEveryTime) {
  const Sample s = nested_sample();
  const auto pdf = [&] {
    Pages pages("a bridge", 1);
    add_centring(pages, s.brief, s.assembly, s.centring, {{"v1", 0.45, true, true, 0.6}});
    EXPECT_GT(pages.page(), 2);
    return pages.finish();
  };
  EXPECT_EQ(pdf(), pdf());
}

TEST(CentringJson, HasTheKeysAndNothingMadeUp) {
  const Sample s = nested_sample();
  const auto json = centring_json(s.centring);
  EXPECT_EQ(json["ribs"], 5);
  EXPECT_EQ(json["sheets"], s.centring.sheets.size());
  EXPECT_EQ(json["load_max_n"], 15800.0);
  EXPECT_EQ(json["deflection_max_m"], 0.0011);
  EXPECT_EQ(json["feet"].size(), 9U);
  EXPECT_EQ(json["utilisation"], 1.116);
  EXPECT_TRUE(centring_json({})["utilisation"].is_null());
  const SelfHeld held{"a1", kPi / 6, true, true, 0.4};
  const auto by_itself = centring_json({}, {held})["self_held"][0];
  EXPECT_NEAR(by_itself["bed_slope_deg"].get<double>(), 30, 1e-12);
  EXPECT_EQ(by_itself["timber_saved_m2"], 0.4);
  std::size_t cut = 0;
  for (const auto& sheet : json["cut"]) cut += sheet["parts"].size();
  EXPECT_EQ(cut, s.centring.parts.size());
}

}  // namespace
}  // namespace skewback::deliver
