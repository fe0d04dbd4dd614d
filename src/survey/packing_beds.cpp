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
    const double length = (corners[to] - corners[from]).norm();
    const double between = length - packing.plate_length_m;
    const int spaces =
        between <= 1e-9 ? 0 : static_cast<int>(std::ceil(between / packing.spacing_m - 1e-9));
    for (int i = 0; i <= spaces; ++i) {
      PackerPlace place;
      place.upper = upper;
      place.at = spaces == 0 ? 0.5 : (packing.plate_length_m / 2 + between * i / spaces) / length;
      place.along_m = corners[from].x() + place.at * (corners[to].x() - corners[from].x());
      out.push_back(place);
    }
  }
  return out;
}

double gap_at(const PackerPlace& place, const std::array<double, 4>& gap_m) {
  const auto [from, to] = ends_of(place.upper);
  return gap_m[from] + place.at * (gap_m[to] - gap_m[from]);
}

std::array<double, 4> held_open(const std::vector<PackerPlace>& places,
                                const std::vector<double>& thickness_m) {
  std::array<double, 4> out{};
  for (const bool upper : {false, true}) {
    double n = 0, at = 0, sum = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (places[i].upper != upper) continue;
      n += 1;
      at += places[i].at;
      sum += thickness_m[i];
    }
    if (n == 0) continue;
    at /= n;
    sum /= n;
    double up = 0, wide = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (places[i].upper != upper) continue;
      up += (places[i].at - at) * (thickness_m[i] - sum);
      wide += (places[i].at - at) * (places[i].at - at);
    }
    const double slope = wide > 0 ? up / wide : 0;
    const auto [from, to] = ends_of(upper);
    out[from] = sum - slope * at;
    out[to] = sum + slope * (1 - at);
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
