#pragma once
// Private to print/: what its files hand to one another.

#include <optional>

#include "print/print.hpp"

namespace skewback {

// ---- beads (bead.hpp) --------------------------------------------------------------------------

inline constexpr double kRound = 0.21460183660255172;  // 1 - pi/4

// ---- one path through a section (fill.hpp) -----------------------------------------------------

/// A point of a path; the bead that starts here stands for `share_m` of wall, half to each side
/// unless the wall is uneven.
struct PathPoint {
  Vec2 p = Vec2::Zero();
  double share_m = 0;
  double most_m = 1;  // with which it still keeps to the outline
};
struct Stroke {
  std::vector<PathPoint> points;
  bool closed = false;  // runs on from the last point to the first
};

struct Fill {
  std::vector<Stroke> strokes;  // one where the topology allows
  double section_m2 = 0;
  double laid_m2 = 0;      // sum of share x length
  double gap_m2 = 0;       // of the section, under no bead
  double overlap_m2 = 0;   // of feet of webs with the leaf, as asked for
  double overfill_m2 = 0;  // under two beads but for that overlap, or outside the section
  double turn_radius_min_m = 0;
  double share_min_m = 0, share_max_m = 0;
  std::vector<std::string> troubles;  // walls too thin, parts not joined: in words, with a place
  std::string crossing;               // where it crosses itself, which no path may; else empty
  // the bend that falls shortest of what its bead needs; at least that where none does
  double tightest_m = 0, tightest_needs_m = 0;
  std::optional<Vec2> tightest_at;  // none: no bend is tighter
  double outside_m = 0;             // greatest by which half a share reaches out of the outline
  std::optional<Vec2> outside_at;   // none: none does
};

/// What a path is held to; from PrintRequest.
struct FillLimits {
  double bead_m = 0.04, bead_min_m = 0.02, bead_max_m = 0.06;
  double overlap_m = 0.005;
  double turn_radius_m = 0.015;    // drawn where there is room
  double turn_radius_least_m = 0;  // that a bead can follow; 0: turn_radius_m
  double step_m = 0.05;
  double proud_m = 0.001;  // most by which half a share may reach out of the outline
};

// ---- layers in space (layers.hpp) --------------------------------------------------------------

/// A surface of the field that a layer's top lies in: a plane, or bowed a little out of one.
/// A path drawn in the frame's x and y goes to space by `lift`.
struct LayerSurface {
  Frame frame;       // z: the way the layers grow
  double level = 0;  // value of the field, 0 to 1
};

/// A layer with its path lifted to space, block's own (world) frame.
struct SpacePoint {
  Vec3 p = Vec3::Zero();        // on the top of the layer
  Vec3 normal = Vec3::UnitZ();  // of the layer, unit, the way the layers grow
  double height_m = 0;          // of the layer here, along the normal
  double share_m = 0;           // of the bead that starts here
  double overhang_rad = 0;      // of the nearest wall
};
struct SpaceStroke {
  std::vector<SpacePoint> points;
  bool closed = false;
};
struct SpaceLayer {
  std::vector<SpaceStroke> strokes;
};

}  // namespace skewback
