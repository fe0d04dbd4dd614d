#include "deliver/told_apart.hpp"

#include <gtest/gtest.h>

#include <random>

namespace skewback::deliver {
namespace {

std::string pair(double a, double b, const Writing& write) {
  const TwoFigures two = told_apart(a, b, write);
  return two.first + " / " + two.second;
}

TEST(ToldApart, FiguresThatDifferReadDifferently) {
  const Writing mpa = decimals(2, " MPa", 1e-6);
  EXPECT_EQ(pair(1.5e6, 1e6, mpa), "1.50 MPa / 1.00 MPa");
  EXPECT_EQ(pair(0.3921e6, 0.3889e6, mpa), "0.392 MPa / 0.389 MPa");
  EXPECT_EQ(pair(1.3496, 1.35, decimals(2)), "1.3496 / 1.35");
  EXPECT_EQ(pair(1.35, 1.35, decimals(2)), "1.35 / 1.35");
  EXPECT_EQ(pair(450.2, 450, decimals(0, " kg")), "450.2 kg / 450 kg");
  EXPECT_EQ(pair(-0.004, 0.004, decimals(2)), "-0.004 / 0.004");
  EXPECT_EQ(pair(1 + 1e-12, 1, decimals(2)), "1.00 / 1.00") << "nobody can tell";
}

// Whatever the two are, they read alike only where they differ by less than a unit of the last
// decimal that may be shown.
TEST(ToldApart, ReadsAlikeOnlyBelowTheLastDecimal) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> value(0.1, 10), power(-10, 0);
  for (int i = 0; i < 20000; ++i) {
    const double a = value(random), b = a * (1 + std::pow(10.0, power(random)));
    const TwoFigures two = told_apart(a, b, decimals(2));
    if (two.first == two.second) {
      EXPECT_LT(b - a, 1e-8) << a << " " << b;
    } else {
      EXPECT_LT(std::stod(two.first), std::stod(two.second)) << a << " " << b;
    }
  }
}

TEST(ToldApart, NowAndBefore) {
  EXPECT_EQ(now_and_before(2.25, 3.5, decimals(2)), "2.25, before 3.50");
  EXPECT_EQ(now_and_before(0.3912, 0.3909, decimals(2)), "0.3912, before 0.3909");
  EXPECT_EQ(now_and_before(0.3912, 0.3911, decimals(2)), "0.39, as before");
  EXPECT_EQ(now_and_before(0.3912, 0.3912, decimals(2)), "0.39, as before");
  EXPECT_EQ(now_and_before(0, 0, decimals(2)), "0.00, as before");
}

TEST(ToldApart, AHundredPercentIsOne) {
  EXPECT_EQ(percent_used(0.87), "87 %");
  EXPECT_EQ(percent_used(1), "100 %");
  EXPECT_EQ(percent_used(1.003), "100.3 %");
  EXPECT_EQ(percent_used(0.99996), "99.996 %");
  EXPECT_EQ(percent_used(1.2), "120 %");
  EXPECT_EQ(percent_used(1 + 1e-12), "just over 100 %");
  EXPECT_EQ(percent_used(1 - 1e-12), "just under 100 %");
  EXPECT_EQ(percent_used(0.874, 1), "87.4 %");
}

}  // namespace
}  // namespace skewback::deliver
