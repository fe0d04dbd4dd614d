// Least depth for many loads, held to a published least thickness and to a thrust line by hand.
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "ring.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

// Source: Cocchetti and Rizzi 2020, table 3: semicircle, weight on the centreline, t/R 0.107426.
// Weights do not change with the depth here, so the share of any depth is t/R over that depth's.
TEST(PublishedDepth, SemicircleWithItsWeightOnTheCentreline) {
  Ring ring;
  ring.thickness = 0.3;
  ring.voussoirs = 200;
  Assembly arch = make_arch(ring);
  const double half = ring.embrace / ring.voussoirs / 2;
  for (int i = 0; i < ring.voussoirs; ++i) {
    const double middle = joint_angle(ring, i) + half;
    arch.blocks[std::size_t(i) + 1].mass.centroid =
        std::sin(half) / half * Vec3(std::cos(middle), 0, std::sin(middle));
  }
  const DepthNeeds needs = depth_needed(arch, {.near = 1e-4});
  ASSERT_TRUE(needs.share.has_value());
  EXPECT_NEAR(*needs.share * ring.thickness, 0.107426, 3e-5);
  EXPECT_NEAR(needs.joint_depth_m.at(7), *needs.share * ring.thickness, 1e-12);
  EXPECT_EQ(needs.governing, 0);
}

struct Bow {  // parabola with level weight, joints upright
  double span = 8, rise = 1.6, depth = 0.5, weight_n = 40e3;
  int blocks = 16;
};

Assembly make_bow(const Bow& bow) {
  Assembly assembly;
  const auto height = [&](double x) {
    return 4 * bow.rise * x * (bow.span - x) / (bow.span * bow.span);
  };
  const double step = bow.span / bow.blocks;
  for (int i = -1; i <= bow.blocks; ++i) {
    Block block;
    block.id = "b" + std::to_string(i + 1);
    block.fixed = i < 0 || i == bow.blocks;
    const double x = (i + 0.5) * step;
    block.density = 1000;
    block.mass.volume = bow.weight_n / bow.blocks / kGravity / block.density;
    block.mass.centroid = {x, 0, height(x)};
    assembly.blocks.push_back(block);
  }
  const double h = bow.depth / 2;
  for (int i = 0; i <= bow.blocks; ++i) {
    Joint joint;
    joint.a = i;
    joint.b = i + 1;
    joint.frame = {{i * step, 0, height(i * step)}, Vec3::UnitY(), Vec3::UnitZ(), Vec3::UnitX()};
    joint.contact = {{{{-0.5, -h}, {0.5, -h}, {0.5, h}, {-0.5, h}}, {}}};
    joint.friction = 10;
    assembly.joints.push_back(joint);
  }
  return assembly;
}

LoadCase at_crown(const Bow& bow, const std::string& id, double force_n) {
  LoadCase load;
  load.id = id;
  for (const int block : {bow.blocks / 2, bow.blocks / 2 + 1})
    load.live.push_back({block, {bow.span / 2, 0, bow.rise}, {0, 0, -force_n / 2}});
  return load;
}

// By hand. The thrust line of weight W, level, and P at the crown lies over the parabola of rise f
// by e(x) = z0 + P x / 2H - c x (L - x),  c = 4 f / L^2 - W / 2HL,  x <= L/2. Least greatest |e|
// over H and z0 puts e(0) = e(L/2) and e(L/4) as far below (Chebyshev): P / 2H = c L / 2, and twice
// that greatest |e| is the depth  c L^2 / 16 = f P / (2 (2 P + W)).
double bow_depth(const Bow& bow, double P) { return bow.rise * P / (2 * (2 * P + bow.weight_n)); }

TEST(PublishedDepth, ParabolaUnderAPointLoadAtItsCrown) {
  const Bow bow;
  for (const double P : {4e3, 20e3, 60e3}) {
    Assembly arch = make_bow(bow);
    arch.cases = {at_crown(bow, "crown", P)};
    const DepthNeeds needs = depth_needed(arch, {.live_factor = 1.35, .near = 1e-4});
    ASSERT_TRUE(needs.share.has_value()) << P;
    const double depth = *needs.share * bow.depth, hand = bow_depth(bow, 1.35 * P);
    EXPECT_GE(depth, hand * (1 - 1e-7)) << P;
    EXPECT_LE(depth, hand * (1 + 1.1e-4)) << P;
    const std::set<int> hinges = {0, 4, 8, 12, 16};  // where the line touches, by hand
    EXPECT_TRUE(hinges.contains(needs.cases[0].joint)) << needs.cases[0].joint;
  }
}

// The share is that of the worst case, whatever the order; the lighter ones are only known to need
// no more.
TEST(PublishedDepth, TheWorstOfManyCasesGoverns) {
  const Bow bow;
  Assembly arch = make_bow(bow);
  LoadCase dead;
  dead.id = "dead";
  arch.cases = {at_crown(bow, "light", 5e3), dead, at_crown(bow, "heavy", 30e3),
                at_crown(bow, "middling", 12e3)};
  const DepthNeeds needs = depth_needed(arch);
  ASSERT_TRUE(needs.share.has_value());
  EXPECT_EQ(needs.governing, 2);
  EXPECT_NEAR(*needs.share * bow.depth, bow_depth(bow, 1.35 * 30e3),
              0.011 * bow_depth(bow, 1.35 * 30e3));
  for (const DepthNeed& need : needs.cases) {
    ASSERT_TRUE(need.share.has_value()) << need.id;
    EXPECT_LE(*need.share, *needs.share) << need.id;
  }
  EXPECT_TRUE(needs.cases[1].at_most);  // funicular under its weight: least share tried was enough
  EXPECT_FALSE(needs.cases[2].at_most);
  for (const LoadCase& load : arch.cases) {  // each alone needs no more than it was said to
    Assembly alone = arch;
    alone.cases = {load};
    const DepthNeeds one = depth_needed(alone);
    const auto& said = needs.cases[std::size_t(&load - arch.cases.data())];
    EXPECT_LE(*one.share, *said.share * 1.011) << load.id;
  }
}

TEST(PublishedDepth, ALoadThatNeedsMoreThanAllIsNamed) {
  Bow bow;
  bow.depth = 0.2;
  Assembly arch = make_bow(bow);
  const double P = 30e3;  // by hand 0.40 m
  ASSERT_GT(bow_depth(bow, 1.35 * P), bow.depth);
  arch.cases = {at_crown(bow, "light", 4e3), at_crown(bow, "heavy", P)};
  const DepthNeeds needs = depth_needed(arch);
  EXPECT_FALSE(needs.share.has_value());
  EXPECT_EQ(needs.unheld, std::vector<int>{1});
  EXPECT_EQ(needs.governing, 1);
  ASSERT_TRUE(needs.cases[0].share.has_value());
  EXPECT_NEAR(*needs.cases[0].share * bow.depth, bow_depth(bow, 1.35 * 4e3),
              0.011 * bow_depth(bow, 1.35 * 4e3));
}

}  // namespace
}  // namespace skewback
