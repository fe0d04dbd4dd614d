#pragma once
// Is each block itself strong enough? Plain concrete (or stone) between its beds, under what the
// pads hand over. Theory, sources and what is not covered: docs/theory/strength.md.

#include <optional>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "stand/stand.hpp"

namespace skewback {

/// A proof taken as a design situation. Its loads already carry their factors; these are for what
/// the proof does not have: the concentrated load and the people on the skin, and its weight.
struct DesignCase {
  std::size_t proof = 0;  // index into the proofs
  double live_gamma = 1;
  double dead_gamma = 1;
  bool accident = false;  // gamma_C in accidents
};

/// The worst case of one check of one block.
struct BlockFinding {
  int block = -1;
  /// "bed", "middle", "layers", "shear", "twist", "skin under the patch", "skin under people",
  /// "bursting", "across" or "upstand"
  std::string check;
  std::string case_id;
  double demand = 0, resistance = 0;
  std::string unit;  // of both
  double utilisation = 0;
  std::string place;   // in words
  std::string source;  // of the formula
};

struct SectionProposal {  // leaves and webs with which every skin check is met
  double leaf_m = 0, web_spacing_m = 0;
  double utilisation_now = 0, utilisation_then = 0;  // of the skins
  std::string words;
};

struct BlockChecks {
  std::vector<BlockFinding> findings;  // by block, then by check in the order above
  int worst = -1;                      // index of the greatest utilisation
  std::optional<SectionProposal> proposal;
  std::vector<std::string> remarks;
};

/// Cases whose pads found no state, or whose load case the assembly does not have, are left out and
/// named in the remarks. Fixed blocks are not checked.
[[nodiscard]] BlockChecks check_blocks(const Brief& brief, const Assembly& assembly,
                                       const std::vector<CaseProof>& proofs,
                                       const std::vector<DesignCase>& cases,
                                       const Progress& progress = {});

}  // namespace skewback
