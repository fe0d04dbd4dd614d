#pragma once
// Measured points from a file (format: docs/survey.md).

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "survey/marks.hpp"

namespace skewback {

struct MeasuredPoint {
  std::string mark;
  Vec3 at = Vec3::Zero();  // bridge axes; for beds, the block's own whatever they are
  double accuracy_m = 0;   // standard deviation of each coordinate
  int line = 0;
};
struct PointFile {
  std::string file;
  bool site_axes = false;             // written as east, north, level
  std::vector<MeasuredPoint> points;  // as written
};

/// Where there is no such file: what read_points would say of it, for a look before long work.
[[nodiscard]] std::optional<Fault> no_points(const std::filesystem::path& file);

/// CSV with a header that names the columns and their unit: "mark, east_m, north_m, level_m" (the
/// site's axes) or "mark, x_mm, y_mm, z_mm" (the bridge's), and "accuracy_mm" if stated. Every
/// fault at once, with line: no such mark (the nearest named), twice the same, no unit, not a
/// number.
[[nodiscard]] Result<PointFile> read_points(const std::filesystem::path& file, const SiteGrid& site,
                                            const std::vector<Mark>& marks, double accuracy_m);

}  // namespace skewback
