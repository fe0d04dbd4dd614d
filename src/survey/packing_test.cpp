#include "survey/packing.hpp"

#include <gtest/gtest.h>

#include <functional>
#include <random>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "survey/packing_beds.hpp"
#include "survey/packing_stock.hpp"
#include "survey/sample_give.hpp"
#include "survey/sample_packing.hpp"

namespace skewback {
namespace {

PackingRequest exact() {  // nothing is given away
  PackingRequest request = sample::half_mm();
  request.slack_m = request.squeeze_m = 1e-5;
  return request;
}

AsMade random_errors(const Assembly& assembly, std::size_t supports, double size,
                     std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> any(-size, size);
  AsMade made = as_drawn(assembly, supports);
  const auto vec = [&](double m) {
    return Vec3(m * any(random), m * any(random), m * any(random));
  };
  for (std::size_t s = 0; s < supports; ++s) {
    for (const Block& block : assembly.blocks)
      if (block.fixed && block.place.arm == static_cast<int>(s))
        made.supports[s] = rigid({vec(1), vec(0.2)}, centre_of_gravity(block));
  }
  for (BedError& bed : made.on_b) {
    bed.height_m = 0.1 * any(random);
    bed.slope = {0.1 * any(random), 0.1 * any(random)};
    for (double& corner : bed.corner_m) corner = 0.03 * any(random);
  }
  for (double& pad : made.pad_m) pad = 0.04 * any(random);
  return made;
}

TEST(PackerStock, TakesFewestPiecesClosestToTheGap) {
  const PackerStock stock{sample::half_mm()};  // 1, 2, 3, 5, 10 mm; half a millimetre either way
  EXPECT_TRUE(stock.fill(0.0005).empty());
  EXPECT_EQ(stock.fill(0.0006), std::vector<double>{0.001});
  EXPECT_EQ(stock.fill(0.0026), std::vector<double>{0.003});
  EXPECT_EQ(stock.fill(0.0040), (std::vector<double>{0.003, 0.001}));
  EXPECT_EQ(stock.fill(0.0130), (std::vector<double>{0.010, 0.003}));
  EXPECT_EQ(stock.fill(0.0250), (std::vector<double>{0.010, 0.010, 0.005}));
}

TEST(PackerStock, StaysBelowTheGapWhereNothingFits) {
  PackingRequest request;
  request.stock_m = {0.004};
  const PackerStock stock(request);
  EXPECT_TRUE(stock.fill(0.002).empty());
  EXPECT_EQ(stock.fill(0.006), std::vector<double>{0.004});
  EXPECT_EQ(stock.fill(0.0082), (std::vector<double>{0.004, 0.004}));
}

/// Against every multiset of up to six pieces.
TEST(PackerStock, AgreesWithTryingAll) {
  const PackingRequest request;
  const PackerStock stock(request);
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> any(0.0006, 0.024);
  for (int i = 0; i < 200; ++i) {
    const double gap = any(random);
    std::size_t fewest = 99;
    const std::function<void(std::size_t, std::size_t, double)> all = [&](std::size_t from,
                                                                          std::size_t pieces,
                                                                          double sum) {
      if (sum >= gap - request.slack_m && sum <= std::min(gap + request.squeeze_m, request.most_m))
        fewest = std::min(fewest, pieces);
      for (std::size_t k = from; k < request.stock_m.size() && pieces < 6; ++k)
        all(k, pieces + 1, sum + request.stock_m[k]);
    };
    all(0, 0, 0);
    EXPECT_EQ(stock.fill(gap).size(), fewest) << gap;
  }
}

TEST(PackerPlaces, StandHalfAPlateInAndNoFurtherApartThanTheSpacing) {
  const JointCorners bed = {Vec2(-0.5, -0.2), Vec2(0.5, -0.2), Vec2(0.5, 0.2), Vec2(-0.5, 0.2)};
  const std::vector<PackerPlace> places = packer_places(bed, {});
  ASSERT_EQ(places.size(), 8u);  // 0.85 m between the ends: three spaces of 0.283 m
  EXPECT_NEAR(places[0].along_m, -0.425, 1e-12);
  EXPECT_NEAR(places[1].along_m, -0.425 + 0.85 / 3, 1e-12);
  EXPECT_NEAR(places[3].along_m, 0.425, 1e-12);
  EXPECT_FALSE(places[3].upper);
  EXPECT_TRUE(places[4].upper);
  const std::array<double, 4> gap = {0, 1, 3, 2};
  EXPECT_NEAR(places[0].in, 0.05 / 0.4, 1e-12);  // half of a plate of 0.1 m
  EXPECT_NEAR(gap_at(places[0], gap), 0.075 + 2 * 0.125, 1e-12);
  EXPECT_NEAR(gap_at(places[7], gap), 2.925 - 2 * 0.125, 1e-12);
}

TEST(PackerPlaces, PlatesOfAThinBedLeaveEachOtherRoom) {
  const JointCorners bed = {Vec2(-0.5, 0), Vec2(0.5, 0), Vec2(0.5, 0.12), Vec2(-0.5, 0.12)};
  for (const PackerPlace& place : packer_places(bed, {})) EXPECT_EQ(place.in, 0.25);
}

/// A wedge that shuts at the upper edge, 4 mm at the lower one: by similar triangles a plate whose
/// middle lies 50 mm in of 400 is 3.5 mm, and holds the wedge as it is.
TEST(PackerPlaces, AWedgeIsHeldAtTheMiddleOfThePlates) {
  const JointCorners bed = {Vec2(-0.5, 0), Vec2(0.5, 0), Vec2(0.5, 0.4), Vec2(-0.5, 0.4)};
  const std::vector<PackerPlace> places = packer_places(bed, {});
  const std::array<double, 4> wedge = {0.004, 0.004, 0, 0};
  std::vector<double> thickness;
  for (const PackerPlace& place : places) {
    thickness.push_back(place.upper ? 0 : gap_at(place, wedge));
    EXPECT_NEAR(thickness.back(), place.upper ? 0 : 0.0035, 1e-12);
  }
  const std::array<double, 4> held = held_open(places, thickness);
  for (std::size_t k = 0; k < 4; ++k) EXPECT_NEAR(held[k], wedge[k], 1e-12);
}

TEST(PackerPlaces, OneInTheMiddleOfAShortBed) {
  const JointCorners bed = {Vec2(0, 0), Vec2(0.1, 0), Vec2(0.1, 0.2), Vec2(0, 0.2)};
  const std::vector<PackerPlace> places = packer_places(bed, {});
  ASSERT_EQ(places.size(), 2u);
  EXPECT_NEAR(places[0].along_m, 0.05, 1e-12);
}

TEST(PackerPlaces, ThicknessesOnALineHoldThatLine) {
  const JointCorners bed = {Vec2(-0.5, 0), Vec2(0.5, 0), Vec2(0.5, 0.4), Vec2(-0.5, 0.4)};
  const std::vector<PackerPlace> places = packer_places(bed, {});
  std::vector<double> thickness;
  const std::array<double, 4> line = {0.001, 0.004, 0.003, 0.002};
  for (const PackerPlace& place : places) thickness.push_back(gap_at(place, line));
  const std::array<double, 4> held = held_open(places, thickness);
  for (std::size_t k = 0; k < 4; ++k) EXPECT_NEAR(held[k], line[k], 1e-12);
}

TEST(Packing, PacksNothingOfADrawingAsDrawn) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  const Packed packed = pack_up(model, as_drawn(tripod, 3), exact());
  EXPECT_TRUE(packed.goes_in) << packed.reason;
  EXPECT_TRUE(packed.packers.empty());
  EXPECT_EQ(packed.packed_joints, 0);
  EXPECT_EQ(packed.objective_m, 0);
}

/// By hand: 2 mm too far apart, nothing given away: 2 mm of packers all over one bed, at a footing.
TEST(Packing, ARowTooShortTakesOneBedOfPackers) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = 0.002;
  const Packed packed = pack_up(row.model, row.made, exact());
  EXPECT_TRUE(packed.goes_in) << packed.reason;
  EXPECT_EQ(packed.packed_joints, 1);
  EXPECT_NEAR(packed.packers_m, 0.002, 1.2e-5);  // each joint gives 0.01 mm
  ASSERT_EQ(packed.packers.size(), 8u);
  for (const Packer& packer : packed.packers) {
    EXPECT_TRUE(packer.joint == 0 || packer.joint == 5);
    EXPECT_EQ(packer.from_stock, std::vector<double>{0.002});
  }
  EXPECT_NEAR(packed.thickest_m, 0.002, 1e-15);
}

/// The same with a millimetre of slack in each of six joints: they take it all.
TEST(Packing, SlackOfAllJointsComesBeforePackers) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = 0.002;
  EXPECT_TRUE(pack_up(row.model, row.made, sample::half_mm()).packers.empty());
  row.made.supports[1].t.x() = 0.0045;  // 3 mm of slack: 1.5 mm is left to pack
  const Packed packed = pack_up(row.model, row.made, sample::half_mm());
  EXPECT_TRUE(packed.goes_in) << packed.reason;
  EXPECT_EQ(packed.packed_joints, 1);
  const double cheapest = std::min(packer_weight(row.model, 0), packer_weight(row.model, 5));
  EXPECT_NEAR(packed.objective_m, cheapest * 0.0015, 1e-9);
}

/// By hand: a row too long by 5 mm between footings cannot be packed at all; six joints give 3 mm.
TEST(Packing, SaysByHowMuchItIsTooTight) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = -0.005;
  const Packed packed = pack_up(row.model, row.made, sample::half_mm(), {.springers = false});
  EXPECT_FALSE(packed.goes_in);
  EXPECT_NEAR(packed.objective_m, kBeyondCost * 0.002, kBeyondCost * 1e-8);
  EXPECT_NE(packed.reason.find("too tight by"), std::string::npos) << packed.reason;
}

/// With springers that may be made to fit, one of them is made thinner by what is too much.
TEST(Packing, ASpringerMadeToFitTakesWhatIsTooTight) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = -0.005;
  row.made.on_b[0].height_m = -0.004;  // the springer that is there says nothing of the new one
  const Packed packed = pack_up(row.model, row.made, sample::half_mm());
  EXPECT_TRUE(packed.goes_in) << packed.reason;
  ASSERT_GE(packed.springers.size(), 1u);
  double thinner = 0;
  for (std::size_t i = 0; i < packed.springers.size(); ++i) {
    // at the west footing (joint 0) the springer is b and its bed moves on, at the east one back
    const double way = packed.springer_joints[i] == 0 ? 1 : -1;
    EXPECT_EQ(packed.springers[i], packed.springer_joints[i] == 0 ? 0 : 1);
    thinner += way * packed.springer[i].height_m;
  }
  EXPECT_GT(thinner, 0.002);  // what the joints do not give
  EXPECT_LT(thinner, 0.005 + 1e-9);
  for (const JointLie& lie : packed.joints) EXPECT_GE(lie.gap_min_m(), -0.0005 - 2e-6);
}

/// 40 mm too far apart: two springings and four joints hold 25 mm each at most, and 3 mm of slack.
TEST(Packing, KeepsToTheMostThatPackersMayFill) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = 0.040;
  const Packed packed = pack_up(row.model, row.made, sample::half_mm());
  EXPECT_TRUE(packed.goes_in) << packed.reason;
  EXPECT_EQ(packed.packed_joints, 2);
  EXPECT_LE(packed.thickest_m, 0.025 + 1e-12);
  row.made.supports[1].t.x() = 0.170;  // more than six beds of 25.5 mm
  const Packed over = pack_up(row.model, row.made, sample::half_mm(), {.springers = false});
  EXPECT_FALSE(over.goes_in);
  EXPECT_NE(over.reason.find("would take packers of"), std::string::npos) << over.reason;
  EXPECT_FALSE(pack_up(row.model, row.made, {}).springers.empty());
}

/// A footing 5 mm low: upright beds slide, six joints of 3 mm / sqrt 2 are far more than enough.
TEST(Packing, ALowFootingIsTakenBySteps) {
  sample::FiveCubes row;
  row.made.supports[1].t.z() = -0.005;
  const Packed packed = pack_up(row.model, row.made, exact());
  EXPECT_TRUE(packed.goes_in) << packed.reason;
  EXPECT_TRUE(packed.packers.empty());
  EXPECT_EQ(packed.objective_m, 0);
  row.made.supports[1].t.z() =
      -0.015;  // six steps of 2.12 mm are 12.7 mm: blocks have to be turned
  EXPECT_GT(pack_up(row.model, row.made, exact()).objective_m, 1e-4);
}

TEST(Packing, AnyRigidMoveOfAllSupportsNeedsNoPacker) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> any(-1, 1);
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  for (int i = 0; i < 20; ++i) {
    AsMade made = as_drawn(tripod, 3);
    const Rigid X = rigid({0.05 * Vec3(any(random), any(random), any(random)),
                           3e-4 * Vec3(any(random), any(random), any(random))},
                          {2, -1, 0});
    for (Rigid& support : made.supports) support = X;
    const Packed packed = pack_up(model, made, exact());
    EXPECT_TRUE(packed.goes_in) << packed.reason;
    EXPECT_TRUE(packed.packers.empty());
  }
}

/// Every answer holds what it says: limits at every corner and packer, thicknesses from the stock.
TEST(Packing, WhatGoesInHoldsEveryLimit) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  const PackingRequest request;
  int packed_ones = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const AsMade made = random_errors(tripod, 3, 0.02, seed);
    const Packed packed = pack_up(model, made, request);
    EXPECT_NEAR(packed.objective_m, packed.bound_m, 1e-8) << seed;
    if (!packed.goes_in) continue;
    packed_ones += packed.packed_joints > 0 ? 1 : 0;
    const std::vector<JointLie> joints =
        lies(model, with_springers(model, made, packed), packed.moves);
    std::vector<char> has(joints.size(), 0);
    for (const Packer& packer : packed.packers) {
      has[static_cast<std::size_t>(packer.joint)] = 1;
      // straight between the corners: 3 and 2 are the upper ones, from left to right; and in from
      // its edge by half a plate, a quarter of the bed at most
      const auto j = static_cast<std::size_t>(packer.joint);
      const JointCorners& c = model.corners()[j];
      const std::array<double, 4>& gap = joints[j].gap_m;
      const std::size_t left = packer.upper ? 3 : 0, right = packer.upper ? 2 : 1;
      const double t = (packer.along_m - c[left].x()) / (c[right].x() - c[left].x());
      const Vec2 here = c[left] + t * (c[right] - c[left]);
      const Vec2 there = c[3 - left] + t * (c[3 - right] - c[3 - left]);
      const double in = std::min(0.25, request.plate_depth_m / 2 / (there - here).norm());
      const double edge = gap[left] + t * (gap[right] - gap[left]),
                   other = gap[3 - left] + t * (gap[3 - right] - gap[3 - left]);
      EXPECT_NEAR(packer.gap_m, edge + in * (other - edge), 1e-12) << seed;
      EXPECT_LE(packer.thickness_m(), packer.gap_m + request.squeeze_m + 2e-6) << seed;
      EXPECT_GE(packer.thickness_m(), packer.gap_m - request.slack_m - 2e-6) << seed;
      EXPECT_LE(packer.thickness_m(), request.most_m + 1e-12);
    }
    for (std::size_t j = 0; j < joints.size(); ++j) {
      EXPECT_GE(joints[j].gap_min_m(), -request.squeeze_m - 2e-6) << seed;
      EXPECT_LE(joints[j].step_max_m(), request.step_m + 2e-6) << seed;
    }
  }
  EXPECT_GT(packed_ones, 10);
}

/// More slack, or more squeeze, or more step never costs more packers; and none is below the bound.
TEST(Packing, IsMonotoneInWhatIsGiven) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const AsMade made = random_errors(tripod, 3, 0.02, seed);
    double last = 1e9;
    for (const double give : {0.1e-3, 0.3e-3, 0.5e-3, 1e-3}) {
      PackingRequest request;
      request.slack_m = give;
      const Packed packed = pack_up(model, made, request);
      EXPECT_LE(packed.objective_m, last + 1e-9) << seed;
      EXPECT_GE(packed.objective_m, packed.bound_m - 1e-8) << seed;
      last = packed.objective_m;
    }
  }
}

TEST(Packing, LiesWithItsPackersWherePadsAreAsTheyWere) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = 0.008;
  const Packed packed = pack_up(row.model, row.made, sample::half_mm());
  ASSERT_TRUE(packed.goes_in) << packed.reason;
  const std::vector<SmallMove> again = lie_with(row.model, row.made, packed);
  ASSERT_EQ(packed.least_squares_share, 1);
  for (std::size_t i = 0; i < again.size(); ++i)
    EXPECT_LT((again[i].shift - packed.moves[i].shift).norm(), 1e-12);
}

TEST(Packing, IsTheSameEveryTime) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  const AsMade made = random_errors(tripod, 3, 0.02, 5);
  const Packed one = pack_up(model, made, {}), two = pack_up(StackModel(tripod), made, {});
  EXPECT_EQ(one.objective_m, two.objective_m);
  for (std::size_t i = 0; i < one.moves.size(); ++i)
    EXPECT_EQ(one.moves[i].shift, two.moves[i].shift);
}

}  // namespace
}  // namespace skewback
