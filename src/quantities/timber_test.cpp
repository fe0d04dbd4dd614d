#include "quantities/timber.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// T-12.1's plywood figure: 500 kg x 0.68 = 340 kg CO2e; sawn 100 kg x 0.28 = 28.
TEST(CentringTimber, CarbonOfSheetsAndSawnTimber) {
  Quantities q;
  q.carbon_kg = {1, 2, 3};
  q.remarks = {"centring, bolts and lifting gear are not in these figures"};
  add_centring({}, {40, 500, 0.24, 100}, q);
  ASSERT_EQ(q.lines.size(), 2u);
  EXPECT_NEAR(q.lines[0].carbon_kg[1], 340, 1e-9);
  EXPECT_NEAR(q.lines[1].carbon_kg[1], 28, 1e-9);
  EXPECT_NEAR(q.carbon_kg[1], 2 + 368, 1e-9);
  EXPECT_LE(q.carbon_kg[0], q.carbon_kg[1]);
  EXPECT_LE(q.carbon_kg[1], q.carbon_kg[2]);
  EXPECT_EQ(q.remarks[0].rfind("bolts", 0), 0u);
  Brief own;
  own.carbon.timber.own = 0.1;
  Quantities declared;
  add_centring(own, {0, 0, 0.24, 100}, declared);
  EXPECT_NEAR(declared.carbon_kg[0], 10, 1e-9);
  EXPECT_NEAR(declared.carbon_kg[2], 10, 1e-9);
}

// By hand: 11 sheets at 95 are 1,045; 0.24 m3 at 600 are 144.
TEST(CentringTimber, MoneyBySheetAndByCubicMetre) {
  Brief own;
  own.rates.plywood_per_sheet = 95;
  Quantities q;
  q.money = 7;
  add_centring(own, {40, 500, 0.24, 100, 11}, q);
  ASSERT_TRUE(q.lines[0].money);
  EXPECT_NEAR(*q.lines[0].money, 1045, 1e-9);
  EXPECT_FALSE(q.lines[1].money);
  EXPECT_NEAR(*q.money, 1052, 1e-9);
  EXPECT_EQ(q.not_priced, std::vector<std::string>{"centring: sawn timber"});
  own.rates.sawn_per_m3 = 600;
  Quantities both;
  add_centring(own, {40, 500, 0.24, 100, 11}, both);
  EXPECT_NEAR(*both.money, 1189, 1e-9);
  EXPECT_TRUE(both.not_priced.empty());
}

TEST(CentringTimber, SaysWhatIsBoughtAndWhatIsUsed) {
  CentringTimber timber{40, 500, 0.24, 100, 11, 67.2, 58.13};
  Quantities q;
  add_centring({}, timber, q);
  EXPECT_EQ(q.lines[1].source.rfind("67.2 m bought in whole lengths, 58.1 m of it used", 0), 0u)
      << q.lines[1].source;
}

}  // namespace
}  // namespace skewback
