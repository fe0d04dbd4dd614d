#pragma once
// Private to print/: how many layers, the section of each, and how its walls lean.

#include <optional>

#include "print/field.hpp"
#include "print/print_parts.hpp"

namespace skewback {

struct WayRange {
  double least_m = 0, greatest_m = 0;
};

/// Fewest and most layers that keep every height within the printer's limits; none if fewest >
/// most.
struct LayerCount {
  int fewest = 0, most = 0;
  [[nodiscard]] bool fits() const { return fewest >= 1 && fewest <= most; }
  /// As many as bring the heights nearest to the middle of the limits (geometric mean).
  [[nodiscard]] int chosen(const WayRange& ways, double least_m, double greatest_m) const;
};
[[nodiscard]] LayerCount layer_count(const WayRange& ways, double least_m, double greatest_m);

/// Shortest and longest way over the corners of a solid; of a fan they are those over all of it.
[[nodiscard]] WayRange ways_through(const LayerField& field, const Solid& solid);

struct Lean {  // of a wall, at a place of a layer's outline
  Vec2 at = Vec2::Zero();
  double rad = 0;  // over the layer below; positive outward
};
struct LayerSection {
  Frame frame;                 // world; the section's x and y
  double middle = 0, top = 0;  // levels
  Regions section;             // half-way up the layer
  double height_min_m = 0, height_max_m = 0;
  double area_m2 = 0, volume_m3 = 0;
  std::vector<Lean> leans;                            // empty in the first layer
  [[nodiscard]] double lean_at(const Vec2& p) const;  // of the nearest; 0 in the first layer
  [[nodiscard]] double lean_max() const;  // outward: what leans back lies on the layer below
};

/// Sections of all layers, from the table up. `along`: direction of their x axes.
[[nodiscard]] std::vector<LayerSection> layer_sections(const LayerField& field, const Solid& solid,
                                                       int count, const Vec3& along);

/// A path of a section brought to the top of its layer.
[[nodiscard]] SpaceStroke lifted(const LayerField& field, const LayerSection& layer,
                                 const Stroke& stroke, int count);

}  // namespace skewback
