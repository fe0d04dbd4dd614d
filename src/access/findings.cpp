#include "access/findings.hpp"

#include <algorithm>
#include <cmath>

#include "access/words.hpp"

namespace skewback::access {
namespace {

constexpr double kRound = 1e-6;
// ADA 2010, 504.2 (4 to 7 in, 11 in)
constexpr double kRiserLeast = 0.1, kRiserMost = 0.18, kGoingLeast = 0.28;
constexpr double kHandrailLeast = 0.85, kHandrailMost = 1.0;

std::string metres(double m, int decimals = 2) { return fixed(m, decimals) + " m"; }

AccessFinding finding_at(const WalkLine& line, double along_m, const std::string& what) {
  AccessFinding finding;
  finding.what = what;
  finding.line = line.name;
  finding.along_m = along_m;
  finding.at = station_at(line, along_m).point;
  return finding;
}

std::string ramp_remedy(const Brief& brief, const WalkLine& line) {
  const RampPlan plan = plan_ramp(line.rise_m, brief.access);
  const int between = plan.runs - 1;
  std::string text = one_in(brief.access.gradient_max) + " over this rise of " +
                     metres(line.rise_m) + " needs " + metres(plan.run_m, 1) + " of run";
  if (between > 0)
    text += " and " + std::to_string(between) + (between == 1 ? " landing" : " landings") + " of " +
            metres(brief.access.landing_m) + " on the way";
  return text + "; " + metres(line.length_m, 1) + " is there";
}

AccessFinding gradient(const Brief& brief, const WalkLine& line) {
  AccessFinding f = finding_at(line, line.gradient_at_m, "gradient");
  f.found = line.gradient_max;
  f.limit = brief.access.gradient_max;
  f.source = "access.gradient_max of the brief (ADA 2010, 405.2: 1:12), over any 0.6 m";
  f.complies = f.found <= f.limit + kRound;
  if (!f.complies) f.remedy = ramp_remedy(brief, line);
  return f;
}

AccessFinding cross_fall(const Brief& brief, const WalkLine& line) {
  const auto worst = std::ranges::max_element(line.stations, {}, &WalkStation::cross_fall);
  AccessFinding f = finding_at(line, worst->along_m, "cross fall");
  f.found = worst->cross_fall;
  f.limit = brief.access.cross_fall_max;
  f.source = "access.cross_fall_max of the brief (ADA 2010, 405.3: 1:48)";
  f.complies = f.found <= f.limit + kRound;
  if (!f.complies)
    f.remedy = "level it across: the fall is " +
               fixed(1000 * f.found * walked_width_m(brief, line) / 2, 0) +
               " mm over half the width of " + metres(walked_width_m(brief, line)) +
               "; bearers packed to a level top, or a topping, take it up";
  return f;
}

/// Between the blocks and a drawn surface, for what is laid there.
AccessFinding deck_room(const Brief& brief, const WalkLine& line) {
  const auto over = [](const WalkStation& s) {
    return s.block >= 0 ? s.point.z() - s.back_m : 1e300;
  };
  const auto lowest = std::ranges::min_element(line.stations, {}, over);
  AccessFinding f = finding_at(line, lowest->along_m, kDeckRoom);
  f.found = lowest->block >= 0 ? over(*lowest) : 0;
  f.limit = deck_thickness_m(brief);
  f.unit = "m";
  f.source = "boards, bearers and sills as sized here, between the blocks and walkway.surface";
  f.complies = lowest->block >= 0 && f.found >= f.limit - 1e-3;
  if (!f.complies && f.found < 0)
    f.remedy = "the blocks stand " + fixed(-1000 * f.found, 0) +
               " mm into the surface drawn: raise "
               "it, or lower form.rise";
  else if (!f.complies)
    f.remedy = "draw walkway.surface " + fixed(1000 * (f.limit - f.found), 0) +
               " mm higher there, or take a thinner deck";
  return f;
}

AccessFinding width(const Brief& brief, const WalkLine& line) {
  const auto tight = std::ranges::min_element(line.stations, {}, [](const WalkStation& s) {
    return s.clear_width_m > 0 ? s.clear_width_m : 1e300;
  });
  AccessFinding f = finding_at(line, tight->along_m, "width");
  const double clear = tight->clear_width_m, deck = brief.walkway.width_m;
  f.found = deck > 0 ? std::min(deck, clear) : clear;
  f.limit = brief.access.width_min_m;
  f.unit = "m";
  f.source =
      "access.width_min of the brief (EN 17210, from memory: 1.2 m; ADA 2010, 405.5: 0.915 m)";
  f.complies = f.found >= f.limit - kRound && deck <= clear + kRound;
  if (f.found < f.limit - kRound)
    f.remedy = "widen by " + metres(f.limit - f.found) + "; " + metres(clear) +
               " is clear between the parapets here";
  else if (!f.complies) {
    f.limit = deck;
    f.source = "walkway.width of the brief, that what is laid goes between the parapets";
    f.remedy =
        "the walkway of " + metres(deck) + " does not go between the parapets: " + metres(clear) +
        " is clear here; walkway.width of " + fixed(std::floor(clear / 0.05 + 1e-9) * 0.05, 2) +
        " m would, or " + fixed(1000 * std::ceil((deck - clear) / 2 / 0.005 - 1e-9) * 0.005, 0) +
        " mm less on each side in parapet.inset or upstand_width";
  }
  return f;
}

/// Steps of a drawn surface that follow each other within a stride or two are a stair.
void judge_steps(const std::vector<Step>& list, const WalkLine& line,
                 std::vector<AccessFinding>& out) {
  AccessFinding f = finding_at(line, 0, "step");
  f.unit = "m";
  f.limit = kStepMost;
  f.source = "ADA 2010, 303.2: 1/4 inch (6.4 mm) upright";
  f.complies = list.empty();
  for (const Step& step : list) {
    if (std::abs(step.height_m) <= f.found) continue;
    f.found = std::abs(step.height_m);
    f.along_m = step.at_m;
    f.at = station_at(line, step.at_m).point;
  }
  if (!f.complies)
    f.remedy = std::to_string(list.size()) + (list.size() == 1 ? " step" : " steps") +
               ", the highest " + fixed(1000 * f.found, 0) +
               " mm: grind or pack up to 13 mm to a bevel of 1:2 (ADA 2010, 303.3); more needs a "
               "ramp of " +
               metres(f.found * 12) + " at 1:12";
  out.push_back(std::move(f));
}

void judge_stairs(const std::vector<Step>& list, const WalkLine& line,
                  std::vector<AccessFinding>& out) {
  constexpr double kStride = 0.9;  // m: steps farther apart are no stair
  double riser_low = 1e300, riser_high = 0, going = 1e300;
  std::size_t in_stairs = 0;
  double where = 0;
  for (std::size_t i = 1; i < list.size(); ++i) {
    const double apart = list[i].at_m - list[i - 1].at_m;
    if (apart > kStride || (list[i].height_m > 0) != (list[i - 1].height_m > 0)) continue;
    if (in_stairs++ == 0) where = list[i - 1].at_m;
    going = std::min(going, apart);
    for (const std::size_t k : {i - 1, i}) {
      riser_low = std::min(riser_low, std::abs(list[k].height_m));
      riser_high = std::max(riser_high, std::abs(list[k].height_m));
    }
  }
  if (in_stairs == 0) return;
  AccessFinding riser = finding_at(line, where, "stair riser");
  riser.unit = "m";
  riser.found = riser_high;
  riser.limit = kRiserMost;
  riser.source = "ADA 2010, 504.2: 100 to 180 mm, all alike";
  const bool alike = riser_high - riser_low <= kStepMost;
  riser.complies = riser_high <= kRiserMost + kRound && riser_low >= kRiserLeast - kRound && alike;
  if (!riser.complies)
    riser.remedy = "risers are " + fixed(1000 * riser_low, 0) + " to " +
                   fixed(1000 * riser_high, 0) + " mm: make them alike, within 100 to 180 mm";
  out.push_back(std::move(riser));
  AccessFinding tread = finding_at(line, where, "stair going");
  tread.unit = "m";
  tread.found = going;
  tread.limit = kGoingLeast;
  tread.source = "ADA 2010, 504.2: at least 280 mm";
  tread.complies = going >= kGoingLeast - kRound;
  if (!tread.complies)
    tread.remedy = "the flight is " + metres(kGoingLeast - going) + " short for each tread";
  out.push_back(std::move(tread));
}

std::string run_remedy(const Brief& brief, const RampRun& run) {
  const RampPlan plan = plan_ramp(run.rise_m, brief.access);
  return "a rise of " + metres(run.rise_m) + " in one run: " + std::to_string(plan.runs) +
         " runs with " + std::to_string(plan.runs - 1) +
         (plan.runs == 2 ? " landing" : " landings") + " of " + metres(brief.access.landing_m) +
         " between, " + metres(plan.run_m + (plan.runs - 1) * brief.access.landing_m, 1) +
         " in all at " + one_in(brief.access.gradient_max) + "; " +
         metres(run.where.length_m(), 1) + " is there";
}

AccessFinding rest_between(const Brief& brief, const Leg& leg, const Profile& walk,
                           const RampRun& lower, const RampRun& upper) {
  const Stretch gap{lower.where.to_m, upper.where.from_m};
  double longest = 0;
  for (const Stretch& level : rests(walk, kLandingSlope, 0))
    longest =
        std::max(longest, std::min(level.to_m, gap.to_m) - std::max(level.from_m, gap.from_m));
  AccessFinding f = finding_at(leg.line, (gap.from_m + gap.to_m) / 2, "landing");
  f.unit = "m";
  f.found = longest;
  f.limit = brief.access.landing_m;
  f.source = "access.landing of the brief (ADA 2010, 405.7: 1.525 m, no steeper than 1:48)";
  f.complies = longest >= f.limit - kRound;
  if (!f.complies)
    f.remedy = "make " + metres(f.limit - longest) + " more of it no steeper than 1:48";
  return f;
}

double level_about(const Profile& walk, double at_m) {
  for (const Stretch& rest : rests(walk, kLandingSlope, 0))
    if (rest.from_m <= at_m + kRound && rest.to_m >= at_m - kRound) return rest.length_m();
  return 0;
}

}  // namespace

std::vector<AccessFinding> judge_leg(const Brief& brief, const Leg& leg) {
  std::vector<AccessFinding> out{gradient(brief, leg.line)};
  const bool on_blocks = !is_carried(brief.walkway) && !leg.line.drawn;
  if (on_blocks) out.push_back(cross_fall(brief, leg.line));
  out.push_back(width(brief, leg.line));
  if (is_carried(brief.walkway) && leg.line.drawn) out.push_back(deck_room(brief, leg.line));
  if (on_blocks) {
    judge_steps(leg.uneven, leg.line, out);
  } else {
    const std::vector<Step> drawn = steps(profile_of(leg.line));
    judge_steps(drawn, leg.line, out);
    judge_stairs(drawn, leg.line, out);
  }
  return out;
}

std::vector<AccessFinding> judge_runs(const Brief& brief, const Leg& leg, const Leg* onward) {
  const Profile walk = onward != nullptr ? joined(leg.line, onward->line) : profile_of(leg.line);
  std::vector<AccessFinding> out;
  const RampRun* before = nullptr;
  std::vector<RampRun> runs = ramp_runs(walk, brief.access);
  std::erase_if(runs, [&](const RampRun& run) { return run.where.from_m >= leg.line.length_m; });
  for (RampRun& run : runs) {
    if (run.where.to_m > leg.line.length_m + kRound) {  // goes on over the meeting
      run.where.to_m = leg.line.length_m;
      double low = 1e300, high = -1e300;
      for (const WalkStation& s : leg.line.stations) {
        if (s.along_m < run.where.from_m - kRound) continue;
        low = std::min(low, s.point.z());
        high = std::max(high, s.point.z());
      }
      run.rise_m = high - low;
    }
    AccessFinding f = finding_at(leg.line, run.where.from_m, "ramp run");
    f.found = run.rise_m;
    f.limit = brief.access.run_rise_m;
    f.unit = "m";
    f.source = "access.run_rise of the brief (ADA 2010, 405.6: 760 mm between landings)";
    f.complies = f.found <= f.limit + kRound;
    if (!f.complies) f.remedy = run_remedy(brief, run);
    out.push_back(std::move(f));
    if (before != nullptr) out.push_back(rest_between(brief, leg, walk, *before, run));
    before = &run;
  }
  return out;
}

std::vector<AccessFinding> judge_meeting(const Brief& brief, const Leg& a, const Leg& b) {
  if (std::max(a.line.gradient_max, b.line.gradient_max) <= brief.access.ramp_from) return {};
  AccessFinding f = finding_at(a.line, a.line.length_m, "landing at the top");
  f.line = a.line.name + ", " + b.line.name;
  f.found = level_about(joined(a.line, b.line), a.line.length_m);
  f.limit = brief.access.landing_m;
  f.unit = "m";
  f.source = "access.landing of the brief (ADA 2010, 405.7: 1.525 m, no steeper than 1:48)";
  f.complies = f.found >= f.limit - kRound;
  if (!f.complies)
    f.remedy = "level " + metres(f.limit - f.found) + " more of the top: a deck raised " +
               "over the blocks on both sides of it";
  return {std::move(f)};
}

std::vector<AccessFinding> judge_rails(const Brief& brief, bool with_ramp) {
  const AccessRequest& access = brief.access;
  AccessFinding parapet;
  parapet.what = "parapet height";
  parapet.unit = "m";
  parapet.found = access.parapet_height_m;
  parapet.limit = access.parapet_height_min_m;
  parapet.source = "access.parapet_height_min of the brief (1.0 to 1.2 m by country, from memory)";
  parapet.complies = access.parapet_stated && parapet.found >= parapet.limit - kRound;
  if (!access.parapet_stated)
    parapet.remedy = "state access.parapet_height: nobody has said how high it is built, " +
                     metres(parapet.found) + " is taken for wind and pushes";
  else if (!parapet.complies)
    parapet.remedy = "raise it by " + metres(parapet.limit - parapet.found);
  std::vector<AccessFinding> out{std::move(parapet)};
  if (!with_ramp && access.handrail_height_m <= 0) return out;
  AccessFinding rail;
  rail.what = "handrail height";
  rail.unit = "m";
  rail.found = access.handrail_height_m;
  rail.limit = rail.found > kHandrailMost ? kHandrailMost : kHandrailLeast;
  rail.source =
      "ISO 21542, from memory: 0.85 to 1.0 m (ADA 2010, 505.4: 0.865 to 0.965 m; both sides of a "
      "ramp that rises more than 150 mm, 405.8)";
  rail.complies = access.handrail_stated && rail.found >= kHandrailLeast - kRound &&
                  rail.found <= kHandrailMost + kRound;
  if (!access.handrail_stated)
    rail.remedy = "state access.handrail_height, 0 m where there is none";
  else if (!rail.complies)
    rail.remedy = rail.found <= 0 ? "add handrails on both sides, 0.85 to 1.0 m high"
                                  : "move it by " + metres(std::abs(rail.limit - rail.found));
  out.push_back(std::move(rail));
  return out;
}

}  // namespace skewback::access
