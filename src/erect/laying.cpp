// In which order walkway, fill and parapets are laid.

#include "erect/laying.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include "access/access.hpp"

namespace skewback {
namespace {

const Block& at(const Assembly& assembly, int i) {
  return assembly.blocks[static_cast<std::size_t>(i)];
}

/// Middle line of a leg seen from above, and the way to its left looking from the support inward.
struct Leg {
  Vec2 from = Vec2::Zero(), left = Vec2::Zero();
};

std::vector<Leg> legs_of(const Brief& brief, const Assembly& assembly) {
  std::vector<Leg> legs(brief.plan.supports.size());
  std::vector<Vec2> sum(legs.size(), Vec2::Zero());
  std::vector<int> count(legs.size(), 0);
  for (const Block& block : assembly.blocks) {
    const int arm = block.place.arm;
    if (block.fixed || arm < 0 || arm >= static_cast<int>(legs.size())) continue;
    sum[static_cast<std::size_t>(arm)] += block.mass.centroid.head<2>();
    ++count[static_cast<std::size_t>(arm)];
  }
  for (std::size_t k = 0; k < legs.size(); ++k) {
    const Support& support = brief.plan.supports[k];
    legs[k].from = (support.a + support.b) / 2;
    if (count[k] == 0) continue;
    const Vec2 way = sum[k] / count[k] - legs[k].from;
    if (way.norm() > 1e-9) legs[k].left = Vec2(-way.y(), way.x()).normalized();
  }
  return legs;
}

/// A strip's weight on a block as two halves, a quarter of its width to either side.
void add_halves(const Brief& brief, const Leg& leg, int block, const CarriedMass& mass,
                std::array<LayingStep, 2>& halves) {
  for (const int side : {0, 1}) {
    CarriedMass half = mass;
    half.mass_kg /= 2;
    half.point.head<2>() += (side == 0 ? 0.25 : -0.25) * brief.walkway.width_m * leg.left;
    halves[static_cast<std::size_t>(side)].on.emplace_back(block, half);
  }
}

void keep(std::vector<LayingStep>& steps, LayingStep step, const std::string& words) {
  if (step.on.empty()) return;
  step.words = words;
  steps.push_back(std::move(step));
}

}  // namespace

std::vector<LayingStep> laying_by_sides(const Brief& brief, const Assembly& assembly) {
  const std::vector<Leg> legs = legs_of(brief, assembly);
  struct OnLeg {
    std::array<LayingStep, 2> walkway, parapet;
  };
  std::vector<OnLeg> on(legs.size());
  LayingStep middle_walk, middle_rails;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = at(assembly, i);
    const bool in_leg = block.place.arm >= 0 && block.place.arm < static_cast<int>(legs.size());
    for (const CarriedMass& mass : block.carried) {
      if (mass.kind == Carried::kOther) continue;
      const bool rails = mass.kind == Carried::kParapet;
      if (!in_leg) {
        (rails ? middle_rails : middle_walk).on.emplace_back(i, mass);
        continue;
      }
      const auto k = static_cast<std::size_t>(block.place.arm);
      if (rails) {
        const bool left = (mass.point.head<2>() - legs[k].from).dot(legs[k].left) > 0;
        on[k].parapet[left ? 0 : 1].on.emplace_back(i, mass);
      } else {
        add_halves(brief, legs[k], i, mass, on[k].walkway);
      }
    }
  }
  std::vector<LayingStep> steps;
  const bool spine = brief.plan.second_meeting.has_value();
  const char* const sides[] = {", left half", ", right half"};
  for (std::size_t k = 0; k < legs.size(); ++k) {
    for (const std::size_t s : {0U, 1U})
      keep(steps, std::move(on[k].walkway[s]),
           "walkway of " + brief.plan.supports[k].id + sides[s]);
  }
  keep(steps, std::move(middle_walk),
       spine ? "walkway over the meetings and the spine" : "walkway over the meeting");
  for (std::size_t k = 0; k < legs.size(); ++k) {
    for (const std::size_t s : {0U, 1U})
      keep(steps, std::move(on[k].parapet[s]),
           "parapet of " + brief.plan.supports[k].id + (s == 0 ? ", left" : ", right"));
  }
  keep(steps, std::move(middle_rails),
       spine ? "parapets at the meetings and along the spine" : "parapets at the meeting");
  return steps;
}

namespace {

struct OnLine {
  const WalkLine* line = nullptr;
  double along_m = 0;
};

/// Nearest station of all legs, in plan.
OnLine nearest(const std::vector<WalkLine>& lines, const Vec3& point) {
  OnLine best;
  double least = std::numeric_limits<double>::infinity();
  for (const WalkLine& line : lines)
    for (const WalkStation& station : line.stations) {
      const double away = (station.point - point).head<2>().squaredNorm();
      if (away >= least) continue;
      least = away;
      best = {&line, station.along_m};
    }
  return best;
}

/// Index of the part over a place: the bay of its leg, the nearest at the ends; beyond the last bay
/// the landing.
std::optional<std::size_t> part_over(const std::vector<WalkPart>& parts, const OnLine& place) {
  std::optional<std::size_t> best, landing;
  double least = std::numeric_limits<double>::infinity(), end = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const WalkPart& part = parts[i];
    if (part.kind == PartKind::kLanding) landing = i;
    if (part.kind == PartKind::kFrame || part.kind == PartKind::kLanding || place.line == nullptr ||
        part.line != place.line->name)
      continue;
    end = std::max(end, part.to_m);
    const double out = std::max({part.from_m - place.along_m, place.along_m - part.to_m, 0.0});
    if (out >= least) continue;
    least = out;
    best = i;
  }
  return landing && (!best || place.along_m > end) ? landing : best;
}

}  // namespace

std::vector<LayingStep> laying_by_parts(const Brief& brief, const Assembly& assembly,
                                        const AccessReport* access) {
  std::vector<LayingStep> by_sides = laying_by_sides(brief, assembly);
  if (access == nullptr || access->parts.empty()) return by_sides;
  const std::vector<WalkPart>& parts = access->parts;
  std::vector<LayingStep> on(parts.size());
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i)
    for (const CarriedMass& mass : at(assembly, i).carried) {
      if (mass.kind != Carried::kWalkway && mass.kind != Carried::kFill) continue;
      const auto part = part_over(parts, nearest(access->lines, mass.point));
      if (!part) return by_sides;
      on[*part].on.emplace_back(i, mass);
    }
  std::vector<LayingStep> steps;
  for (std::size_t k = 0, from = 0; k < parts.size(); ++k) {
    if (parts[k].kind == PartKind::kFrame) continue;
    const std::string first = std::to_string(from + 1), last = std::to_string(k + 1);
    keep(steps, std::move(on[k]),
         (k == from ? "part " + last : "parts " + first + " to " + last) +
             " of the walkway, up to " + parts[k].id);
    from = k + 1;
  }
  for (LayingStep& step : by_sides)
    if (std::ranges::all_of(step.on,
                            [](const auto& load) { return load.second.kind == Carried::kParapet; }))
      steps.push_back(std::move(step));
  return steps;
}

}  // namespace skewback
