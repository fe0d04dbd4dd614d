#pragma once
// Arches with all their faces, for the checks of motion in time.

#include <random>

#include "ring.hpp"

namespace skewback {

/// Straight-edged voussoirs `depth` deep, and grounds that have faces.
inline Assembly whole_arch(const Ring& ring, double kn, double depth = 1) {
  Assembly arch = make_straight_arch(ring);
  for (Joint& joint : arch.joints) {
    joint.pad = Pad{0, kn, 0.4 * kn};
    for (Vec2& p : joint.contact[0].outer) p.x() *= depth;
  }
  for (Block& block : arch.blocks)
    for (Vec3& p : block.solid.vertices) p.y() *= depth;
  for (const int i : {0, ring.voussoirs + 1}) {
    const Frame& f = arch.joints[i == 0 ? 0 : static_cast<std::size_t>(ring.voussoirs)].frame;
    const double t = ring.thickness;
    const Polygon slab = {{-1, -t}, {1, -t}, {1, t}, {-1, t}};
    arch.blocks[static_cast<std::size_t>(i)].solid =
        i == 0 ? prism(f, slab, -t, 0) : prism(f, slab, 0, t);
  }
  measure(arch);
  return arch;
}

struct RandomArch {
  Ring ring;
  Assembly arch;
  LoadCase load;  // its weight, and a point load on the back of one voussoir
};

/// Shape, friction (0.6 to 0.9, so that hinges govern) and where the load stands, of a seed.
inline RandomArch random_arch(unsigned seed, double kn) {
  std::mt19937 random(seed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
  };
  RandomArch made;
  made.ring.radius = between(2, 6);
  const double half = between(45, 90);  // of the embrace, degrees
  made.ring.embrace = 2 * half * kPi / 180;
  // 1.2 to 2 times the least of a continuous arch, 0.1075 R of a semicircle, about so of others;
  // none very thin
  made.ring.thickness =
      made.ring.radius * std::max(0.04, between(1.2, 2) * 0.1075 * std::pow(half / 90, 3.5));
  made.ring.voussoirs = 7 + static_cast<int>(random() % 9);
  made.ring.friction = between(0.6, 0.9);
  made.arch = whole_arch(made.ring, kn);
  const int quarter = made.ring.voussoirs / 4;  // in the middle half
  const int block =
      1 + quarter +
      static_cast<int>(random() % static_cast<unsigned>(made.ring.voussoirs - 2 * quarter));
  const double angle = (joint_angle(made.ring, block - 1) + joint_angle(made.ring, block)) / 2,
               out = (made.ring.radius + made.ring.thickness / 2) *
                     std::cos(made.ring.embrace / made.ring.voussoirs / 2);
  made.load = made.arch.cases[0];
  made.load.id = "point";
  made.load.live = {{block, {out * std::cos(angle), 0, out * std::sin(angle)}, {0, 0, -1000}}};
  return made;
}

}  // namespace skewback
