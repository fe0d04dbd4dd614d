#pragma once
// Nets of struts in equilibrium by force densities. H.-J. Schek, The force density method for form
// finding and computation of general networks, Comp. Meth. Appl. Mech. Eng. 3 (1974): with q =
// force / length given for every edge the coordinates of the free nodes solve a linear system.

#include <Eigen/Core>
#include <vector>

#include "form/form.hpp"

namespace skewback {

class FreeSystem;

struct Net {
  std::vector<Vec3> points;    // fixed ones are data, free ones are found
  std::vector<NetEdge> edges;  // q > 0 compresses
  std::vector<char> fixed;     // per point
};

/// Places the free points so that at each of them  sum q (x - x_neighbour) + load = 0.
/// `load`: force on each point, N; a downward load is (0, 0, -p). Fault: some free point is not
/// held.
[[nodiscard]] Result<std::vector<Vec3>> equilibrium(const Net& net, const std::vector<Vec3>& load);

/// As `equilibrium` under downward loads, all q multiplied by one factor so that the mean of
/// `crown` comes to height `z` (then edges hold the new q). Fault: no factor does that.
[[nodiscard]] Result<Net> equilibrium_with_height(const Net& net,
                                                  const std::vector<double>& downward,
                                                  const std::vector<int>& crown, double z);
/// The same by a system of the net's edges and fixed points, which is left with the forces given.
[[nodiscard]] Result<Net> equilibrium_with_height(FreeSystem& system, const Net& net,
                                                  const std::vector<double>& downward,
                                                  const std::vector<int>& crown, double z);

[[nodiscard]] double mean_height(const std::vector<Vec3>& points, const std::vector<int>& which);

/// Sum of edge forces and load on each point; zero at free points in equilibrium, minus the
/// reaction at fixed ones.
[[nodiscard]] std::vector<Vec3> unbalanced(const Net& net, const std::vector<Vec3>& load);

[[nodiscard]] std::vector<Vec3> as_forces(const std::vector<double>& downward);

}  // namespace skewback
