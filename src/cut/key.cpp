#include "cut/key.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr std::size_t kPartsMost = 16;

struct Ray {
  double bearing = 0;  // radians, counter-clockwise from east
  [[nodiscard]] Vec2 along() const { return {std::cos(bearing), std::sin(bearing)}; }
  [[nodiscard]] Vec2 left() const { return {-std::sin(bearing), std::cos(bearing)}; }
};

/// The vertex all arms share, or else the mean of the arms' last planes.
Vec2 middle_of(const Brief& brief, const std::vector<ArmCuts>& arms) {
  if (brief.plan.meeting) return *brief.plan.meeting;
  Vec3 sum = Vec3::Zero();
  for (const ArmCuts& arm : arms) sum += arm.planes.back().point;
  return sum.head<2>() / static_cast<double>(arms.size());
}

std::vector<Ray> rays_to(const std::vector<Vec2>& targets, const Vec2& middle) {
  std::vector<Ray> rays;
  for (const Vec2& p : targets)
    rays.push_back({std::atan2(p.y() - middle.y(), p.x() - middle.x())});
  std::sort(rays.begin(), rays.end(),
            [](const Ray& a, const Ray& b) { return a.bearing < b.bearing; });
  return rays;
}

/// Nearest point of each free edge: the waists.
std::vector<Vec2> waists(const Body& body, const Plan& plan, const Vec2& middle) {
  std::vector<Vec2> out;
  for (int k = 0; k < static_cast<int>(plan.free_edges.size()); ++k) {
    Vec2 best = Vec2::Constant(1e9);
    for (std::size_t v = 0; v < body.form.vertices.size(); ++v) {
      const Vec2 p = body.form.vertices[v].head<2>();
      if (body.form.free_edge_of[v] == k && (p - middle).norm() < (best - middle).norm()) best = p;
    }
    out.push_back(best);
  }
  return out;
}

double sector_angle(const std::vector<Ray>& rays, std::size_t i) {
  const std::size_t j = (i + 1) % rays.size();
  return rays[j].bearing - rays[i].bearing + (j == 0 ? 2 * kPi : 0);
}

Plane wall(const Vec2& middle, const Ray& ray) {  // vertical plane along a ray, normal to its left
  return {Vec3(middle.x(), middle.y(), 0), Vec3(ray.left().x(), ray.left().y(), 0)};
}

Vec3 level(const Vec2& v) { return {v.x(), v.y(), 0}; }

/// Plan outline of what no part and no pad covers: where the pads meet.
Polygon core_outline(const std::vector<Ray>& rays, const Vec2& middle, double half_pad,
                     double pad_start) {
  Polygon core;
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const double half = sector_angle(rays, i) / 2;
    core.push_back(middle + pad_start * rays[i].along() - half_pad * rays[i].left());
    core.push_back(middle + pad_start * rays[i].along() + half_pad * rays[i].left());
    const Ray between{rays[i].bearing + half};
    core.push_back(middle + half_pad / std::sin(half) * between.along());
  }
  return core;
}

Result<Solid> clip_all(Solid solid, const std::vector<Plane>& planes) {
  for (const Plane& plane : planes) {
    Result<Solid> next = clip(solid, plane);
    if (!next) return next;
    solid = std::move(next).value();
  }
  return solid;
}

Result<KeyPieces> divide(const Solid& key, const Vec2& middle, const std::vector<Ray>& rays,
                         double pad) {
  KeyPieces out;
  double least_angle = 2 * kPi;
  for (std::size_t i = 0; i < rays.size(); ++i)
    least_angle = std::min(least_angle, sector_angle(rays, i));
  const double start = pad > 0 ? pad / 2 / std::tan(least_angle / 2) + pad / 2 : 0;
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const std::size_t j = (i + 1) % rays.size();
    // ahead of ray i, behind ray j
    Result<Solid> part = clip_all(key, {wall(middle, rays[i]).moved(pad / 2).opposite(),
                                        wall(middle, rays[j]).moved(-pad / 2)});
    if (!part) return part.faults();
    out.parts.push_back(std::move(part).value());
  }
  const int n = static_cast<int>(rays.size());
  for (int i = 0; i < n; ++i) {
    const Ray& ray = rays[static_cast<std::size_t>(i)];
    KeyPieces::Joint joint{(i + n - 1) % n, i, wall(middle, ray), {}};
    if (pad > 0) {
      const Plane begin{level(middle + start * ray.along()), -level(ray.along())};
      Result<Solid> slab = clip_all(
          key, {joint.plane.moved(pad / 2), joint.plane.moved(-pad / 2).opposite(), begin});
      if (!slab) return slab.faults();
      joint.pad = std::move(slab).value();
    }
    out.joints.push_back(std::move(joint));
  }
  if (pad > 0) {
    const Solid tool = prism(Frame{}, core_outline(rays, middle, pad / 2, start), -1e3, 1e3);
    Result<Solid> rest = subtract(key, tool);
    if (!rest) return rest.faults();
    out.core_volume_m3 = mass_properties(key).volume - mass_properties(*rest).volume;
  }
  return out;
}

int heaviest_part(const std::vector<Solid>& parts) {
  const auto lighter = [](const Solid& a, const Solid& b) {
    return mass_properties(a).volume < mass_properties(b).volume;
  };
  return static_cast<int>(std::max_element(parts.begin(), parts.end(), lighter) - parts.begin());
}

double heaviest(const std::vector<Solid>& parts, double density) {
  double most = 0;
  for (const Solid& part : parts) most = std::max(most, mass_properties(part).volume * density);
  return most;
}

/// Two arms: one wall across the span, square to the line between the last planes.
Result<KeyPieces> halve(const Solid& key, const Vec2& middle, const std::vector<ArmCuts>& arms,
                        double pad) {
  const Vec2 span =
      (arms[1].planes.back().point - arms[0].planes.back().point).head<2>().normalized();
  const Plane plane{level(middle), level(span)};
  KeyPieces out;
  KeyPieces::Joint joint{0, 1, plane, {}};
  Result<Solid> low = clip(key, plane.moved(-pad / 2)),
                high = clip(key, plane.moved(pad / 2).opposite());
  if (!low) return low.faults();
  if (!high) return high.faults();
  out.parts = {std::move(low).value(), std::move(high).value()};
  if (pad > 0) {
    Result<Solid> slab = clip_all(key, {plane.moved(pad / 2), plane.moved(-pad / 2).opposite()});
    if (!slab) return slab.faults();
    joint.pad = std::move(slab).value();
  }
  out.joints.push_back(std::move(joint));
  return out;
}

}  // namespace

Result<KeyPieces> divide_key(const Brief& brief, const Body& body, const Solid& key,
                             const std::vector<ArmCuts>& arms) {
  KeyPieces whole;
  whole.parts = {key};
  const double limit = brief.blocks.mass_max_kg, mass = heaviest(whole.parts, body.density);
  if (mass <= limit) return whole;

  const Vec2 middle = middle_of(brief, arms);
  const double pad = brief.joints.pad_thickness_m;
  if (arms.size() == 2) {
    Result<KeyPieces> out = halve(key, middle, arms, pad);
    if (out) out.value().remark = "the key is over the mass limit and was divided in two";
    return out;
  }
  std::vector<Vec2> targets = waists(body, brief.plan, middle);
  std::vector<Ray> rays = rays_to(targets, middle);
  Result<KeyPieces> out = divide(key, middle, rays, pad);
  if (out && heaviest(out->parts, body.density) > limit) {
    for (const ArmCuts& arm : arms) targets.push_back(arm.planes.back().point.head<2>());
    rays = rays_to(targets, middle);
    out = divide(key, middle, rays, pad);
  }
  while (out && rays.size() < kPartsMost && heaviest(out->parts, body.density) > limit) {
    const auto heavy = static_cast<std::size_t>(heaviest_part(out->parts));
    const Ray between{rays[heavy].bearing + sector_angle(rays, heavy) / 2};
    rays.insert(rays.begin() + static_cast<std::ptrdiff_t>(heavy) + 1, between);
    out = divide(key, middle, rays, pad);
  }
  if (out) {
    out.value().remark = "the key is over the mass limit and was divided in " +
                         std::to_string(out->parts.size()) + " by joints from its middle";
  }
  return out;
}

}  // namespace skewback
