#pragma once
// Random star plans that compression should be able to hold: two to six supports round a meeting
// point, free edges bowed inward. Sizes log-uniform. The same on every machine for the same seed.

#include <algorithm>
#include <cmath>
#include <random>

#include "base/constants.hpp"
#include "brief/brief.hpp"

namespace skewback::properties {

struct StarPlan {
  unsigned seed = 0;
  double size = 1;  // mean length of the legs, m
  Brief brief;
};

class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * double(engine_()) / 4294967296.0;
  }
  double log_between(double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  }

 private:
  std::mt19937 engine_;
};

// Conic from a to b whose tangents meet at `corner`; the sharper, the nearer it comes to that.
inline std::vector<Vec2> bowed(const Vec2& a, const Vec2& b, const Vec2& corner, double sharpness) {
  std::vector<Vec2> line;
  constexpr int kPieces = 60;
  for (int i = 0; i <= kPieces; ++i) {
    const double t = double(i) / kPieces, u = (1 - t) * (1 - t), w = 2 * t * (1 - t) * sharpness;
    line.push_back((u * a + w * corner + t * t * b) / (u + w + t * t));
  }
  line.front() = a;
  line.back() = b;
  return line;
}

/// `scale` multiplies every length; nothing else depends on it. `legs_wanted` 0: two to six.
inline StarPlan star_plan(unsigned seed, double scale = 1, int legs_wanted = 0) {
  Random random(seed);
  StarPlan star;
  star.seed = seed;
  const int drawn = 2 + int(random.between(0, 5));
  const int legs = legs_wanted > 0 ? legs_wanted : drawn;
  star.size = scale * random.log_between(1, 40);
  const double uneven = legs == 2 ? 0 : 0.12;  // two legs must lie in line to have no outward side
  std::vector<double> bearing, length;
  const double first = random.between(0, 2 * kPi), step = 2 * kPi / legs;
  for (int k = 0; k < legs; ++k) {
    bearing.push_back(first + step * (k + random.between(-uneven, uneven)));
    length.push_back(star.size * random.between(0.85, 1.15));
  }
  const double half = star.size * random.between(0.12, 0.5 / legs + 0.05);
  Plan& plan = star.brief.plan;
  std::vector<Vec2> before, after;
  for (int k = 0; k < legs; ++k) {
    const Vec2 out(std::cos(bearing[k]), std::sin(bearing[k])), left(-out.y(), out.x());
    before.emplace_back(length[k] * out - half * left);
    after.emplace_back(length[k] * out + half * left);
    plan.supports.push_back({"s" + std::to_string(k), before[k], after[k], 0});
  }
  const double waist = half * random.between(0.6, 0.9), sharpness = random.between(1, 3);
  for (int k = 0; k < legs; ++k) {
    const int next = (k + 1) % legs;
    const double turn = bearing[next] + (next == 0 ? 2 * kPi : 0) - bearing[k];
    const double middle = bearing[k] + turn / 2;
    const Vec2 at = waist / std::sin(turn / 2) * Vec2(std::cos(middle), std::sin(middle));
    plan.free_edges.push_back({k, next, bowed(after[k], before[next], at, sharpness)});
    plan.outline.push_back(before[k]);
    plan.outline.insert(plan.outline.end(), plan.free_edges[k].line.begin(),
                        plan.free_edges[k].line.end() - 1);
  }
  plan.meeting = Vec2(0, 0);
  Brief& brief = star.brief;
  brief.name = "star-" + std::to_string(seed);
  brief.form.rise_m = star.size * random.between(0.15, 0.45);
  brief.form.mesh_size_m = star.size / 12;
  const double depth = star.size * random.between(0.03, 0.06);
  brief.section = {depth, depth * random.between(1, 1.3), false};
  brief.material = {2400, 40e6};
  return star;
}

/// A round eye at the meeting that reaches this share of the way to the nearest free edge.
inline void give_eye(StarPlan& star, double share) {
  Plan& plan = star.brief.plan;
  double nearest = star.size;
  for (const FreeEdge& edge : plan.free_edges)
    for (const Vec2& p : edge.line) nearest = std::min(nearest, p.norm());
  Polygon eye;
  constexpr int kCorners = 48;
  for (int i = 0; i < kCorners; ++i) {
    const double angle = -2 * kPi * i / kCorners;  // clockwise
    eye.push_back(share * nearest * Vec2(std::cos(angle), std::sin(angle)));
  }
  plan.openings = {eye};
}

/// An almond along one of the legs, its place, length and width drawn too: where it fits, beside
/// 0.3 m of material and a quarter of the leg's width. Whether there was room.
inline bool give_leg_opening(StarPlan& star, Random& random) {
  Plan& plan = star.brief.plan;
  const auto leg = std::size_t(random.between(0, double(plan.supports.size())));
  const Vec2 foot = 0.5 * (plan.supports[leg].a + plan.supports[leg].b);
  const Vec2 along = foot.normalized(), left(-along.y(), along.x());
  const double length = foot.norm() * random.between(0.12, 0.3);
  const double at = foot.norm() * random.between(0.45, 0.75);
  const double aside = 0.1 * random.between(-1, 1);  // of the leg's half width
  double half = 1e9;
  for (const FreeEdge& edge : plan.free_edges)
    for (const Vec2& p : edge.line)
      if (std::abs(along.dot(p) - at) < 0.7 * length && along.dot(p) > 0)
        half = std::min(half, std::abs(left.dot(p)));
  const double wide =
      std::min({random.between(0.15, 0.5) * half, 2 * (0.85 * half - 0.3), 0.4 * length});
  if (!(wide > 0.05 * half) || foot.norm() - at - length / 2 < 0.35) return false;
  Polygon hole;
  constexpr int kSide = 16;
  for (const double side : {1.0, -1.0})
    for (int i = 0; i < kSide; ++i) {
      const double t = -1 + 2.0 * i / kSide;  // from tip to tip, a parabola on either side
      hole.push_back((at + side * t * length / 2) * along +
                     (aside * half + side * (1 - t * t) * wide / 2) * left);
    }
  plan.openings.push_back(hole);
  return true;
}

}  // namespace skewback::properties
