#pragma once
// Blocks: joint planes square to the thrust, contact rings, pads, hollow solids. Theory:
// docs/theory/cut.md.

#include "assembly/assembly.hpp"
#include "base/progress.hpp"
#include "body/body.hpp"

namespace skewback {

struct CutReport {
  double designed_volume_m3 = 0;  // outer solid less tubes and the tips of arrises
  double blocks_volume_m3 = 0, pads_volume_m3 = 0;  // pads as cut to the contact
  // courses, slabs of the joints and the key against the outer solid, and blocks against courses
  // less tubes, the larger, over the designed volume
  double volume_error_rel = 0;
  bool watertight = false;  // every block closed
  double leaf_least_m = 0;  // 0 for solid blocks
  double mass_spread = 0;   // largest block over the median one
  /// Longest over shortest flow line of a block; infinite where one runs out to an edge.
  double height_ratio_max = 0;
  double stagger_min = 0;   // head joints of neighbouring courses, least, in blocks; 0: none
  int blunted_arrises = 0;  // cut back for being sharp
  std::vector<std::string> remarks;  // what had to be moved, divided or given up, in words
};

struct Cut {
  Assembly assembly;        // blocks, joints, ground blocks; no cases yet
  std::vector<Solid> pads;  // per joint; empty where there is none
  CutReport report;
};

/// Share of the outer solid that will be concrete: the section rule along the arms, the key solid.
/// An estimate for the weight in the form; the cut gives the exact figure.
[[nodiscard]] double solid_share(const Brief& brief, const Body& body);

/// Joint planes are square to the resultant of the net across level sets of phi; they cut only
/// their own arm and do not meet inside the body. No block is over the brief's mass limit, or
/// `remarks` says which. Faults: planes that cannot be kept apart, sections too small for tubes,
/// solids that cannot be cut.
[[nodiscard]] Result<Cut> cut_blocks(const Brief& brief, const Body& body,
                                     const Progress& progress = {});

}  // namespace skewback
