#include "survey/scan.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "geometry/near_surface.hpp"

namespace skewback {
namespace {

using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;

constexpr std::size_t kMostPulling = 20000;  // vertices that take part in the fit
constexpr int kMostSteps = 100;
constexpr double kAtRest = 1e-8, kNearly = 1e-4;  // movement in a step, share of the scan's size

/// Evenly picked.
std::vector<Vec3> pulling(const std::vector<Vec3>& vertices) {
  const std::size_t stride = (vertices.size() + kMostPulling - 1) / kMostPulling;
  std::vector<Vec3> out;
  for (std::size_t i = 0; i < vertices.size(); i += std::max<std::size_t>(stride, 1))
    out.push_back(vertices[i]);
  return out;
}

double quantile(std::vector<double> values, double share) {
  const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1) + 0.5);
  std::nth_element(values.begin(), values.begin() + static_cast<long>(at), values.end());
  return values[at];
}

/// Shift and turn about `about` that bring the points nearest to the faces they are nearest to;
/// `trimmed`: without those that stand out.
Vec6 step(const NearSurface& surface, const std::vector<Vec3>& points, const Vec3& about,
          double size, bool trimmed) {
  std::vector<Vec6> rows;
  std::vector<double> off;
  for (const Vec3& p : points) {
    const OnSurface on = surface.nearest(p);
    // near: towards the nearest place, for beside an edge that is no face's normal, and normals
    // there would pull now one way, now the other
    const Vec3 away = p - on.at;
    const Vec3 n = trimmed && away.norm() > 1e-9 * size ? away.normalized() : on.normal;
    Vec6 row;
    row << n, (p - about).cross(n);
    rows.push_back(row);
    off.push_back(-away.dot(n));
  }
  std::vector<double> far;
  for (const double d : off) far.push_back(std::abs(d));
  const double gate = std::max(3 * 1.4826 * quantile(far, 0.5), 1e-9 * size);
  Mat6 N = Mat6::Zero();
  Vec6 right = Vec6::Zero();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (trimmed && far[i] > gate) continue;
    N += rows[i] * rows[i].transpose();
    right += off[i] * rows[i];
  }
  // A trace of damping: ways that no face holds are not gone.
  const double damp = 1e-9 * N.trace();
  N.diagonal().array() += damp;
  return N.ldlt().solve(right);
}

Rigid after_step(const Rigid& X, const Vec6& step, const Vec3& about) {
  const Vec3 turn = step.tail<3>();
  Mat3 R = Mat3::Identity();
  if (turn.norm() > 0) R = Eigen::AngleAxisd(turn.norm(), turn.normalized()).toRotationMatrix();
  return {R * X.R, R * (X.t - about) + about + step.head<3>()};
}

void fit_closest(const NearSurface& surface, const std::vector<Vec3>& vertices,
                 ScanDistances& out) {
  const std::vector<Vec3> points = pulling(vertices);
  bool trimmed = false;
  for (int i = 0; i < kMostSteps && !out.settled; ++i) {
    std::vector<Vec3> now;
    Vec3 about = Vec3::Zero();
    for (const Vec3& p : points) {
      now.push_back(out.moved(p));
      about += now.back() / static_cast<double>(points.size());
    }
    double size = 0;
    for (const Vec3& p : now) size = std::max(size, (p - about).norm());
    const Vec6 move = step(surface, now, about, size, trimmed);
    out.moved = after_step(out.moved, move, about);
    const double moved = (move.head<3>().norm() + size * move.tail<3>().norm()) / size;
    out.settled = trimmed && moved < kAtRest;
    trimmed = trimmed || moved < kNearly;
  }
  if (!out.settled) out.reason = "the fit did not settle: the scan may lie too far off";
}

}  // namespace

ScanDistances scan_distances(const Solid& block, const TriangleMesh3& scan, const Rigid& start) {
  ScanDistances out;
  out.moved = start;
  const Result<NearSurface> surface = NearSurface::of(block);
  if (!surface || scan.vertices.empty()) {
    out.reason = surface ? "the scan has no vertices" : "the solid: " + surface.faults()[0].found;
    return out;
  }
  fit_closest(*surface, scan.vertices, out);
  double squares = 0;
  std::vector<double> sizes;
  for (const Vec3& v : scan.vertices) {
    const Vec3 p = out.moved(v);
    const double d = surface->distance(p);
    out.distance_m.push_back(d);
    sizes.push_back(std::abs(d));
    squares += d * d;
    if (sizes.size() > 1 && sizes.back() <= out.worst_m) continue;
    out.worst_m = sizes.back();
    out.worst_at = p;
  }
  out.rms_m = std::sqrt(squares / static_cast<double>(sizes.size()));
  out.p95_m = quantile(sizes, 0.95);
  return out;
}

}  // namespace skewback
