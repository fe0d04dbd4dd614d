#pragma once
// For tests only: a survey of the sample arch with something of everything in it. Made up by hand;
// its numbers are there to be found again in the files.

#include <gtest/gtest.h>

#include <sstream>

#include "base/constants.hpp"
#include "deliver/outline.hpp"
#include "deliver/sample_centring.hpp"
#include "deliver/sample_dossier.hpp"
#include "deliver/survey_sheets.hpp"

namespace skewback::sample {

/// West 17 mm out and turned 0.4 degrees, east 14 mm low; one mark of the east a little off.
inline void add_footings(const Brief& brief, Refit& refit) {
  const std::vector<Mark> marks = springing_marks(brief);
  for (const Support& support : brief.plan.supports) {
    const bool west = support.id == "west";
    Rigid X;
    const double turn = west ? 0.4 * kPi / 180 : 0;
    X.R = Eigen::AngleAxisd(turn, Vec3::UnitZ()).toRotationMatrix();
    const Vec3 at(support.a.x(), 0, 0);
    X.t = at - X.R * at + (west ? Vec3(-0.017, 0, 0) : Vec3(0.002, 0.001, -0.014));
    std::vector<Vec3> drawn, found;
    for (const Mark& mark : marks) {
      if (mark.of != support.id) continue;
      drawn.push_back(mark.designed);
      found.push_back(X(mark.designed));
    }
    if (!west) found.back() += Vec3(0.004, 0, 0);
    refit.supports.push_back(support.id);
    refit.footings.push_back(fit_rigid(drawn, found));
  }
  refit.footings[1].outliers = {2};
  refit.footings[1].suspicion = "marks left and right look swapped";
  refit.whole.rms_m = 0.0061;
  refit.whole.X.t = {-0.0075, 0.0005, -0.007};
  refit.shifted = true;
  refit.axes.t = refit.whole.X.t;
  refit.offset_max_m = 0.0123;
}

inline void add_packed(const Assembly& assembly, Refit& refit) {
  Packed& packed = refit.packed;
  packed.goes_in = true;
  packed.joints.resize(assembly.joints.size());
  for (const int j : {1, 3, 6}) {
    packed.joints[static_cast<std::size_t>(j)].gap_m = {0.0021, 0.0034, 0.0112, 0.0087};
    packed.joints[static_cast<std::size_t>(j)].step_m = {0.001, 0.001, 0.0012, 0.0012};
    for (const double along : {-0.42, -0.14, 0.14, 0.42}) {
      if (along > 0) packed.packers.push_back({j, false, along, 0.0032, {0.003}});
      packed.packers.push_back({j, true, along, 0.0093 + along / 1000, {0.005, 0.003, 0.001}});
    }
  }
  packed.packed_joints = 3;
  packed.packers_m = 3 * 0.0112;
  packed.thickest_m = 0.009;
  packed.springers = {1};
  packed.springer_joints = {7};
  packed.springer = {{0.03, {0.002, -0.02}, {0, 0, 0, 0.001}}};
  refit.packers = static_cast<int>(packed.packers.size());
}

inline void add_feet_set(const Centring& centring, Refit& refit) {
  refit.feet.emplace();
  FeetSet& feet = *refit.feet;
  for (const CentringFoot& foot : centring.feet) feet.feet.push_back({foot.id, 0, 0, 0, 0, true});
  feet.feet[0] = {feet.feet[0].foot, -0.0128, -0.0128, 0, 0, true};
  feet.feet[1] = {feet.feet[1].foot, -0.052, -0.02, 0.032, 0, false};
  feet.feet[2] = {feet.feet[2].foot, 0.031, 0.015, 0, 0.016, true};
  feet.feet[4] = {feet.feet[4].foot, 0.0064, 0.0064, 0, 0, true};
  feet.feet[5] = {feet.feet[5].foot, -0.035, -0.02, 0.015, 0, true};
  feet.gaps = {{"R1", "v3", 0.4, 0.0034}, {"R2", "v5", 0.9, -0.0012}};
  feet.gap_max_m = 0.0034;
  feet.remarks = {"Posts stand on ground as drawn: their feet were not measured."};
}

inline MeasuredBlocks some_measured_blocks() {
  MeasuredBlocks out;
  MeasuredBlock good, bad;
  good.block = 1;
  good.length_m = 0.0004;
  good.bow_m = 0.0002;
  good.finding = "as drawn";
  bad.block = 4;
  bad.length_m = 0.0031;
  bad.wedge_rad = 0.0021;
  bad.twist_rad = 0.0002;
  bad.bow_m = 0.0004;
  bad.finding = "3.1 mm too long; beds out of their angle by 0.12 degrees";
  out.blocks = {good, bad};
  out.remarks = {"Block v7: 2 points, three of each bed are asked."};
  return out;
}

inline Refit small_refit(const Brief& brief, const Assembly& assembly, const Centring& centring) {
  Refit refit;
  add_footings(brief, refit);
  add_packed(assembly, refit);
  add_feet_set(centring, refit);
  refit.blocks = some_measured_blocks();
  refit.stack.key_goes_in = false;
  refit.stack.finding = "the key does not go in: joint v3 | v4 is 4.1 mm tight";
  refit.trials = {
      {"packers alone", false, 30, 5, 0.061, 0.031, 2, "joint v7 | ground-east takes 31 mm"},
      {"a new springer at east", true, 18, 3, 0.0336, 0.009, 1, "", true}};
  refit.table = {{"as drawn", true, 2.5, "half, west", 1.1e6, 0.31, "stands"},
                 {"as laid, no packers", false, std::nullopt, "", std::nullopt, std::nullopt, ""},
                 {"as packed", true, 2.31, "half, west", 1.3e6, 0.34, "stands"}};
  refit.measure_again = {"east: its three marks, from a second set-up."};
  refit.key_goes_in = true;
  refit.laid.resize(assembly.blocks.size());
  refit.finding =
      "footing west is 17 mm out and turned 0.40 degrees; footing east is 14 mm low; the key goes "
      "in";
  refit.as_built = assembly;
  refit.proofs = {small_proof("dead", Verdict::kStands, std::nullopt),
                  small_proof("half, west", Verdict::kStands, 2.31),
                  small_proof("half: west", Verdict::kUndecided, 2.4)};
  refit.load_factor_after = 2.31;
  return refit;
}

/// The small dossier with centring and survey; the site's grid turned by 17 degrees.
inline Dossier surveyed_dossier() {
  Dossier d = small_dossier();
  d.brief.site = {{4512.3, 1980.45, 36.12}, 17 * kPi / 180, "2027-02-22"};
  d.brief.survey = SurveyRequest{};
  d.brief.centring.wanted = true;
  d.centring = small_centring(d.cut->assembly);
  d.refit = small_refit(d.brief, d.cut->assembly, *d.centring);
  return d;
}

inline std::vector<Regions> outlines_of(const Assembly& assembly) {
  std::vector<Regions> plan;
  for (const Block& block : assembly.blocks)
    plan.push_back(deliver::silhouette(block.solid, deliver::plan_view()));
  return plan;
}

/// Every word of a sheet, one a line.
inline std::string said(const deliver::Sheet& sheet) {
  std::string text;
  for (const auto& item : sheet.items)
    if (const auto* words = std::get_if<deliver::Words>(&item)) text += words->text + "\n";
  return text;
}

/// Fields of a CSV without quotes.
inline std::vector<std::vector<std::string>> rows_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_TRUE(line.ends_with('\r')) << line;
    line.pop_back();
    rows.emplace_back();
    std::istringstream fields(line);
    for (std::string field; std::getline(fields, field, ',');) rows.back().push_back(field);
    if (line.ends_with(',')) rows.back().emplace_back();
  }
  return rows;
}

struct Surveyed {
  Dossier d = surveyed_dossier();
  const Assembly& assembly = d.cut->assembly;
  std::vector<Regions> plan = outlines_of(assembly);
  const Refit& refit = *d.refit;
};

}  // namespace skewback::sample
