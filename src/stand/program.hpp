#pragma once
// Private to stand/: contact points and the cone program of a set of blocks.
// Unknowns are contact forces (n, t1, t2) in the axes of each contact, in units of `force_unit`.
// Rows: six for each free block, force / force_unit and moment about its centre of gravity /
// (force_unit length_unit).

#include <memory>
#include <vector>

#include "solve/block_cholesky.hpp"
#include "solve/cone_program.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct Contact {
  int joint = -1, prop = -1;  // one of the two
  int a = -1, b = -1;         // blocks; the force acts on b, its reverse on a (none for a prop)
  Vec3 point = Vec3::Zero();
  Vec3 x = Vec3::UnitX(), y = Vec3::UnitY(), n = Vec3::UnitZ();
  double friction = 0;
  double area = 0;  // of the cell it stands for, where strength is finite
};

/// Corners of the hull of every joint between present blocks that are not both fixed, and the
/// props. `most` > 0 limits the corners of one joint. With a joint strength: the middles of cells
/// of the contact instead, each able to carry strength x area, and no limit.
[[nodiscard]] std::vector<Contact> contacts_of(const Assembly& assembly,
                                               const StandOptions& options, int most = 0);

/// What programs on the same graph of blocks share; safe to use from several threads at once.
struct Graph {
  std::shared_ptr<const ConeSolver> solver;
  std::shared_ptr<const BlockPattern> pattern;
};

struct Program {
  std::vector<Contact> contacts;
  std::vector<int> slot;     // per block: which group of six rows, or -1
  std::vector<int> blocks;   // per slot
  std::vector<Vec3> centre;  // per slot
  double force_unit = 1, length_unit = 1;
  std::vector<ConeContact> cones;  // per contact
  VectorX weight, live;  // loads on the rows; equilibrium is A f + weight + factor live = 0
  Graph graph;
};

/// `graph`: of an assembly with the same joints between the same blocks, to be used again.
[[nodiscard]] Program build(const Assembly& assembly, const LoadCase& load,
                            const StandOptions& options, const Graph* graph = nullptr);

/// Replaces the live load by that of a case with the same gravity.
void put_live(const Assembly& assembly, const LoadCase& load, Program& program);

[[nodiscard]] bool is_present(const StandOptions& options, int block);

/// A f.
[[nodiscard]] VectorX rows_of(const Program& program, const VectorX& f);
/// World force of one contact, in units of force_unit.
[[nodiscard]] Vec3 world_force(const Contact& contact, const VectorX& f, std::size_t index);

/// The physical forces of an answer at a load factor.
[[nodiscard]] Forces forces_of(const Program& program, const VectorX& f, double load_factor);

/// Largest force or moment left over on a free block: force over the largest block weight, moment
/// over that times length_unit. From physical forces, independent of the program.
[[nodiscard]] double residual_of(const Assembly& assembly, const LoadCase& load,
                                 const StandOptions& options, const Forces& forces,
                                 double length_unit);

}  // namespace skewback
