// Beds as the mason sees them, and what goes between them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "deliver/sample_survey.hpp"
#include "deliver/survey_files.hpp"

namespace skewback::deliver {
namespace {

using sample::rows_of;
using sample::said;
using sample::Surveyed;

bool looks_along_z(const BedView& view) { return view.mirrored; }

TEST(BedView, LooksFromTheBlockThatIsLaidFirst) {
  const Surveyed s;
  const BedView west = bed_view(s.assembly, {}, 1), east = bed_view(s.assembly, {}, 6);
  EXPECT_EQ(s.assembly.blocks[static_cast<std::size_t>(west.laid)].id, "v1");
  EXPECT_EQ(s.assembly.blocks[static_cast<std::size_t>(east.laid)].id, "v7");
  EXPECT_TRUE(looks_along_z(west));  // the joint's z runs from a into b: v1 to v2, v6 to v7
  EXPECT_FALSE(looks_along_z(east));
  const BedView key = bed_view(s.assembly, {}, 3);
  EXPECT_EQ(s.assembly.blocks[static_cast<std::size_t>(key.comes)].id, "v4");
  const BedView turned = bed_view(s.assembly, {1, 2, 5, 4, 6, 7, 8, 0, 0}, 3);  // v4 before v3
  EXPECT_EQ(s.assembly.blocks[static_cast<std::size_t>(turned.laid)].id, "v4");
}

/// Right of one who looks along d with `up` above is d x up.
TEST(BedView, LeftIsThatOfTheEye) {
  const Surveyed s;
  for (const int j : {1, 2, 3, 5, 6}) {
    const Frame& frame = s.assembly.joints[static_cast<std::size_t>(j)].frame;
    const BedView view = bed_view(s.assembly, {}, j);
    const Vec3 ahead = looks_along_z(view) ? frame.z : Vec3(-frame.z);
    const Vec3 flow = s.assembly.blocks[static_cast<std::size_t>(view.comes)].mass.centroid -
                      s.assembly.blocks[static_cast<std::size_t>(view.laid)].mass.centroid;
    EXPECT_GT(flow.dot(ahead), 0) << j;
    const double right = frame.x.dot(ahead.cross(frame.y));
    EXPECT_NEAR(view.from_left_m(0.2) - view.from_left_m(0), 0.2 * right, 1e-12) << j;
    EXPECT_NEAR(view.from_left_m(0), 0.5, 1e-9) << j;  // the arch is one metre wide
  }
}

TEST(Packers, OfAJointAddUp) {
  const Surveyed s;
  const auto rows = rows_of(packers_csv(s.assembly, {}, s.refit.packed));
  ASSERT_EQ(rows.size(), 1 + s.refit.packed.packers.size());
  std::map<std::string, double> in_file;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    ASSERT_EQ(rows[i].size(), rows[0].size());
    in_file[rows[i][0]] += std::stod(rows[i][9]);
    double of_stock = 0;
    std::istringstream parts(rows[i][8]);
    for (std::string part; std::getline(parts, part, '+');) of_stock += std::stod(part);
    EXPECT_NEAR(of_stock, std::stod(rows[i][9]), 1e-9) << rows[i][8];
  }
  // 4 places of 5 + 3 + 1 and 2 of 3 mm, by hand
  for (const char* joint : {"v1 | v2", "v3 | v4", "v6 | v7"})
    EXPECT_NEAR(in_file[joint], 4 * 9 + 2 * 3, 1e-9) << joint;
}

TEST(OtherPads, OnTheDrawnOneOrInItsPlace) {
  const Surveyed s;
  Assembly assembly = s.assembly;
  assembly.joints[3].pad = Pad{0.008, 1e9, 1e8};
  Packed packed;
  packed.pads = {{3, {0.005, 0.001}}, {4, {0.005}, 0.008}};
  assembly.joints[4].pad = assembly.joints[3].pad;
  const auto rows = rows_of(other_pads_csv(assembly, packed));
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[1], (std::vector<std::string>{"v3 | v4", "5 + 1", "under them", "6.00", "14.00"}));
  EXPECT_EQ(rows[2], (std::vector<std::string>{"v4 | v5", "5", "left out", "-3.00", "5.00"}));
}

TEST(Packers, StockCountsATenthMoreRoundedUp) {
  const Surveyed s;
  const std::vector<StockNeed> need = stock_needed(s.refit.packed);
  ASSERT_EQ(need.size(), 3U);
  const int used[] = {12, 18, 12}, to_have[] = {14, 20, 14};  // 12 + 1.2, 18 + 1.8, 12 + 1.2
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_EQ(need[k].used, used[k]) << k;
    EXPECT_EQ(need[k].to_have, to_have[k]) << k;
  }
  EXPECT_GT(need[0].thickness_m, need[1].thickness_m);
}

TEST(Packers, AreNumberedLowerEdgeFirstFromTheLeft) {
  const Surveyed s;
  for (const int j : packed_joints(s.refit.packed)) {
    const auto list = numbered(bed_view(s.assembly, {}, j), s.refit.packed);
    ASSERT_EQ(list.size(), 6U);
    for (std::size_t i = 0; i < list.size(); ++i) {
      EXPECT_EQ(list[i].number, static_cast<int>(i) + 1);
      EXPECT_EQ(list[i].packer->upper, i >= 2);
      if (i == 0 || i == 2) continue;
      EXPECT_GT(list[i].from_left_m, list[i - 1].from_left_m);
    }
  }
}

TEST(Packers, EverySheetShowsItsJoints) {
  const Surveyed s;
  const auto pages = packer_sheets(s.d.brief, s.assembly, {}, s.refit, s.plan);
  ASSERT_GE(pages.size(), 2U);
  std::string all;
  for (const Sheet& page : pages) all += said(page);
  for (const char* text : {"Joint v1 | v2", "Joint v3 | v4", "Joint v7 | v6", "5 + 3 + 1",
                           "seen from v7 (laid) towards v6", "+11.2", "Upper edge"})
    EXPECT_NE(all.find(text), std::string::npos) << text;
  for (const Sheet& page : pages)
    for (const auto& item : page.items)
      if (const auto* words = std::get_if<Words>(&item)) {
        EXPECT_LT(words->at.y(), page.height_mm) << words->text;
        EXPECT_GT(words->at.y(), 0) << words->text;
      }
  EXPECT_TRUE(packer_sheets(s.d.brief, s.assembly, {}, Refit{}, s.plan).empty());
}

/// Slings of the block that comes, by hand: 100 mm wide, the middle of a plate of 150 mm 120 mm
/// from one of them and 130 mm from the other side's.
TEST(Packers, WhatASlingIsDrawnOutPastIsSaid) {
  const Surveyed s;
  const int joint = packed_joints(s.refit.packed).front();
  const BedView view = bed_view(s.assembly, {}, joint);
  const std::vector<NumberedPacker> packers = numbered(view, s.refit.packed);
  const Frame& frame = s.assembly.joints[static_cast<std::size_t>(joint)].frame;
  Brief brief = s.d.brief;
  brief.lifting.sling_width_m = 0.1;
  brief.packing.plate_length_m = 0.15;
  const auto said_with = [&](double off_m) {
    LiftPlan lifts;
    lifts.lifts.emplace_back();
    lifts.lifts.back().id = s.assembly.blocks[static_cast<std::size_t>(view.comes)].id;
    lifts.lifts.back().slings = {
        frame.to_world(Vec2(packers.front().packer->along_m + off_m, 0.05))};
    std::string all;
    for (const Sheet& page : packer_sheets(brief, s.assembly, {}, s.refit, s.plan, &lifts))
      all += said(page);
    return all;
  };
  const std::string name = s.assembly.blocks[static_cast<std::size_t>(view.comes)].id;
  EXPECT_NE(said_with(0.12).find("No. 1"), std::string::npos);
  EXPECT_NE(said_with(0.12).find("a sling of " + name + " is drawn out here"), std::string::npos);
  EXPECT_EQ(said_with(-0.13).find("No. 1"), std::string::npos);
}

}  // namespace
}  // namespace skewback::deliver
