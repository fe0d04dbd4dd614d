#include "survey/packing_dive.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "survey/sample_packing.hpp"

namespace skewback {
namespace {

TEST(PackerStock, SumsNearestToAGap) {
  PackingRequest request;
  request.stock_m = {0.002, 0.005};
  const PackerStock stock(request);  // 0, 2, 4, 5, 6, 7, 8, ... mm
  EXPECT_EQ(stock.around(0.0031, 3), (std::vector<double>{0.004, 0.002, 0.005}));
  EXPECT_EQ(stock.around(0.0008, 2), (std::vector<double>{0, 0.002}));
}

/// What slack and squeeze allow is a third of the steps of the stock.
PackingRequest coarse_stock() {
  PackingRequest request;
  request.stock_m = {0.001, 0.002, 0.005};
  request.slack_m = 0.0002;
  request.squeeze_m = 0.0001;
  return request;
}

/// Every limit at every corner and packer, thicknesses from the stock.
void expect_holds(const StackModel& model, const AsMade& made, const Packed& packed,
                  const PackingRequest& request) {
  const std::vector<JointLie> joints = lies(model, made, packed.moves);
  std::vector<char> has(joints.size(), 0);
  for (const Packer& packer : packed.packers) {
    has[static_cast<std::size_t>(packer.joint)] = 1;
    EXPECT_LE(packer.thickness_m(), packer.gap_m + request.squeeze_m + 2e-6);
    EXPECT_GE(packer.thickness_m(), packer.gap_m - request.slack_m - 2e-6);
    for (const double piece : packer.from_stock)
      EXPECT_TRUE(std::ranges::find(request.stock_m, piece) != request.stock_m.end()) << piece;
  }
  for (std::size_t j = 0; j < joints.size(); ++j) {
    EXPECT_GE(joints[j].gap_min_m(), -request.squeeze_m - 2e-6);
    EXPECT_LE(joints[j].step_max_m(), request.step_m + 2e-6);
    if (has[j] == 0) {
      EXPECT_LE(joints[j].gap_max_m(), request.slack_m + 2e-6);
    }
  }
}

TEST(PackingDive, FindsThicknessesWhereTheNearestDoNotDo) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  const PackingRequest request = coarse_stock();
  int tried = 0, nearest = 0, dived = 0;
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    std::mt19937_64 random(seed);
    const AsMade made = sample::footings_off(tripod, 0.012, 0.004, random);
    PackingRequest fine = request;
    fine.stock_m = {1e-5, 2e-5, 5e-5, 1e-4, 2e-4, 5e-4, 1e-3, 2e-3, 5e-3};
    if (!pack_up(model, made, fine, {.springers = false}).goes_in) continue;  // no stock would do
    ++tried;
    const Packed one = pack_up(model, made, request, {.springers = false});
    const Packed two = pack_up(model, made, request, {.springers = false, .coarse = 150});
    if (one.goes_in) {
      ++nearest;
      EXPECT_TRUE(two.goes_in) << seed;
    }
    if (!two.goes_in) continue;
    ++dived;
    expect_holds(model, made, two, request);
  }
  RecordProperty("tried", tried);
  RecordProperty("nearest", nearest);
  RecordProperty("dived", dived);
  std::printf("of %d: nearest %d, dived %d\n", tried, nearest, dived);
  EXPECT_GT(dived, nearest);
}

}  // namespace
}  // namespace skewback
