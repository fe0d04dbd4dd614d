#pragma once
// For tests: a solid arch and how it is printed.

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "assembly/sample_arch.hpp"
#include "print/print.hpp"

namespace skewback::sample {

inline constexpr int kVoussoirs = 31;

inline Brief solid_brief() {
  Brief brief;
  brief.print.wanted = true;
  brief.print.layer_min_m = 0.006;
  brief.print.layer_max_m = 0.014;
  brief.print.bead_max_m = 0.05;
  brief.print.layer_time_max_s = 600;
  brief.print.grind_allowance_m = 0;
  brief.section.hollow = false;
  return brief;
}

inline Assembly arch() { return arch_assembly({.voussoirs = kVoussoirs, .width = 0.5}); }

/// Half of the weight above each joint, thrust as it comes: any forces will do to look at angles.
inline std::vector<CaseProof> pushes_along_the_normals(const Assembly& assembly,
                                                       double turned_rad) {
  CaseProof proof;
  proof.id = "dead";
  Forces forces;
  for (int j = 0; j < static_cast<int>(assembly.joints.size()); ++j) {
    const Frame& f = assembly.joints[static_cast<std::size_t>(j)].frame;
    forces.contacts.push_back(
        {j, f.origin, 1000 * (std::cos(turned_rad) * f.z + std::sin(turned_rad) * f.y)});
  }
  proof.evidence = forces;
  return {proof};
}

inline PrintSet print(const Brief& brief, const Assembly& assembly) {
  return print_blocks(brief, assembly, pushes_along_the_normals(assembly, 0));
}

inline const PrintCheck* named(const BlockPrint& block, const std::string& name) {
  const auto found = std::ranges::find(block.checks, name, &PrintCheck::name);
  return found == block.checks.end() ? nullptr : &*found;
}

}  // namespace skewback::sample
