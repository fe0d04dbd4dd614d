#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/constants.hpp"
#include "base/timing.hpp"
#include "stand/prove_steps.hpp"
#include "survey/finding.hpp"
#include "survey/finer_packing.hpp"
#include "survey/gaps_close.hpp"
#include "survey/joint_rows.hpp"
#include "survey/let_packed_go.hpp"
#include "survey/marks_packed.hpp"
#include "survey/poses.hpp"
#include "survey/remedies.hpp"
#include "survey/survey.hpp"
#include "survey/turning.hpp"

namespace skewback {
namespace {

/// Drawn joints that do not close by themselves, and what goes into them.
std::vector<JointMisfit> misfits_of(const Assembly& assembly, const Refit& found,
                                    const PackingRequest& packing) {
  std::vector<JointMisfit> out;
  for (std::size_t j = 0; j < found.packed.joints.size(); ++j) {
    const JointLie& lie = found.packed.joints[j];
    JointMisfit misfit{static_cast<int>(j), lie.gap_min_m(), lie.gap_max_m(), lie.step_max_m(), {}};
    for (const Packer& packer : found.packed.packers) {
      if (packer.joint != misfit.joint) continue;
      double edge = 0;
      for (const Region& part : assembly.joints[j].contact) {
        for (const Vec2& p : part.outer)
          edge = packer.upper ? std::max(edge, p.y()) : std::min(edge, p.y());
      }
      misfit.packers.emplace_back(assembly.joints[j].frame.to_world(Vec2(packer.along_m, edge)),
                                  packer.thickness_m());
    }
    if (!misfit.packers.empty() || misfit.gap_max_m > packing.slack_m + 1e-6 ||
        misfit.gap_min_m < -packing.squeeze_m - 1e-6) {
      out.push_back(std::move(misfit));
    }
  }
  return out;
}

constexpr const char* kAsPacked = "as packed";

Before row_of(const std::string& what, const RefitInput& input,
              const std::vector<CaseProof>& proofs) {
  Before row;
  row.what = what;
  row.key_goes_in = true;
  Verdict worst = Verdict::kStands;
  const CaseProof* least = nullptr;
  for (std::size_t i = 0; i < proofs.size(); ++i) {
    const CaseProof& proof = proofs[i];
    const auto more = [](std::optional<double>& most, const std::optional<double>& value) {
      if (value) most = std::max(most.value_or(*value), *value);
    };
    more(row.joint_stress_max_pa, proof.joint_stress_max_pa);
    more(row.friction_needed, proof.friction_needed);
    if (proof.verdict == Verdict::kFalls ||
        (proof.verdict == Verdict::kUndecided && worst == Verdict::kStands)) {
      worst = proof.verdict;
    }
    const bool live = input.assembly->cases[i].has_live();
    if (live && (input.counts.empty() || input.counts[i] != 0) && proof.load_factor &&
        (least == nullptr || *proof.load_factor < *least->load_factor))
      least = &proof;
  }
  if (least != nullptr) {
    row.load_factor = least->load_factor;
    row.governing = least->id;
  }
  row.verdict = proofs.empty() ? "not proved" : word(worst);
  return row;
}

Before not_built(const std::string& what, const std::string& why) {
  Before row;
  row.what = what;
  row.verdict = "not built: " + why;
  return row;
}

/// Highest point of what is not the ground.
double top_m(const Assembly& assembly) {
  double top = -std::numeric_limits<double>::infinity();
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    for (const Vec3& p : block.solid.vertices) top = std::max(top, p.z());
  }
  return top;
}

/// Views 1 and 2; of friction the table tells the most.
std::vector<CaseProof> proofs_of(const Assembly& assembly, const StandOptions& options,
                                 const Progress& progress) {
  std::vector<CaseProof> proofs = prove_without_friction(assembly, options, progress);
  find_most_friction(assembly, options, progress, proofs);
  return proofs;
}

struct Built {
  const RefitInput* input;
  const StackModel* model;
  const Remedy* remedy;
  std::vector<DeadMoves> dead = {};
};

void prove_bare(const Built& b, const StandOptions& options, const Progress& progress,
                Refit& found) {
  const PackingRequest& packing = b.input->brief->packing;
  const std::string what = "as laid, no packers";
  if (!found.stack.key_goes_in) {
    found.table.push_back(not_built(what, found.stack.finding));
    return;
  }
  const Laid bare{&b.remedy->made, found.stack.moves, b.remedy->axes, {}};
  const Assembly assembly = bearing_only(rebuilt(*b.model, bare, packing));
  found.table.push_back(row_of(what, *b.input, proofs_of(assembly, options, progress)));
}

/// View 1 does not see gaps: its figures are those of the row before.
Before with_gaps(Before row, const GapsClosing& gaps) {
  row.what = "as packed, its gaps closing";
  row.joint_stress_max_pa = gaps.peak_pa;
  if (gaps.balanced < gaps.cases && row.verdict == word(Verdict::kStands))
    row.verdict = word(Verdict::kUndecided);
  return row;
}

void prove_packed(const Built& b, const StandOptions& options, const Progress& progress,
                  Refit& found) {
  if (!found.key_goes_in) {
    found.table.push_back(not_built(kAsPacked, found.packed.reason));
    return;
  }
  const Stopwatch watch;
  found.proofs = proofs_of(found.as_built, options, progress);
  found.seconds["proofs"] += watch.seconds();
  found.table.push_back(row_of(kAsPacked, *b.input, found.proofs));
  found.load_factor_after = found.table.back().load_factor;
  found.gaps.drop_m = further_down(found.as_built, b.dead, found.proofs);
  found.table.push_back(with_gaps(found.table.back(), found.gaps));
}

void take(const Remedy& remedy, Refit& found) {
  found.axes = remedy.axes;
  found.shifted = !remedy.axes.R.isIdentity(0) || !remedy.axes.t.isZero(0);
  found.made = remedy.as_laid;
  found.stack = remedy.stack;
  found.packed = remedy.packed;
  found.laid = remedy.laid;
  found.feet = remedy.feet;
  found.key_goes_in = remedy.packed.goes_in;
  found.packers = static_cast<int>(remedy.packed.packers.size());
}

/// Empty where the survey is on the bridge's axes.
std::string other_axes(const Rigid& datum) {
  if (!on_own_axes(datum)) return "";
  char text[400];
  std::snprintf(text, sizeof text,
                "the survey lies %.3f, %.3f, %.3f m off the bridge's axes (x, y, z) and is turned "
                "by %.3f degrees: taken as axes of its own. An error that all footings share is "
                "lost in that: if it was meant to be on the bridge's axes or the site's grid, "
                "names or grid are wrong; measure again",
                datum.t.x(), datum.t.y(), datum.t.z(),
                std::atan2(datum.R(1, 0), datum.R(0, 0)) * 180 / kPi);
  return text;
}

Refit begun(const Brief& brief, const FootingsFound& footings) {
  Refit found;
  if (std::string words = other_axes(footings.datum); !words.empty())
    found.remarks.push_back(std::move(words));
  found.whole = footings.whole;
  found.datum = footings.datum;
  found.footings = footings.footings;
  found.offset_max_m = found.whole.worst_m;
  for (const Support& support : brief.plan.supports) found.supports.push_back(support.id);
  return found;
}

Assembly all_joints(const Built& b, const Refit& found) {
  return rebuilt(
      *b.model,
      {&found.made, found.packed.moves, found.axes, found.packed.packers, found.packed.pads},
      b.input->brief->packing);
}

void look_at_blocks_in_place(const RefitInput& input, Refit& found) {
  if (input.points == nullptr) return;
  std::vector<MeasuredPoint> measured = input.points->points;
  const Rigid back = inverse(found.datum);
  for (MeasuredPoint& point : measured) point.at = back(point.at);
  const double gate = input.brief->survey.value_or(SurveyRequest{}).gate;
  found.in_place = blocks_in_place(setting_out(*input.brief, *input.assembly, nullptr),
                                   marks_as_packed(*input.brief, *input.assembly, nullptr, found),
                                   measured, gate);
  const std::string words =
      in_place_in_words(found.in_place, found.key_goes_in ? kAsPacked : "as drawn");
  if (!words.empty()) found.remarks.push_back(words);
}

void build_on(const Built& b, const FootingsFound& footings, Refit& found) {
  const PackingRequest& packing = b.input->brief->packing;
  const Assembly& assembly = *b.input->assembly;
  take(*b.remedy, found);
  found.misfits = misfits_of(assembly, found, packing);
  found.as_built = bearing_only(all_joints(b, found));
  found.crown_lower_m = top_m(assembly) - top_m(found.as_built);
  look_at_blocks_in_place(*b.input, found);
  found.measure_again = measure_again(assembly, found, footings.doubtful);
  found.unfit = footings.unfit;
  for (const std::string& remark : found.blocks.remarks) found.unfit.push_back("block " + remark);
  for (const BlockInPlace& block : found.in_place)
    if (block.far) found.unfit.push_back("block " + block.block + ", in place, " + block.finding);
}

/// What they come to in `found` does not need the proofs.
void let_gaps_close(Built& b, const StandOptions& options, const Progress& progress, Refit& found) {
  if (!found.key_goes_in) return;
  const Stopwatch watch;
  const Assembly all = all_joints(b, found);
  const std::vector<Vec3> gaps_of_all = gaps_left(*b.model, found, all);
  std::vector<Vec3> gaps;
  for (std::size_t j = 0; j < all.joints.size(); ++j) {
    if (!all.joints[j].contact.empty()) gaps.push_back(gaps_of_all[j]);
  }
  found.gaps = close_gaps(found.as_built, gaps, {}, options, progress, &b.dead);
  found.seconds["gaps"] = watch.seconds();
}

void prove(const Built& b, const StandOptions& options, const Progress& progress, Refit& found) {
  if (!b.input->drawn.empty()) found.table.push_back(row_of("as drawn", *b.input, b.input->drawn));
  prove_bare(b, options, progress, found);
  prove_packed(b, options, progress, found);
}

bool within_limits(const RefitInput& input, const Refit& found) {
  return over_limit(found, input.limit_pa).empty();
}

/// Stands as packed, its gaps closing too and within what its joints take, or does not stand as
/// drawn either.
bool as_good_as_drawn(const RefitInput& input, const Refit& found) {
  const std::string good = word(Verdict::kStands);
  if (found.table.front().verdict != good) return true;
  return found.table.back().verdict == good && within_limits(input, found);
}

/// Only then is what its joints take worth a look before the proofs.
bool drawn_stands(const RefitInput& input) {
  return !input.drawn.empty() &&
         row_of("as drawn", input, input.drawn).verdict == word(Verdict::kStands);
}

/// Which finer packing keeps the joints within what they take as gaps close, of those that are
/// tried. `bare`: before any remedy is built on.
std::string finer_in_words(const RefitInput& input, const StackModel& model,
                           const FootingsFound& footings, const AsMade& made, const Refit& bare,
                           const StandOptions& options, const Progress& progress) {
  std::string tried;
  for (const FinerPacking& finer : finer_packing(input.brief->packing)) {
    Brief brief = *input.brief;
    brief.packing = finer.packing;
    RefitInput with = input;
    with.brief = &brief;
    const std::vector<Remedy> remedies = try_remedies(with, model, footings, made);
    std::vector<std::size_t> ways = {choose(remedies, brief.packing)};
    for (const std::size_t k : instead(remedies, ways.front())) ways.push_back(k);
    for (const std::size_t k : ways) {
      if (!remedies[k].trial.goes_in) continue;
      Refit packed = bare;
      Built built{&with, &model, &remedies[k]};
      build_on(built, footings, packed);
      let_gaps_close(built, options, progress, packed);
      if (packed.gaps.balanced < packed.gaps.cases || !within_limits(with, packed)) continue;
      return "with " + finer.words + " every joint is within what it takes as gaps close (" +
             remedies[k].trial.name +
             "); nothing else of that was proved: put it into the brief and run again";
    }
    tried += (tried.empty() ? "" : "; ") + finer.words;
  }
  if (tried.empty()) return "";
  return "tried, and joints are pressed beyond what they take as gaps close with it too: " + tried;
}

}  // namespace

void let_packed_go(const RefitInput& input, const StandOptions& options, const Progress& progress,
                   Refit& found) {
  if (found.proofs.empty()) return;
  const Stopwatch watch;
  let_go_all(found.as_built, options, progress, {}, found.proofs);
  found.seconds["motion"] = watch.seconds();
  for (Before& row : found.table) {
    if (row.what != kAsPacked) continue;
    row = row_of(kAsPacked, input, found.proofs);
    found.table.back() = with_gaps(row, found.gaps);
    return;
  }
}

Result<Refit> refit(const RefitInput& input, const StandOptions& options,
                    const Progress& progress) {
  const Stopwatch watch;
  Brief brief = *input.brief;
  if (!brief.survey && input.points != nullptr) brief.survey.emplace();
  const Assembly& assembly = *input.assembly;
  Result<FootingsFound> footings = find_footings(brief, input.points, springing_marks(brief));
  if (!footings) return footings.faults();
  Refit found = begun(brief, *footings);
  std::vector<Rigid> motion;
  for (const RigidFit& fit : found.footings) motion.push_back(fit.X);
  const StackModel model(assembly);
  AsMade made = as_drawn(assembly, motion.size());
  if (input.points != nullptr)
    found.blocks = measure_blocks(assembly, *input.points, brief.survey->gate, made);
  if (!found.blocks.wrong.empty()) return found.blocks.wrong;
  Tried tried = try_with_turning(input, model, *footings, made);
  std::vector<Remedy>& remedies = tried.remedies;
  std::size_t chosen = tried.chosen;
  if (!tried.remark.empty()) found.remarks.push_back(tried.remark);
  found.seconds["fit and pack"] = watch.seconds();
  StandOptions two_views = options;
  two_views.third_view = ThirdView::kNever;
  const auto begin_with = [&](Built& built, Refit& out) {
    build_on(built, *footings, out);
    progress.checkpoint("survey", 0.2);
    let_gaps_close(built, two_views, progress, out);
  };
  Refit out = found;
  Built built{&input, &model, &remedies[chosen]};
  begin_with(built, out);
  const std::vector<std::size_t> others =
      out.key_goes_in ? instead(remedies, chosen) : std::vector<std::size_t>{};
  bool proved = others.empty() || !drawn_stands(input) || within_limits(input, out);
  if (proved) prove(built, two_views, progress, out);
  bool good = proved && as_good_as_drawn(input, out);
  for (const std::size_t k : others) {
    if (good) break;
    Refit other = found;
    Built again{&input, &model, &remedies[k]};
    begin_with(again, other);
    if (remedies[k].trial.reason.empty())
      remedies[k].trial.reason = over_limit(other, input.limit_pa);
    if (drawn_stands(input) && !within_limits(input, other)) continue;
    prove(again, two_views, progress, other);
    good = as_good_as_drawn(input, other);
    if (!good) continue;
    proved = true;
    out = std::move(other);
    chosen = k;
    out.remarks.emplace_back(
        std::string("on the fewest places the bridge is not shown to stand within what its joints "
                    "take: ") +
        (remedies[k].pads       ? "other pads are taken"
         : remedies[k].thinnest ? "the thinnest packers are taken"
                                : "every gap that the stock fills is packed"));
  }
  if (!proved) prove(built, two_views, progress, out);
  let_packed_go(input, options, progress, out);
  if (out.key_goes_in && out.gaps.cases > 0 && drawn_stands(input) && !within_limits(input, out)) {
    std::string words = finer_in_words(input, model, *footings, made, found, two_views, progress);
    if (!words.empty()) out.remarks.push_back(std::move(words));
  }
  remedies[chosen].trial.chosen = true;
  if (out.key_goes_in && out.gaps.cases > 0 && remedies[chosen].trial.reason.empty())
    remedies[chosen].trial.reason = over_limit(out, input.limit_pa);
  for (const Remedy& remedy : remedies) out.trials.push_back(remedy.trial);
  out.finding = footings_in_words(brief, motion) + "; " + closing_in_words(out) +
                (out.key_goes_in ? crown_in_words(out) : "");
  return out;
}

std::vector<Rigid> poses_as_packed(const Assembly& drawn, const Refit& found) {
  return poses_of(drawn, found.packed.moves, found.axes);
}

}  // namespace skewback
