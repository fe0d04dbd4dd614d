#include "survey/packing_beds.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

std::pair<std::size_t, std::size_t> ends_of(bool upper) {
  return upper ? std::pair<std::size_t, std::size_t>{3, 2}
               : std::pair<std::size_t, std::size_t>{0, 1};
}

}  // namespace

std::vector<PackerPlace> packer_places(const JointCorners& corners, const PackingRequest& packing) {
  std::vector<PackerPlace> out;
  for (const bool upper : {false, true}) {
    const auto [from, to] = ends_of(upper);
    const auto [far, far_to] = ends_of(!upper);
    const double length = (corners[to] - corners[from]).norm();
    const double between = length - packing.plate_length_m;
    const int spaces =
        between <= 1e-9 ? 0 : static_cast<int>(std::ceil(between / packing.spacing_m - 1e-9));
    for (int i = 0; i <= spaces; ++i) {
      PackerPlace place;
      place.upper = upper;
      place.at = spaces == 0 ? 0.5 : (packing.plate_length_m / 2 + between * i / spaces) / length;
      place.along_m = corners[from].x() + place.at * (corners[to].x() - corners[from].x());
      const Vec2 here = corners[from] + place.at * (corners[to] - corners[from]);
      const Vec2 there = corners[far] + place.at * (corners[far_to] - corners[far]);
      const double across = (there - here).norm();
      place.in = across > 0 ? std::min(0.25, packing.plate_depth_m / 2 / across) : 0;
      out.push_back(place);
    }
  }
  return out;
}

double gap_at(const PackerPlace& place, const std::array<double, 4>& gap_m) {
  const auto on = [&](bool upper) {
    const auto [from, to] = ends_of(upper);
    return gap_m[from] + place.at * (gap_m[to] - gap_m[from]);
  };
  const double edge = on(place.upper);
  return edge + place.in * (on(!place.upper) - edge);
}

namespace {

/// A row of plates: what they hold above both ends of their edge, and how far in they lie.
struct PlateRow {
  bool any = false;
  double in = 0;
  std::array<double, 2> ends_m{};
};

PlateRow row_of(const std::vector<PackerPlace>& places, const std::vector<double>& thickness_m,
                bool upper) {
  PlateRow row;
  double n = 0, at = 0, sum = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (places[i].upper != upper) continue;
    row.any = row.any || thickness_m[i] > 0;
    row.in += places[i].in;
    n += 1;
    at += places[i].at;
    sum += thickness_m[i];
  }
  if (n == 0) return row;
  row.in /= n;
  at /= n;
  sum /= n;
  double up = 0, wide = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (places[i].upper != upper) continue;
    up += (places[i].at - at) * (thickness_m[i] - sum);
    wide += (places[i].at - at) * (places[i].at - at);
  }
  const double slope = wide > 0 ? up / wide : 0;
  row.ends_m = {sum - slope * at, sum + slope * (1 - at)};
  return row;
}

}  // namespace

std::array<double, 4> held_open(const std::vector<PackerPlace>& places,
                                const std::vector<double>& thickness_m) {
  PlateRow lower = row_of(places, thickness_m, false), upper = row_of(places, thickness_m, true);
  if (!lower.any) lower.in = 0;
  if (!upper.any) upper.in = 0;
  std::array<double, 4> out{};
  for (const std::size_t end : {0U, 1U}) {
    const double low = lower.ends_m[end], high = upper.ends_m[end];
    const double rise = (high - low) / (1 - lower.in - upper.in);
    out[end == 0 ? ends_of(false).first : ends_of(false).second] = low - lower.in * rise;
    out[end == 0 ? ends_of(true).first : ends_of(true).second] = high + upper.in * rise;
  }
  return out;
}

BedError bed_through(const JointCorners& corners, const std::array<double, 4>& gap_m) {
  Mat3 m = Mat3::Zero();
  Vec3 v = Vec3::Zero();
  for (std::size_t k = 0; k < 4; ++k) {
    const Vec3 row(1, corners[k].x(), corners[k].y());
    m += row * row.transpose();
    v += gap_m[k] * row;
  }
  const Vec3 p = m.fullPivLu().solve(v);
  return {p[0], {p[1], p[2]}, {}};
}

}  // namespace skewback
