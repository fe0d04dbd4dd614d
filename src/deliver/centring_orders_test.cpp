#include "deliver/centring_orders.hpp"

#include <gtest/gtest.h>

#include "deliver/centring_files.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/sample_centring.hpp"

namespace skewback::deliver {
namespace {

bool says(const Sheet& sheet, const std::string& part) {
  return std::ranges::any_of(sheet.items, [&](const auto& item) {
    const auto* words = std::get_if<Words>(&item);
    return words != nullptr && words->text.find(part) != std::string::npos;
  });
}

// Two posts of 2 m from 4.8 m, 4 mm at each cut: 792 mm left; one of 5 m is longer.
CutList three_posts(const CentringRequest& request) {
  Centring c;
  for (const auto& [id, length] : {std::pair("P1-1", 2.0), {"P1-2", 2.0}, {"P1-3", 5.0}})
    c.sticks.push_back({id, "post", Vec3::Zero(), Vec3(0, 0, length), 0.1, 0.1});
  return cut_list(request, c);
}

TEST(CentringOrders, TimberLengthByLength) {
  const CentringRequest request;
  const CutList cut = three_posts(request);
  EXPECT_EQ(timber_csv(request, cut),
            "section_mm,stock_m,length,order,id,cut_mm,left_mm\r\n"
            "100 x 100,4.800,1,1,P1-1,2000.0,\r\n"
            "100 x 100,4.800,1,2,P1-2,2000.0,792.0\r\n"
            "100 x 100,longer than the stock,,,P1-3,5000.0,\r\n");
  const auto sheets = timber_sheets(request, cut, SheetSize{});
  ASSERT_EQ(sheets.size(), 1U);
  EXPECT_TRUE(says(sheets[0], "P1-2  2000"));
  EXPECT_TRUE(says(sheets[0], "792"));
  EXPECT_TRUE(says(sheets[0], "P1-3: 5000 mm, longer than the stock"));
}

TEST(CentringOrders, ManyLengthsGoOnOverColumnsAndSheets) {
  const CentringRequest request;
  Centring c;
  for (int i = 0; i < 100; ++i)
    c.sticks.push_back({"P" + std::to_string(i), "post", Vec3::Zero(), Vec3(0, 0, 4), 0.1, 0.1});
  const SheetSize size;
  const auto sheets = timber_sheets(request, cut_list(request, c), size);
  EXPECT_EQ(sheets.size(), 2U);
  std::size_t posts = 0;
  for (const Sheet& sheet : sheets)
    for (const auto& item : sheet.items) {
      const auto* words = std::get_if<Words>(&item);
      if (words == nullptr) continue;
      if (words->text.ends_with("  4000")) ++posts;
      EXPECT_LE(words->at.y(), size.height_mm - 5);
    }
  EXPECT_EQ(posts, 100U);
}

TEST(CentringOrders, FixingsAndWhatIsMissing) {
  Fixings fixings;
  fixings.rows.push_back({"bolt",
                          "splice of a rib",
                          "M10 x 80",
                          "4.6",
                          8,
                          0.0531,
                          0,
                          {"R1ab", "R1bc"},
                          "one in each hole, of both"});
  fixings.missing = {"Sills."};
  EXPECT_EQ(fixings_csv(fixings),
            "what,where,number,size_mm,grade,through_mm,force_n,at,rule\r\n"
            "bolt,splice of a rib,8,M10 x 80,4.6,53.1,,R1ab R1bc,\"one in each hole, of both\"\r\n"
            "not in the model,,,,,,,,Sills.\r\n");
}

// A packing of 50 mm at the end of R1, against the side of R2: drawn on both, filled on its own.
TEST(CentringOrders, PackingsBetweenLegsAreDrawn) {
  const Assembly assembly = sample::arch_assembly({});
  Centring centring = sample::small_centring(assembly);
  const Rib& rib = centring.ribs[0];
  LegPacking packing;
  packing.id = "K1";
  packing.rib = rib.id;
  packing.other = "R2";
  packing.from = rib.place.to_world(rib.top.back());
  packing.to = packing.from + 0.05 * rib.place.x;
  packing.short_m = packing.long_m = 0.05;
  packing.width_m = packing.height_m = 0.1;
  packing.force_n = 1234;
  const auto sheets_without = rib_sheets(assembly, centring, SheetSize{});
  for (const Sheet& sheet : sheets_without) EXPECT_FALSE(says(sheet, "packing between legs"));
  centring.leg_packings = {packing};
  bool own = false, other = false;
  for (const Sheet& sheet : rib_sheets(assembly, centring, SheetSize{})) {
    EXPECT_TRUE(says(sheet, "packing between legs"));
    own = own || says(sheet, "K1 1.2 kN");
    for (const auto& item : sheet.items) {
      const auto* words = std::get_if<Words>(&item);
      other = other || (words != nullptr && words->text == "K1");
    }
  }
  EXPECT_TRUE(own);
  EXPECT_TRUE(other);
  Brief brief;
  brief.plan.outline = {{-3, -0.5}, {3, -0.5}, {3, 0.5}, {-3, 0.5}};
  EXPECT_TRUE(says(setting_out_sheet(brief, assembly, centring, {}, SheetSize{}), "K1"));
  centring.leg_packings.clear();
  EXPECT_FALSE(says(setting_out_sheet(brief, assembly, centring, {}, SheetSize{}), "K1"));
}

TEST(CentringOrders, AreAmongTheFiles) {
  const Assembly assembly = sample::arch_assembly({});
  const Centring centring = sample::small_centring(assembly);
  Brief brief;
  brief.plan.outline = {{-3, -0.5}, {3, -0.5}, {3, 0.5}, {-3, 0.5}};
  const auto files = centring_files(brief, assembly, centring, {});
  for (const char* path : {"centring/fixings.csv", "centring/timber.csv", "centring/timber-1.svg"})
    EXPECT_EQ(std::ranges::count(files, path, &OutputFile::path), 1) << path;
}

}  // namespace
}  // namespace skewback::deliver
