#include "motion/faces.hpp"

#include <algorithm>
#include <cmath>

namespace skewback::motion {

Rigid moved(const Body& body) {
  const Mat3 R = (body.q * body.q_start.conjugate()).toRotationMatrix();
  return {R, body.centre - R * body.start};
}

const std::vector<Facet>& facets(World& world, int block) {
  auto& kept = world.facets[static_cast<std::size_t>(block)];
  if (!kept)
    kept = std::make_shared<const std::vector<Facet>>(
        facets_of(world.shapes->solids[static_cast<std::size_t>(block)]));
  return *kept;
}

Regions seen_from(const Sight& s, const Regions& region, const Frame& drawn, const Rigid& X,
                  bool turned_over) {
  Regions out;
  const auto see = [&](const Polygon& ring) {
    Polygon seen;
    for (const Vec2& p : ring)
      seen.push_back((s.axes.transpose() * (X(drawn.to_world(p)) - s.origin)).head<2>());
    if (turned_over) std::reverse(seen.begin(), seen.end());
    return seen;
  };
  for (const Region& piece : region) {
    Region there{see(piece.outer), {}};
    for (const Polygon& hole : piece.holes) there.holes.push_back(see(hole));
    out.push_back(std::move(there));
  }
  return out;
}

Frame drawn_frame(const World& world, const Touch& touch) {
  const Body& a = world.bodies[static_cast<std::size_t>(touch.a)];
  const Mat3 R = a.q_start.toRotationMatrix(), axes = R * touch.axes_a;
  return {a.start + R * touch.origin_a, axes.col(0), axes.col(1), axes.col(2)};
}

namespace {

/// The face of a block on which a joint lies, facing along `way`; -1: none to be found (packers,
/// surveyed faces): then the contact itself is taken for it.
int facet_of(World& world, int block, const Frame& joint, double way) {
  if (block >= world.blocks_of_assembly) return -1;
  const double near = 0.05 * world.mean_size;
  int best = -1;
  double best_area = 0;
  const auto& all = facets(world, block);
  for (std::size_t f = 0; f < all.size(); ++f) {
    if (all[f].frame.z.dot(way * joint.z) < 1 - 1e-6) continue;
    if (std::abs((all[f].frame.origin - joint.origin).dot(joint.z)) > near) continue;
    if (area(all[f].region) <= best_area) continue;
    best = static_cast<int>(f);
    best_area = area(all[f].region);
  }
  return best;
}

}  // namespace

void know_facets(World& world, Touch& touch) {
  if (touch.facet_a != -2) return;
  const Frame joint = drawn_frame(world, touch);
  touch.facet_a = facet_of(world, touch.a, joint, 1);
  touch.facet_b = facet_of(world, touch.b, joint, -1);
  if (touch.facet_a < 0 || touch.facet_b < 0) return;
  // a pad or a strip smaller than the faces stays on a's
  Sight s;
  s.axes << joint.x, joint.y, joint.z;
  s.origin = joint.origin;
  const auto drawn = [&](int block, int facet, bool over) {
    const Facet& f = facets(world, block)[static_cast<std::size_t>(facet)];
    return seen_from(s, f.region, f.frame, Rigid{}, over);
  };
  const double whole =
      area(intersect(drawn(touch.a, touch.facet_a, false), drawn(touch.b, touch.facet_b, true)));
  if (whole > 1.02 * area(world.shapes->contacts[static_cast<std::size_t>(touch.joint)]))
    touch.facet_a = -1;
}

std::vector<TouchPoint> points_on(const World& world, const Regions& over, const Plane& of_b) {
  std::vector<TouchPoint> points = points_of(over, world.options.edge_share * extent_of(over));
  const Vec3 &at = of_b.point, &n = of_b.normal;
  for (TouchPoint& p : points)
    p.at.z() = at.z() - ((p.at.x() - at.x()) * n.x() + (p.at.y() - at.y()) * n.y()) / n.z();
  return points;
}

void join_frames(const World& world, const Sight& s, Touch& touch) {
  const Body& b = world.bodies[static_cast<std::size_t>(touch.b)];
  touch.axes_b = b.R.transpose() * s.axes;
  touch.origin_b = b.R.transpose() * (s.origin - b.centre);
}

}  // namespace skewback::motion
