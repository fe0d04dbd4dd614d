// What the view says of each joint and support: numbers by hand, each under its own name.
#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "deliver/sample_dossier.hpp"
#include "lodge/unpacked.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

Vec3 vec(const nlohmann::ordered_json& j) {
  return {j.at(0).get<double>(), j.at(1).get<double>(), j.at(2).get<double>()};
}

/// Made up: every joint carries 5 kN, 50 mm above its middle; joint 4 also 1.5 kN along its y.
PadState made_up_pads(const Assembly& assembly) {
  PadState pads;
  pads.found = true;
  pads.moves.resize(assembly.blocks.size());
  pads.joints.resize(assembly.joints.size());
  pads.forces = sample::weight_on_joints(assembly);
  pads.forces.contacts[4].force += 1500 * assembly.joints[4].frame.y;
  return pads;
}

TEST(ProofJoints, EachFigureUnderItsName) {
  Dossier d = sample::small_dossier();
  const Assembly& assembly = d.cut->assembly;
  PadState pads = made_up_pads(assembly);
  pads.joints[3].peak_pa = 4e5;
  pads.joints[3].opening_max_m = 0.002;
  pads.joints[3].closing_max_m = 0.003;
  pads.joints[3].closed_share = 0.25;
  pads.joints[3].slipping_share = 0.125;
  pads.peak_joint = 5;
  d.proofs[1].pads = pads;
  d.proofs[1].governing_joint = 2;
  d.proofs[1].at_cap = true;
  d.proofs[1].friction_needed = 0.31;
  d.notes = {{"dead", CaseKind::kPattern, "weight"},
             {"half, west", CaseKind::kPattern, "weight, people west"},
             {"half: west", CaseKind::kPattern, "all of it"}};
  const Unpacked view = unpack(proof_view(d, "half, west")->bytes());
  EXPECT_NEAR(view.f32("peak_pa")[3], 4e5, 1);
  EXPECT_NEAR(view.f32("opening_m")[3], 0.002, 1e-9);
  EXPECT_NEAR(view.f32("closed_share")[3], 0.25, 1e-7);
  EXPECT_NEAR(view.f32("slipping")[3], 0.125, 1e-7);
  EXPECT_NEAR(view.f32("friction_used")[3], 0, 1e-6);
  EXPECT_NEAR(view.f32("friction_used")[4], 0.3, 1e-6) << "along the joint over square to it";
  EXPECT_EQ(view.head.at("peak_joint"), "v5|v6");
  EXPECT_EQ(view.head.at("governing_joint"), "v2|v3");
  EXPECT_EQ(view.head.at("at_cap"), true);
  EXPECT_EQ(view.head.at("friction_needed"), 0.31);
  EXPECT_EQ(view.head.at("words"), "weight, people west");
  EXPECT_EQ(view.head.at("verdicts").at(0).at("words"), "weight");
  EXPECT_EQ(view.head.at("verdicts").at(2).at("words"), "all of it");
  EXPECT_EQ(unpack(proof_view(d, "dead")->bytes()).head.at("at_cap"), false);
}

TEST(ProofJoints, PadsWithoutAStateGiveNothing) {
  Dossier d = sample::small_dossier();
  PadState pads = made_up_pads(d.cut->assembly);
  pads.found = false;
  d.proofs[1].pads = pads;
  const Unpacked view = unpack(proof_view(d, "half, west")->bytes());
  for (const float f : view.f32("closed_share")) EXPECT_TRUE(std::isnan(f));
  for (const char* name : {"force", "thrust_at", "pressure", "friction_used", "peak_pa"})
    for (const float f : view.f32(name)) EXPECT_TRUE(std::isnan(f)) << name << ": of view 1";
  EXPECT_TRUE(view.head.at("peak_joint").is_null());
  EXPECT_FALSE(view.has("move"));
}

// The resultant beyond a third of the depth: the rest of the joint is not pressed, nor pulled.
TEST(ProofJoints, NoPressureIsLessThanNone) {
  Dossier d = sample::small_dossier();
  const Frame& frame = d.cut->assembly.joints[3].frame;
  PadState pads = made_up_pads(d.cut->assembly);
  pads.forces.contacts = {{3, frame.to_world(Vec2(0, 0.2)), 4990 * frame.z},
                          {3, frame.to_world(Vec2(0, -0.2)), 10 * frame.z}};
  d.proofs[1].pads = pads;
  const Unpacked view = unpack(proof_view(d, "half, west")->bytes());
  const auto pad_pa = view.f32("pad_pa");
  ASSERT_EQ(pad_pa.size(), 2u);
  EXPECT_GT(pad_pa[0], 5000 / 0.45);  // more than if all of 0.45 m by 1 m bore
  EXPECT_EQ(pad_pa[1], 0);
}

// Two abutments of a symmetric arch: half its weight each, thrusts against each other.
TEST(ProofJoints, ReactionsOfBothAbutmentsWhereTheyBear) {
  const Assembly assembly = sample::arch_assembly({});
  const CaseProof proof = prove(assembly, assembly.cases[0]);
  ASSERT_EQ(proof.verdict, Verdict::kStands);
  double weight = 0;
  for (const Block& block : assembly.blocks)
    if (!block.fixed) weight += 9.81 * mass_kg(block);
  const Unpacked view = unpack(proof_sheaf(assembly, assembly.cases[0], proof).bytes());
  const auto& reactions = view.head.at("reactions");
  ASSERT_EQ(reactions.size(), 2u);
  for (std::size_t k = 0; k < 2; ++k) {
    const double out = k == 0 ? -1 : 1;
    const Vec3 force = vec(reactions.at(k).at("force")), at = vec(reactions.at(k).at("at"));
    EXPECT_NEAR(force.z(), weight / 2, 2e-3 * weight) << k;
    EXPECT_LT(force.x() * out, -0.05 * weight) << "towards the bridge";
    EXPECT_NEAR(at.x(), 3 * out, 0.225 + 1e-6);
    EXPECT_NEAR(at.y(), 0, 1e-3);
    EXPECT_NEAR(at.z(), 0, 1e-6);
  }
  EXPECT_NEAR(vec(reactions.at(0).at("force")).x(), -vec(reactions.at(1).at("force")).x(),
              1e-3 * weight);
}

// A bridge that stands shows how it would fall under more.
TEST(ProofJoints, TheMechanismAtTheLimitIsShownToo) {
  sample::Arch thin;
  thin.voussoirs = 12;
  thin.thickness = 0.2;
  const Assembly assembly = sample::arch_assembly(thin);
  CaseProof proof = prove(assembly, assembly.cases[0]);
  ASSERT_EQ(proof.verdict, Verdict::kFalls);
  Mechanism at_limit = std::get<Mechanism>(proof.evidence);
  at_limit.load_factor = 1.75;
  proof.evidence = sample::weight_on_joints(assembly);
  proof.verdict = Verdict::kStands;
  proof.pads.reset();
  proof.limit_mechanism = at_limit;
  const Unpacked view = unpack(proof_sheaf(assembly, assembly.cases[0], proof).bytes());
  EXPECT_EQ(view.rows("mechanism"), assembly.blocks.size());
  EXPECT_EQ(view.head.at("mechanism_factor"), 1.75);
  EXPECT_NE(view.head.at("mechanism_words"), "");
  EXPECT_TRUE(std::isnan(view.f32("force")[0])) << "the forces that hold it are view 1's alone";
}

}  // namespace
}  // namespace skewback::lodge
