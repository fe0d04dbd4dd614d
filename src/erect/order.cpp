#include "erect/order.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

namespace skewback {
namespace {

const Block& at(const Assembly& assembly, int i) {
  return assembly.blocks[static_cast<std::size_t>(i)];
}
bool is_key(const Block& block) { return block.place.arm < 0; }

std::vector<int> free_blocks(const Assembly& assembly) {
  std::vector<int> all;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    if (!at(assembly, i).fixed) all.push_back(i);
  }
  return all;
}

/// Mean phi of the course a block is in, to 0.1 mm, so that courses stay whole.
std::map<std::pair<int, int>, double> phi_of_courses(const Assembly& assembly) {
  std::map<std::pair<int, int>, std::pair<double, int>> sums;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    auto& [sum, count] = sums[{block.place.arm, block.place.course}];
    sum += block.place.phi_m;
    ++count;
  }
  std::map<std::pair<int, int>, double> means;
  for (const auto& [course, sum] : sums)
    means[course] = std::round(1e4 * sum.first / sum.second) / 1e4;
  return means;
}

/// Without phi (assemblies that came from elsewhere) all means are alike: courses rule.
double front(const std::map<std::pair<int, int>, double>& phi, const Block& block) {
  return phi.at({block.place.arm, block.place.course});
}

}  // namespace

std::vector<int> order_of_placing(const Assembly& assembly, const std::string& way) {
  std::vector<int> order = free_blocks(assembly);
  const auto phi = phi_of_courses(assembly);
  const bool legs = way == "leg by leg";
  std::ranges::stable_sort(order, {}, [&](int i) {
    const Block& block = at(assembly, i);
    const BlockPlace& place = block.place;
    const bool apart = legs && !place.crown;  // rings are closed all round, whatever the order
    return std::tuple(is_key(block), legs && place.crown, apart ? place.arm : 0, front(phi, block),
                      place.course, place.arm, place.place);
  });
  return order;
}

std::vector<std::vector<int>> groups_of_lowering(const Assembly& assembly) {
  std::vector<int> order = free_blocks(assembly);
  const auto group = [&](int i) {
    const Block& block = at(assembly, i);
    return std::pair(is_key(block), block.place.course);
  };
  std::ranges::stable_sort(order, std::ranges::greater{}, group);
  std::vector<std::vector<int>> groups;
  for (const int i : order) {
    if (groups.empty() || group(groups.back().front()) != group(i)) groups.emplace_back();
    groups.back().push_back(i);
  }
  return groups;
}

namespace {

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

std::vector<LayingStep> laying_steps(const Brief& brief, const Assembly& assembly) {
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
  const char* const sides[] = {", left half", ", right half"};
  for (std::size_t k = 0; k < legs.size(); ++k) {
    for (const std::size_t s : {0U, 1U})
      keep(steps, std::move(on[k].walkway[s]),
           "walkway of " + brief.plan.supports[k].id + sides[s]);
  }
  keep(steps, std::move(middle_walk), "walkway over the meeting");
  for (std::size_t k = 0; k < legs.size(); ++k) {
    for (const std::size_t s : {0U, 1U})
      keep(steps, std::move(on[k].parapet[s]),
           "parapet of " + brief.plan.supports[k].id + (s == 0 ? ", left" : ", right"));
  }
  keep(steps, std::move(middle_rails), "parapets at the meeting");
  return steps;
}

}  // namespace skewback
