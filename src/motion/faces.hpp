#pragma once
// Private to motion/: faces of blocks as they lie now, for contacts that are found again.

#include "motion/world.hpp"

namespace skewback::motion {

inline constexpr double kSkin = 0.03;  // of the mean size of a block: faces so near are watched
inline constexpr double kDeep = 2e-3;  // of the mean size: faces deeper in one another never met

/// From where the block was drawn to where it is.
[[nodiscard]] Rigid moved(const Body& body);
/// Looked up when first asked for.
[[nodiscard]] const std::vector<Facet>& facets(World& world, int block);
/// A region of a drawn plane, seen from above a's frame: where it is now.
[[nodiscard]] Regions seen_from(const Sight& s, const Regions& region, const Frame& drawn,
                                const Rigid& X, bool turned_over);
/// The frame of a joint as drawn, in the world at the start.
[[nodiscard]] Frame drawn_frame(const World& world, const Touch& touch);
/// Which faces of its blocks a joint lies on, if that is not known yet.
void know_facets(World& world, Touch& touch);
/// Points over `over` (a's frame), each on b's plane.
[[nodiscard]] std::vector<TouchPoint> points_on(const World& world, const Regions& over,
                                                const Plane& of_b);
/// b's frame is laid on a's as it is now.
void join_frames(const World& world, const Sight& s, Touch& touch);

/// Faces that have come near one another meet: in `world.touches`, counted in `new_contacts`.
void look_for_meetings(World& world);
/// Whether anything has moved so far since that it is time to look.
[[nodiscard]] bool time_to_look(const World& world);
/// m, of its furthest corner from its centre.
[[nodiscard]] double reach_of(const World& world, std::size_t body);

}  // namespace skewback::motion
