// What holds the feet: footings, ties, the loss of one.

#include <algorithm>

#include "deliver/text.hpp"
#include "lodge/finding.hpp"

namespace skewback::lodge {
namespace {

struct Used {
  const FootingReport* footing = nullptr;
  const FootingCase* in = nullptr;
  double share = 0;
  bool slides = false;
};

Used most_used(const Groundworks& ground) {
  Used most;
  const auto take = [&](const FootingReport& f, int worst, bool slides) {
    if (worst < 0) return;
    const FootingCase& c = f.cases[static_cast<std::size_t>(worst)];
    const auto& share = slides ? c.sliding_used : c.bearing_used;
    if (share && (most.in == nullptr || *share > most.share)) most = {&f, &c, *share, slides};
  };
  for (const FootingReport& f : ground.footings) {
    take(f, f.worst_bearing, false);
    take(f, f.worst_sliding, true);
  }
  return most;
}

void say_footings(const Dossier& d, const RequiredCheck& check, Found& found) {
  const bool known = d.ground && !d.ground->footings.empty();
  if (!known || !check.passes) {
    found.push_back(not_checked(check, "whether the ground bears the footings"));
    found.back().moment = "footings";
    return;
  }
  const Used most = most_used(*d.ground);
  const auto bad = std::ranges::find(d.ground->footings, false, &FootingReport::cleared);
  Finding f{check.name};
  if (most.in != nullptr) f.share = most.share;
  f.weight = weight_of(check, f.share);
  if (bad != d.ground->footings.end()) {
    f.says = "The footing at " + bad->id + " is not cleared: " + stopped(bad->reason);
    f.place = support_place(d.brief.plan, bad->id);
  } else if (most.in != nullptr) {
    f.says = "The footing at " + most.footing->id + " uses " + deliver::percent_used(most.share) +
             " of what the ground " + (most.slides ? "holds against sliding" : "bears") +
             " (case " + most.in->case_id + ", " + most.in->approach + ").";
    f.place = support_place(d.brief.plan, most.footing->id);
  } else {
    f.says = "The footings are cleared.";
  }
  f.moment = "footings";
  found.push_back(std::move(f));
}

void say_ties(const Dossier& d, Found& found) {
  const TieForce* worst = nullptr;
  const auto share = [](const TieForce& t) {
    return t.resistance_n > 0 ? t.governing_n / t.resistance_n : 0;
  };
  for (const TieForce& tie : d.ground->ties) {
    const bool unsized = tie.thread.empty() && tie.governing_n > 0;
    if (unsized) {
      worst = &tie;
      break;
    }
    if (worst == nullptr || share(tie) > share(*worst)) worst = &tie;
  }
  if (worst == nullptr) return;
  Finding f{"ties"};
  const auto [pulls, resists] = measures(worst->governing_n, worst->resistance_n, "N");
  f.says = "A rod of tie " + worst->id + " pulls up to " + pulls + " with factors on";
  if (worst->thread.empty() || !(worst->resistance_n > 0)) {
    f.weight = worst->governing_n > 0 ? kFails : kHolds;
    f.says += "; no size of the series is known to hold that.";
  } else {
    f.share = share(*worst);
    // a size is chosen for the pull: to be near it is no warning
    f.weight = *f.share > 1 ? kFails : kHolds;
    f.says += "; " + worst->thread + " resists " + resists + ".";
  }
  f.place = tie_place(d.brief, *d.ground, worst->id);
  f.moment = "footings";
  found.push_back(std::move(f));
}

void say_unbalanced(const Dossier& d, Found& found) {
  const TieState* first = nullptr;
  std::size_t count = 0;
  for (const TieState& state : d.ground->cases) {
    if (state.balanced) continue;
    if (first == nullptr) first = &state;
    ++count;
  }
  if (first == nullptr) return;
  Finding f{"feet_held", kFails};
  f.says = "The feet are not held in " + deliver::counted(count, "case") + ". " +
           stopped("First " + first->case_id + ": " + first->reason);
  f.place = place("case", first->case_id, std::nullopt);
  f.moment = "footings";
  found.push_back(std::move(f));
}

void say_losses(const Dossier& d, Found& found) {
  const auto& losses = d.ground->losses;
  if (losses.empty()) return;
  const auto bad = std::ranges::find(losses, false, &LossState::held);
  Finding f{"tie_loss"};
  if (bad == losses.end()) {
    f.says =
        "The ties left hold the feet when any one tie or rod is lost (an accident), without the "
        "ground.";
  } else {
    f.weight = d.brief.required.tie_loss ? kFails : kNearLimit;
    f.says = "If " + std::string(bad->rod < 0 ? "tie " + bad->tie : "a rod of tie " + bad->tie) +
             " is lost the ties left hold the feet in " + std::to_string(bad->cases_held) + " of " +
             deliver::counted(static_cast<std::size_t>(bad->cases), "case") +
             ", what the ground below the footings resists not counted (Try it counts it)" +
             (d.brief.required.tie_loss ? ". " : "; the brief does not require it. ") +
             sentence(bad->reason);
    f.place = tie_place(d.brief, *d.ground, bad->tie);
  }
  f.moment = "footings";
  found.push_back(std::move(f));
}

void say_spread(const TieSpread& spread, Found& found) {
  Finding f{"spread"};
  f.weight = spread.unsettled > 0 ? kFails : kHolds;
  f.says =
      "As its ties stretch, and with warmth and cold, the feet go apart or together by up to " +
      measure(spread.spread_m, "m") + ".";
  if (spread.unsettled > 0)
    f.says += " In " + deliver::counted(static_cast<std::size_t>(spread.unsettled), "state") +
              " they do not come to rest.";
  f.moment = "footings";
  found.push_back(std::move(f));
}

}  // namespace

void say_ground(const Dossier& d, const Required& required, Found& found) {
  if (const auto* check = find(required, "footings")) say_footings(d, *check, found);
  if (!d.ground) return;
  say_ties(d, found);
  say_unbalanced(d, found);
  say_losses(d, found);
  if (d.spread && !d.spread->states.empty()) say_spread(*d.spread, found);
}

}  // namespace skewback::lodge
