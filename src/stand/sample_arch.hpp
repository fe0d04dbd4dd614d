#pragma once
// For tests only: small things to stand on each other; one metre deep unless said otherwise.

#include <cmath>
#include <string>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback::sample {

inline Block block_at(const std::string& id, const Vec3& centre, double mass) {
  Block block;
  block.id = id;
  block.density = mass;
  block.mass.volume = 1;
  block.mass.centroid = centre;
  return block;
}

inline Block ground() {
  Block block = block_at("ground", Vec3::Zero(), 1);
  block.fixed = true;
  return block;
}

inline Polygon rectangle(double half_x, double half_y) {
  return {{-half_x, -half_y}, {half_x, -half_y}, {half_x, half_y}, {-half_x, half_y}};
}

inline Joint level_joint(int a, int b, double z, const Polygon& contact, double friction) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame.origin = {0, 0, z};
  joint.contact = {{contact, {}}};
  joint.friction = friction;
  return joint;
}

/// A block of 1000 kg, its centre half a metre up, on a bed 0.4 by 1 m.
inline Assembly one_block(double friction) {
  Assembly assembly;
  assembly.blocks = {ground(), block_at("block", {0, 0, 0.5}, 1000)};
  assembly.joints = {level_joint(0, 1, 0, rectangle(0.2, 0.5), friction)};
  return assembly;
}

inline LoadCase dead() { return {"dead", {0, 0, -kGravity}, {}, Vec3::Zero()}; }

/// Part of an arch, `size` metres in radius, with contacts that are no rectangles.
inline Assembly arch(int voussoirs, double friction, double size = 1, double depth = 0.15) {
  Assembly assembly;
  assembly.blocks.push_back(ground());
  const double from = 0.4, to = kPi - 0.4;
  for (int i = 0; i <= voussoirs; ++i) {
    const double angle = from + (to - from) * i / voussoirs;
    const double middle = angle + (to - from) / voussoirs / 2;
    const Vec3 out(std::cos(middle), 0, std::sin(middle));
    Block block = i < voussoirs ? block_at("v" + std::to_string(i + 1), size * out, 100) : ground();
    if (block.fixed) block.id = "left";
    assembly.blocks.push_back(block);
    Joint joint;
    joint.a = i;
    joint.b = i + 1;
    joint.frame.y = {std::cos(angle), 0, std::sin(angle)};
    joint.frame.z = {-std::sin(angle), 0, std::cos(angle)};
    joint.frame.x = joint.frame.y.cross(joint.frame.z);
    joint.frame.origin = size * joint.frame.y;
    const double h = depth * size / 2, w = 0.2 * size;
    joint.contact = {{{{-w, -h}, {w, -h}, {1.2 * w, 0}, {w, h}, {-w, h}, {-1.1 * w, 0.1 * h}}, {}}};
    joint.friction = friction;
    assembly.joints.push_back(joint);
  }
  return assembly;
}

}  // namespace skewback::sample
