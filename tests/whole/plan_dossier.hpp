#pragma once
// For tests only: a plan of tests/whole/plans proved on coarse blocks, and its evidence.

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "verify/verify.hpp"
#include "works/works.hpp"

namespace skewback {

/// Fewer blocks than the brief asks for, so that the proofs take seconds.
inline Dossier standing_coarsely(const std::string& plan, double width_max_m) {
  const auto file =
      std::filesystem::path(SKEWBACK_SOURCE_DIR) / "tests/whole/plans" / (plan + ".toml");
  Result<Brief> brief = read_brief(file);
  EXPECT_TRUE(brief.ok()) << describe(brief.faults().front());
  Brief coarse = *brief;
  coarse.blocks.mass_max_kg = 1400;
  coarse.blocks.width_max_m = width_max_m;
  coarse.blocks.length_m = 0.7;
  Result<Dossier> run = run_works(coarse, {0, "stand"}, {});
  EXPECT_TRUE(run.ok()) << describe(run.faults().front());
  return std::move(run).value();
}

/// It stands under its weight, and `verify` finds all that is written true.
inline void expect_evidence_that_holds(const Dossier& dossier) {
  const auto dead = std::ranges::find(dossier.proofs, "dead", &CaseProof::id);
  ASSERT_NE(dead, dossier.proofs.end());
  EXPECT_EQ(dead->verdict, Verdict::kStands);
  for (const CaseProof& proof : dossier.proofs) EXPECT_LE(proof.residual_rel, 1e-9) << proof.id;
  const auto folder =
      std::filesystem::temp_directory_path() / ("skewback-whole-test-" + dossier.brief.name);
  std::filesystem::remove_all(folder);
  const auto written = write_folder(dossier, folder);
  ASSERT_TRUE(written.ok()) << describe(written.faults().front());
  const auto report = verify_folder(folder);
  ASSERT_TRUE(report.ok());
  EXPECT_TRUE(report->ok());
  EXPECT_GE(report->files.size(), dossier.proofs.size());
  std::filesystem::remove_all(folder);
}

}  // namespace skewback
