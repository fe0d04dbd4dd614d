#include "erect/order.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace skewback {
namespace {

using ::testing::ElementsAre;

Block placed(const std::string& id, int arm, int course, int place, double phi_m) {
  Block block;
  block.id = id;
  block.place.arm = arm;
  block.place.course = course;
  block.place.place = place;
  block.place.phi_m = phi_m;
  return block;
}

std::vector<std::string> order(const Assembly& assembly, const std::string& way) {
  std::vector<std::string> ids;
  for (const int i : order_of_placing(assembly, way))
    ids.push_back(assembly.blocks[static_cast<std::size_t>(i)].id);
  return ids;
}

// Long courses on one leg, short ones on the other: they go up level by the way from the springing,
// not by number.
Assembly out_of_step() {
  Assembly assembly;
  assembly.blocks = {
      placed("key", -1, 4, 1, 3.5), placed("a1", 0, 1, 1, 1),   placed("a2", 0, 2, 1, 2),
      placed("a3", 0, 3, 1, 3),     placed("b1", 1, 1, 1, 0.5), placed("b2", 1, 2, 1, 1),
      placed("b3", 1, 3, 1, 1.5),   placed("b4", 1, 4, 1, 2.2), placed("b5", 1, 5, 1, 2.9)};
  return assembly;
}

TEST(Order, LegsWhoseCoursesAreOutOfStepRiseByPhi) {
  EXPECT_THAT(order(out_of_step(), "together"),
              ElementsAre("b1", "a1", "b2", "b3", "a2", "b4", "b5", "a3", "key"));
  EXPECT_THAT(order(out_of_step(), "leg by leg"),
              ElementsAre("a1", "a2", "a3", "b1", "b2", "b3", "b4", "b5", "key"));
}

TEST(Order, ACourseStaysWholeWhereItsBlocksDifferInPhi) {
  Assembly assembly;
  assembly.blocks = {placed("a1-1", 0, 1, 1, 0.8), placed("a1-2", 0, 1, 2, 1.2),
                     placed("b1-1", 1, 1, 1, 0.9), placed("b1-2", 1, 1, 2, 1.3)};
  EXPECT_THAT(order(assembly, "together"), ElementsAre("a1-1", "a1-2", "b1-1", "b1-2"));
}

}  // namespace
}  // namespace skewback
