#pragma once
// For tests only: a semicircular barrel of equal voussoirs with straight edges, on two ground
// blocks.

#include <cmath>
#include <string>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback::sample {

struct Arch {
  int voussoirs = 7;
  double radius = 3;  // of the centreline
  double thickness = 0.45;
  double width = 1;
  double density = 2400;
  double friction = 0.7;
};

/// Point of the section at an angle from the left springing, over the top.
inline Vec3 arch_point(double radius, double angle) {
  return {-radius * std::cos(angle), 0, radius * std::sin(angle)};
}

inline Solid voussoir(const Arch& arch, double from, double to) {
  const Frame section{Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  const double inner = arch.radius - arch.thickness / 2, outer = arch.radius + arch.thickness / 2;
  Polygon outline;
  for (const auto& [r, angle] : {std::pair{inner, from}, {inner, to}, {outer, to}, {outer, from}}) {
    const Vec3 p = arch_point(r, angle);
    outline.emplace_back(p.x(), p.z());
  }
  if (area(outline) < 0) outline = {outline[3], outline[2], outline[1], outline[0]};
  return prism(section, outline, -arch.width / 2, arch.width / 2);
}

inline Joint radial_joint(const Arch& arch, int a, int b, double angle) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.friction = arch.friction;
  const Vec3 ahead(std::sin(angle), 0, std::cos(angle));
  joint.frame = frame_on({arch_point(arch.radius, angle), ahead});
  Polygon corners;
  for (const double r : {-arch.thickness / 2, arch.thickness / 2}) {
    for (const double y : {-arch.width / 2, arch.width / 2}) {
      const Vec3 p = joint.frame.to_local(arch_point(arch.radius + r, angle) + Vec3(0, y, 0));
      corners.emplace_back(p.x(), p.y());
    }
  }
  joint.contact = {{convex_hull(corners), {}}};
  return joint;
}

/// Voussoirs 0 to n-1 from left (arm 0) to right (arm 1), the middle one of an odd count is the
/// key; then the ground blocks. One case, "dead".
inline Assembly arch_assembly(const Arch& arch) {
  Assembly assembly;
  const int n = arch.voussoirs, half = n / 2;
  const auto angle = [&](int i) { return kPi * i / n; };
  for (int i = 0; i < n; ++i) {
    Block block;
    block.id = "v" + std::to_string(i + 1);
    block.solid = voussoir(arch, angle(i), angle(i + 1));
    block.density = arch.density;
    const bool key = n % 2 == 1 && i == half, left = i < half;
    block.place.arm = key ? -1 : (left ? 0 : 1);
    block.place.course = key ? half + 1 : (left ? i + 1 : n - i);
    const double middle = kPi * (i + 0.5) / n;
    block.place.phi_m = arch.radius * std::min(middle, kPi - middle);
    assembly.blocks.push_back(block);
  }
  for (int arm = 0; arm < 2; ++arm) {
    Block ground;
    ground.id = arm == 0 ? "ground-west" : "ground-east";
    const double x = arm == 0 ? -arch.radius : arch.radius;
    ground.solid = skewback::box({x - arch.thickness, -arch.width / 2, -0.3},
                                 {x + arch.thickness, arch.width / 2, 0});
    ground.density = arch.density;
    ground.fixed = true;
    ground.place.arm = arm;
    assembly.blocks.push_back(ground);
  }
  assembly.joints.push_back(radial_joint(arch, n, 0, 0));
  for (int i = 1; i < n; ++i) assembly.joints.push_back(radial_joint(arch, i - 1, i, angle(i)));
  assembly.joints.push_back(radial_joint(arch, n - 1, n + 1, kPi));
  LoadCase dead;
  dead.id = "dead";
  assembly.cases.push_back(dead);
  measure(assembly);
  return assembly;
}

}  // namespace skewback::sample
