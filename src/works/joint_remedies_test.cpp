#include "works/joint_remedies.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <stdexcept>

#include "works/pressed.hpp"

namespace skewback {
namespace {

using ::testing::HasSubstr;

/// Drovers' Hop on pads.
Brief padded() {
  Result<Brief> brief =
      read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml");
  if (!brief) throw std::runtime_error(describe(brief.faults().front()));
  Brief changed = std::move(brief).value();
  changed.joints.pad_thickness_m = 0.006;
  changed.joints.pad_shear_modulus_pa = 0.9e6;
  changed.loads.motion = "never";
  return changed;
}

Dossier proved(const Brief& brief) {
  Result<Dossier> run = run_works(brief, {0, "stand", false}, {});
  if (!run) throw std::runtime_error(describe(run.faults().front()));
  return std::move(run).value();
}

// The change named as enough is put into the brief and proved from its start.
TEST(JointRemedies, TheFirstThatDoesHolds) {
  Brief brief = padded();
  brief.required.pad_stress_pa = 0.99 * most_pressed(proved(brief)).peak_pa;
  const Dossier dossier = proved(brief);
  const std::vector<JointTrial> trials = try_joint_remedies(dossier, {});
  ASSERT_FALSE(trials.empty());
  for (std::size_t i = 0; i + 1 < trials.size(); ++i) EXPECT_FALSE(trials[i].passes());
  ASSERT_TRUE(trials.back().passes());
  EXPECT_THAT(remedies_in_words(dossier, trials),
              HasSubstr("the first that does, in all cases: " + trials.back().change));
  const Dossier mended = proved(trials.back().brief);
  EXPECT_NEAR(most_pressed(mended).reserve(), *trials.back().reserve,
              1e-6 * *trials.back().reserve);
  EXPECT_GE(most_pressed(mended).reserve(), 1);
  EXPECT_TRUE(try_joint_remedies(mended, {}).empty());
  EXPECT_EQ(remedies_in_words(mended, {}), "");
}

TEST(JointRemedies, NoneIsSaidSoWithWhatThePadsMustTake) {
  Brief brief = padded();
  const double peak = most_pressed(proved(brief)).peak_pa;
  brief.required.pad_stress_pa = peak / 100;
  const Dossier dossier = proved(brief);
  const std::vector<JointTrial> trials = try_joint_remedies(dossier, {});
  ASSERT_FALSE(trials.empty());
  for (const JointTrial& trial : trials) EXPECT_FALSE(trial.passes()) << trial.change;
  const std::string words = remedies_in_words(dossier, trials);
  EXPECT_THAT(words, HasSubstr("none of these does"));
  char least[32];
  std::snprintf(least, sizeof least, "shown to take %.1f MPa", std::ceil(peak / 1e5) / 10);
  EXPECT_THAT(words, HasSubstr(least));
  // 0.8 / 1.5 of the strength, 40 MPa: EN 1992-1-1 12.3.1
  EXPECT_THAT(words, HasSubstr("the concrete takes 21.3"));
}

}  // namespace
}  // namespace skewback
