#include "brief/units.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brief/brief.hpp"

namespace skewback {
namespace {

double read(const Units& units, const std::string& text, const std::string& unit) {
  const Result<double> r = units.read(text, unit);
  EXPECT_TRUE(r.ok()) << text << ": " << (r.ok() ? "" : describe(r.faults().front()));
  return r.ok() ? *r : 0;
}

// Definitions of the units: international foot and inch 0.3048 m and 0.0254 m, pound 0.45359237 kg
// (international yard and pound agreement, 1959); standard gravity 9.80665 m/s2 (CGPM 1901).
TEST(Units, ConvertsExactly) {
  const Units units;
  EXPECT_DOUBLE_EQ(read(units, "8 ft", "m"), 2.4384);
  EXPECT_DOUBLE_EQ(read(units, "1 in", "m"), 0.0254);
  EXPECT_DOUBLE_EQ(read(units, "45 mm", "m"), 0.045);
  EXPECT_DOUBLE_EQ(read(units, "+2.6m", "m"), 2.6);
  EXPECT_DOUBLE_EQ(read(units, " -4.5e-1  m ", "m"), -0.45);
  EXPECT_DOUBLE_EQ(read(units, "5 kPa", "Pa"), 5000);
  EXPECT_DOUBLE_EQ(read(units, "40 N/mm2", "Pa"), 40e6);
  EXPECT_DOUBLE_EQ(read(units, "0.9 kN/m", "N m-1"), 900);
  EXPECT_DOUBLE_EQ(read(units, "2250 kg/m3", "kg m-3"), 2250);
  EXPECT_DOUBLE_EQ(read(units, "2.25 t/m³", "kg m-3"), 2250);
  EXPECT_DOUBLE_EQ(read(units, "1 lb", "kg"), 0.45359237);
  EXPECT_NEAR(read(units, "1 lbf/ft2", "Pa"), 0.45359237 * 9.80665 / (0.3048 * 0.3048), 1e-9);
  EXPECT_NEAR(*read_quantity("1 lbf", "N"), 0.45359237 * 9.80665, 1e-12);
}

TEST(Units, RefusesWhatIsNoPureMultiple) {
  const Units units;
  for (const char* text :
       {"", " ", "m", "5", "5 m-1", "5 lg(re m)", "5 m 3 m", "5 3 m", "nan m", "inf m", "5 kPa",
        "5 m @ 3", "five m", "5 m/0", "1e999 m", "0x10 m", "5,0 m", "5 m since 2000-01-01"})
    EXPECT_FALSE(units.read(text, "m").ok()) << text;
  EXPECT_FALSE(units.read("20 degC", "K").ok());
  EXPECT_FALSE(units.read(std::string(5000, '(') + "m", "m").ok());
}

TEST(Units, FaultNamesBothDimensions) {
  const Fault fault = Units().read("5 kPa", "m").faults().front();
  EXPECT_THAT(fault.found, ::testing::HasSubstr("a pressure"));
  EXPECT_THAT(fault.expected, ::testing::HasSubstr("a length"));
}

}  // namespace
}  // namespace skewback
