#include "ground/raft.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"
#include "ground/factor_sets.hpp"
#include "ground/footing_size.hpp"
#include "ground/raft_plan.hpp"
#include "ground/reactions.hpp"
#include "ground/rods.hpp"
#include "ground/words.hpp"

namespace skewback {
namespace {

constexpr double kConcrete = 30e6, kSteel = 500e6 / 1.15, kCover = 0.06, kLever = 0.9;
constexpr double kThin = 0.30, kThick = 1.50, kStep = 0.05, kBendMost = 0.167;

using Actions = std::vector<FootingAction>;  // per support

struct Pressed {  // by one combination with one set of factors
  std::string id;
  Actions on;
  double weight = 1;
};

std::vector<Pressed> pressed(const GroundFactors& factors, const std::vector<Support>& supports,
                             const TieState& dead, const std::vector<const TieState*>& states,
                             const std::vector<FootingCombination>& combinations) {
  const auto actions = [&](const TieState& state) {
    Actions out;
    for (int s = 0; s < static_cast<int>(supports.size()); ++s)
      out.push_back({-state.supports[s].force, -state.supports[s].moment});
    return out;
  };
  const Actions weight = actions(dead);
  std::vector<Pressed> out;
  std::vector<FootingCombination> all = {{dead.case_id, {}}};
  all.insert(all.end(), combinations.begin(), combinations.end());
  for (const FootingCombination& combination : all) {
    std::vector<Actions> whole;
    for (const ActionPart& part : combination.parts) {
      const auto it = std::ranges::find(states, part.action, &TieState::case_id);
      if (it != states.end()) whole.push_back(actions(**it));
    }
    if (whole.size() < combination.parts.size()) continue;
    for (const FactorSet& set : factor_sets(factors, combination.parts)) {
      Pressed p{combination.id + ", " + factors.name, weight, set.weight};
      for (std::size_t s = 0; s < supports.size(); ++s) {
        p.on[s].force *= set.weight;
        p.on[s].moment *= set.weight;
        for (std::size_t k = 0; k < whole.size(); ++k) {
          p.on[s].force += set.variable[k] * (whole[k][s].force - weight[s].force);
          p.on[s].moment += set.variable[k] * (whole[k][s].moment - weight[s].moment);
        }
      }
      out.push_back(std::move(p));
    }
  }
  return out;
}

struct Slab {
  RaftPlan plan;
  double top_m = 0, thickness_m = 0;
  [[nodiscard]] double weight_n() const { return plan.area_m2 * thickness_m * kFootingWeight; }
  [[nodiscard]] Vec3 middle(double below_top_m) const {
    return {plan.centre.x(), plan.centre.y(), top_m - below_top_m};
  }
};

/// All of it about a point: force and moment.
FootingAction sum_about(const std::vector<Support>& supports, const Pressed& by, const Vec3& point,
                        double slab_n) {
  FootingAction sum;
  sum.force = -by.weight * slab_n * Vec3::UnitZ();
  for (std::size_t s = 0; s < supports.size(); ++s) {
    sum.force += by.on[s].force;
    sum.moment += by.on[s].moment + (springing_middle(supports[s]) - point).cross(by.on[s].force);
  }
  return sum;
}

void press(const Brief& brief, const GroundFactors& factors, const Slab& slab, const Pressed& by,
           Raft& raft) {
  const FootingAction sum =
      sum_about(brief.plan.supports, by, slab.middle(slab.thickness_m), slab.weight_n());
  const Vec3 x(slab.plan.across.x(), slab.plan.across.y(), 0), y = Vec3::UnitZ().cross(x);
  BaseLoad load;
  load.vertical_n = -sum.force.z();
  load.horizontal_n = {sum.force.dot(x), sum.force.dot(y)};
  if (load.vertical_n > 0)
    load.eccentricity_m = {sum.moment.dot(y) / load.vertical_n,
                           -sum.moment.dot(x) / load.vertical_n};
  const FootingSize size{slab.plan.size_m.y(), 0, slab.plan.size_m.x(), slab.thickness_m};
  const FootingCase c = footing_case(brief.soil, size, factors, load);
  raft.gap = raft.gap || c.gap;
  raft.pressure_pa = std::max(raft.pressure_pa, c.pressure_pa);
  const auto take = [&](const std::optional<double>& used, bool off, std::optional<double>& worst,
                        std::string& where) {
    const double now = off || !used ? HUGE_VAL : *used;
    if (!where.empty() && now <= worst.value_or(HUGE_VAL)) return;
    worst = std::isinf(now) ? std::nullopt : std::optional(now);
    where = by.id;
  };
  take(c.bearing_used, c.far, raft.bearing_used, raft.bearing_case);
  take(c.sliding_used, c.far, raft.sliding_used, raft.sliding_case);
}

struct CutLoad {
  double pull_n = 0, moment_nm = 0;
};

/// What is on the side of the cut that `n` points to. Pressure under the base is linear.
CutLoad on_cut(const std::vector<Support>& supports, const Slab& slab, const Pressed& by,
               const Vec2& n, double offset, const Polygon& side) {
  const FootingAction all = sum_about(supports, by, slab.middle(slab.thickness_m), slab.weight_n());
  const double V = -all.force.z();
  const Vec3 load(V, all.moment.y() + V * slab.plan.centre.x(),
                  -all.moment.x() + V * slab.plan.centre.y());
  const Vec3 pressure = slab.plan.moments.lu().solve(load);
  const Mat3 part = plan_moments(side);
  const Vec3 up = part * pressure;  // force and its moments
  const double area = part(0, 0), share = area / slab.plan.area_m2;
  const Vec3 out(n.x(), n.y(), 0), axis = out.cross(Vec3::UnitZ());
  const double lever_area = n.x() * part(0, 1) + n.y() * part(0, 2) - offset * area;
  CutLoad cut;
  cut.moment_nm = n.x() * up.y() + n.y() * up.z() - offset * up.x() -
                  by.weight * slab.weight_n() / slab.plan.area_m2 * lever_area;
  // friction on the base holds what all of them push together
  const double friction = -all.force.dot(out) * share;
  cut.pull_n = friction;
  cut.moment_nm += friction * slab.thickness_m / 2;
  constexpr int kPieces = 5;  // of a springing
  for (std::size_t s = 0; s < supports.size(); ++s) {
    for (int i = 0; i < kPieces; ++i) {
      const Vec2 p = supports[s].a + (i + 0.5) / kPieces * (supports[s].b - supports[s].a);
      if (n.dot(p) <= offset) continue;
      const Vec3 force = by.on[s].force / kPieces;
      const Vec3 arm(n.x() * (n.dot(p) - offset), n.y() * (n.dot(p) - offset),
                     supports[s].level_m - slab.top_m + slab.thickness_m / 2);
      cut.pull_n += force.dot(out);
      cut.moment_nm += (arm.cross(force) + by.on[s].moment / kPieces).dot(axis);
    }
  }
  return cut;
}

/// False where the slab is too thin for the moment.
bool reinforce(const std::vector<Support>& supports, const Slab& slab,
               const std::vector<Pressed>& by, Raft& raft) {
  constexpr int kWays = 8, kOffsets = 9;
  const double d = slab.thickness_m - kCover;
  bool thick = true;
  for (int way = 0; way < kWays; ++way) {
    const double angle = kPi * way / kWays;
    const Vec2 n(std::cos(angle), std::sin(angle));
    for (int i = 1; i <= kOffsets; ++i) {
      const RaftCut cut = cut_plan(slab.plan.outline, n, static_cast<double>(i) / (kOffsets + 1));
      for (const Pressed& p : by) {
        const CutLoad load = on_cut(supports, slab, p, n, cut.offset_m, cut.side);
        const double pull = load.pull_n / cut.width_m, moment = load.moment_nm / cut.width_m;
        thick = thick && std::abs(moment) <= kBendMost * kConcrete * d * d;
        const double steel = slab_steel(pull, moment, slab.thickness_m);
        if (steel <= raft.steel_m2_per_m) continue;
        raft.steel_m2_per_m = steel;
        raft.pull_n = load.pull_n;
        raft.moment_nm = load.moment_nm;
        raft.section_m = cut.width_m;
        raft.steel_case = p.id;
      }
    }
  }
  return thick;
}

std::string refusal(const Brief& brief, const Raft& raft, bool thick) {
  if (!thick) return "bent beyond what a slab of " + metres(kThick) + " carries";
  if (brief.soil.kind == SoilKind::kUnknown) return "not cleared: soil unknown";
  if (!raft.bearing_used) return "the load is beyond a third of it in case " + raft.bearing_case;
  if (*raft.bearing_used > 1) return "the soil does not bear it in case " + raft.bearing_case;
  if (!raft.sliding_used || *raft.sliding_used > 1) return "it slides in case " + raft.sliding_case;
  return "";
}

}  // namespace

double slab_steel(double pull_n_per_m, double moment_nm_per_m, double thickness_m) {
  const double bent = std::abs(moment_nm_per_m) / (kLever * (thickness_m - kCover));
  const double one = std::max(0.0, bent + pull_n_per_m / 2),
               other = std::max(0.0, pull_n_per_m / 2 - bent);
  return (one + other) / kSteel;
}

Raft design_raft(const Brief& brief, const TieState& dead,
                 const std::vector<const TieState*>& states,
                 const std::vector<FootingCombination>& combinations,
                 const std::vector<Vec2>& reach_m) {
  const std::vector<Support>& supports = brief.plan.supports;
  Slab slab;
  std::vector<Vec2> corners;
  slab.top_m = HUGE_VAL;
  for (std::size_t s = 0; s < supports.size(); ++s) {
    slab.top_m = std::min(slab.top_m, supports[s].level_m);
    const FootingSize size = drawn_footing(supports[s], brief.ground, reach_m[s].x());
    for (const Vec2& p : footing_corners(supports[s], size)) corners.push_back(p);
  }
  slab.plan = raft_plan(convex_hull(corners));
  const auto approaches = both_approaches(brief.factors);
  const auto strong = pressed(approaches.front(), supports, dead, states, combinations);
  Raft raft;
  bool thick = false;
  for (slab.thickness_m = kThin;; slab.thickness_m += kStep) {
    raft = {};
    thick = reinforce(supports, slab, strong, raft);
    if (thick || slab.thickness_m + kStep > kThick + 1e-9) break;
  }
  raft.outline = slab.plan.outline;
  raft.top_m = slab.top_m;
  raft.thickness_m = slab.thickness_m;
  raft.area_m2 = slab.plan.area_m2;
  raft.weight_n = slab.weight_n();
  raft.steel_kg = 2 * raft.steel_m2_per_m * raft.area_m2 * kSteelDensity;
  for (const GroundFactors& f : approaches)
    for (const Pressed& by : pressed(f, supports, dead, states, combinations))
      press(brief, f, slab, by, raft);
  raft.reason = refusal(brief, raft, thick);
  raft.cleared = raft.reason.empty();
  return raft;
}

}  // namespace skewback
