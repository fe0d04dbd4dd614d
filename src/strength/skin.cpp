#include "strength/skin.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kRoot = 0.43;  // 5.1 M / (E t^2) of turning, in parts of M t / D
constexpr double kFine = 4.3;   // plate over load; longer ones take more polynomials

struct Plates {
  Plate turning, resting;
};

Plates plates(const SkinShape& s, double side_m) {
  PlateShape turning{.span_m = s.span_m, .length_m = s.length_m};
  if (s.length_m > kFine * side_m) turning.along = 16;
  PlateShape resting = turning;
  turning.left = s.turning_left;
  turning.right = s.turning_right;
  resting.left = resting.right = 0;
  return {Plate(turning), Plate(resting)};
}

/// Adds what a load gives at the points where it can be greatest.
void look(const SkinShape& s, Plates& p, const PlatePatch& patch, bool at_bed, SkinStress& worst) {
  p.turning.load(patch);
  p.resting.load(patch);
  const double modulus = s.leaf_m * s.leaf_m / 6, half = s.span_m / 2;
  const Vec2 middle = (patch.low + patch.high) / 2;
  const auto across = [&](double moment, bool at_web) {
    const double stress = moment / modulus;
    if (!at_bed) worst.inside_pa = std::max(worst.inside_pa, stress);
    if (stress <= worst.across_pa) return;
    worst.across_pa = stress;
    worst.at_web = at_web;
    worst.at_bed = at_bed;
  };
  across(p.turning.bending({middle.x(), at_bed ? 0.0 : middle.y()}).xx, false);
  // a thin plate has a peak in the corner of web and bed that a leaf does not follow
  const double corner = std::min(s.leaf_m / 2, middle.y());
  for (const double x : {-half, half})
    across(-p.turning.bending({x, at_bed ? corner : middle.y()}).xx, true);
  const double along = p.resting.bending(middle).yy / modulus;
  worst.along_pa = std::max(worst.along_pa, along);
}

}  // namespace

double turning(double leaf_m, double span_m, double next_span_m, double web_m,
               double web_height_m) {
  const double next = next_span_m > 0 ? 3 * span_m / next_span_m : 0,
               web = 3 * std::pow(web_m / leaf_m, 3) * span_m / web_height_m;
  return 1 / (1 / (next + web) + kRoot * leaf_m / span_m);
}

double equal_side_m(double side_m, double leaf_m) {
  const double c = side_m / std::sqrt(kPi), h = leaf_m;
  if (c >= 1.724 * h) return side_m;
  return std::sqrt(kPi) * (std::sqrt(1.6 * c * c + h * h) - 0.675 * h);
}

SkinUnits skin_units(const SkinShape& shape, double side_m) {
  const double side = equal_side_m(side_m, shape.leaf_m);
  Plates p = plates(shape, side);
  SkinUnits units;
  const PlatePatch all{{-shape.span_m / 2, 0}, {shape.span_m / 2, shape.length_m}, 1};
  for (const bool at_bed : {false, true}) look(shape, p, all, at_bed, units.even);
  const double wide = std::min(side, shape.span_m), deep = std::min(side, shape.length_m);
  const double most = (shape.span_m - wide) / 2, y0 = (shape.length_m - deep) / 2,
               q = 1 / (wide * deep);
  for (const double share : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    const double x0 = share * most - wide / 2;
    look(shape, p, {{x0, y0}, {x0 + wide, y0 + deep}, q}, false, units.patch);
    look(shape, p, {{x0, 0}, {x0 + wide, deep}, q}, true, units.patch);
  }
  return units;
}

}  // namespace skewback
