#include "print/fresh.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "base/constants.hpp"
#include "print/fresh_buckling.hpp"

namespace skewback {
namespace {

using testing::HasSubstr;

constexpr double kWeight = 2200 * kGravity;  // N/m3, the default mix

FreshLayer layer(double height_m, double time_s, double area_m2 = 0.1) {
  FreshLayer out;
  out.height_m = height_m;
  out.area_m2 = area_m2;
  out.volume_m3 = area_m2 * height_m;
  out.time_s = time_s;
  return out;
}

const PrintCheck& check(const FreshStack& stack, const std::string& name) {
  for (const PrintCheck& c : stack.checks) {
    if (c.name == name) return c;
  }
  throw std::runtime_error("no check " + name);
}

PrintRequest without_growth() {
  PrintRequest print;
  print.fresh_yield_growth_pa_s = 0;
  print.fresh_stiffness_growth_pa_s = 0;
  return print;
}

TEST(FreshStrength, AStackWithoutGrowthYieldsAtItsFoot) {
  PrintRequest print = without_growth();
  print.fresh_yield_pa = 1e3;
  const FreshStack stack = judge_fresh(print, std::vector<FreshLayer>(5, layer(0.01, 40)), {});
  EXPECT_EQ(stack.worst_layer, 0);
  EXPECT_NEAR(stack.stress_pa[0], kWeight * 0.05, 1e-9);
  EXPECT_NEAR(stack.stress_pa[3], kWeight * 0.02, 1e-9);
  EXPECT_NEAR(stack.worst_use, kWeight * 0.05 / (std::sqrt(3) * 1e3), 1e-12);
  EXPECT_NEAR(stack.worst_time_s, 200, 1e-9);
  EXPECT_NEAR(stack.height_m, 0.05, 1e-15);
  EXPECT_TRUE(check(stack, "fresh strength").passes());
  EXPECT_EQ(check(stack, "fresh strength").place, "layer 1 of 5, 3 min after it was laid");
}

// The time that is named does, a second less does not, and it is what the growth asks for: under
// the last of n layers the foot is (n - 1) layers old.
TEST(FreshStrength, LayersThatWaitLongEnoughStand) {
  PrintRequest print;
  print.fresh_yield_pa = 500;
  print.fresh_yield_growth_pa_s = 2;
  print.layer_time_min_s = 10;
  const int n = 50;
  const auto stack = [&](double time_s) {
    return judge_fresh(print, std::vector<FreshLayer>(n, layer(0.01, time_s)), {});
  };
  const FreshStack now = stack(12);
  ASSERT_FALSE(check(now, "fresh strength").passes());
  ASSERT_TRUE(now.layer_time_needed_s);
  const double lacking = kWeight * 0.01 * n / std::sqrt(3) - print.fresh_yield_pa;
  EXPECT_EQ(*now.layer_time_needed_s, std::ceil(lacking / print.fresh_yield_growth_pa_s / (n - 1)));
  EXPECT_TRUE(check(stack(*now.layer_time_needed_s), "fresh strength").passes());
  EXPECT_FALSE(check(stack(*now.layer_time_needed_s - 1), "fresh strength").passes());
  EXPECT_TRUE(check(now, "fresh strength").waiting);
  print.layer_time_max_s = *now.layer_time_needed_s - 1;  // then the joint is a cold one
  EXPECT_FALSE(stack(12).layer_time_needed_s);
}

// Von Mises of a layer that leans: the whole tensor of pressure and shear.
TEST(FreshStrength, LeanAddsShear) {
  const double lean = 0.35, weight = kWeight * 0.01;
  FreshLayer leaning = layer(0.01, 40);
  leaning.lean_rad = lean;
  Mat3 stress = Mat3::Zero();
  stress(2, 2) = -weight * std::cos(lean);
  stress(0, 2) = stress(2, 0) = weight * std::sin(lean);
  const Mat3 deviator = stress - stress.trace() / 3 * Mat3::Identity();
  const FreshStack stack = judge_fresh(without_growth(), {leaning}, {});
  EXPECT_NEAR(stack.stress_pa[0], std::sqrt(1.5) * deviator.norm(), 1e-9);
}

// A weight out of the middle by a sixth of the depth doubles the pressure at the edge of a
// rectangle: the kern.
TEST(FreshStrength, WeightAtTheEdgeOfTheKernDoublesThePressure) {
  const double b = 0.5, d = 0.2;
  FreshLayer low = layer(1e-9, 40, b * d), high = layer(0.02, 40, b * d);
  low.second_moment_m4 = high.second_moment_m4 = b * d * d * d / 12;
  low.edge_m = high.edge_m = d / 2;
  high.middle_m = {0, d / 6};
  const FreshStack stack = judge_fresh(without_growth(), {low, high}, {});
  EXPECT_NEAR(stack.stress_pa[0], 2 * kWeight * 0.02, 1e-4);
  EXPECT_NEAR(stack.stress_pa[1], kWeight * 0.02, 1e-9);
}

// Against a walk through the printing in small steps, every place of every layer at every moment.
TEST(FreshStrength, NoMomentBetweenIsWorse) {
  std::mt19937 random(20250604);
  std::uniform_real_distribution<double> spread(0.5, 2);
  for (int trial = 0; trial < 30; ++trial) {
    PrintRequest print;
    print.fresh_yield_pa = 400 * spread(random);
    print.fresh_yield_growth_pa_s = 3 * spread(random);
    std::vector<FreshLayer> layers;
    for (int i = 0; i < 12; ++i) {
      layers.push_back(layer(0.01 * spread(random), 40 * spread(random), 0.1 * spread(random)));
    }
    double worst = 0;
    constexpr int kPlaces = 20;
    for (int place = 0; place <= kPlaces; ++place) {
      const double part = static_cast<double>(place) / kPlaces;
      for (std::size_t i = 0; i < layers.size(); ++i) {
        double volume = layers[i].volume_m3, age = 0;
        for (std::size_t last = i;;) {
          worst = std::max(worst, kWeight * volume / layers[i].area_m2 / std::sqrt(3) /
                                      (print.fresh_yield_pa + print.fresh_yield_growth_pa_s * age));
          if (++last == layers.size()) break;
          age += (1 - part) * layers[last - 1].time_s + part * layers[last].time_s;
          volume += layers[last].volume_m3;
        }
      }
    }
    // places at either end are among those walked, and between them the age is a straight line
    EXPECT_NEAR(judge_fresh(print, layers, {}).worst_use, worst, 1e-12 * worst) << trial;
  }
}

TEST(FreshStrength, TheGrowthItAsksForIsJustEnough) {
  PrintRequest print;
  print.fresh_yield_pa = 300;
  print.fresh_yield_growth_pa_s = 1;
  std::vector<FreshLayer> layers(40, layer(0.01, 40));
  layers[20].time_s = 15;
  const FreshStack stack = judge_fresh(print, layers, {});
  EXPECT_FALSE(check(stack, "fresh strength").passes());
  ASSERT_TRUE(stack.growth_needed_pa_s);
  print.fresh_yield_growth_pa_s = *stack.growth_needed_pa_s;
  EXPECT_NEAR(judge_fresh(print, layers, {}).worst_use, 1, 1e-12);
}

TEST(FreshStrength, NoGrowthMendsALayerThatFailsAsItIsLaid) {
  PrintRequest print;
  print.fresh_yield_pa = 100;  // holds 8 mm
  FreshLayer thick = layer(0.007, 40);
  thick.height_max_m = 0.009;
  const FreshStack stack = judge_fresh(print, {layer(0.007, 40), thick}, {});
  EXPECT_FALSE(check(stack, "fresh layer").passes());
  EXPECT_EQ(check(stack, "fresh layer").place, "layer 2 of 2, as it is laid");
  EXPECT_FALSE(judge_fresh(print, {layer(0.009, 40)}, {}).growth_needed_pa_s);
}

TEST(FreshColumn, UniformMixIsGreenhillsColumn) {
  FreshLayer slice = layer(0.01, 40);
  slice.second_moment_m4 = 2e-5;
  const FreshStack stack = judge_fresh(without_growth(), std::vector<FreshLayer>(60, slice), {});
  const double expected = column_height_m(100e3, 2e-5, 0.1, 2200);
  ASSERT_TRUE(stack.column_height_limit_m);
  EXPECT_NEAR(*stack.column_height_limit_m, expected, 1e-5 * expected);
  EXPECT_NEAR(check(stack, "column of fresh mix").value, 0.6, 1e-12);
}

// With a stiffness that grows, the column stands higher than if all were as it left the nozzle,
// and lower than if all were as stiff as its foot.
TEST(FreshColumn, GrowingStiffnessLiesBetweenThatOfTopAndFoot) {
  PrintRequest print;
  FreshLayer slice = layer(0.01, 40);
  slice.second_moment_m4 = 2e-5;
  const std::vector<FreshLayer> layers(60, slice);
  const double limit = *judge_fresh(print, layers, {}).column_height_limit_m;
  EXPECT_GT(limit, column_height_m(print.fresh_stiffness_pa, 2e-5, 0.1, 2200));
  EXPECT_LT(limit,
            column_height_m(print.fresh_stiffness_pa + print.fresh_stiffness_growth_pa_s * 60 * 40,
                            2e-5, 0.1, 2200));
}

TEST(FreshColumn, ReserveScalesWithWeightAndStiffness) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> power(-3, 3);
  std::vector<ColumnPiece> pieces;
  for (int i = 0; i < 9; ++i) {
    pieces.push_back(
        {0.1 * std::exp(0.3 * power(random)), std::exp(power(random)), std::exp(power(random))});
  }
  const double once = column_reserve(pieces);
  for (ColumnPiece& piece : pieces) piece.weight_n *= 1e4;
  EXPECT_NEAR(column_reserve(pieces), once / 1e4, 1e-8 * once / 1e4);
  for (ColumnPiece& piece : pieces) piece.stiffness_nm2 *= 1e7;
  EXPECT_NEAR(column_reserve(pieces), once * 1e3, 1e-8 * once * 1e3);
}

// By itself it buckles at (7.837 E t2 / (12 rho g))^(1/3) = 183 mm; between webs 250 mm apart it
// carries more than 4 pi2 E / (12 (1 - 0.09)) (45 / 250)2 at its foot, 543 mm of mix, for that is
// if it were pressed as much all the way up.
TEST(FreshWall, PlateIsHeldByItsWebs) {
  const FreshWall leaf{0.045, 0.25, 0, "leaf 2"};
  const double held = 4 * kPi * kPi * 1e5 / (12 * 0.91) * 0.18 * 0.18 / kWeight;
  const FreshStack stack =
      judge_fresh(without_growth(), std::vector<FreshLayer>(30, layer(0.01, 40)), {leaf});
  const PrintCheck& wall = check(stack, "wall of fresh mix");
  EXPECT_TRUE(wall.passes());
  EXPECT_EQ(wall.place, "leaf 2, while layer 30 of 30 is laid");
  ASSERT_EQ(stack.warnings.size(), 1U);
  EXPECT_THAT(stack.warnings[0], HasSubstr("alone the least would buckle at 183 mm (leaf 2)"));
  const FreshStack higher =
      judge_fresh(without_growth(), std::vector<FreshLayer>(54, layer(0.01, 40)), {leaf});
  EXPECT_GT(*higher.wall_height_limit_m, held);
  EXPECT_LT(*higher.wall_height_limit_m, 2 * held);
}

TEST(FreshWall, TheWorstWallCounts) {
  const std::vector<FreshLayer> layers(30, layer(0.01, 40));
  const FreshWall leaf{0.045, 0.25, 0, "leaf"}, flap{0.045, 0, 0.25, "flap"},
      alone{0.045, 0, 0, "wall alone"};
  const auto limit = [&](const std::vector<FreshWall>& walls) {
    return *judge_fresh(without_growth(), layers, walls).wall_height_limit_m;
  };
  EXPECT_NEAR(limit({alone}), column_height_m(100e3, 0.045 * 0.045 * 0.045 / 12, 0.045, 2200),
              1e-5);
  EXPECT_LT(limit({alone}), limit({flap}));
  EXPECT_LT(limit({flap}), limit({leaf}));
  EXPECT_EQ(limit({leaf, alone, flap}), limit({alone}));
  EXPECT_THAT(check(judge_fresh(without_growth(), layers, {leaf, flap}), "wall of fresh mix").place,
              HasSubstr("flap"));
}

// Whatever the height judged, the limit it gives is not over the height that really buckles.
TEST(FreshWall, LimitsAreOnTheSafeSide) {
  const FreshWall leaf{0.03, 0.25, 0, "leaf"};
  int buckles = 0;
  for (int n = 1; buckles == 0; ++n) {
    const std::vector<FreshLayer> layers(static_cast<std::size_t>(n), layer(0.01, 40));
    if (!check(judge_fresh(without_growth(), layers, {leaf}), "wall of fresh mix").passes()) {
      buckles = n;
    }
  }
  for (const double part : {0.2, 0.5, 0.9, 1.1, 2.0, 4.0}) {
    const std::vector<FreshLayer> layers(static_cast<std::size_t>(part * buckles), layer(0.01, 40));
    EXPECT_LT(*judge_fresh(without_growth(), layers, {leaf}).wall_height_limit_m, 0.01 * buckles)
        << part;
  }
}

// Quick layers, then slow ones that give the wall time to set: it is worst as the first of them
// begins, no older than if that were quick too.
TEST(FreshWall, TheWorstMomentNeedNotBeTheLast) {
  PrintRequest print;
  const FreshWall leaf{0.045, 0.25, 0, "leaf"};
  std::vector<FreshLayer> layers(41, layer(0.01, 10));
  const FreshStack quick = judge_fresh(print, layers, {leaf});
  layers.resize(40);
  layers.resize(45, layer(0.01, 3600));
  const FreshStack all = judge_fresh(print, layers, {leaf});
  EXPECT_EQ(check(all, "wall of fresh mix").place, "leaf, while layer 41 of 45 is laid");
  EXPECT_NEAR(*all.wall_height_limit_m, *quick.wall_height_limit_m, 1e-6);
}

// Growth of stiffness helps, and less than if all the wall were as stiff as its foot.
TEST(FreshWall, StiffnessGrowsWithAge) {
  PrintRequest print = without_growth();
  const FreshWall leaf{0.045, 0.25, 0, "leaf"};
  const std::vector<FreshLayer> layers(60, layer(0.01, 40));
  const double green = *judge_fresh(print, layers, {leaf}).wall_height_limit_m;
  print.fresh_stiffness_growth_pa_s = 100;
  const double grown = *judge_fresh(print, layers, {leaf}).wall_height_limit_m;
  print.fresh_stiffness_growth_pa_s = 0;
  print.fresh_stiffness_pa += 100 * 59 * 40;
  const double foot = *judge_fresh(print, layers, {leaf}).wall_height_limit_m;
  EXPECT_GT(grown, 1.2 * green);
  EXPECT_LT(grown, foot);
}

TEST(FreshTimes, LeastAndGreatestAreNamed) {
  PrintRequest print;
  print.layer_time_min_s = 20;
  print.layer_time_max_s = 180;
  const FreshStack stack =
      judge_fresh(print, {layer(0.01, 40), layer(0.01, 15), layer(0.01, 200)}, {});
  EXPECT_TRUE(check(stack, "layer time, least").sought);  // waiting brings it there
  const PrintCheck &least = check(stack, "layer time, least"),
                   &most = check(stack, "layer time, greatest");
  EXPECT_FALSE(least.passes());
  EXPECT_EQ(least.place, "layer 2 of 3");
  EXPECT_NEAR(least.value, 15, 1e-12);
  EXPECT_FALSE(most.passes());
  EXPECT_EQ(most.place, "layer 3 of 3");
  EXPECT_TRUE(judge_fresh(print, {}, {}).checks.empty());
}

// After the last layer nobody waits; before it the nozzle did.
TEST(FreshTimes, TheLastLayerIsNotWaitedFor) {
  PrintRequest print;
  print.layer_time_min_s = 60;
  print.layer_time_max_s = 180;
  const auto least = [&](const std::vector<FreshLayer>& layers) {
    return check(judge_fresh(print, layers, {}), "layer time, least");
  };
  EXPECT_TRUE(least({layer(0.01, 60), layer(0.01, 60), layer(0.01, 25)}).passes());
  EXPECT_FALSE(least({layer(0.01, 60), layer(0.01, 90), layer(0.01, 25)}).passes());
  EXPECT_FALSE(least({layer(0.01, 25), layer(0.01, 60), layer(0.01, 60)}).passes());
}

}  // namespace
}  // namespace skewback
