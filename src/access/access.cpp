#include "access/access.hpp"

#include <algorithm>
#include <cmath>

#include "access/findings.hpp"
#include "access/parts.hpp"
#include "access/words.hpp"
#include "base/constants.hpp"

namespace skewback {
namespace {

using namespace access;

constexpr double kHandrailFrom = 0.15;  // m of rise; ADA 2010, 405.8: 6 in

void add(std::vector<AccessFinding>& to, std::vector<AccessFinding> more) {
  for (AccessFinding& finding : more) to.push_back(std::move(finding));
}

bool same_place(const AccessFinding& a, const AccessFinding& b) {
  return a.what == b.what && a.line == b.line && std::abs(a.along_m - b.along_m) < kStation;
}

void judge_all(const Brief& brief, const std::vector<Leg>& legs, AccessReport& report) {
  bool with_ramp = false;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    add(report.findings, judge_leg(brief, legs[i]));
    // the longest way on has the least of a rest at the meeting: any of them may be walked
    bool onward = false;
    std::vector<AccessFinding> runs;
    for (std::size_t j = 0; j < legs.size(); ++j) {
      if (i == j || !meet(legs[i], legs[j])) continue;
      onward = true;
      if (i < j) add(report.findings, judge_meeting(brief, legs[i], legs[j]));
      for (AccessFinding& f : judge_runs(brief, legs[i], &legs[j])) {
        const auto known =
            std::ranges::find_if(runs, [&](const AccessFinding& g) { return same_place(f, g); });
        if (known == runs.end())
          runs.push_back(std::move(f));
        else if (known->complies && !f.complies)
          *known = std::move(f);
      }
    }
    if (!onward) runs = judge_runs(brief, legs[i], nullptr);
    for (const AccessFinding& f : runs)
      with_ramp = with_ramp || (f.what == "ramp run" && f.found > kHandrailFrom);
    add(report.findings, std::move(runs));
  }
  add(report.findings, judge_rails(brief, with_ramp));
  std::ranges::stable_partition(report.findings,
                                [](const AccessFinding& f) { return !f.complies; });
}

void remark_on_legs(const Brief& brief, const std::vector<Leg>& legs, AccessReport& report) {
  for (const Leg& leg : legs) {
    const WalkLine& line = leg.line;
    if (leg.hole_m > 2 * kStation)
      report.remarks.push_back(line.name + ": no block under " + fixed(leg.hole_m, 2) +
                               " m of the walk; heights there are guessed");
    if (line.gradient_max > brief.access.ramp_from) {
      const std::vector<Stretch> level = rests(profile_of(line), kLandingSlope, 0);
      const double there =
          !level.empty() && level.front().from_m < 1e-6 ? level.front().length_m() : 0;
      if (there < brief.access.landing_m)
        report.remarks.push_back(line.name + ": the ramp needs a landing of " +
                                 fixed(brief.access.landing_m, 2) +
                                 " m at its foot; the brief does not draw the bank, so it was not "
                                 "judged");
    }
    if (is_carried(brief.walkway)) {
      double fall = 0;
      for (const WalkStation& s : line.stations) fall = std::max(fall, s.cross_fall);
      if (fall > brief.access.cross_fall_max)
        report.remarks.push_back(line.name + ": the blocks fall up to " + percent(fall) +
                                 " across; sills and packs level the deck");
    }
  }
  report.remarks.push_back(
      "not judged: edge protection (ADA 2010, 405.9), wet surface and slip, lighting, the banks; "
      "local rules decide");
}

/// The brief's weight lies on the walking strips within the plan.
double brief_weight_kg(const Brief& brief, const std::vector<Leg>& legs) {
  Regions strips;
  for (const Leg& leg : legs) {
    std::vector<Vec2> line;
    for (const WalkStation& s : leg.line.stations) line.push_back(s.point.head<2>());
    for (Region& r : strip_along(line, brief.walkway.width_m)) strips.push_back(std::move(r));
  }
  const Region plan{brief.plan.outline, brief.plan.openings};
  return brief.walkway.weight_pa * area(intersect(unite(strips), {plan})) / kGravity;
}

void remark_on_sticks(const Sticks& timber, std::vector<std::string>& remarks) {
  for (const auto& [name, use] :
       {std::pair("boards", timber.board), std::pair("bearers", timber.bearer),
        std::pair("caps of the frames", timber.cap)}) {
    if (use.utilisation > 1)
      remarks.push_back("the " + std::string(name) + " fail: " + fixed(use.utilisation, 2) +
                        " of what timber C24 carries (" + use.what +
                        "), the stoutest there are here");
  }
  remarks.push_back(
      "timber: bending, shear and sag of boards, bearers and caps by EN 1995-1-1, C24 outdoors, "
      "from "
      "memory; fixings, bearing, bracing, posts and stair strings were not checked");
}

void add_parts(const Brief& brief, const Assembly& assembly, const BackHeight& back,
               const std::vector<Leg>& legs, AccessReport& report) {
  PartList list = walkway_parts(brief, assembly, back, legs);
  if (list.parts.empty()) return;
  report.parts = std::move(list.parts);
  report.one_sided_kg = list.one_sided_kg;
  for (const WalkPart& part : report.parts) report.parts_kg += part.weight_kg;
  report.brief_kg = brief_weight_kg(brief, legs);
  const double over = report.parts_kg - report.brief_kg;
  report.remarks.push_back(
      "the parts weigh " + fixed(report.parts_kg, 0) + " kg; walkway.weight allows " +
      fixed(report.brief_kg, 0) + " kg" +
      (over > 0 ? ": " + fixed(over, 0) + " kg more than the proofs count, raise walkway.weight"
                : ", " + fixed(-over, 0) + " kg of it left for rails and fixings"));
  report.remarks.push_back("laid in the order given, no leg ever carries over " +
                           fixed(report.one_sided_kg, 0) + " kg more of the walkway than another");
  report.sticks = size_sticks(brief);
  remark_on_sticks(*report.sticks, report.remarks);
}

}  // namespace

const char* word(PartKind kind) {
  switch (kind) {
    case PartKind::kFrame:
      return "frame";
    case PartKind::kPanel:
      return "panel";
    case PartKind::kTreads:
      return "treads on the slope";
    case PartKind::kStairFlight:
      return "stair flight";
    case PartKind::kLanding:
      return "landing";
  }
  return "";
}

AccessReport judge_access(const Brief& brief, const Assembly& assembly) {
  AccessReport report;
  const BackHeight back(assembly);
  const std::vector<Leg> legs = walk_legs(brief, back);
  judge_all(brief, legs, report);
  remark_on_legs(brief, legs, report);
  add_parts(brief, assembly, back, legs, report);
  bool under_all = !legs.empty();
  for (const Leg& leg : legs) {
    report.gradient_max = std::max(report.gradient_max, leg.line.gradient_max);
    under_all = under_all && (leg.line.drawn || leg.hole_m <= 2 * kStation);
    report.lines.push_back(leg.line);
  }
  report.complies = under_all && std::ranges::all_of(report.findings, &AccessFinding::complies);
  return report;
}

}  // namespace skewback
