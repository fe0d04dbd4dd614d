#include <gtest/gtest.h>

#include "deliver/drawings.hpp"

namespace skewback {
namespace {

using namespace deliver;

/// A block of 1 m by 0.5 m on the ground, tipping about its edge x = 1.
Dossier tipping() {
  Dossier d;
  d.brief.title = "Tipping";
  d.brief.plan.supports = {{"west", {0, 1}, {0, 0}, 0}, {"east", {3, 0}, {3, 1}, 0}};
  d.cut.emplace();
  Assembly& assembly = d.cut->assembly;
  for (const bool fixed : {true, false}) {
    Block block;
    block.id = fixed ? "ground" : "block";
    block.fixed = fixed;
    block.density = 2000;
    block.solid = fixed ? box({-1, 0, -1}, {3, 1, 0}) : box({0, 0, 0}, {1, 1, 0.5});
    assembly.blocks.push_back(std::move(block));
  }
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  measure(assembly);
  CaseProof proof;
  proof.id = "push";
  proof.verdict = Verdict::kFalls;
  Mechanism mechanism;
  mechanism.load_factor = 0.4;
  const double w = 1 / std::sqrt(1.25);  // the far upper corner is the fastest, at 1
  mechanism.blocks = {{}, {Vec3(0, 0, w), Vec3(0, w, 0)}};
  proof.evidence = mechanism;
  d.proofs = {proof};
  return d;
}

// By hand: the far corner is sqrt(1 + 0.25) m from the edge; 10 mm of it turn the block by
// 0.01 / 1.118 rad = 0.512 degrees.
TEST(MechanismSheet, AHingeIsAWedgeWithItsAngle) {
  const Dossier d = tipping();
  const Sheet sheet = mechanism_sheet(d, find_outlines(d), {180, 120});
  bool angle = false, wedge = false;
  for (const auto& item : sheet.items) {
    if (const auto* words = std::get_if<Words>(&item)) angle = angle || words->text == "0.51°";
    if (const auto* shape = std::get_if<Shape>(&item))
      wedge = wedge || (shape->rings.size() == 1 && shape->rings[0].size() == 3 &&
                        shape->pen.fill.has_value());
  }
  EXPECT_TRUE(angle);
  EXPECT_TRUE(wedge);
}

TEST(MechanismSheet, NothingIsDrawnWhereNothingMoves) {
  Dossier d = tipping();
  d.proofs[0].evidence = {};
  EXPECT_FALSE(mechanism_to_show(d));
  EXPECT_TRUE(mechanism_sheet(d, find_outlines(d), {180, 120}).items.empty());
}

}  // namespace
}  // namespace skewback
