// The demonstration bridges let go in time, against the state of their pads.

#include <gtest/gtest.h>

#include "../published/motion_views.hpp"
#include "demo_cut.hpp"

namespace skewback {
namespace {

// Static equilibrium on the same pads; where pads slip, forces depend on what came before, and the
// two need not be one: measured 0.12 % on the greatest, 0.95 % on any.
TEST(WholeMotion, BridgesSettleToWhatThePadsSay) {
  for (const char* name : {"wren-leat", "drovers-hop"}) {
    const Assembly assembly = demo_cut(name).assembly;
    LoadCase weight;
    weight.id = "weight";
    const ViewsApart apart = views_apart(assembly, weight);
    EXPECT_TRUE(apart.found) << name;
    EXPECT_EQ(apart.ending, Ending::kAtRest) << name;
    EXPECT_LE(std::abs(apart.greatest), 0.01) << name;
    EXPECT_LE(apart.worst, 0.01) << name;
  }
}

}  // namespace
}  // namespace skewback
