// Every rib, foot and brace in every case; the worst of each kind kept.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "base/constants.hpp"
#include "centring/judge_parts.hpp"
#include "centring/leg_packings.hpp"

namespace skewback {

double design_pa(const Brief& brief, double characteristic_pa) {
  return brief.centring.k_mod * characteristic_pa / brief.centring.gamma_m;
}

namespace {
std::string figure(double value, int decimals, const char* unit) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f%s", decimals, value, unit);
  return text;
}
}  // namespace
std::string kilonewtons_of(double n) { return figure(n / 1e3, 2, " kN"); }
std::string millimetres_of(double m) { return figure(m * 1e3, 1, " mm"); }
std::string metres_of(double m) { return figure(m, 2, " m"); }

CentringCheck check_of(std::string name, double demand, double resistance, std::string unit,
                       std::string place, std::string stage, std::string source) {
  return {std::move(name),     demand,           resistance,       std::move(unit),
          demand / resistance, std::move(place), std::move(stage), std::move(source)};
}

void WorstChecks::offer(const CentringCheck& check) {
  const auto it = std::ranges::find(all_, check.name, &CentringCheck::name);
  if (it == all_.end()) {
    all_.push_back(check);
  } else if (check.utilisation > it->utilisation) {
    *it = check;
  }
}

bool WorstChecks::worse(const char* name, double utilisation) const {
  const auto it = std::ranges::find(all_, name, &CentringCheck::name);
  return it == all_.end() || utilisation > it->utilisation;
}

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Judge {
 public:
  Judge(const Brief& brief, const Assembly& assembly, const std::vector<SeatLoads>& loads,
        Centring& centring, const Struck& struck)
      : brief_(brief), assembly_(assembly), centring_(centring), struck_(struck) {
    cases_ = seat_cases(brief, assembly, loads, centring);
    beams_ = rib_beams(brief, centring);
    judged_.of_rib.resize(centring.ribs.size());
    judged_.of_foot.resize(centring.feet.size());
    for (const Rib& rib : centring.ribs) centring_.rib_findings.emplace_back().rib = rib.id;
    for (const CentringFoot& foot : centring.feet)
      centring_.foot_findings.emplace_back().foot = foot.id;
    for (std::size_t f = 0; f < centring.feet.size(); ++f)
      holds_.push_back(braces_along(brief, centring, static_cast<int>(f)));
    for (const CentringFoot& foot : centring.feet) {
      const auto rib = std::ranges::find(centring.ribs, foot.rib, &Rib::id);
      lever_m_.push_back(
          foot.post < 0 || rib == centring.ribs.end()
              ? 0
              : brace_lever_m(centring, centring.sticks[at(foot.post)], rib->place.x));
    }
    spring_m_.assign(centring.ribs.size(), 0);
  }

  void run() {
    sway_ = check_sway(brief_, centring_, cases_.all);
    for (std::size_t c = 0; c < cases_.all.size(); ++c) one_case(c);
    check_supports();
    check_travel();
    for (const CentringCheck& check : sway_.checks) judged_.worst.offer(check);
    judged_.asks.slides = sway_.slides;
    judged_.asks.sideways = sway_.sideways_used;
    const std::vector<std::string> holds = say_holds(brief_, judged_.asks, centring_);
    check_held_feet(brief_, centring_, judged_);
    const std::vector<std::string> jacks = check_jacks(brief_, centring_, judged_);
    const std::vector<std::string> ends =
        check_brace_ends(brief_, centring_, sway_.brace_n, judged_);
    sway_.brace.used = judged_.asks.brace_ends.used;
    judged_.asks.brace_ends = sway_.brace;
    centring_.legs_push_n = sway_.legs_push_n;
    centring_.brace_bolt_m = judged_.brace_bolt_m;
    centring_.leg_packings = pack_legs(brief_, centring_, sway_.leg_pushes, judged_, sway_.remarks);
    centring_.checks = judged_.worst.all();
    close_findings();
    say_lifting();
    for (const auto& more :
         {ends, holds, jacks, load_remarks(assembly_, cases_, centring_), cases_.remarks,
          sway_.remarks, splice_remarks(centring_), limit_remarks(brief_)})
      centring_.remarks.insert(centring_.remarks.end(), more.begin(), more.end());
  }
  [[nodiscard]] DesignAsks asks() { return std::move(judged_.asks); }

 private:
  std::vector<BeamLoad> loads_on(const RibBeam& on, const SeatCase& from,
                                 const std::vector<BeamLoad>& handed) const {
    const Frame& place = centring_.ribs[at(on.rib)].place;
    std::vector<BeamLoad> out = handed;
    for (std::size_t k = 0; k < on.seats.size(); ++k) {
      const Vec3& force = from.force[at(on.seats[k])];
      out.push_back({on.seat_at[k], {force.dot(place.x), force.dot(place.y)}, on.seat_above_m[k]});
    }
    for (std::size_t i = 0; i < on.own_n.size(); ++i) {
      const Vec3 force = -from.own_factor * on.own_n[i] * Vec3::UnitZ();
      out.push_back({i, {force.dot(place.x), force.dot(place.y)}, 0});
    }
    return out;
  }

  void one_case(std::size_t c) {
    const SeatCase& from = cases_.all[c];
    std::vector<std::vector<BeamLoad>> handed(centring_.ribs.size());
    for (RibBeam& on : beams_) {
      if (!on.beam) continue;
      const std::vector<BeamLoad> loads = loads_on(on, from, handed[at(on.rib)]);
      const BeamState state = on.beam->solve(loads);
      const bool over_first = check_tipping(brief_, centring_, on, loads, from, judged_);
      if (!state.balances) {
        tips_.try_emplace(centring_.ribs[at(on.rib)].id, from.stage);
        no_balance(on, over_first, from.stage);
        continue;
      }
      for (std::size_t k = 0; k < on.supports.size(); ++k) {
        if (on.supports[k].on_rib >= 0)
          handed[at(on.supports[k].on_rib)].push_back(
              {on.supports[k].on_at, {0, -state.reaction[k].y()}, 0});
      }
      const RibState now{on, from, state, loads};
      if (from.design) {
        check_rib(brief_, centring_, now, judged_);
        check_splices(brief_, centring_, now, judged_);
      } else {
        sagging(now, cases_.whole == c);
      }
      at_feet(now, c);
    }
  }

  void no_balance(const RibBeam& on, bool over_first, const std::string& stage) {
    CentringCheck check =
        check_of("rib that balances", 1, 0, "", centring_.ribs[at(on.rib)].id, stage,
                 "no forces at its feet, pushing only where not held down, hold it (ours)");
    check.utilisation = 2;  // nothing measures it; the moments: tipping over an end foot
    judged_.worst.offer(check);
    judged_.asks.tips.try_emplace({on.rib, over_first});
  }

  /// Sinks too far with feet that have lifted: a foot held down near there would do.
  void ask_for_lifted(const RibState& now, std::size_t point) {
    if (std::ranges::none_of(now.state.reaction, [](const Vec2& r) { return r.y() == 0; })) return;
    const auto& axis = now.on.beam->shape().axis;
    const bool first = 2 * axis[point].x() < axis.front().x() + axis.back().x();
    judged_.asks.tips.try_emplace({now.on.rib, first});
  }

  void at_feet(const RibState& now, std::size_t c) {
    for (std::size_t k = 0; k < now.on.supports.size(); ++k) {
      const int foot = now.on.supports[k].foot;
      const double n = now.state.reaction[k].y();
      if (n == 0) {
        const std::string id = foot >= 0 ? centring_.feet[at(foot)].id
                                         : centring_.ribs[at(now.on.rib)].id + " on a rib across";
        ++lifts_[id];
      }
      if (foot < 0) continue;
      FootFinding& finding = centring_.foot_findings[at(foot)];
      if (!now.from.design) {
        finding.load_max_n = std::max(finding.load_max_n, n);
        if (centring_.feet[at(foot)].held_down)
          check_pull(brief_, centring_, foot, -n, now.from.stage, judged_);
        continue;
      }
      const FootHold& hold = holds_[at(foot)];
      double bends_nm = sway_.foot_bend_nm[at(foot)];
      if (hold.flat > 0) {
        const double each = std::abs(now.state.reaction[k].x()) / hold.flat;
        sway_.brace_n = std::max(sway_.brace_n, each);
        double& used = judged_.asks.braces_along[now.on.rib];
        used = std::max(used, each / hold.strut_n);
        bends_nm = std::max(bends_nm, each * lever_m_[at(foot)]);
      }
      const double held = check_hold(hold, centring_.feet[at(foot)], now.state.reaction[k].x(),
                                     now.from.stage, judged_);
      if (centring_.feet[at(foot)].held_down)
        check_pull(brief_, centring_, foot, std::max(held, sway_.case_extra_n[c][at(foot)]) - n,
                   now.from.stage, judged_);
      const double most = n + std::max(held, sway_.foot_extra_n[at(foot)]);
      check_bent_post(brief_, centring_, foot, most, bends_nm, now.from.stage, judged_);
      if (most <= finding.design_n) continue;
      finding.design_n = most;
      check_foot(brief_, centring_, foot, most, now.from.stage, judged_);
    }
  }

  void sagging(const RibState& now, bool whole) {
    const BeamShape& shape = now.on.beam->shape();
    const auto& supports = now.on.beam->supports();
    double vertical = 0;
    for (const int s : now.on.seats) vertical -= now.from.force[at(s)].z();
    RibFinding& finding = centring_.rib_findings[at(now.on.rib)];
    finding.load_n = std::max(finding.load_n, vertical);
    double most = 0, longest = 0;
    std::size_t point = 0;
    for (std::size_t i = 0; i < shape.axis.size(); ++i) {
      const double sinks = -from_chord(shape, supports, now.state, i);
      if (std::abs(sinks) > std::abs(most)) most = sinks, point = i;
    }
    finding.deflection_m = std::max(finding.deflection_m, std::abs(most));
    if (std::abs(most) > brief_.centring.deflection_max_m) ask_for_lifted(now, point);
    judged_.worst.offer(
        check_of("deflection", std::abs(most), brief_.centring.deflection_max_m, "m",
                 finding.rib + " at " + metres_of(shape.axis[point].x()), now.from.stage,
                 "between feet, from their chord, weight alone; bending and shear (brief: "
                 "centring.deflection_max)"));
    if (!whole) return;
    for (std::size_t k = 0; k + 1 < supports.size(); ++k) {
      const double from = shape.axis[supports[k].at].x(), to = shape.axis[supports[k + 1].at].x();
      if (to - from <= longest) continue;
      longest = to - from;
      std::size_t middle = supports[k].at;
      while (shape.axis[middle].x() < (from + to) / 2) ++middle;
      finding.camber_m =
          brief_.centring.settlement_m - from_chord(shape, supports, now.state, middle);
    }
    spring_m_[at(now.on.rib)] = std::abs(most);
  }

  /// How far a point has risen from the straight line through the feet beside it; past the last
  /// foot, from that foot.
  static double from_chord(const BeamShape& shape, const std::vector<BeamSupport>& supports,
                           const BeamState& state, std::size_t i) {
    std::size_t k = 0;
    while (k < supports.size() && supports[k].at < i) ++k;
    if (k == 0) return state.move[i].y() - state.move[supports.front().at].y();
    if (k == supports.size()) return state.move[i].y() - state.move[supports.back().at].y();
    const std::size_t a = supports[k - 1].at, b = supports[k].at;
    const double t =
        (shape.axis[i].x() - shape.axis[a].x()) / (shape.axis[b].x() - shape.axis[a].x());
    return state.move[i].y() - (1 - t) * state.move[a].y() - t * state.move[b].y();
  }

  void check_supports() {
    for (const RibBeam& on : beams_) {
      if (on.beam) continue;
      const auto has = static_cast<double>(on.feet.size());
      CentringCheck check =
          check_of("supports of a rib", 2, has, "supports", centring_.ribs[at(on.rib)].id,
                   "every stage", "a beam needs two feet, or carried ribs that it crosses (ours)");
      check.utilisation = 3 - has;  // one and one more for each that is missing
      judged_.worst.offer(check);
    }
  }

  /// A foot goes down until its rib is free of the bridge, which comes after it.
  void check_travel() {
    int steps = 0;
    for (const CentringFoot& foot : centring_.feet) {
      const auto rib = std::ranges::find(centring_.ribs, foot.rib, &Rib::id);
      if (rib == centring_.ribs.end()) continue;
      const double back = spring_m_[static_cast<std::size_t>(rib - centring_.ribs.begin())];
      const double needed =
          std::max(back + brief_.centring.settlement_m + struck_.drop_m, struck_.lowered_m);
      steps = std::max(steps,
                       static_cast<int>(std::ceil(needed / brief_.centring.strike_step_m - 1e-9)));
      offer_travel("travel down", needed, foot.down_m, foot,
                   "what the rib springs back, the brief's settlement and the bridge's own drop; "
                   "no less than the whole steps that the order of work takes");
      offer_travel("travel up", brief_.required.footing_tolerance_m, foot.up_m, foot,
                   "error of the ground (brief: required.footing_tolerance)");
    }
    if (steps > 0)
      centring_.remarks.push_back(
          "To come free every foot goes down at least " + std::to_string(steps) + " steps of " +
          millimetres_of(brief_.centring.strike_step_m) + "; in that the bridge's own drop of " +
          millimetres_of(struck_.drop_m) + ".");
  }

  void offer_travel(const char* name, double needed, double has, const CentringFoot& foot,
                    const char* source) {
    if (has <= 0) {
      no_travel_ = foot.id;
      return;
    }
    judged_.worst.offer(check_of(name, needed, has, "m", foot.id, "striking", source));
  }

  void close_findings() {
    for (std::size_t r = 0; r < centring_.ribs.size(); ++r) {
      RibFinding& finding = centring_.rib_findings[r];
      for (const CentringCheck& check : judged_.of_rib[r].all()) {
        if (check.utilisation <= finding.utilisation) continue;
        finding.utilisation = check.utilisation;
        finding.governs = check.name;
      }
      centring_.deflection_max_m = std::max(centring_.deflection_max_m, finding.deflection_m);
    }
    for (std::size_t f = 0; f < centring_.feet.size(); ++f) {
      for (const CentringCheck& check : judged_.of_foot[f].all())
        centring_.foot_findings[f].utilisation =
            std::max(centring_.foot_findings[f].utilisation, check.utilisation);
    }
  }

  void say_lifting() {
    std::string tipping;
    for (const auto& [rib, stage] : tips_)
      tipping += (tipping.empty() ? "" : ", ") + rib + " (first at " + stage + ")";
    if (!tipping.empty())
      centring_.remarks.push_back("Ribs that tip over their feet: " + tipping +
                                  ". Tie their other feet down (centring.foot_hold_up); where one "
                                  "tips nothing else of it was checked.");
    if (!lifts_.empty()) {
      std::string feet;
      int most = 0;
      for (const auto& [id, often] : lifts_) {
        feet += (feet.empty() ? "" : ", ") + id;
        most = std::max(most, often);
      }
      centring_.remarks.push_back(
          "Feet that would be pulled up lift, and the rib was judged without them there: " + feet +
          "; at most in " + std::to_string(most) + " of " + std::to_string(cases_.all.size()) +
          " cases. " +
          (brief_.centring.feet == "jacks"
               ? "Lock the nuts of their jacks, and pin the screws so that none drops out of its "
                 "post."
               : "Keep their wedges from falling out."));
    }
    if (!no_travel_.empty())
      centring_.remarks.push_back("A foot cannot be moved (" + no_travel_ +
                                  "): its travel was not checked.");
  }

  const Brief& brief_;
  const Assembly& assembly_;
  Centring& centring_;
  const Struck struck_;
  SeatCases cases_;
  std::vector<RibBeam> beams_;
  Sway sway_;
  Judged judged_;
  std::vector<FootHold> holds_;              // per foot
  std::vector<double> lever_m_;              // per foot, of braces along its rib
  std::vector<double> spring_m_;             // per rib
  std::map<std::string, int> lifts_;         // by foot: in how many cases
  std::map<std::string, std::string> tips_;  // by rib: first at
  std::string no_travel_;
};

}  // namespace

DesignAsks judge_and_ask(const Brief& brief, const Assembly& assembly,
                         const std::vector<SeatLoads>& loads, Centring& centring,
                         const Struck& struck) {
  centring.checks.clear();
  centring.rib_findings.clear();
  centring.foot_findings.clear();
  centring.load_max_n = centring.deflection_max_m = 0;
  Judge judge(brief, assembly, loads, centring, struck);
  judge.run();
  return judge.asks();
}

void judge_centring(const Brief& brief, const Assembly& assembly,
                    const std::vector<SeatLoads>& loads, Centring& centring, const Struck& struck) {
  judge_and_ask(brief, assembly, loads, centring, struck);
}

}  // namespace skewback
