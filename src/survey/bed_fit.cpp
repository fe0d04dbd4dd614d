#include "survey/bed_fit.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <algorithm>

namespace skewback {
namespace {

constexpr double kLine = 0.02;  // m: points within this of one line make no plane

Vec2 mean_place(const std::vector<BedReading>& readings) {
  Vec2 sum = Vec2::Zero();
  for (const BedReading& r : readings) sum += r.at;
  return sum / static_cast<double>(readings.size());
}

bool make_a_plane(const std::vector<BedReading>& readings) {
  if (readings.size() < 3) return false;
  const Vec2 mean = mean_place(readings);
  Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
  for (const BedReading& r : readings) spread += (r.at - mean) * (r.at - mean).transpose();
  return Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(spread).eigenvalues()[0] > kLine * kLine;
}

void fit_plane(const std::vector<BedReading>& readings, BedShape& shape) {
  Mat3 N = Mat3::Zero();
  Vec3 right = Vec3::Zero();
  for (const BedReading& r : readings) {
    const Vec3 row(1, r.at.x(), r.at.y());
    const double w = 1 / (r.accuracy_m * r.accuracy_m);
    N += w * row * row.transpose();
    right += w * r.off.z() * row;
  }
  const Vec3 plane = N.ldlt().solve(right);
  shape.height_m = plane[0];
  shape.slope = plane.tail<2>();
}

/// Drift and turn of the bed along itself.
void fit_in_plane(const std::vector<BedReading>& readings, BedShape& shape) {
  const Vec2 mean = mean_place(readings);
  Vec2& drift = shape.drift_m;
  for (const BedReading& r : readings)
    drift += r.off.head<2>() / static_cast<double>(readings.size());
  double moment = 0, inertia = 0;
  for (const BedReading& r : readings) {
    const Vec2 arm = r.at - mean, d = r.off.head<2>() - drift;
    moment += arm.x() * d.y() - arm.y() * d.x();
    inertia += arm.squaredNorm();
  }
  shape.turn_rad = inertia > 0 ? moment / inertia : 0;
}

/// Of the four corners' values, between them by their extent.
double between(const BedShape& shape, const Vec2& p) {
  Vec2 low = shape.place[0], high = low;
  for (const Vec2& q : shape.place) {
    low = low.cwiseMin(q);
    high = high.cwiseMax(q);
  }
  const Vec2 s = (p - low).cwiseQuotient((high - low).cwiseMax(1e-9));
  const double u = std::clamp(s.x(), 0.0, 1.0), v = std::clamp(s.y(), 0.0, 1.0);
  const auto& c = shape.corner_m;
  return (1 - v) * ((1 - u) * c[0] + u * c[1]) + v * ((1 - u) * c[3] + u * c[2]);
}

}  // namespace

std::optional<BedShape> shape_of(const Bed& bed, const std::vector<BedReading>& readings) {
  std::vector<BedReading> corners = readings;
  std::erase_if(corners, [](const BedReading& r) { return r.place > 3; });
  if (!make_a_plane(corners)) corners = readings;
  if (!make_a_plane(corners)) return std::nullopt;
  BedShape shape;
  fit_plane(corners, shape);
  fit_in_plane(corners, shape);
  const std::array<Vec2, 5> places = bed_places(bed);
  std::copy_n(places.begin(), 4, shape.place.begin());
  for (const BedReading& r : readings) {
    const double rest = r.off.z() - shape.plane(r.at);
    if (r.place < 4)
      shape.corner_m[static_cast<std::size_t>(r.place)] = rest;
    else
      shape.proud_m = -bed.side * rest;
  }
  return shape;
}

BedError error_at(const Bed& bed, const BedShape& shape, const Joint& joint) {
  const double same = joint.frame.z.dot(bed.frame.z) < 0 ? -1 : 1;
  const auto seen = [&](const Vec2& p) -> Vec2 {
    return bed.frame.to_local(joint.frame.to_world(p)).head<2>();
  };
  const auto plane = [&](const Vec2& p) { return same * shape.plane(seen(p)); };
  BedError error;
  error.height_m = plane(Vec2::Zero());
  error.slope = {plane(Vec2::UnitX()) - error.height_m, plane(Vec2::UnitY()) - error.height_m};
  const std::array<Vec2, 4> corners = extreme_points(joint.contact);
  for (std::size_t k = 0; k < 4; ++k) {
    const bool alone = bed.joints.size() == 1;
    error.corner_m[k] = same * (alone ? shape.corner_m[k] : between(shape, seen(corners[k])));
  }
  return error;
}

}  // namespace skewback
