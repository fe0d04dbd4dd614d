#include "ground/footing_checks.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <map>

#include "ground/factor_sets.hpp"
#include "ground/footing_size.hpp"
#include "ground/holdfast.hpp"
#include "ground/reactions.hpp"
#include "ground/rods.hpp"
#include "ground/words.hpp"

namespace skewback {
namespace {

Vec2 along_of(const Support& s) { return (s.b - s.a).normalized(); }
Vec2 out_of(const Support& s) { return {along_of(s).y(), -along_of(s).x()}; }

double most_used(const FootingCase& c) {
  if (c.far || !c.bearing_used || !c.sliding_used) return HUGE_VAL;
  return std::max(*c.bearing_used, *c.sliding_used);
}

/// Which of two is worse: by what is used up, else (soil unknown) by the pressure asked for.
bool worse(const FootingCase& a, const FootingCase& b) {
  const double ua = most_used(a), ub = most_used(b);
  if (ua != ub) return ua > ub;
  if (a.far != b.far) return a.far;
  return a.pressure_pa > b.pressure_pa;
}

std::string refusal(const FootingReport& report, const Soil& soil) {
  if (soil.kind == SoilKind::kUnknown) {
    std::string text = "not cleared: soil unknown";
    const auto off = std::ranges::find_if(report.cases, &FootingCase::far);
    if (off != report.cases.end()) {
      text += "; as drawn the load is beyond a third of it, or off it, in case " + off->case_id;
    } else {
      text +=
          "; as drawn it would have to bear " + figure(report.pressure_needed_pa / 1e3, 0) + " kPa";
    }
    if (report.proposed)
      text += "; " + figure(report.proposed->length_m, 2) + " x " +
              figure(report.proposed->width_m(), 2) + " m, " + figure(report.proposed->depth_m, 2) +
              " m thick, would keep every edge pressed and would have to bear " +
              figure(report.proposed_pressure_pa / 1e3, 0) + " kPa";
    return text + "; friction needed " + figure(report.friction_needed, 2) + " (design values)";
  }
  for (const FootingCase& c : report.cases) {
    const std::string where = " in case " + c.case_id + " (" + c.approach + ")";
    if (c.far) return "the load is off the base or beyond a third of it" + where;
    if (!c.bearing_used || *c.bearing_used > 1)
      return "the soil does not bear it" + where +
             (soil.cover_m > 0 ? "" : ", with no soil over its underside (soil.cover)");
    if (!c.sliding_used || *c.sliding_used > 1) return "it slides" + where;
  }
  return "";
}

void find_worst(FootingReport& report) {
  const auto most = [&](auto&& value) {
    int worst = -1;
    for (int i = 0; i < static_cast<int>(report.cases.size()); ++i) {
      if (worst < 0 || value(report.cases[i]) > value(report.cases[worst])) worst = i;
    }
    return worst;
  };
  report.worst_bearing =
      most([](const FootingCase& c) { return c.bearing_used.value_or(HUGE_VAL); });
  report.worst_sliding =
      most([](const FootingCase& c) { return c.sliding_used.value_or(HUGE_VAL); });
  const Vec2 plan(report.size.width_m(), report.size.length_m);
  report.worst_eccentric = most([&](const FootingCase& c) {
    return c.eccentricity_m.cwiseAbs().cwiseQuotient(plan).maxCoeff();
  });
}

std::vector<ActionPart> parts_of(const FootingLoads::Together& together) {
  std::vector<ActionPart> parts;
  for (const FootingLoads::Part& part : together.parts) parts.push_back(part.of);
  return parts;
}

FootingAction added_up(const FootingLoads::Together& together, const FactorSet& factors) {
  FootingAction sum;
  for (std::size_t k = 0; k < together.parts.size(); ++k) {
    sum.force += factors.variable[k] * together.parts[k].action.force;
    sum.moment += factors.variable[k] * together.parts[k].action.moment;
  }
  return sum;
}

FootingLoads loads_on(const std::vector<Support>& supports, const std::vector<Tie>& ties,
                      const TieState& dead, const std::vector<const TieState*>& states,
                      const std::vector<FootingCombination>& combinations, int support) {
  FootingLoads loads;
  loads.dead = action_on(supports, ties, dead, support);
  loads.cases.push_back({dead.case_id, {}});
  std::map<std::string, FootingAction> more;
  for (const TieState* state : states) {
    const FootingAction whole = action_on(supports, ties, *state, support);
    more[state->case_id] = {whole.force - loads.dead.force, whole.moment - loads.dead.moment};
  }
  for (const FootingCombination& combination : combinations) {
    FootingLoads::Together together{combination.id, {}};
    for (const ActionPart& part : combination.parts) {
      const auto found = more.find(part.action);
      if (found != more.end()) together.parts.push_back({part, found->second});
    }
    const bool whole = together.parts.size() == combination.parts.size();
    if (whole && !together.parts.empty()) loads.cases.push_back(std::move(together));
  }
  return loads;
}

}  // namespace

FootingAction action_on(const std::vector<Support>& supports, const std::vector<Tie>& ties,
                        const TieState& state, int support) {
  FootingAction out;
  const SupportReaction& r = state.supports[support];
  out.force = -r.force;
  out.moment = -r.moment;
  std::vector<int> next(ties.size(), 0);
  for (const Rod& rod : rods_of(supports, ties)) {
    const double pull = state.rod_force_n[rod.tie][next[rod.tie]++];
    if (rod.from != support && rod.to != support) continue;
    const Vec2 way = (rod.at_to - rod.at_from).normalized() * (rod.from == support ? 1 : -1);
    const Vec2 at = rod.from == support ? rod.at_from : rod.at_to;
    const Vec3 force(pull * way.x(), pull * way.y(), 0);
    out.force += force;
    out.moment += (Vec3(at.x(), at.y(), ties[rod.tie].level_m) - r.point).cross(force);
  }
  return out;
}

FootingSize drawn_footing(const Support& support, const GroundRequest& ground, double inner_m) {
  return {(support.b - support.a).norm() + 2 * ground.footing_length_m, inner_m,
          ground.footing_width_m, ground.footing_depth_m};
}

BaseLoad on_base(const Support& support, const FootingSize& size, const FootingAction& dead,
                 const FootingAction& live, double dead_factor, double live_factor) {
  const Vec2 out = out_of(support), along = along_of(support);
  const Vec3 x(out.x(), out.y(), 0), y(along.x(), along.y(), 0);
  const double weight = size.width_m() * size.length_m * size.depth_m * kFootingWeight;
  const Vec3 force = dead_factor * (dead.force - weight * Vec3::UnitZ()) + live_factor * live.force;
  // about the middle of the underside, through which the weight passes
  const Vec3 middle = (size.outer_m - size.inner_m) / 2 * x - size.depth_m * Vec3::UnitZ();
  Vec3 moment = dead_factor * (dead.moment - middle.cross(dead.force)) +
                live_factor * (live.moment - middle.cross(live.force));
  BaseLoad load;
  load.vertical_n = -force.z();
  load.horizontal_n = {force.dot(x), force.dot(y)};
  if (load.vertical_n > 0)
    load.eccentricity_m = {moment.dot(y) / load.vertical_n, -moment.dot(x) / load.vertical_n};
  return load;
}

std::optional<FootingGives> gives_way(const Support& support, const FootingReport& report) {
  if (!report.settlement_m || !report.tilt_rad) return std::nullopt;
  const Vec2 out = out_of(support), along = along_of(support);
  const Vec3 x(out.x(), out.y(), 0), y(along.x(), along.y(), 0);
  const Vec2 line = (support.a + support.b) / 2;
  FootingGives gives;
  gives.shift = -*report.settlement_m * Vec3::UnitZ();
  gives.turn = report.tilt_rad->x() * y - report.tilt_rad->y() * x;
  gives.about = Vec3(line.x(), line.y(), support.level_m) +
                (report.size.outer_m - report.size.inner_m) / 2 * x -
                report.size.depth_m * Vec3::UnitZ();
  return gives;
}

FootingCase footing_case(const Soil& soil, const FootingSize& size, const GroundFactors& factors,
                         const BaseLoad& load) {
  FootingCase out;
  out.approach = factors.name;
  out.vertical_n = load.vertical_n;
  out.horizontal_n = load.horizontal_n;
  out.eccentricity_m = load.eccentricity_m;
  const Vec2 plan(size.width_m(), size.length_m);
  const Bearing r = bearing(soil, factors, plan, load);
  out.effective_m = r.effective_m;
  const Eccentricity e = eccentricity(plan, load.eccentricity_m);
  out.gap = e != Eccentricity::kWhole;
  out.far = e == Eccentricity::kFar || !(load.vertical_n > 0);
  const double area = std::max(0.0, r.effective_m.x()) * std::max(0.0, r.effective_m.y());
  if (area > 0 && load.vertical_n > 0) out.pressure_pa = load.vertical_n / area;
  out.resistance_pa = r.resistance_pa;
  if (r.resistance_n > 0) out.bearing_used = load.vertical_n / r.resistance_n;
  out.slide_resistance_n = sliding_resistance(soil, factors, plan, load);
  if (out.slide_resistance_n > 0)
    out.sliding_used = load.horizontal_n.norm() / out.slide_resistance_n;
  return out;
}

namespace {

/// Every set of factors of a combination.
std::vector<FootingCase> all_sets(const Brief& brief, const FootingLoads& loads,
                                  const FootingLoads::Together& together, int support,
                                  const FootingSize& size) {
  std::vector<FootingCase> out;
  const std::vector<ActionPart> parts = parts_of(together);
  double pressure_most_pa = 0;
  for (const GroundFactors& f : both_approaches(brief.factors)) {
    for (const FactorSet& factors : factor_sets(f, parts)) {
      const FootingAction variable = added_up(together, factors);
      FootingCase c = footing_case(
          brief.soil, size, f,
          on_base(brief.plan.supports[support], size, loads.dead, variable, factors.weight, 1));
      c.case_id = together.id;
      c.approach = f.name + (factors.letter.empty() ? "" : ", 6.10" + factors.letter);
      c.dead_factor = factors.weight;
      c.live_factor = factors.variable.empty() ? 0 : factors.variable.front();
      c.words = in_words(parts, factors);
      if (!c.far) pressure_most_pa = std::max(pressure_most_pa, c.pressure_pa);
      out.push_back(std::move(c));
    }
  }
  for (FootingCase& c : out) c.pressure_most_pa = pressure_most_pa;
  return out;
}

double friction_used(const FootingCase& c) {
  return c.vertical_n > 0 ? c.horizontal_n.norm() / c.vertical_n : HUGE_VAL;
}

/// Sets that slide more (soil unknown: need more friction) or lie further off than all kept.
void add_governing(const Brief& brief, const FootingLoads& loads, int support,
                   FootingReport& report) {
  const Vec2 plan(report.size.width_m(), report.size.length_m);
  const bool known = brief.soil.kind != SoilKind::kUnknown;
  const std::array<std::function<double(const FootingCase&)>, 2> measures{
      [&](const FootingCase& c) {
        return known ? c.sliding_used.value_or(HUGE_VAL) : friction_used(c);
      },
      [&](const FootingCase& c) {
        return c.eccentricity_m.cwiseAbs().cwiseQuotient(plan).maxCoeff();
      }};
  std::vector<FootingCase> sets;
  for (const FootingLoads::Together& together : loads.cases)
    std::ranges::move(all_sets(brief, loads, together, support, report.size),
                      std::back_inserter(sets));
  for (const auto& measure : measures) {
    const FootingCase& kept = *std::ranges::max_element(report.cases, {}, measure);
    const FootingCase& most = *std::ranges::max_element(sets, {}, measure);
    constexpr double kMore = 1e-9;
    if (measure(most) > measure(kept) * (1 + kMore)) report.cases.push_back(most);
  }
}

}  // namespace

std::vector<FootingCase> footing_cases(const Brief& brief, const FootingLoads& loads, int support,
                                       const FootingSize& size) {
  std::vector<FootingCase> out;
  for (const FootingLoads::Together& together : loads.cases) {
    std::vector<FootingCase> sets = all_sets(brief, loads, together, support, size);
    auto worst = sets.begin();
    for (auto it = sets.begin(); it != sets.end(); ++it)
      if (worse(*it, *worst)) worst = it;
    out.push_back(std::move(*worst));
  }
  return out;
}

bool passes(const std::vector<FootingCase>& cases) {
  return std::ranges::all_of(cases, [](const FootingCase& c) { return most_used(c) <= 1; });
}

FootingReport check_footing(const Brief& brief, const std::vector<Tie>& ties, const TieState& dead,
                            const std::vector<const TieState*>& states,
                            const std::vector<FootingCombination>& combinations, int support,
                            const Vec2& reach_m) {
  FootingReport report;
  const Support& line = brief.plan.supports[support];
  report.id = line.id;
  report.size = drawn_footing(line, brief.ground, reach_m.x());
  report.weight_n =
      report.size.width_m() * report.size.length_m * report.size.depth_m * kFootingWeight;
  const FootingLoads loads =
      loads_on(brief.plan.supports, ties, dead, states, combinations, support);
  report.cases = footing_cases(brief, loads, support, report.size);
  add_governing(brief, loads, support, report);
  for (const FootingCase& c : report.cases) {
    report.pressure_needed_pa = std::max(report.pressure_needed_pa, c.pressure_most_pa);
    if (c.vertical_n > 0)
      report.friction_needed = std::max(report.friction_needed, friction_used(c));
  }
  find_worst(report);
  report.cleared = brief.soil.kind != SoilKind::kUnknown && passes(report.cases);
  report.proposed = propose_size(brief, loads, support, report.size, reach_m);
  if (report.proposed) {
    for (const FootingCase& c : footing_cases(brief, loads, support, *report.proposed))
      report.proposed_pressure_pa = std::max(report.proposed_pressure_pa, c.pressure_most_pa);
  }
  if (!report.cleared) report.reason = refusal(report, brief.soil);
  const BaseLoad rest = on_base(line, report.size, loads.dead, {}, 1, 0);
  const Vec2 plan(report.size.width_m(), report.size.length_m);
  const bool on_it =
      rest.vertical_n > 0 && (2 * rest.eccentricity_m.cwiseAbs() - plan).maxCoeff() < 0;
  if (on_it) {  // a base that tips over has no settlement
    report.settlement_m = settlement(brief.soil, plan, rest.vertical_n / plan.prod());
    report.tilt_rad = footing_tilt(brief.soil, plan, rest.vertical_n, rest.eccentricity_m);
  }
  report.settled_at_once = settlement_share_at_once(brief.soil);
  report.overhang_m = overhang_of(line, report.size, reach_m);
  report.plain_ratio = plain_footing_ratio(report.pressure_needed_pa, footing_tension(brief));
  report.plain_depth_m = plain_depth(brief, report.cases, report.overhang_m);
  const bool slides = std::ranges::any_of(
      report.cases, [](const FootingCase& c) { return !(c.sliding_used && *c.sliding_used <= 1); });
  if (ties.empty() || slides) report.holdfast = holdfast(brief, report);
  return report;
}

}  // namespace skewback
