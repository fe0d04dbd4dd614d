#include <algorithm>
#include <cmath>

#include "deliver/paper.hpp"
#include "deliver/survey_sheets.hpp"

namespace skewback::deliver {
namespace {

constexpr Colour kInside{0, 90, 170}, kPlace{240, 240, 236}, kOutside{190, 40, 10};

Colour between(const Colour& a, const Colour& b, double share) {
  const auto mix = [share](std::uint8_t from, std::uint8_t to) {
    return static_cast<std::uint8_t>(std::lround(from + share * (to - from)));
  };
  return {mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b)};
}

/// From where most of the surface faces the eye: along the mean normal, tipped up and aside.
View view_of(const std::vector<Facet>& facets) {
  Vec3 sum = Vec3::Zero();
  for (const Facet& facet : facets) {
    const auto& c = facet.triangle.corners;
    sum += (c[1] - c[0]).cross(c[2] - c[0]);
  }
  Vec3 towards = Vec3(0.55, -0.75, 0.55).normalized();
  double whole = 0;
  for (const Facet& facet : facets) {
    const auto& c = facet.triangle.corners;
    whole += (c[1] - c[0]).cross(c[2] - c[0]).norm();
  }
  if (sum.norm() > 0.2 * whole) towards = (sum.normalized() + 0.3 * towards).normalized();
  View view;
  view.towards = towards;
  const Vec3 up = std::abs(towards.z()) < 0.95 ? Vec3::UnitZ() : Vec3::UnitY();
  view.right = up.cross(towards).normalized();
  view.up = towards.cross(view.right);
  return view;
}

}  // namespace

Colour scan_colour(double distance_m, double most_m) {
  const double share = most_m > 0 ? std::clamp(distance_m / most_m, -1.0, 1.0) : 0;
  return share < 0 ? between(kPlace, kInside, -share) : between(kPlace, kOutside, share);
}

Image scan_picture(const std::vector<Vec3>& vertices, const std::vector<double>& distance_m,
                   const std::vector<std::array<int, 3>>& triangles, double most_m, int width) {
  std::vector<Facet> facets;
  for (const auto& t : triangles) {
    Facet facet;
    double mean = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const auto v = static_cast<std::size_t>(t[k]);
      facet.triangle.corners[k] = vertices[v];
      mean += distance_m[v] / 3;
    }
    const auto& c = facet.triangle.corners;
    const Vec3 normal = (c[1] - c[0]).cross(c[2] - c[0]);
    if (!(normal.norm() > 0)) continue;
    facet.triangle.normal = normal.normalized();
    facet.colour = scan_colour(mean, most_m);
    facets.push_back(facet);
  }
  return render(facets, view_of(facets), width);
}

Sheet scan_scale(double most_m, double width_mm) {
  Sheet sheet{width_mm, 13, "Distance of the scan", {}};
  constexpr int kSteps = 40;
  const double left = 12, wide = width_mm - 2 * left;
  for (int i = 0; i < kSteps; ++i) {
    const double share = (i + 0.5) / kSteps;
    const double x0 = left + wide * i / kSteps, x1 = left + wide * (i + 1) / kSteps;
    sheet.path({{x0, 1}, {x1, 1}, {x1, 5}, {x0, 5}}, true,
               {scan_colour((2 * share - 1) * most_m, most_m), std::nullopt});
  }
  for (const double share : {-1.0, -0.5, 0.0, 0.5, 1.0})
    sheet.words({left + wide * (share + 1) / 2, 8.2}, mm_signed(share * most_m), 2.2,
                Anchor::kMiddle);
  sheet.words({left, 11.8}, "mm inside", 2.2);
  sheet.words({left + wide, 11.8}, "mm outside", 2.2, Anchor::kEnd);
  sheet.words({left + wide / 2, 11.8}, "where it is to be", 2.2, Anchor::kMiddle);
  return sheet;
}

}  // namespace skewback::deliver
