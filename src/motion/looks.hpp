#pragma once
// Private to motion/: what is seen of all blocks now and then, and how far they are from where they
// last were at rest.

#include <vector>

#include "motion/world.hpp"

namespace skewback::motion {

struct Look {
  double moved = 0, turned = 0;  // from the start, m and rad: most of any free block
  double speed = 0;              // m/s, the same
  double unbalanced = 0;         // greatest force left, of the mean weight; loads that fall too
  int block = -1;                // that has moved most
  bool finite = true;
};
[[nodiscard]] Look look(const World& world);

/// Where the blocks were when they last were at rest, and when: what is moving off is judged from
/// there, so that a footing can be walked far in small steps.
struct Mark {
  std::vector<Vec3> centres;
  std::vector<Quaternion> turns;
  double time_s = 0;
};
[[nodiscard]] Mark mark_of(const World& world);

/// Farthest that a free block has gone from the mark on, m: with respect to the ground where all of
/// it has gone the same way without turning, else to the world.
[[nodiscard]] double gone_since(const World& world, const Mark& mark);
/// rad, of free blocks.
[[nodiscard]] double turned_since(const World& world, const Mark& mark);

/// How far gone_since may see blocks go with the ground, where its parts go each their own way, m.
[[nodiscard]] double ground_may_part(const World& world, const Mark& mark);
/// How far the ground is told to turn from the mark on, rad.
[[nodiscard]] double ground_turns(const World& world, const Mark& mark);

}  // namespace skewback::motion
