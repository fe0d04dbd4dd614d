#include <algorithm>
#include <cmath>
#include <set>

#include "centring/centring.hpp"
#include "centring/soffit.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

/// The steepest bed a block stands on: joints with ground or with a lower course.
struct Bed {
  double slope_rad = 0;
  double friction = 0;
  bool there = false;
};

Bed bed_of(const Assembly& assembly, int block, const std::vector<char>& below) {
  Bed bed;
  for (const Joint& joint : assembly.joints) {
    if (joint.a != block && joint.b != block) continue;
    const int other = joint.a == block ? joint.b : joint.a;
    if (below[static_cast<std::size_t>(other)] == 0) continue;
    const double slope = std::acos(std::clamp(std::abs(joint.frame.z.z()), 0.0, 1.0));
    if (bed.there && slope <= bed.slope_rad) continue;
    bed = {slope, joint.friction, true};
  }
  return bed;
}

double soffit_area(const Assembly& assembly, int block) {
  double sum = 0;
  for (const SoffitFace& face : soffit(assembly, block)) sum += face.area;
  return sum;
}

}  // namespace

std::vector<SelfHeld> self_held(const Brief& brief, const Assembly& assembly) {
  const double reserve = brief.required.friction_reserve;
  std::set<int> arms;
  double least_friction = 1e9;
  for (const Block& block : assembly.blocks) {
    if (!block.fixed && block.place.arm >= 0) arms.insert(block.place.arm);
  }
  for (const Joint& joint : assembly.joints) {
    least_friction = std::min(least_friction, joint.friction);
  }
  std::vector<SelfHeld> out;
  for (const int arm : arms) {
    StandOptions options;
    options.friction = least_friction / reserve;
    for (const Block& block : assembly.blocks) options.present.push_back(block.fixed ? 1 : 0);
    for (int course = 1;; ++course) {
      const std::vector<char> below = options.present;
      std::vector<int> added;
      for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
        const Block& block = assembly.blocks[b];
        if (block.fixed || block.place.arm != arm || block.place.course != course) continue;
        options.present[b] = 1;
        added.push_back(static_cast<int>(b));
      }
      if (added.empty()) break;
      LoadCase weight;
      weight.id = "weight";
      const bool stays = limit_load(assembly, weight, options).verdict == Verdict::kStands;
      bool all_held = stays;
      for (const int b : added) {
        const Bed bed = bed_of(assembly, b, below);
        SelfHeld held;
        held.block = assembly.blocks[static_cast<std::size_t>(b)].id;
        held.slope_rad = bed.slope_rad;
        held.by_friction = bed.there && bed.slope_rad < std::atan(bed.friction / reserve);
        held.by_weight = stays;
        all_held = all_held && held.by_friction && held.by_weight;
        if (stays && held.by_friction) held.timber_saved_m2 = soffit_area(assembly, b);
        out.push_back(held);
      }
      if (!all_held) {
        for (std::size_t k = out.size() - added.size(); k < out.size(); ++k) {
          out[k].timber_saved_m2 = 0;
        }
        break;
      }
    }
  }
  return out;
}

}  // namespace skewback
