#pragma once
// What the cut holds between taking the body apart and making blocks of it.

#include "cut/cut.hpp"
#include "cut/parts.hpp"

namespace skewback {

/// A course's parts as they are built.
struct Cutting {
  const Course* course = nullptr;
  Parts parts;            // outer solids
  double blunted_m3 = 0;  // tips of sharp arrises, cut off the parts
  int blunted_arrises = 0;
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

/// A contact under this is too small for a pad to be laid and to carry: a tenth of the median, m2.
[[nodiscard]] double small_contact_m2(const Assembly& assembly);
/// Takes such joints out where they are strips under 20 mm as well, would have a pad, and both
/// blocks are pressed between others, with a remark: an open gap carries nothing, so what is proved
/// without it holds.
void leave_small_open(Assembly& assembly, CutReport& report);
/// Remarks for sharp arrises and for joints under a tenth of the median contact.
void report_sharp(const Assembly& assembly, CutReport& report);

/// Fills cut.report; `blocks_m3`: volume of all blocks. (report.cpp)
void add_report(const Brief& brief, const Body& body, const Pieces& pieces, double blocks_m3,
                Cut& cut);

}  // namespace skewback
