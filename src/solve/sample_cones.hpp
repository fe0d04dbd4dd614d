#pragma once
// Cone programs for tests and benchmarks: shells of blocks in running bond, and random programs
// whose optimum is known because they are built around it.

#include <random>

#include "solve/cone_program.hpp"

namespace skewback::sample {

/// A shell of `courses` by `units` blocks (one more unit in every other course), 0.5 m thick,
/// four contact points a joint, friction 0.6; the first and last course rest on the ground.
struct Shell {
  int courses = 11, units = 5;
  bool sail = false;  // spherical, 10 x 10 m, radius 7.8 m; else a barrel of span 10 m, rise 2.5 m
  double width = 10;  // of the barrel
  double friction = 0.6;
};

/// Column 0 of the program: live load, a Gaussian patch about (along, across) in 0 .. 1, in all as
/// heavy as the shell. The cost asks for the greatest load factor.
[[nodiscard]] ConeProgram limit_program(const Shell& shell, double along, double across);
/// Another patch on the same shell.
void move_patch(const Shell& shell, double along, double across, ConeProgram& program);

struct KnownOptimum {
  ConeProgram program;
  double objective = 0;
  VectorX f, y;
};

/// Complementary f, z and a y drawn first, then costs and b. `rigid`: the columns are those of
/// points on rigid bodies; else any numbers. With bounds, props without friction, free, boxed and
/// sparse columns.
[[nodiscard]] KnownOptimum known_optimum(int nodes, bool rigid, std::mt19937& rng);

/// The same with the cones replaced by `rays` rays on (inner) or about (outer) them, and n_most by
/// a bound on the sum of a contact's multipliers where the rays are inner. For
/// solve(LinearProgram).
[[nodiscard]] LinearProgram faceted(const ConeProgram& program, int rays, bool inner);

}  // namespace skewback::sample
