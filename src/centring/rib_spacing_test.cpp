// Worked by hand: a beam on two supports under an even load, w L^2 / 8 on b h^2 / 6; factors 1.35
// and 1.5 of EN 1990:2002, table A1.2(B), from memory.
#include <gtest/gtest.h>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

/// A slab 1 m square and 0.3 m deep at 2,240 kg/m3: 6.592 kPa on its flat soffit.
struct Slab {
  Assembly assembly;
  Soffits all;
  CentringRequest request;
  Slab() {
    Block block;
    block.id = "s";
    block.solid = box({0, 0, 0}, {1, 1, 0.3});
    block.density = 2240;
    assembly.blocks.push_back(block);
    measure(assembly);
    all = soffits(assembly);
    request.rib_spacing_m = 0.5;
    request.foot_spacing_m = 1.2;
    request.working_load_pa = 1500;
    request.sheet_thickness_m = 0.018;
    request.rib_depth_m = 0.15 / 0.7;  // 0.15 m under the slot
    request.k_mod = 0.8;
    request.gamma_m = 1.2;
  }
};

TEST(RibSpacing, IsHalvedUntilABayPassesBending) {
  Slab slab;
  // at 0.5 m: (1.35 x 6592.3 + 1.5 x 1500) x 0.5 = 5574.8 N/m; x 1.2^2 / 8 = 1003.5 Nm;
  // over 0.018 x 0.15^2 / 6 = 6.75e-5 m3: 14.866 MPa, so 22.299 MPa characteristic
  std::vector<std::string> remarks;
  slab.request.bending_strength_pa = 22.31e6;
  EXPECT_DOUBLE_EQ(spacing_that_carries(slab.request, slab.assembly, slab.all, remarks), 0.5);
  EXPECT_TRUE(remarks.empty());
  slab.request.bending_strength_pa = 22.29e6;
  EXPECT_DOUBLE_EQ(spacing_that_carries(slab.request, slab.assembly, slab.all, remarks), 0.25);
  ASSERT_EQ(remarks.size(), 1u);
  // half the spacing, half the stress
  slab.request.bending_strength_pa = 11.14e6;
  EXPECT_DOUBLE_EQ(spacing_that_carries(slab.request, slab.assembly, slab.all, remarks), 0.125);
}

}  // namespace
}  // namespace skewback
