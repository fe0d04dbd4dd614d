#include "cut/trunk_parts.hpp"

#include <algorithm>

#include "cut/arm_planes.hpp"

namespace skewback {
namespace {

constexpr double kShortest = 0.15;  // m: shorter courses than this, or than asked for, are divided
                                    // across instead

}  // namespace

std::vector<int> trunk_parts(const Brief& brief, const Body& body) {
  std::vector<int> out;
  const double shortest = brief.blocks.length_min_m > 0
                              ? brief.blocks.length_min_m
                              : std::min(kShortest, brief.blocks.length_m);
  for (const ArmField& arm : arm_fields(body.form)) {
    double width = 0, mass = 0;
    for (int i = 1; i <= 12; ++i) {
      const Level level = level_at(body, arm, arm.border_phi_m * i / 12.5);
      width = std::max(width, level.width_m);
      mass = std::max(mass, mass_per_metre(body, level));
    }
    int n = parts_across(brief.blocks, width);
    while (brief.blocks.count == 0 && n < 200 &&
           mass * shortest * kMassMargin > brief.blocks.mass_max_kg * n)
      ++n;
    out.push_back(n);
  }
  return out;
}

}  // namespace skewback
