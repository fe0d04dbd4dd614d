// Strength of the blocks of the demos, from brief to findings: what must hold whatever the figures.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <map>

#include "strength/forces_on.hpp"
#include "strength/strength.hpp"
#include "works/block_remedies.hpp"

namespace skewback {
namespace {

Brief demo(const std::string& name) {
  Result<Brief> brief =
      read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples" / name / "brief.toml");
  EXPECT_TRUE(brief.ok());
  return std::move(brief).value();
}

Dossier proven(const Brief& brief) {
  Result<Dossier> dossier = run_works(brief, {0, "stand", false}, {});
  EXPECT_TRUE(dossier.ok());
  return std::move(dossier).value();
}

std::vector<DesignCase> all_cases(const Dossier& dossier) {
  std::vector<DesignCase> cases;
  for (std::size_t i = 0; i < dossier.proofs.size(); ++i) cases.push_back({i, 1.35, 1.35, false});
  return cases;
}

void tell(const Dossier& dossier, const BlockChecks& checks) {
  std::map<std::string, const BlockFinding*> worst;
  for (const BlockFinding& f : checks.findings) {
    const BlockFinding*& kept = worst[f.check];
    if (kept == nullptr || f.utilisation > kept->utilisation) kept = &f;
  }
  for (const auto& [check, f] : worst) {
    std::cout << check << ": " << f->utilisation << " (" << f->demand << " / " << f->resistance
              << ") " << dossier.cut->assembly.blocks[static_cast<std::size_t>(f->block)].id << ", "
              << f->case_id << ", " << f->place << "\n";
  }
  for (const std::string& remark : checks.remarks) std::cout << remark << "\n";
  if (checks.proposal) std::cout << checks.proposal->words << "\n";
}

/// The peak of the pads that a block's bed check must show: straight from view 2.
double peak_on(const Dossier& dossier, int block) {
  double peak = 0;
  const std::vector<Joint>& joints = dossier.cut->assembly.joints;
  for (const CaseProof& proof : dossier.proofs) {
    for (std::size_t j = 0; j < joints.size(); ++j) {
      if (joints[j].a == block || joints[j].b == block)
        peak = std::max(peak, proof.pads->joints[j].peak_pa);
    }
  }
  return peak;
}

/// Pressure rebuilt from the resultants, as the checks use it, against the pads' own: its sum is
/// the normal force and its greatest value the peak.
void expect_pressure_rebuilt(const Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  for (const CaseProof& proof : dossier.proofs) {
    const std::vector<JointLoad> loads = joint_loads(assembly, *proof.pads);
    for (std::size_t j = 0; j < loads.size(); ++j) {
      if (loads[j].pressure.isZero()) continue;
      double peak = 0;
      for (const Region& region : assembly.joints[j].contact) {
        for (const Vec2& p : region.outer)
          peak = std::max(peak, loads[j].pressure.dot(Vec3(1, p.x(), p.y())));
      }
      EXPECT_NEAR(peak / loads[j].peak_pa, 1, 0.01) << proof.id << ", joint " << j;
    }
  }
}

void expect_sound(const Dossier& dossier, const BlockChecks& checks) {
  const Assembly& assembly = dossier.cut->assembly;
  expect_pressure_rebuilt(dossier);
  std::vector<int> beds(assembly.blocks.size(), 0);
  for (const BlockFinding& f : checks.findings) {
    EXPECT_TRUE(std::isfinite(f.demand)) << f.check;
    EXPECT_GE(f.demand, 0) << f.check;
    EXPECT_GT(f.resistance, 0) << f.check << " " << f.case_id;
    EXPECT_DOUBLE_EQ(f.utilisation, f.demand / f.resistance) << f.check;
    if (f.check != "bed") continue;
    ++beds[static_cast<std::size_t>(f.block)];
    EXPECT_NEAR(f.demand, peak_on(dossier, f.block), 1e-9 * f.demand);
  }
  for (std::size_t b = 0; b < beds.size(); ++b)
    EXPECT_EQ(beds[b], assembly.blocks[b].fixed ? 0 : 1) << assembly.blocks[b].id;
}

// Hollow blocks have skins, solid ones none; the time is the one promised on a machine at rest,
// with room for a busy one.
TEST(BlockStrength, WrenLeat) {
  const Dossier dossier = proven(demo("wren-leat"));
  const auto before = std::chrono::steady_clock::now();
  const BlockChecks checks =
      check_blocks(dossier.brief, dossier.cut->assembly, dossier.proofs, all_cases(dossier));
  const double seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count();
  std::cout << seconds << " s, " << dossier.proofs.size() << " cases\n";
  tell(dossier, checks);
  expect_sound(dossier, checks);
  EXPECT_LT(seconds, 5);
  int skins = 0;
  for (const BlockFinding& f : checks.findings) skins += f.check == "skin under the patch" ? 1 : 0;
  EXPECT_GT(skins, 40);
}

double worst_skin(const BlockChecks& checks) {
  double worst = 0;
  for (const BlockFinding& f : checks.findings) {
    if (f.check.starts_with("skin")) worst = std::max(worst, f.utilisation);
  }
  return worst;
}

/// Drovers' Hop of hollow blocks, whose leaves are too thin.
Brief hollow_hop() {
  Brief brief = demo("drovers-hop");
  brief.section.hollow = true;
  return brief;
}

BlockChecks under_pads(const Brief& brief) {
  Result<Dossier> dossier = blocks_under_pads(brief, {});
  EXPECT_TRUE(dossier.ok());
  return *std::move(dossier).value().strength;
}

double worst_of_all(const BlockChecks& checks) {
  return checks.findings[static_cast<std::size_t>(checks.worst)].utilisation;
}

// What is proposed is run again from the brief on, and meets what it promised.
TEST(BlockStrength, ProposedSectionHolds) {
  Brief brief = hollow_hop();
  const BlockChecks before = under_pads(brief);
  ASSERT_TRUE(before.proposal.has_value());
  EXPECT_GT(worst_skin(before), 1);
  EXPECT_DOUBLE_EQ(before.proposal->utilisation_now, worst_skin(before));
  brief.section.leaf_m = before.proposal->leaf_m;
  brief.section.web_spacing_m = before.proposal->web_spacing_m;
  const BlockChecks after = under_pads(brief);
  EXPECT_LE(worst_skin(after), 1) << before.proposal->words;
  EXPECT_FALSE(after.proposal.has_value());
}

// The change named as enough is put into the brief and run from its start.
TEST(BlockStrength, RemedyHolds) {
  const Result<Dossier> dossier = blocks_under_pads(hollow_hop(), {});
  ASSERT_TRUE(dossier.ok());
  const std::vector<BlockTrial> trials = try_block_remedies(*dossier, {});
  ASSERT_FALSE(trials.empty());
  for (std::size_t i = 0; i + 1 < trials.size(); ++i) EXPECT_FALSE(trials[i].passes());
  const BlockTrial& last = trials.back();
  ASSERT_TRUE(last.passes());
  EXPECT_NEAR(worst_of_all(under_pads(last.brief)) / last.worst, 1, 1e-9);
  EXPECT_LE(last.worst, 1);
  const std::string words = remedies_in_words(*dossier, trials);
  EXPECT_NE(words.find(last.change), std::string::npos) << words;
  EXPECT_NE(words.find("every block strong enough"), std::string::npos) << words;
  // strong enough: nothing to say
  const Result<Dossier> again = blocks_under_pads(last.brief, {});
  EXPECT_TRUE(try_block_remedies(*again, {}).empty());
  // as blocks.mass_max is, without what blocks carry
  double heaviest = 0;
  for (const Block& block : again->cut->assembly.blocks)
    if (!block.fixed) heaviest = std::max(heaviest, concrete_mass_kg(block));
  EXPECT_NEAR(last.mass_max_kg, heaviest, 1e-9 * heaviest);
  EXPECT_EQ(remedies_in_words(*again, {}), "");
}

// No leaf that leaves tubes carries a load of 20 t on a tenth of a metre.
TEST(BlockStrength, NoRemedyIsSaidSo) {
  Brief brief = hollow_hop();
  brief.loads.patch_n = 200e3;
  const Result<Dossier> dossier = blocks_under_pads(brief, {});
  ASSERT_TRUE(dossier.ok());
  const std::vector<BlockTrial> trials = try_block_remedies(*dossier, {});
  ASSERT_FALSE(trials.empty());
  for (const BlockTrial& trial : trials) EXPECT_FALSE(trial.passes()) << trial.change;
  const std::string words = remedies_in_words(*dossier, trials);
  EXPECT_NE(words.find("None of these"), std::string::npos) << words;
}

TEST(BlockStrength, DroversHop) {
  const Dossier dossier = proven(demo("drovers-hop"));
  const BlockChecks checks =
      check_blocks(dossier.brief, dossier.cut->assembly, dossier.proofs, all_cases(dossier));
  tell(dossier, checks);
  expect_sound(dossier, checks);
  for (const BlockFinding& f : checks.findings) EXPECT_EQ(f.check.find("skin"), std::string::npos);
  EXPECT_FALSE(checks.proposal.has_value());
}

}  // namespace
}  // namespace skewback
