// Faces that come near one another meet, on the plane of the larger.
#include <algorithm>
#include <cmath>

#include "motion/faces.hpp"

namespace skewback::motion {
namespace {

constexpr double kFacing = -0.5;  // cosine between normals of faces that may meet

bool known_pair(World& world, int a, int fa, int b, int fb) {
  for (const Side& side : world.sides[static_cast<std::size_t>(a)]) {
    Touch& touch = world.touches[static_cast<std::size_t>(side.touch)];
    if (touch.gone || touch.pusher >= 0 || touch.b >= world.blocks_of_assembly) continue;
    know_facets(world, touch);
    if (touch.a == a && touch.b == b && touch.facet_a == fa && touch.facet_b == fb) return true;
    if (touch.a == b && touch.b == a && touch.facet_a == fb && touch.facet_b == fa) return true;
    // a joint whose face is not known stands for all faces that look at one another there
    const bool same = (touch.a == a && touch.b == b) || (touch.a == b && touch.b == a);
    if (same && (touch.facet_a < 0 || touch.facet_b < 0)) return true;
  }
  return false;
}

/// The last touch that was between these faces and is gone; -1: none.
int gone_between(const World& world, const Touch& touch) {
  for (std::size_t t = world.touches.size(); t-- > 0;) {
    const Touch& old = world.touches[t];
    if (!old.gone || old.pusher >= 0) continue;
    const bool same = old.a == touch.a && old.b == touch.b && old.facet_a == touch.facet_a &&
                      old.facet_b == touch.facet_b;
    const bool turned = old.a == touch.b && old.b == touch.a && old.facet_a == touch.facet_b &&
                        old.facet_b == touch.facet_a;
    if (same || turned) return static_cast<int>(t);
  }
  return -1;
}

/// Two faces, fa the larger: a touch if they lie over one another and are near.
std::optional<Touch> meet(World& world, int a, int fa, int b, int fb) {
  const Facet& on = facets(world, a)[static_cast<std::size_t>(fa)];
  const Facet& of = facets(world, b)[static_cast<std::size_t>(fb)];
  const Body& body = world.bodies[static_cast<std::size_t>(a)];
  const Rigid X = moved(body), Y = moved(world.bodies[static_cast<std::size_t>(b)]);
  Sight s;
  s.axes << X.R * on.frame.x, X.R * on.frame.y, X.R * on.frame.z;
  s.origin = X(on.frame.origin);
  const Regions over = intersect(seen_from(s, on.region, on.frame, X, false),
                                 seen_from(s, of.region, of.frame, Y, true));
  if (area(over) < 1e-3 * world.mean_size * world.mean_size) return {};
  std::vector<TouchPoint> points = points_on(world, over,
                                             {s.axes.transpose() * (Y(of.frame.origin) - s.origin),
                                              s.axes.transpose() * (Y.R * of.frame.z)});
  double least = 1e300;
  for (TouchPoint& p : points) {
    p.anchor = p.at.head<2>();
    least = std::min(least, p.at.z());
  }
  if (least < -kDeep * world.mean_size || least > kSkin * world.mean_size) return {};
  Touch touch;
  touch.a = a;
  touch.b = b;
  touch.facet_a = fa;
  touch.facet_b = fb;
  touch.friction = world.shapes->friction;
  touch.kn = world.options.dry_kn;
  touch.ks = world.options.dry_ks;
  touch.axes_a = body.R.transpose() * s.axes;
  touch.origin_a = body.R.transpose() * (s.origin - body.centre);
  join_frames(world, s, touch);
  const int before = gone_between(world, touch);
  if (before >= 0) {
    const Touch& known = world.touches[static_cast<std::size_t>(before)];
    touch.kn = known.kn;
    touch.ks = known.ks;
    touch.friction = known.friction;
  }
  put_points(touch, points);
  touch.dash_s = dash_time(world, touch);
  return touch;
}

void put_touch(World& world, Touch&& touch) {
  const int before = gone_between(world, touch);
  ++world.new_contacts;
  if (before < 0 || world.touches[static_cast<std::size_t>(before)].joint >= 0) {
    world.touches.push_back(std::move(touch));
    return;
  }
  Touch& place = world.touches[static_cast<std::size_t>(before)];
  touch.rubbed = place.rubbed;
  place = std::move(touch);
}

void look_between(World& world, int a, int b) {
  const auto &of_a = facets(world, a), &of_b = facets(world, b);
  const Rigid X = moved(world.bodies[static_cast<std::size_t>(a)]),
              Y = moved(world.bodies[static_cast<std::size_t>(b)]);
  const double skin = kSkin * world.mean_size;
  const auto far_from = [&](const Facet& facet, const Rigid& Z, int block) {
    const Vec3 at = Z((facet.low + facet.high) / 2);
    return (at - world.bodies[static_cast<std::size_t>(block)].centre).norm() >
           (facet.high - facet.low).norm() / 2 +
               world.shapes->reach[static_cast<std::size_t>(block)] + skin;
  };
  std::vector<std::size_t> near_b;
  for (std::size_t g = 0; g < of_b.size(); ++g)
    if (!far_from(of_b[g], Y, a)) near_b.push_back(g);
  for (std::size_t f = 0; f < of_a.size(); ++f) {
    if (far_from(of_a[f], X, b)) continue;
    const Vec3 n = X.R * of_a[f].frame.z, middle = X((of_a[f].low + of_a[f].high) / 2);
    const double reach = (of_a[f].high - of_a[f].low).norm() / 2;
    for (const std::size_t g : near_b) {
      if (n.dot(Y.R * of_b[g].frame.z) > kFacing) continue;
      const Vec3 between = Y((of_b[g].low + of_b[g].high) / 2) - middle;
      const double other = (of_b[g].high - of_b[g].low).norm() / 2;
      if (between.norm() > reach + other + skin || std::abs(n.dot(between)) > other + skin)
        continue;
      const int fa = static_cast<int>(f), fb = static_cast<int>(g);
      if (known_pair(world, a, fa, b, fb)) continue;
      const bool larger = area(of_a[f].region) >= area(of_b[g].region);
      std::optional<Touch> touch = larger ? meet(world, a, fa, b, fb) : meet(world, b, fb, a, fa);
      if (touch) put_touch(world, std::move(*touch));
    }
  }
}

/// Pairs of blocks near one another, in the order of their numbers.
std::vector<std::pair<int, int>> near_pairs(const World& world) {
  const double skin = kSkin * world.mean_size;
  std::vector<int> order;
  for (int i = 0; i < world.blocks_of_assembly; ++i)
    if (world.bodies[static_cast<std::size_t>(i)].there) order.push_back(i);
  const auto at = [&](int i) { return world.bodies[static_cast<std::size_t>(i)].centre; };
  const auto reach = [&](int i) { return world.shapes->reach[static_cast<std::size_t>(i)]; };
  std::stable_sort(order.begin(), order.end(),
                   [&](int i, int k) { return at(i).x() - reach(i) < at(k).x() - reach(k); });
  std::vector<std::pair<int, int>> pairs;
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (std::size_t k = i + 1; k < order.size(); ++k) {
      const int a = order[i], b = order[k];
      if (at(b).x() - reach(b) > at(a).x() + reach(a) + skin) break;
      if (!world.bodies[static_cast<std::size_t>(a)].free &&
          !world.bodies[static_cast<std::size_t>(b)].free)
        continue;
      if ((at(a) - at(b)).norm() <= reach(a) + reach(b) + skin)
        pairs.emplace_back(std::minmax(a, b));
    }
  }
  std::sort(pairs.begin(), pairs.end());
  return pairs;
}

/// A corner of a block is as far from where it was as faces are watched from.
bool moved_since_swept(const World& world) {
  const double far = (world.swept ? kSkin / 6 : kSkin) * world.mean_size;
  for (std::size_t i = 0; i < world.bodies.size(); ++i) {
    const Body& body = world.bodies[i];
    if (!body.there) continue;
    const double turned = 2 * (body.q * world.swept_at[i].q.conjugate()).vec().norm();
    if ((body.centre - world.swept_at[i].centre).norm() + turned * reach_of(world, i) > far)
      return true;
  }
  return false;
}

bool stands_alone(const World& world) {
  for (std::size_t i = 0; i < world.bodies.size(); ++i)
    if (world.bodies[i].free && world.sides[i].empty()) return true;
  return false;
}

}  // namespace

double reach_of(const World& world, std::size_t i) {
  return i < world.shapes->reach.size() ? world.shapes->reach[i] : 0;
}

bool time_to_look(const World& world) {
  return moved_since_swept(world) || (!world.swept && stands_alone(world));
}

void look_for_meetings(World& world) {
  world.swept = true;
  for (const auto& [a, b] : near_pairs(world)) look_between(world, a, b);
  for (std::size_t i = 0; i < world.bodies.size(); ++i)
    world.swept_at[i] = {world.bodies[i].centre, world.bodies[i].q};
}

}  // namespace skewback::motion
