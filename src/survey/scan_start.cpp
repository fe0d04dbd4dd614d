#include "survey/scan_start.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "geometry/hull.hpp"
#include "survey/footings.hpp"

namespace skewback {
namespace {

constexpr int kSteps = 40;
constexpr std::size_t kPulling = 400;
constexpr double kSamePlace = 0.02;  // of the block's size

std::array<Mat3, 24> turns_of_a_box() {
  std::array<Mat3, 24> out;
  std::size_t n = 0;
  std::array<int, 3> axis = {0, 1, 2};
  do {
    for (int signs = 0; signs < 8; ++signs) {
      Mat3 turn = Mat3::Zero();
      for (int i = 0; i < 3; ++i)
        turn(i, axis[static_cast<std::size_t>(i)]) = (signs >> i & 1) != 0 ? -1 : 1;
      if (turn.determinant() > 0) out[n++] = turn;
    }
  } while (std::ranges::next_permutation(axis).found);
  return out;
}

/// Points spread over a hull's faces, more on greater ones, the same every time.
std::vector<Vec3> over_faces(const Solid& hull) {
  double whole = 0;
  const auto twice_area = [&](const std::vector<int>& f) {
    const auto at = [&](std::size_t k) { return hull.vertices[static_cast<std::size_t>(f[k])]; };
    return (at(1) - at(0)).cross(at(2) - at(0)).norm();
  };
  for (const auto& f : hull.faces) whole += twice_area(f);
  std::vector<Vec3> out;
  double due = 0.5;
  for (const auto& f : hull.faces) {
    const auto at = [&](std::size_t k) { return hull.vertices[static_cast<std::size_t>(f[k])]; };
    due += twice_area(f) / whole * static_cast<double>(kPulling);
    for (std::size_t i = 1; due >= 1; due -= 1, ++i) {
      // low-discrepancy in the triangle (square folded)
      double u = std::fmod(0.5 + 0.7548776662466927 * static_cast<double>(i), 1.0),
             v = std::fmod(0.5 + 0.5698402909980532 * static_cast<double>(i), 1.0);
      if (u + v > 1) {
        u = 1 - u;
        v = 1 - v;
      }
      out.push_back(at(0) + u * (at(1) - at(0)) + v * (at(2) - at(0)));
    }
  }
  return out;
}

ScanStart roughly(const NearSurface& surface, const std::vector<Vec3>& points, Rigid X,
                  double size_m) {
  ScanStart out{X, 0};
  for (int step = 0; step < kSteps; ++step) {
    std::vector<Vec3> from, to;
    double squares = 0;
    for (const Vec3& p : points) {
      from.push_back(out.X(p));
      to.push_back(surface.nearest(from.back()).at);
      squares += (to.back() - from.back()).squaredNorm();
    }
    out.off_m = std::sqrt(squares / static_cast<double>(points.size()));
    const Rigid next = after(fit_rigid(from, to).X, out.X);
    const double moved = (next(points.front()) - out.X(points.front())).norm() +
                         (next(points.back()) - out.X(points.back())).norm();
    out.X = next;
    if (moved < 1e-5 * size_m) break;
  }
  return out;
}

}  // namespace

std::optional<ScanBody> scan_body(const std::vector<Vec3>& points) {
  ScanBody out;
  out.hull = hull_of(points);
  if (out.hull.faces.empty()) return std::nullopt;
  out.mass = mass_properties(out.hull);
  if (!(out.mass.volume > 0)) return std::nullopt;
  out.size_m = std::cbrt(out.mass.volume);
  const Eigen::SelfAdjointEigenSolver<Mat3> principal(out.mass.inertia);
  out.axes = principal.eigenvectors();
  if (out.axes.determinant() < 0) out.axes.col(2) *= -1;
  return out;
}

std::vector<ScanStart> scan_starts(const ScanBody& block, const ScanBody& scan,
                                   const std::vector<Rigid>& also) {
  const Result<NearSurface> surface = NearSurface::of(block.hull);
  if (!surface) return {};
  const std::vector<Vec3> points = over_faces(scan.hull);
  std::vector<Rigid> ways = also;
  for (const Mat3& turn : turns_of_a_box()) {
    const Mat3 R = block.axes * turn * scan.axes.transpose();
    ways.push_back({R, block.mass.centroid - R * scan.mass.centroid});
  }
  std::vector<ScanStart> all, out;
  for (const Rigid& way : ways) {
    if (const Vec3 at = way(scan.mass.centroid); (at - block.mass.centroid).norm() > block.size_m)
      continue;
    all.push_back(roughly(*surface, points, way, block.size_m));
  }
  std::ranges::stable_sort(all, {}, &ScanStart::off_m);
  for (const ScanStart& start : all) {
    const bool met = std::ranges::any_of(out, [&](const ScanStart& other) {
      return std::ranges::all_of(scan.hull.vertices, [&](const Vec3& p) {
        return (start.X(p) - other.X(p)).norm() < kSamePlace * block.size_m;
      });
    });
    if (!met) out.push_back(start);
  }
  return out;
}

}  // namespace skewback
