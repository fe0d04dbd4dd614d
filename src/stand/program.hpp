#pragma once
// Private to stand/: contact points and the equilibrium matrix of a set of blocks.
// Unknowns are the multipliers of the cone generators, in units of `force_unit`. Rows: six for each
// free block, force / force_unit and moment about its centre of gravity / (force_unit length_unit).

#include <vector>

#include "solve/solve.hpp"
#include "stand/stand.hpp"

namespace skewback {

enum class Cone {
  kInner,  // corners on the Coulomb cone, one pair on the joint's y: every answer is admissible
  kOuter   // sides touch the Coulomb cone, one pair square to y: every mechanism is valid
};

struct Contact {
  int joint = -1, prop = -1;  // one of the two
  int a = -1, b = -1;         // blocks; the force acts on b, its reverse on a (none for a prop)
  Vec3 point = Vec3::Zero();
  Vec3 x = Vec3::UnitX(), y = Vec3::UnitY(), n = Vec3::UnitZ();
  double friction = 0;
};

/// Corners of the hull of every joint between present blocks that are not both fixed, and the
/// props. `most` > 0 limits the corners of one joint.
[[nodiscard]] std::vector<Contact> contacts_of(const Assembly& assembly,
                                               const StandOptions& options, int most = 0);

struct Program {
  std::vector<Contact> contacts;
  int rays = 8;
  Cone cone = Cone::kInner;
  std::vector<int> slot;     // per block: which group of six rows, or -1
  std::vector<int> blocks;   // per slot
  std::vector<Vec3> centre;  // per slot
  double force_unit = 1, length_unit = 1;
  SparseMatrix A;
  VectorX weight, live;  // loads on the rows; equilibrium is A x + weight + factor live = 0
};

[[nodiscard]] Program build(const Assembly& assembly, const LoadCase& load,
                            const StandOptions& options, Cone cone);

/// Replaces the live load by that of a case with the same gravity.
void put_live(const Assembly& assembly, const LoadCase& load, Program& program);

[[nodiscard]] bool is_present(const StandOptions& options, int block);
[[nodiscard]] Vec3 generator(const Program& program, const Contact& contact, int ray);

/// The physical forces of multipliers x at a load factor.
[[nodiscard]] Forces forces_of(const Program& program, const VectorX& x, double load_factor);

/// Largest force or moment left over on a free block: force over the largest block weight, moment
/// over that times length_unit. From physical forces, independent of A.
[[nodiscard]] double residual_of(const Assembly& assembly, const LoadCase& load,
                                 const StandOptions& options, const Forces& forces,
                                 double length_unit);

}  // namespace skewback
