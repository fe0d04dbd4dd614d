#pragma once
// For tests: layers whose beads have closed forms.

#include <cmath>

#include "base/constants.hpp"
#include "brief/brief.hpp"
#include "print/print_parts.hpp"

namespace skewback::sample {

/// A cell that holds nothing back: wide limits of speed, turning and time.
inline PrintRequest free_cell() {
  PrintRequest cell;
  cell.speed_min_m_s = 1e-4;
  cell.speed_max_m_s = 100;
  cell.tilt_rate_max_rad_s = cell.spin_rate_max_rad_s = 1e4;
  cell.layer_time_min_s = 0;
  return cell;
}

/// A level ring at height z, counter-clockwise from angle `start_rad`.
inline SpaceStroke ring(double radius_m, int corners, double z, double height_m, double share_m,
                        double start_rad = 0) {
  SpaceStroke stroke;
  stroke.closed = true;
  for (int i = 0; i < corners; ++i) {
    const double a = start_rad + 2 * kPi * i / corners;
    SpacePoint q;
    q.p = {radius_m * std::cos(a), radius_m * std::sin(a), z};
    q.height_m = height_m;
    q.share_m = share_m;
    stroke.points.push_back(q);
  }
  return stroke;
}

inline std::vector<SpaceLayer> ring_stack(double radius_m, int corners, int layers, double height_m,
                                          double share_m) {
  std::vector<SpaceLayer> out;
  for (int k = 0; k < layers; ++k)
    out.push_back({{ring(radius_m, corners, (k + 1) * height_m, height_m, share_m)}});
  return out;
}

/// A straight open stroke.
inline SpaceStroke line(const Vec3& from, const Vec3& to, double height_m, double share_m) {
  SpaceStroke stroke;
  for (const Vec3& p : {from, to}) {
    SpacePoint q;
    q.p = p;
    q.height_m = height_m;
    q.share_m = share_m;
    stroke.points.push_back(q);
  }
  return stroke;
}

/// Sum of share x height x length over the curves, heights meant over each piece.
inline double volume_m3(const std::vector<SpaceLayer>& layers) {
  double volume = 0;
  for (const SpaceLayer& layer : layers)
    for (const SpaceStroke& stroke : layer.strokes) {
      const std::size_t n = stroke.points.size();
      for (std::size_t i = 0; i + (stroke.closed ? 0 : 1) < n; ++i) {
        const SpacePoint &a = stroke.points[i], &b = stroke.points[(i + 1) % n];
        volume += a.share_m * (a.height_m + b.height_m) / 2 * (b.p - a.p).norm();
      }
    }
  return volume;
}

}  // namespace skewback::sample
