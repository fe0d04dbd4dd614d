#include "centring/nest_bound.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

/// Length inside the polygon of the upright line at x; x at no corner.
double chord_m(const Polygon& outline, double x) {
  std::vector<double> ys;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
    if ((a.x() < x) == (b.x() < x)) continue;
    ys.push_back(a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x()));
  }
  std::ranges::sort(ys);
  double sum = 0;
  for (std::size_t k = 0; k + 1 < ys.size(); k += 2) sum += ys[k + 1] - ys[k];
  return sum;
}

std::size_t whole(double amount) {
  return static_cast<std::size_t>(std::max(0.0, std::ceil(amount - 1e-6)));
}

}  // namespace

double least_chord_m(const Polygon& outline, double from, double to) {
  // straight between corners: least beside one, or at an end
  constexpr double kBeside = 1e-9;
  std::vector<double> at = {from + kBeside, to - kBeside};
  for (const Vec2& p : outline) {
    for (const double x : {p.x() - kBeside, p.x() + kBeside})
      if (x > from && x < to) at.push_back(x);
  }
  double least = chord_m(outline, at.front());
  for (const double x : at) least = std::min(least, chord_m(outline, x));
  return least;
}

SheetsBound sheets_bound(const Brief& brief, const Centring& centring) {
  const CentringRequest& ask = brief.centring;
  const double gap = ask.part_gap_m;
  const double length = ask.sheet_length_m - gap, width = ask.sheet_width_m - gap;
  double area_sum = 0, chord_sum = 0;
  for (const SheetPart& part : centring.parts) {
    // grown by g/2 all round it is at least (sqrt A + sqrt(pi) g/2)^2 (Brunn and Minkowski)
    const double root = std::sqrt(area(Region{part.outline.outer, {}})) + std::sqrt(kPi) * gap / 2;
    area_sum += root * root;
    if (!part.grain_along_x) continue;
    double from = 1e300, to = -1e300;
    for (const Vec2& p : part.outline.outer) {
      from = std::min(from, p.x());
      to = std::max(to, p.x());
    }
    // room for it along the sheet is `inside`; its middle line lies so far from either end
    const double inside = ask.sheet_length_m - 2 * gap;
    if (to - from <= inside / 2 || to - from > inside) continue;
    const double far = to - from - inside / 2;
    chord_sum += least_chord_m(part.outline.outer, from + far, to - far) + gap;
  }
  return {whole(area_sum / (length * width)), whole(chord_sum / width)};
}

}  // namespace skewback
