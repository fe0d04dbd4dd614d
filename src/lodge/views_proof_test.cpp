// Forces of a column by hand; a mechanism that does work; what is not known is not a number.
#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "base/constants.hpp"
#include "deliver/sample_dossier.hpp"
#include "lodge/unpacked.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

constexpr double kG = 9.81;

Vec3 row(const std::vector<float>& numbers, std::size_t i, std::size_t width = 3,
         std::size_t from = 0) {
  return {numbers[width * i + from], numbers[width * i + from + 1], numbers[width * i + from + 2]};
}

/// Two blocks of 0.8 by 0.5 by 1 m on the ground, one on the other.
Assembly column() {
  Assembly assembly;
  for (int i = 0; i < 3; ++i) {
    Block block;
    block.id = i == 0 ? "ground" : "c" + std::to_string(i);
    block.solid = box({2, 1, i - 1.0}, {2.8, 1.5, i + 0.0});
    block.density = 2000;
    block.fixed = i == 0;
    assembly.blocks.push_back(block);
  }
  measure(assembly);
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  LoadCase dead;
  dead.id = "dead";
  assembly.cases = {dead};
  return assembly;
}

TEST(ProofView, ColumnCarriesWeightOverArea) {
  const Assembly assembly = column();
  ASSERT_EQ(assembly.joints.size(), 2u);
  const CaseProof proof = prove(assembly, assembly.cases[0]);
  const Unpacked view = unpack(proof_sheaf(assembly, assembly.cases[0], proof).bytes());
  EXPECT_EQ(view.head.at("verdict"), "stands");
  const double weight = 2000 * 0.8 * 0.5 * 1.0 * kG, area = 0.8 * 0.5;
  const auto force = view.f32("force"), at = view.f32("thrust_at"), plane = view.f32("pressure"),
             peak = view.f32("peak_pa"), opening = view.f32("opening_m");
  for (std::size_t j = 0; j < 2; ++j) {
    const double above = (j == 0 ? 2 : 1) * weight;  // joint 0 is on the ground
    EXPECT_LT((row(force, j) - Vec3(0, 0, above)).norm(), 1e-3 * above) << "joint " << j;
    EXPECT_LT((row(at, j) - Vec3(2.4, 1.25, static_cast<double>(j))).norm(), 1e-4);
    EXPECT_NEAR(plane[3 * j], above / area, 1e-3 * above / area);
    EXPECT_NEAR(plane[3 * j + 1], 0, 1e-3 * above / area);
    EXPECT_NEAR(peak[j], above / area, 1e-3 * above / area);
    EXPECT_NEAR(opening[j], 0, 1e-9);
  }
  ASSERT_GT(view.rows("pad_at"), 8u);
  const auto pad_pa = view.f32("pad_pa");
  const auto of = view.u32("pad_joint");
  for (std::size_t i = 0; i < pad_pa.size(); ++i)
    EXPECT_NEAR(pad_pa[i], (of[i] == 0 ? 2 : 1) * weight / area, 1e-3 * 2 * weight / area);
  const auto& reactions = view.head.at("reactions");
  ASSERT_EQ(reactions.size(), 1u);
  EXPECT_EQ(reactions.at(0).at("support"), "ground");
  EXPECT_NEAR(reactions.at(0).at("force").at(2).get<double>(), 2 * weight, 1e-3 * weight);
  EXPECT_FALSE(view.has("mechanism"));
}

// A mass on the top block, 0.1 m off its middle along x: N/A (1 + 12 e x / 0.8^2).
TEST(ProofView, PressureLeansWithTheThrust) {
  Assembly assembly = column();
  assembly.blocks[2].carried = {{800, Vec3(2.6, 1.25, 2), Carried::kOther}};
  const CaseProof proof = prove(assembly, assembly.cases[0]);
  const Unpacked view = unpack(proof_sheaf(assembly, assembly.cases[0], proof).bytes());
  const double n = 1600 * kG, e = 0.1;  // 800 kg in the middle, 800 kg 0.2 m off
  const auto at = view.f32("thrust_at"), pad_at = view.f32("pad_at"), pad_pa = view.f32("pad_pa");
  const auto of = view.u32("pad_joint");
  EXPECT_LT((row(at, 1) - Vec3(2.5, 1.25, 1)).norm(), 1e-3);
  int seen = 0;
  double most = 0;
  for (std::size_t i = 0; i < pad_pa.size(); ++i) {
    if (of[i] != 1) continue;
    ++seen;
    const double x = row(pad_at, i).x() - 2.4;
    const double by_hand = n / 0.4 * (1 + 12 * e * x / (0.8 * 0.8));
    EXPECT_NEAR(pad_pa[i], by_hand, 0.01 * n / 0.4) << "at " << x;
    most = std::max(most, static_cast<double>(pad_pa[i]));
  }
  EXPECT_GT(seen, 4);
  EXPECT_NEAR(most, view.f32("peak_pa")[1], 0.01 * most) << "as the pads' own state says";
}

TEST(ProofView, ThinArchFallsAndItsMechanismDoesWork) {
  sample::Arch thin;
  thin.voussoirs = 12;
  thin.thickness = 0.2;  // of a radius of 3 m: a semicircle needs 0.107 times it, 0.32
  const Assembly assembly = sample::arch_assembly(thin);
  const CaseProof proof = prove(assembly, assembly.cases[0]);
  ASSERT_EQ(proof.verdict, Verdict::kFalls);
  const Unpacked view = unpack(proof_sheaf(assembly, assembly.cases[0], proof).bytes());
  EXPECT_EQ(view.head.at("verdict"), "falls");
  EXPECT_NE(view.head.at("mechanism_words"), "");
  EXPECT_TRUE(view.head.at("reactions").empty());
  const auto mechanism = view.f32("mechanism");
  ASSERT_EQ(view.rows("mechanism"), assembly.blocks.size());
  double power = 0;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    const Vec3 v = row(mechanism, b, 6), w = row(mechanism, b, 6, 3);
    if (assembly.blocks[b].fixed) {
      EXPECT_EQ(v.norm() + w.norm(), 0) << "the ground stays";
      continue;
    }
    const Vec3 c = centre_of_gravity(assembly.blocks[b]);
    power -= kG * mass_kg(assembly.blocks[b]) * (v + w.cross(c)).z();
  }
  EXPECT_GT(power, 0);
  EXPECT_NEAR(power, std::get<Mechanism>(proof.evidence).work, 1e-3 * power);
  for (const float f : view.f32("force")) EXPECT_TRUE(std::isnan(f)) << "no forces balance it";
  for (const float f : view.f32("opening_m")) EXPECT_TRUE(std::isnan(f));
}

TEST(ProofView, OfADossierByCase) {
  Dossier d = sample::small_dossier();
  EXPECT_FALSE(proof_view(d, "no such case"));
  const Unpacked first = unpack(proof_view(d, "")->bytes());
  EXPECT_EQ(first.head.at("case"), "dead");
  const Unpacked bare = unpack(proof_view(d, "half: west")->bytes());
  EXPECT_EQ(bare.rows("pad_at"), 0u) << "view 1 alone: no pads";
  EXPECT_TRUE(bare.head.at("reactions").empty());
  PadState pads;
  pads.found = true;
  pads.forces = std::get<Forces>(d.proofs[2].evidence);
  pads.joints.resize(d.cut->assembly.joints.size());
  pads.moves.resize(d.cut->assembly.blocks.size());
  d.proofs[2].pads = pads;
  const Unpacked view = unpack(proof_view(d, "half: west")->bytes());
  EXPECT_EQ(view.head.at("verdict"), "undecided");
  EXPECT_EQ(view.head.at("reason"), "between the two cones");
  ASSERT_EQ(view.head.at("verdicts").size(), 3u);
  EXPECT_EQ(view.head.at("verdicts").at(1).at("load_factor"), 2.5);
  EXPECT_EQ(view.head.at("reactions").at(0).at("support"), "west");
  // 5 kN at 50 mm above the middle of each joint
  EXPECT_NEAR(row(view.f32("force"), 3).norm(), 5000, 1e-2);
  const Frame& frame = d.cut->assembly.joints[3].frame;
  EXPECT_LT((row(view.f32("thrust_at"), 3) - frame.to_world(Vec2(0, 0.05))).norm(), 1e-5);
}

TEST(Node, ForcesCloseAndComeInTheirOrder) {
  Dossier d = sample::small_dossier();
  const auto node = node_json(d, Vec2(0.1, -0.1));
  ASSERT_TRUE(node);
  EXPECT_NEAR(node->at("at").at(0).get<double>(), 0, 1e-12);
  EXPECT_NEAR(node->at("at").at(2).get<double>(), 3, 1e-12);
  const auto& forces = node->at("forces");
  ASSERT_EQ(forces.size(), 3u);  // two edges and the load
  EXPECT_EQ(forces.at(2).at("kind"), "load");
  EXPECT_EQ(forces.at(2).at("force").at(2), -100);
  const auto& corners = node->at("corners");
  ASSERT_EQ(corners.size(), 4u);
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t k = 0; k < 3; ++k)
      EXPECT_NEAR(corners.at(i + 1).at(k).get<double>() - corners.at(i).at(k).get<double>(),
                  forces.at(i).at("force").at(k).get<double>(), 1e-9);
  }
}

}  // namespace
}  // namespace skewback::lodge
