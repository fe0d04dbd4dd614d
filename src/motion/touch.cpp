#include "motion/touch.hpp"

#include <algorithm>
#include <cmath>

#include "assembly/contact_mesh.hpp"

namespace skewback::motion {
namespace {

double extent(const Vec2& box) { return std::max(std::sqrt(box.prod()), box.norm() / 3); }

}  // namespace

void put_points(Touch& touch, const std::vector<TouchPoint>& points) {
  touch.points = static_cast<int>(points.size());
  touch.padded = (touch.points + kLanes - 1) / kLanes * kLanes;
  touch.data.assign(static_cast<std::size_t>(kColumns) * static_cast<std::size_t>(touch.padded), 0);
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const TouchPoint& p : points) {
    low = low.cwiseMin(p.at.head<2>());
    high = high.cwiseMax(p.at.head<2>());
  }
  touch.size = points.empty() ? 0 : extent(high - low);
  for (int i = 0; i < touch.points; ++i) {
    const TouchPoint& p = points[static_cast<std::size_t>(i)];
    touch.column(kX)[i] = p.at.x();
    touch.column(kY)[i] = p.at.y();
    touch.column(kZ)[i] = p.at.z();
    touch.column(kAnchor1)[i] = p.anchor.x();
    touch.column(kAnchor2)[i] = p.anchor.y();
    touch.column(kKn)[i] = touch.kn * p.area;
    touch.column(kKs)[i] = touch.ks * p.area;
  }
}

std::pair<Vec2, Vec2> box_of(const Regions& contact) {
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Region& region : contact) {
    for (const Vec2& p : region.outer) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  }
  return {low, high};
}

double extent_of(const Regions& contact) {
  const auto [low, high] = box_of(contact);
  return extent((high - low).cwiseMax(0));
}

std::vector<TouchPoint> points_of(const Regions& contact, double edge_most_m) {
  const ContactMesh mesh = mesh_contact(contact, edge_most_m);
  std::vector<TouchPoint> points;
  for (const Vec2& p : mesh.points) points.push_back({{p.x(), p.y(), 0}, 0, p});
  for (const auto& t : mesh.triangles) {
    const auto at = [&](int i) { return mesh.points[static_cast<std::size_t>(t[i])]; };
    const Vec2 u = at(1) - at(0), v = at(2) - at(0), middle = (at(0) + at(1) + at(2)) / 3;
    const double whole = (u.x() * v.y() - u.y() * v.x()) / 2;
    for (const int i : t) points[static_cast<std::size_t>(i)].area += whole / 12;
    points.push_back({{middle.x(), middle.y(), 0}, 0.75 * whole, middle});
  }
  return points;
}

}  // namespace skewback::motion
