// Every view of a whole run of drovers-hop, read back from its bytes.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "lodge/unpacked.hpp"
#include "lodge/views.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

using lodge::unpack;
using lodge::Unpacked;

const Dossier& drovers_hop() {
  static const Dossier dossier = [] {
    const auto file =
        std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml";
    return run_works(read_brief(file).value(), {}, {}).value();
  }();
  return dossier;
}

TEST(LodgeViews, ShapeAndBlocks) {
  const Unpacked shape = unpack(lodge::shape_view(drovers_hop())->bytes());
  EXPECT_EQ(shape.rows("upper"), shape.rows("vertices"));
  EXPECT_NEAR(shape.head.at("rise_m").get<double>(), 1.8, 1e-6);
  const Unpacked blocks = unpack(lodge::blocks_view(drovers_hop())->bytes());
  int fixed = 0;
  for (const auto& block : blocks.head.at("blocks")) fixed += block.at("fixed").get<bool>();
  EXPECT_EQ(blocks.head.at("blocks").size(), 25u) << "23 voussoirs and the ground twice";
  EXPECT_EQ(fixed, 2);
  EXPECT_EQ(blocks.head.at("joints").size(), 24u);
  EXPECT_GT(blocks.rows("walk"), 100u);
  // no voussoir is wider than the 1.9 m drawn, nor is one left out
  std::vector<int> seen(25, 0);
  for (const std::uint32_t block : blocks.u32("block")) ++seen.at(block);
  for (const int triangles : seen) EXPECT_GE(triangles, 12);
  const auto points = blocks.f32("points");
  for (std::size_t i = 2; i < points.size(); i += 3) ASSERT_TRUE(std::isfinite(points[i]));
}

// What the supports push is the weight and the people.
TEST(LodgeViews, EveryCaseIsInBalance) {
  const Dossier& d = drovers_hop();
  for (const CaseProof& proof : d.proofs) {
    const auto view = lodge::proof_view(d, proof.id);
    ASSERT_TRUE(view) << proof.id;
    const auto load = std::ranges::find(d.cut->assembly.cases, proof.id, &LoadCase::id);
    Vec3 sum = Vec3::Zero();
    double weight = 0;
    for (const Block& block : d.cut->assembly.blocks) {
      if (block.fixed) continue;
      weight += 9.81 * mass_kg(block);
      sum += mass_kg(block) * (load->gravity + load->live_acceleration);
    }
    for (const LiveForce& live : load->live) sum += live.force;
    for (const auto& reaction : view->head.at("reactions")) {
      for (int k = 0; k < 3; ++k) sum[k] += reaction.at("force").at(k).get<double>();
    }
    EXPECT_LT(sum.norm(), 1e-6 * weight) << proof.id;
  }
  EXPECT_EQ(lodge::proof_view(d, "")->head.at("verdicts").size(), d.proofs.size());
}

TEST(LodgeViews, GroundStagesAndCentring) {
  const Dossier& d = drovers_hop();
  const Unpacked ground = unpack(lodge::ground_view(d)->bytes());
  EXPECT_EQ(ground.head.at("footings").size(), 2u);
  for (const auto& footing : ground.head.at("footings"))
    EXPECT_EQ(footing.at("corners").size(), 8u);
  const Unpacked stages = unpack(lodge::stages_view(d)->bytes());
  const auto& list = stages.head.at("stages");
  const auto key = stages.head.at("key_stage").get<std::size_t>();
  EXPECT_EQ(list.at(key).at("blocks").size(), 25u);
  EXPECT_EQ(list.at(key - 1).at("blocks").size(), 24u);
  for (const auto& stage : list) EXPECT_EQ(stage.at("verdict"), "stands") << stage.at("words");
  const Unpacked centring = unpack(lodge::centring_view(d)->bytes());
  EXPECT_EQ(centring.head.at("parts").size(), d.centring->parts.size() + d.centring->sticks.size());
  const auto seats = centring.head.at("seats").size();
  for (const auto& stage : list)
    for (const auto& seat : stage.at("seats")) ASSERT_LT(seat.get<std::size_t>(), seats);
}

TEST(LodgeViews, WhatIsNotAskedForIsNotShown) {
  EXPECT_FALSE(lodge::layers_view(drovers_hop(), "")) << "cut stone is not printed";
  EXPECT_FALSE(lodge::survey_view(drovers_hop()));
}

// drovers-hop passes all that is required: no sentence says that a check fails.
TEST(LodgeViews, FindingsAgreeWithWhatIsRequired) {
  const Dossier& d = drovers_hop();
  const auto list = lodge::findings(d).at("list");
  for (const RequiredCheck& check : d.required) {
    const auto said = std::ranges::find_if(
        list, [&](const auto& f) { return f.at("id").template get<std::string>() == check.name; });
    ASSERT_NE(said, list.end()) << check.name;
    const int weight = said->at("weight").get<int>();
    if (!check.passes) {
      EXPECT_EQ(weight, 2) << said->at("says");
    } else {
      EXPECT_EQ(weight == 0, !*check.passes) << said->at("says");
    }
  }
}

TEST(LodgeViews, SameDossierSameBytes) {
  const Dossier& d = drovers_hop();
  EXPECT_EQ(lodge::blocks_view(d)->bytes(), lodge::blocks_view(d)->bytes());
  EXPECT_EQ(lodge::findings(d).dump(), lodge::findings(d).dump());
}

}  // namespace
}  // namespace skewback
