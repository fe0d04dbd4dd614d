#pragma once
// What the brief says of what was measured, of what may put it right, and of how far each trade may
// be off. Defaults are common practice, no source, unless docs/brief.md names one. Part of
// brief/brief.hpp.

#include <filesystem>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

/// Where the bridge lies in the coordinates of the site: east, north, level.
struct SiteGrid {
  Vec3 origin = Vec3::Zero();  // of the bridge's x, y, z in them
  double turn_rad = 0;         // of the bridge's x axis from east, counter-clockwise
  std::string date;            // of the setting-out, as written
};

struct SurveyPoint {
  std::string support;
  std::string mark;  // "left", "right" end of the springing line at its bed, "back"
  Vec3 measured = Vec3::Zero();
};
struct SurveyRequest {
  std::vector<SurveyPoint> points;  // of the brief itself, in the bridge's axes
  std::filesystem::path file;       // of measured points; empty: none
  double accuracy_m = 0.002;        // standard deviation of a coordinate that states none
  double gate = 3;                  // a residual over this many standard deviations is an outlier
};

struct PackingRequest {
  std::vector<double> stock_m = {0.0002, 0.0005, 0.001, 0.002,
                                 0.003,  0.005,  0.010};  // thicknesses, ascending
  double most_m = 0.025;                                  // packers in one place, together
  double slack_m = 0.0002;    // a gap left without a packer: it closes when the centring goes
  double squeeze_m = 0.0001;  // a joint that is tight by this still goes together: the pad gives
  double step_m = 0.003;      // faces of a joint out of line
  double plate_length_m = 0.15, plate_depth_m = 0.10;  // of a packer: along the bed, across it
  double spacing_m = 0.3;  // of packers along a bed, middle to middle, at most
  double trim_m = 0.03;    // most that a post of the centring may be cut back
};

/// How far each trade may be off: half-widths of even errors, or two standard deviations of normal
/// ones.
struct TolerancesRequest {
  bool wanted = false;  // the brief has a table [tolerances]
  double footing_plan_m = 0.010, footing_level_m = 0.010;
  double footing_turn_rad = 0.0034906585039886592;  // about the vertical; 0.2 degrees
  double footing_tilt_rad = 0.0017453292519943296;
  double centring_m = 0.003;  // of each foot, in height
  double block_length_m = 0.001;
  double bed_tilt_rad = 0.0008726646259971648;  // of a block's far bed, any way; 0.05 degrees
  double bed_flatness_m = 0.0005;
  double pad_share = 0.05;        // of a pad's thickness
  std::vector<std::string> even;  // names of the keys whose errors are even; the others normal
  int draws = 10000, seed = 1;
  int proof_draws = 200;  // of them, those whose bridge is proved too
  double chance = 0.95;   // that the budget of each trade is to leave
};

}  // namespace skewback
