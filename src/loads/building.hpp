#pragma once
// What lies and blows on a bridge that is being built. Theory: docs/theory/loads.md.

#include "loads/loads.hpp"

namespace skewback {

struct BuildingCase {
  std::string words;  // "people on the half towards west (x 1.5)"
  LoadCase load;      // factors on, weight as it is
};

/// People with hand tools (EN 1991-1-6:2005, 4.11, from memory: 1.0 kPa) on the tops of the blocks
/// that are there: everywhere, and on each half cut through the middle of what stands, towards a
/// support, away from it and either side. With a working wind: on their silhouette from four sides
/// (0.5 * 1.25 v^2 times kWindSide), by itself and with people everywhere. All times the brief's
/// factor on building loads; psi_0 of people who work is 1.0 (EN 1990 A2, from memory).
class BuildingLoads {
 public:
  BuildingLoads(const Brief& brief, const Assembly& assembly);
  /// `present`: per block. Empty where nothing that is not fixed is there, or nothing is asked.
  [[nodiscard]] std::vector<BuildingCase> on(const std::vector<char>& present) const;

 private:
  const Brief& brief_;
  const Assembly& assembly_;
  std::vector<Regions> outlines_;  // of every block
  struct Half {
    Vec2 way;
    std::string words;
  };
  std::vector<Half> halves_;
};

}  // namespace skewback
