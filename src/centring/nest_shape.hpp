#pragma once
// Shapes as the nesting handles them: whole micrometres, turned by quarters. Private to centring/.

#include <polyclipping/clipper.hpp>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback::nest {

using ClipperLib::IntPoint;
using ClipperLib::Path;
using ClipperLib::Paths;
constexpr double kGrid = 1e6;  // units per metre

[[nodiscard]] Path to_path(const Polygon& ring);

/// x mirrored if flipped, then quarter turns counter-clockwise.
struct Turn {
  int quarters = 0;
  bool flipped = false;
  [[nodiscard]] int index() const { return quarters + (flipped ? 4 : 0); }
  bool operator==(const Turn&) const = default;
};
[[nodiscard]] Turn after(const Turn& second, const Turn& first);
[[nodiscard]] Turn undo(const Turn& turn);
[[nodiscard]] IntPoint turned(const IntPoint& p, const Turn& turn);
[[nodiscard]] Path turned(const Path& path, const Turn& turn);  // keeps its sense of going round
[[nodiscard]] Paths turned(const Paths& paths, const Turn& turn);

struct Box {
  IntPoint low, high;
};
[[nodiscard]] Box bounds(const Path& path);

struct Shape {
  Path part;     // the outline itself
  Path outline;  // grown, narrow slots closed, few corners: never inside the part grown; ccw
  Paths pieces;  // convex; together the outline
};

/// `grow_m` is kept free round it. Slots narrower than `slot_m` are closed, and edges may go
/// outward by `coarse_m`, by more only where over 40 corners would be left.
[[nodiscard]] Shape make_shape(const Polygon& outer, double grow_m, double slot_m, double coarse_m);

/// Drops corners without ever going inside: dents are bridged, and short edges replaced by the
/// corner in which their neighbours meet. While `most` corners are passed any, else those that go
/// outward by no more than `coarse_m`.
[[nodiscard]] Polygon simplified_outward(Polygon ring, std::size_t most, double coarse_m);

/// Convex polygons that together make the ring (Hertel and Mehlhorn 1983: triangles merged while
/// they stay convex). Its convex hull where it cannot be triangulated.
[[nodiscard]] std::vector<Polygon> convex_pieces(const Polygon& ring);

/// Sum of two convex counter-clockwise paths: edges of both in order of their direction.
[[nodiscard]] Path convex_sum(const Path& a, const Path& b);

}  // namespace skewback::nest
