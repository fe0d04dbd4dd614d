#pragma once
// One block against a scan of it: laid on it from anywhere, how far off, and where. Theory:
// docs/theory/survey-points.md.

#include <string>

#include "brief/brief.hpp"
#include "survey/scan.hpp"

namespace skewback {

struct ScanPlace {
  Vec3 at = Vec3::Zero();  // on the scan, bridge axes, the block as drawn
  double distance_m = 0;   // > 0 outside
  std::string where;       // "the bed to y2, lower right"
};

struct ComparedScan {
  int block = -1;
  std::string file;
  TriangleMesh3 scan;  // laid on the block as drawn
  ScanDistances distances;
  double outside_m = 0, inside_m = 0;  // farthest either way, >= 0
  bool open = false;                   // the scan is no closed surface
  std::vector<ScanPlace> worst;        // worst first, a fifth of the block's size apart or more
  std::string finding;                 // in words
  std::vector<std::string> remarks;    // another way round fits as well, ...
};

/// Starts from the scan as it lies, from the coordinates of the site, and from hull on hull any way
/// round. Faults, with `file` and key: flat or too few points; another size than the block (the
/// unit that would fit is named); over 5 mm off in the middle where another block fits in half of
/// that; a fit that does not settle.
[[nodiscard]] Result<ComparedScan> compare_scan(const Assembly& assembly, const SiteGrid& site,
                                                int block, const TriangleMesh3& scan,
                                                const std::string& file, const std::string& unit);

}  // namespace skewback
