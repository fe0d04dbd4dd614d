#pragma once
// A course divided across by head joints, and its parts made hollow.

#include "cut/courses.hpp"

namespace skewback {

struct Parts {
  std::vector<Solid> solids;  // from left to right looking up the flow
  std::vector<Plane> walls;   // between them, mid-planes, normals to the right
  // Per wall the part on its left; the next is on its right. Between parts on either side of an
  // opening there is none.
  std::vector<std::size_t> left_of;
  double slab_volume_m3 = 0;  // of the head joints
};

/// A solid divided at walls that follow each other along their normals; each takes `pad_m` away.
/// `plainly`: as for parted.
[[nodiscard]] Result<Parts> divided_at(const Solid& solid, const std::vector<Plane>& walls,
                                       double pad_m, bool plainly = false);

/// `count` parts of nearly equal width: head joints stand along the way from bed to bed, moved by
/// `shift` of a part's width (alternate signs stagger them). A course without an upper bed is
/// divided square to its lower one.
[[nodiscard]] Result<Parts> divide_across(const Course& course, double pad_m, int count,
                                          double shift, bool plainly);

/// The beds of a part: outlines in the frames of the joints' mid-planes.
[[nodiscard]] Regions bed_of(const Solid& part, const Plane& mid, double pad_m, int facing);

/// The outline without upstands: what is no thicker than `width_m`, seen up to 40 degrees aslant,
/// goes.
[[nodiscard]] Regions without_upstands(const Regions& bed, double width_m);

/// What tubes are held to beside the section.
struct TubeLimits {
  double upstand_width_m = 0;   // upstands this wide stay out of them
  double leaf_least_share = 0;  // of the leaf, at their outer ends anywhere between the beds
};

struct Hollowed {
  Solid solid;
  double tube_volume_m3 = 0;  // measured as solids of their own
  double leaf_least_m = 0;
  double wall_share = 1;  // as least_wall_share
  std::string id;         // once it is a block of the assembly
};
/// Opens at most `count` tubes from bed to bed, leaves and webs by the section; where a limit asks
/// for it they end further in and are fewer. Faults: no room for them.
[[nodiscard]] Result<Hollowed> hollowed(const Section& section, const Course& course,
                                        const Solid& part, double pad_m, int count,
                                        const TubeLimits& limits);

}  // namespace skewback
