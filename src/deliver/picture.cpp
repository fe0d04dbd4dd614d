#include "deliver/picture.hpp"

#include <cairo.h>

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback::deliver {
namespace {

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void add_facets(std::vector<Facet>& facets, const Solid& solid, Colour colour, int part) {
  for (const FlatTriangle& t : triangles(solid)) facets.push_back({t, colour, part});
}

// Bearing, in radians, of the middle of the widest gap between neighbouring arms.
double widest_gap(const Dossier& dossier) {
  const Vec2 meeting = meeting_point(dossier);
  std::vector<double> bearings;
  for (const Support& support : dossier.brief.plan.supports) {
    const Vec2 d = (support.a + support.b) / 2 - meeting;
    bearings.push_back(std::atan2(d.y(), d.x()));
  }
  std::ranges::sort(bearings);
  double widest = 0, middle = -kPi / 2;
  for (std::size_t i = 0; i < bearings.size(); ++i) {
    const bool last = i + 1 == bearings.size();
    const double next = last ? bearings[0] + 2 * kPi : bearings[i + 1];
    const double gap = next - bearings[i];
    if (gap > widest + 1e-6) {
      widest = gap;
      middle = bearings[i] + gap / 2;
    }
  }
  return middle;
}

}  // namespace

View picture_view(const Dossier& dossier) {
  constexpr double kDown = 28 * kPi / 180, kAside = 22 * kPi / 180;
  const double bearing = widest_gap(dossier) + kAside;
  View view;
  view.towards = {std::cos(kDown) * std::cos(bearing), std::cos(kDown) * std::sin(bearing),
                  std::sin(kDown)};
  view.right = Vec3(-std::sin(bearing), std::cos(bearing), 0);
  view.up = view.towards.cross(view.right);
  return view;
}

Image main_picture(const Dossier& dossier, int width) {
  std::vector<Facet> facets;
  int part = 0;
  for (const Block& block : dossier.cut->assembly.blocks) {
    add_facets(facets, block.solid, block_colour(block), part++);
  }
  for (const Solid& pad : dossier.cut->pads) add_facets(facets, pad, kPad, part++);
  return render(facets, picture_view(dossier), width);
}

std::string png(const Image& image) {
  std::vector<std::uint32_t> pixels = image.rgb;
  cairo_surface_t* surface = cairo_image_surface_create_for_data(
      reinterpret_cast<unsigned char*>(pixels.data()), CAIRO_FORMAT_RGB24, image.width,
      image.height, image.width * 4);
  std::string bytes;
  cairo_surface_write_to_png_stream(surface, append, &bytes);
  cairo_surface_destroy(surface);
  return bytes;
}

}  // namespace skewback::deliver
