// Contacts found again as blocks move: a joint whose block has slid gets points where its two faces
// lie over one another now.
#include <algorithm>
#include <cmath>

#include "motion/faces.hpp"

namespace skewback::motion {
namespace {

constexpr double kSlid = 0.02;       // of a contact's size: points are put anew
constexpr double kLeastArea = 1e-6;  // m2

Regions face(World& world, const Touch& touch, bool of_b, const Sight& s) {
  const int block = of_b ? touch.b : touch.a, facet = of_b ? touch.facet_b : touch.facet_a;
  const Rigid X = moved(world.bodies[static_cast<std::size_t>(block)]);
  if (facet >= 0) {
    const Facet& f = facets(world, block)[static_cast<std::size_t>(facet)];
    const bool over = (s.axes.col(2)).dot(X.R * f.frame.z) < 0;
    return seen_from(s, f.region, f.frame, X, over);
  }
  return seen_from(s, world.shapes->contacts[static_cast<std::size_t>(touch.joint)],
                   drawn_frame(world, touch), X, false);
}

/// The plane of b's face, seen from a's frame: of a joint the middle of its pad, as drawn.
Plane plane_of_b(World& world, const Touch& touch, const Sight& s) {
  const Rigid Y = moved(world.bodies[static_cast<std::size_t>(touch.b)]);
  Frame drawn = touch.joint >= 0
                    ? drawn_frame(world, touch)
                    : facets(world, touch.b)[static_cast<std::size_t>(touch.facet_b)].frame;
  if (touch.joint >= 0 && !world.scene.gap_m.empty())
    drawn.origin += world.scene.gap_m[static_cast<std::size_t>(touch.joint)] * drawn.z;
  return {s.axes.transpose() * (Y(drawn.origin) - s.origin), s.axes.transpose() * (Y.R * drawn.z)};
}

/// Shear over pressure of the touch as a whole: friction stays used up as far as it was.
Vec2 rubbing(const Touch& touch, const Sight& s) {
  Vec2 shear = Vec2::Zero();
  double pressure = 0;
  for (int i = 0; i < touch.points; ++i) {
    const Vec3 r = s(touch.at(i));
    if (r.z() >= 0) continue;
    pressure -= touch.column(kKn)[i] * r.z();
    shear += touch.column(kKs)[i] *
             (r.head<2>() - Vec2(touch.column(kAnchor1)[i], touch.column(kAnchor2)[i]));
  }
  return pressure > 0 ? Vec2(shear / pressure) : Vec2::Zero();
}

double strain_of(World& world, std::size_t t) {
  push(world, best_touch_kernel(), t, t + 1);
  return world.touches[t].strain;
}

/// How a touch lies now: least gap, and how far it has slid where it presses (the mean by pressure,
/// for a joint that turns about an edge does not slide there); without pressure, where it is
/// nearest.
struct Lie {
  double gap = 1e300, slid = 0;
};

Lie lie_of(const Touch& touch, const Sight& s) {
  Lie lie;
  double pressure = 0, slid = 0;
  for (int i = 0; i < touch.points; ++i) {
    const Vec3 at = touch.at(i), r = s(at);
    const double way = (r - at).head<2>().norm();
    if (r.z() < lie.gap) {
      lie.gap = r.z();
      lie.slid = way;
    }
    if (r.z() >= 0) continue;
    pressure -= touch.column(kKn)[i] * r.z();
    slid -= touch.column(kKn)[i] * r.z() * way;
  }
  if (pressure > 0) lie.slid = slid / pressure;
  return lie;
}

/// The points stay, b's frame is laid on a's: nothing changes but where sliding is counted from.
void count_anew(const World& world, const Sight& s, Touch& touch) {
  for (int i = 0; i < touch.points; ++i) {
    const Vec3 r = s(touch.at(i));
    for (int k = 0; k < 3; ++k) touch.column(kX + k)[i] = r[k];
  }
  join_frames(world, s, touch);
}

/// The points there are cover `over` (a's frame) as well as new ones would.
bool still_covers(const Touch& touch, const Sight& s, const Regions& over) {
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  double whole = 0;
  for (int i = 0; i < touch.points; ++i) {
    const Vec2 r = s(touch.at(i)).head<2>();
    low = low.cwiseMin(r);
    high = high.cwiseMax(r);
    whole += touch.column(kKn)[i] / touch.kn;
  }
  const auto [least, most] = box_of(over);
  const double off = kSlid * touch.size;
  return (low - least).cwiseAbs().maxCoeff() < off && (high - most).cwiseAbs().maxCoeff() < off &&
         std::abs(whole * std::abs(s.turn(2, 2)) - area(over)) < kSlid * whole;
}

/// Points anew. False when the faces no longer lie over one another.
bool renew(World& world, std::size_t t, double slid) {
  Touch& touch = world.touches[t];
  know_facets(world, touch);
  const Sight s = sight(world, touch);
  const Regions over = intersect(face(world, touch, false, s), face(world, touch, true, s));
  if (area(over) < kLeastArea) return false;
  if (still_covers(touch, s, over)) {
    count_anew(world, s, touch);
  } else {
    std::vector<TouchPoint> points = points_on(world, over, plane_of_b(world, touch, s));
    if (points.empty()) return false;
    const double before = strain_of(world, t);
    const Vec2 stretch = touch.kn / touch.ks * rubbing(touch, s);
    for (TouchPoint& p : points) p.anchor = p.at.head<2>() - std::max(0.0, -p.at.z()) * stretch;
    join_frames(world, s, touch);
    put_points(touch, points);
    touch.dash_s = dash_time(world, touch);
    world.found_again_j += before - strain_of(world, t);
  }
  touch.slid_before += slid;
  ++world.found_again;
  return true;
}

}  // namespace

long steps_to_look(const World& world, long most) {
  double quickest = 0;
  for (std::size_t i = 0; i < world.bodies.size(); ++i) {  // ground that goes as well
    const Body& body = world.bodies[i];
    if (body.there)
      quickest = std::max(quickest, body.v.norm() + body.w.norm() * reach_of(world, i));
  }
  const double way = kSkin / 6 * world.mean_size;
  // v t + g t2 / 2 = way, and gravity is all that is not known yet
  const double g = world.gravity.norm();
  const double t = 2 * way / (quickest + std::sqrt(quickest * quickest + 2 * g * way));
  return std::clamp(static_cast<long>(t / world.step_s), 1L, most);
}

void find_again(World& world) {
  if (!world.shapes) return;
  bool changed = false;
  for (std::size_t t = 0; t < world.touches.size(); ++t) {
    Touch& touch = world.touches[t];
    if (touch.gone || touch.pusher >= 0 || touch.b >= world.blocks_of_assembly) continue;
    const Lie lie = lie_of(touch, sight(world, touch));
    const bool slid = lie.slid > kSlid * touch.size, apart = lie.gap > 2 * kSkin * world.mean_size;
    if (!slid && (touch.joint >= 0 || !apart)) continue;
    if (!apart && lie.gap > kDeep * world.mean_size) continue;
    changed = true;
    if (!apart && renew(world, t, lie.slid)) continue;
    world.found_again_j += strain_of(world, t);
    touch.gone = true;
  }
  if (time_to_look(world)) {
    const int before = world.new_contacts;
    look_for_meetings(world);
    changed = changed || world.new_contacts > before;
  }
  if (!changed) return;
  index_sides(world);
  const double step = world.step_s;
  put_step(world);
  world.step_s = std::min(world.step_s, step);
}

}  // namespace skewback::motion
