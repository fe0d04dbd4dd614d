#include "erect/transport.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "erect/sample_slab.hpp"
#include "erect/shelves.hpp"

namespace skewback {
namespace {

Transport carry(const Brief& brief, const std::vector<Vec3>& sizes) {
  std::vector<Block> blocks;
  for (std::size_t i = 0; i < sizes.size(); ++i)
    blocks.push_back(sample::slab("b" + std::to_string(i + 1), sizes[i]));
  const Assembly assembly = sample::slabs(blocks);
  return plan_transport(brief, assembly, sample::in_turn(assembly), nullptr);
}

TEST(Transport, RowsTakeTheLeastLength) {
  // all across in one row of 2 m; two rows of three along would take twice that
  const std::vector<ShelfItem> six(6, {2, 0.4});
  const auto laid = lay_in_rows(six, 2.0, 2.5, 0.02);
  ASSERT_TRUE(laid);
  for (std::size_t i = 0; i < 6; ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const Vec2 gap = ((*laid)[i].at - (*laid)[j].at).cwiseAbs();
      const double half = ((*laid)[i].turned ? 0.4 : 2.0) / 2 + ((*laid)[j].turned ? 0.4 : 2.0) / 2;
      const double wide = ((*laid)[i].turned ? 2.0 : 0.4) / 2 + ((*laid)[j].turned ? 2.0 : 0.4) / 2;
      EXPECT_TRUE(gap.x() > half - 1e-9 || gap.y() > wide - 1e-9) << i << " on " << j;
    }
  }
  EXPECT_FALSE(lay_in_rows(six, 1.99, 2.5, 0.02));
  EXPECT_FALSE(lay_in_rows(six, 2.41, 2.4, 0.02)) << "2.0 + 0.02 + 0.4 is the least";
  EXPECT_TRUE(lay_in_rows(six, 2.42, 2.4, 0.02)) << "five across, and one turned";
}

TEST(Transport, NoPalletIsOverItsLoad) {
  Brief brief = sample::handling_brief();
  const Transport t = carry(brief, std::vector<Vec3>(11, {0.5, 0.4, 0.7}));  // 336 kg each
  std::size_t blocks = 0;
  for (const Pallet& p : t.pallets) {
    EXPECT_LE(p.mass_kg - brief.transport.pallet_mass_kg, brief.transport.pallet_load_kg);
    EXPECT_FALSE(p.own_bearers);
    blocks += p.blocks.size();
  }
  EXPECT_EQ(blocks, 11U);
  EXPECT_EQ(t.pallets.size(), 6U) << "two of 336 kg under 1000 kg, three would be over";
}

TEST(Transport, BlocksStayOnTheirPallet) {
  const Brief brief = sample::handling_brief();
  const Vec3 size(0.5, 0.4, 0.3);
  for (const Pallet& p : carry(brief, std::vector<Vec3>(9, size)).pallets) {
    for (const BeddedBlock& b : p.blocks) {
      const Vec3 middle = b.to_pallet(Vec3(0, 0, 2));
      const Vec3 half = (b.to_pallet.R * size).cwiseAbs() / 2;
      EXPECT_LE(std::abs(middle.x()) + half.x(), p.length_m / 2 + 1e-9);
      EXPECT_LE(std::abs(middle.y()) + half.y(), p.width_m / 2 + 1e-9);
      EXPECT_NEAR(middle.z() - half.z(), 0.1, 1e-9) << "on its bearers";
    }
  }
}

TEST(Transport, NeededFirstIsNearestTheTail) {
  Brief brief = sample::handling_brief();
  brief.transport.lorry_load_kg = 4000;
  const Transport t = carry(brief, std::vector<Vec3>(20, {2.2, 0.4, 0.3}));  // 634 kg
  std::map<int, int> seen;
  int last = -1;
  ASSERT_GT(t.lorries.size(), 1U);
  for (const LorryLoad& lorry : t.lorries) {
    EXPECT_LE(lorry.mass_kg, brief.transport.lorry_load_kg);
    double front = 1e9;
    for (const LoadedPallet& p : lorry.pallets) {
      EXPECT_EQ(p.pallet, last + 1) << "in the order needed";
      last = p.pallet;
      EXPECT_LE(p.at.x(), front + 1e-9);
      front = p.at.x();
      ++seen[p.pallet];
    }
    EXPECT_GE(lorry.straps, 1);
  }
  EXPECT_EQ(seen.size(), t.pallets.size());
}

TEST(Transport, BearersStraddleTheCentreOfGravity) {
  Brief brief = sample::handling_brief();
  const Transport t = carry(brief, {{2.4, 0.4, 0.3}});
  const BeddedBlock& b = t.pallets.at(0).blocks.at(0);
  EXPECT_TRUE(t.pallets[0].own_bearers);
  ASSERT_EQ(b.bearers.size(), 2U);
  EXPECT_NEAR(b.bearers[0].x(), -b.bearers[1].x(), 1e-9);
  EXPECT_GT(std::abs(b.bearers[0].x()), 0.3);
  // half its width over the height of its middle
  EXPECT_NEAR(b.tips_at_g, 0.2 / 0.15, 1e-9);
  EXPECT_GT(t.utilisation, 0);
}

TEST(Transport, WhatDoesNotFitIsSaid) {
  Brief brief = sample::handling_brief();
  brief.transport.lorry_length_m = 2;
  const Transport t = carry(brief, {{2.6, 0.4, 0.3}});
  ASSERT_EQ(t.lorries.size(), 1U);
  ASSERT_FALSE(t.remarks.empty());
  EXPECT_NE(t.remarks[1].find("does not go on the lorry"), std::string::npos);
}

}  // namespace
}  // namespace skewback
