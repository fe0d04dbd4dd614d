#pragma once
// What the cut holds between taking the body apart and making blocks of it.

#include "cut/cut.hpp"
#include "cut/parts.hpp"

namespace skewback {

/// A course's parts as they are built.
struct Cutting {
  const Course* course = nullptr;
  Parts parts;                   // outer solids
  std::vector<double> shares;    // of the width, where its head joints are
  std::vector<Hollowed> blocks;  // what they become
  bool solid_for_want_of_room = false;
  bool solid_beside_opening = false;  // the same in a leg, beside an opening or over its tips
};

struct Pieces {
  JointPlanes planes;
  Taken taken;
  std::vector<Cutting> cuttings;  // per course
};

/// Where the head joints of a course meet a joint plane, along its frame's x, m.
[[nodiscard]] std::vector<double> ends_in(const Cutting& cutting, const Plane& plane);

/// From end to end of some regions, along x.
struct Breadth {
  double low = 0, high = 0;
  [[nodiscard]] double share(double x) const { return (x - low) / (high - low); }
};
[[nodiscard]] Breadth breadth_of(const Regions& bed);

/// Width of a part's lower bed, m.
[[nodiscard]] double width_of(const Solid& part, const Plane& mid, double pad_m);

/// Adds what a block's longest and shortest way from bed to bed say: an edge, the ratio, too short.
void report_lengths(const Block& block, double length_min_m, CutReport& report);

/// Edges of a solid, its holes' too, that stand out under 30 degrees.
struct Arris {
  double inside_rad = 0;  // the sharpest; pi where there is none
  double length_m = 0;    // of all
};
[[nodiscard]] Arris sharpest_arris(const Solid& solid);
/// Remarks for sharp arrises and for joints under a tenth of the median contact.
void report_sharp(const Assembly& assembly, CutReport& report);

/// Fills cut.report; `blocks_m3`: volume of all blocks. (report.cpp)
void add_report(const Brief& brief, const Body& body, const Pieces& pieces, double blocks_m3,
                Cut& cut);

}  // namespace skewback
