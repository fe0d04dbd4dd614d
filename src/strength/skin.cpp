#include "strength/skin.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace skewback {
namespace {

struct Plates {
  Plate turning, clamped;
};

Plates plates(const SkinShape& s) {
  PlateShape shape{.span_m = s.span_m, .length_m = s.length_m};
  const PlateShape clamped = shape;
  shape.left = s.turning_left;
  shape.right = s.turning_right;
  return {Plate(shape), Plate(clamped)};
}

/// Adds what a load gives at the points where it can be greatest.
void look(const SkinShape& s, Plates& p, const PlatePatch& patch, bool at_bed, SkinStress& worst) {
  p.turning.load(patch);
  p.clamped.load(patch);
  const double modulus = s.leaf_m * s.leaf_m / 6, half = s.span_m / 2;
  const Vec2 middle = (patch.low + patch.high) / 2;
  const auto across = [&](double moment, bool at_web) {
    const double stress = moment / modulus;
    if (stress <= worst.across_pa) return;
    worst.across_pa = stress;
    worst.at_web = at_web;
    worst.at_bed = at_bed;
  };
  for (const double y : {at_bed ? 0.0 : middle.y(), middle.y()}) {
    across(p.turning.bending({middle.x(), y}).xx, false);
    for (const double x : {-half, half}) across(-p.clamped.bending({x, y}).xx, true);
  }
  const double along = p.turning.bending(middle).yy / modulus;
  worst.along_pa = std::max(worst.along_pa, along);
}

}  // namespace

double turning(double leaf_m, double span_m, double next_span_m, double web_m,
               double web_height_m) {
  const double next = next_span_m > 0 ? 3 * span_m / next_span_m : 0;
  return next + 3 * std::pow(web_m / leaf_m, 3) * span_m / web_height_m;
}

SkinStress skin_stress(const SkinShape& shape, double patch_n, double side_m, double q_pa) {
  Plates p = plates(shape);
  SkinStress even, patch;
  const PlatePatch all{{-shape.span_m / 2, 0}, {shape.span_m / 2, shape.length_m}, q_pa};
  for (const bool at_bed : {false, true}) look(shape, p, all, at_bed, even);
  const double wide = std::min(side_m + shape.leaf_m, shape.span_m),
               deep = std::min(side_m + shape.leaf_m, shape.length_m),
               at_edge = std::min(side_m + shape.leaf_m / 2, shape.length_m);
  const double most = (shape.span_m - wide) / 2, y0 = (shape.length_m - deep) / 2;
  for (const double share : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    if (!(patch_n > 0)) break;
    const double x0 = share * most - wide / 2;
    look(shape, p, {{x0, y0}, {x0 + wide, y0 + deep}, patch_n / (wide * deep)}, false, patch);
    look(shape, p, {{x0, 0}, {x0 + wide, at_edge}, patch_n / (wide * at_edge)}, true, patch);
  }
  const SkinStress& leading = patch_n > 0 ? patch : even;
  return {even.across_pa + patch.across_pa, even.along_pa + patch.along_pa, leading.at_web,
          leading.at_bed};
}

SkinStress patch_stress(const SkinShape& shape, double load_n, double side_m) {
  return skin_stress(shape, load_n, side_m, 0);
}

SkinStress even_stress(const SkinShape& shape, double q_pa) {
  return skin_stress(shape, 0, 0, q_pa);
}

}  // namespace skewback
