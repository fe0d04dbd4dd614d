#pragma once
// The blocks seen from one corner: z-buffer, sun and shadow, edges drawn where parts or faces meet.

#include <cstdint>
#include <string>
#include <vector>

#include "deliver/facts.hpp"
#include "deliver/outline.hpp"
#include "deliver/triangles.hpp"

namespace skewback::deliver {

struct Facet {
  FlatTriangle triangle;
  Colour colour;
  int part = 0;  // edges are drawn between parts
};

struct Image {
  int width = 0, height = 0;
  std::vector<std::uint32_t> rgb;  // 0xffRRGGBB, row by row from the top
};

/// Orthographic, `width` pixels wide, as high as the facets need; white where there is nothing.
/// Every pixel shows the facet nearest the eye.
[[nodiscard]] Image render(const std::vector<Facet>& facets, const View& view, int width);

/// Looking down at 28 degrees through the widest gap between neighbouring arms.
[[nodiscard]] View picture_view(const Dossier& dossier);
/// Blocks, pads and ground. `dossier.cut` must be there.
[[nodiscard]] Image main_picture(const Dossier& dossier, int width);

[[nodiscard]] std::string png(const Image& image);

}  // namespace skewback::deliver
