// Seven straight-edged voussoirs of a semicircle stand from t/R 0.0957
// (tests/foreign/few_voussoirs.py).
#include "survey/let_packed_go.hpp"

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"

namespace skewback {
namespace {

struct Let {
  Assembly drawn;
  Refit found;
};

/// As views 1 and 2 would leave it if both said that it stands.
Let said_to_stand(double thickness_over_radius) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 3 * thickness_over_radius};
  Let out{sample::arch_assembly(arch), {}};
  out.found.as_built = out.drawn;
  CaseProof proof;
  proof.id = "dead";
  proof.verdict = Verdict::kStands;
  proof.views = {"limit", "pads"};
  proof.joint_stress_max_pa = 1e5;
  out.found.proofs = {proof};
  for (const char* what :
       {"as drawn", "as laid, no packers", "as packed", "as packed, its gaps closing"}) {
    Before row;
    row.what = what;
    row.verdict = "stands";
    out.found.table.push_back(row);
  }
  out.found.gaps.cases = out.found.gaps.balanced = 1;
  out.found.gaps.peak_pa = 7e5;
  return out;
}

void let_go(Let& let, ThirdView third_view) {
  RefitInput input;
  input.assembly = &let.drawn;
  StandOptions options;
  options.third_view = third_view;
  let_packed_go(input, options, {}, let.found);
}

TEST(LetPackedGo, WhatMovesOffFallsInBothOfItsRows) {
  Let let = said_to_stand(0.08);
  let_go(let, ThirdView::kAlways);
  const CaseProof& proof = let.found.proofs[0];
  ASSERT_TRUE(proof.motion);
  EXPECT_EQ(proof.motion->ending, Ending::kMovingOff);
  EXPECT_EQ(proof.verdict, Verdict::kFalls);
  const std::vector<Before>& table = let.found.table;
  ASSERT_EQ(table.size(), 4u);
  for (const std::size_t told_before : {0u, 1u})
    EXPECT_EQ(table[told_before].verdict, "stands") << table[told_before].what;
  EXPECT_EQ(table[2].what, "as packed");
  EXPECT_EQ(table[2].verdict, "falls");
  EXPECT_EQ(table[3].what, "as packed, its gaps closing");
  EXPECT_EQ(table[3].verdict, "falls");
  EXPECT_EQ(table[3].joint_stress_max_pa, 7e5);  // of the gaps, not of the proof
}

TEST(LetPackedGo, WhatRestsStandsAndOpenGapsLeaveItUndecided) {
  Let let = said_to_stand(0.15);
  let.found.gaps.balanced = 0;
  let_go(let, ThirdView::kAlways);
  ASSERT_TRUE(let.found.proofs[0].motion);
  EXPECT_EQ(let.found.proofs[0].motion->ending, Ending::kAtRest);
  EXPECT_EQ(let.found.proofs[0].views.back(), "motion");
  EXPECT_EQ(let.found.table[2].verdict, "stands");
  EXPECT_EQ(let.found.table[2].joint_stress_max_pa, 1e5);
  EXPECT_EQ(let.found.table[3].verdict, "undecided");
}

TEST(LetPackedGo, NotAskedOrNotProvedLeavesAllAsItWas) {
  Let let = said_to_stand(0.08);
  let_go(let, ThirdView::kNever);
  EXPECT_FALSE(let.found.proofs[0].motion);
  EXPECT_EQ(let.found.table[2].verdict, "stands");
  let.found.proofs.clear();
  let_go(let, ThirdView::kAlways);
  EXPECT_TRUE(let.found.proofs.empty());
  EXPECT_EQ(let.found.table[2].verdict, "stands");
}

}  // namespace
}  // namespace skewback
