#include "works/live.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/timing.hpp"
#include "cut/plainly.hpp"
#include "stand/prove_steps.hpp"
#include "works/joint_angles.hpp"
#include "works/put_loads.hpp"
#include "works/shape_loop.hpp"

namespace skewback {
namespace {

// Steps of the fit, each tried where the one before strays: forces as they are, then a little bent
// to the plan and so that weight shared otherwise across does not tilt sections.
constexpr std::array kFollowSteps = {0, 1};
constexpr double kStray = 0.01;         // of the rise: heights, from those of the form followed
constexpr double kFitWorse_m = 0.005;   // free edges, than in the form that is followed
constexpr std::size_t kFirstCases = 3;  // proved and told before the rest

template <class Work>
void timed(Dossier& dossier, const char* stage, const Progress& progress, Work&& work) {
  progress.checkpoint(stage, 0);
  const Stopwatch watch;
  work();
  dossier.timings_s[stage] += watch.seconds();
}

/// Supports by the same names in the same order, as many openings: a net of the same arms.
bool same_arms(const Brief& a, const Brief& b) {
  const Plan &p = a.plan, &q = b.plan;
  return p.openings.size() == q.openings.size() &&
         std::ranges::equal(p.supports, q.supports, {}, &Support::id, &Support::id);
}

/// How much a case had to spare; a case that did not stand, or is new: none.
double spare(const LoadCase& load, const Dossier* before) {
  if (before == nullptr) return 0;
  for (const CaseProof& proof : before->proofs)
    if (proof.id == load.id)
      return proof.verdict == Verdict::kStands ? proof.load_factor.value_or(HUGE_VAL) : 0;
  return 0;
}

/// Weight alone, then the cases that had least to spare.
std::vector<std::size_t> first_cases(const std::vector<LoadCase>& cases, const Dossier* before) {
  std::vector<std::size_t> order(cases.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto rank = [&](std::size_t i) {
    return std::pair(cases[i].has_live(), spare(cases[i], before));
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
  const auto plain = std::stable_partition(order.begin(), order.end(),
                                           [&](std::size_t i) { return !cases[i].has_live(); });
  const auto dead = static_cast<std::size_t>(plain - order.begin());
  // one case of weight alone will do to begin with
  if (dead > 1) std::rotate(order.begin() + 1, plain, order.end());
  order.resize(std::min(order.size(), kFirstCases));
  return order;
}

/// Proves the cases named and puts the proofs where they belong.
void prove_some(Dossier& dossier, const std::vector<std::size_t>& which, const Progress& progress) {
  Assembly some = dossier.cut->assembly;
  some.cases.clear();
  for (const std::size_t i : which) some.cases.push_back(dossier.cut->assembly.cases[i]);
  std::vector<CaseProof> proofs = prove_without_friction(some, dossier.stand_options, progress);
  for (std::size_t k = 0; k < which.size(); ++k) dossier.proofs[which[k]] = std::move(proofs[k]);
}

void not_yet(Dossier& dossier) {
  dossier.proofs.clear();
  for (const LoadCase& load : dossier.cut->assembly.cases) {
    CaseProof proof;
    proof.id = load.id;
    proof.reason = kNotProvedYet;
    dossier.proofs.push_back(std::move(proof));
  }
}

/// Whether its heights are those of the form followed, in proportion to the rise: far from it, one
/// step leaves sections tilted. Points may slide in plan; the fit of the edges is looked at apart.
bool near_it(const Form& now, const Form& from) {
  if (now.vertices.size() != from.vertices.size() || !(from.rise_m > 0)) return false;
  double level = 0, feet = 0;
  for (std::size_t i = 0; i < from.vertices.size(); ++i) {
    if (from.support_of[i] < 0) continue;
    level += from.vertices[i].z();
    feet += 1;
  }
  level = feet > 0 ? level / feet : 0;
  for (std::size_t i = 0; i < from.vertices.size(); ++i) {
    const double scaled = level + (from.vertices[i].z() - level) * now.rise_m / from.rise_m;
    if (std::abs(now.vertices[i].z() - scaled) > kStray * now.rise_m) return false;
  }
  return true;
}

}  // namespace

Result<LiveShape> live_shape(const Brief& brief, const Dossier* from, const Progress& progress,
                             const std::function<void(const Dossier&, const std::string&)>& told) {
  Dossier blank;
  blank.brief = brief;
  if (brief.section.depth == kDepthFromThrust && from != nullptr && from->depth_found) {
    // looked for again by a whole run
    Section& section = blank.brief.section;
    section.depth = kDepthAsGiven;
    section.depth_crown_m = from->depth_found->crown_m;
    section.depth_springing_m = from->depth_found->springing_m;
    blank.depth_found = from->depth_found;
  }
  blank.stand_options.load_factor_cap = brief.loads.cap;
  if (from != nullptr && from->form && same_arms(brief, from->brief)) {
    std::optional<Dossier> strayed;
    for (const int steps : kFollowSteps) {
      Dossier followed = blank;
      if (!follow_shape(blank.brief, *from->form, steps, followed, progress)) break;
      if (!near_it(*followed.form, *from->form) ||
          followed.form->fit_rms_m > from->form->fit_rms_m + kFitWorse_m) {
        strayed = std::move(followed);
        continue;
      }
      strayed.reset();
      if (told) told(followed, "the solid is not made yet");
      bool good = false;
      timed(followed, "body", progress, [&] {
        Result<Body> body = give_body(blank.brief, *followed.form);
        good = body.ok();
        if (good) followed.body = std::move(body).value();
      });
      if (good) return LiveShape{std::move(followed), false};
      break;
    }
    if (strayed && told) told(*strayed, "it strays from the last one: the form is sought anew");
  }
  if (std::optional<Faults> faults = find_shape(blank.brief, blank, progress)) return *faults;
  return LiveShape{std::move(blank), true};
}

Result<Dossier> live_blocks(Dossier shaped, const Progress& progress) {
  std::optional<Faults> faults;
  timed(shaped, "cut", progress, [&] {
    Result<Cut> cut = cut_blocks_plainly(shaped.brief, *shaped.body, progress);
    if (cut) {
      shaped.cut = std::move(cut).value();
    } else {
      faults = cut.faults();
    }
  });
  if (faults) return *faults;
  timed(shaped, "loads", progress, [&] { put_loads(shaped); });
  return shaped;
}

Dossier live_proof(Dossier cut, const Dossier* before, const Progress& progress,
                   const std::function<void(const Dossier&, const std::string&)>& told) {
  Dossier& dossier = cut;
  dossier.scope = "form to proof; depth, moved footings and states not tried";
  timed(dossier, "stand", progress, [&] {
    const Assembly& assembly = dossier.cut->assembly;
    not_yet(dossier);
    const std::vector<std::size_t> first = first_cases(assembly.cases, before);
    std::vector<std::size_t> rest;
    for (std::size_t i = 0; i < assembly.cases.size(); ++i)
      if (std::find(first.begin(), first.end(), i) == first.end()) rest.push_back(i);
    prove_some(dossier, first, progress);
    if (told && !rest.empty())
      told(dossier, std::to_string(first.size()) + " of " + std::to_string(assembly.cases.size()) +
                        " cases are proved so far");
    if (!rest.empty()) prove_some(dossier, rest, progress);
    judge_angles(dossier);
    dossier.envelopes = envelopes(assembly, dossier.proofs);
    if (told) told(dossier, "the friction each case needs is not known yet");
    find_friction(assembly, dossier.stand_options, progress, dossier.proofs);
  });
  dossier.required = required_checks(dossier);
  return cut;
}

}  // namespace skewback
