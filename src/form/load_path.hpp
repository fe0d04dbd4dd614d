#pragma once
// Least load path: of all states of compression that hold given loads over a net drawn in plan, the
// one with the least sum of force times length. J. C. Maxwell (1864, 1870) gave the sum, A. G. M.
// Michell (1904) its least, G. I. N. Rozvany and W. Prager (1979) carried it to arches that are
// free in height over a plan (all from memory). The program and its dual: docs/theory/form.md.

#include <vector>

#include "form/force_density.hpp"

namespace skewback {

struct LoadPathOptions {
  double tolerance = 1e-9;   // relative: gap and both residuals; range 1e-12 to 1e-4
  int max_iterations = 100;  // interior-point steps
  /// Plans that hardly stand: sideways help h at a point, in mean loads, adds h^2 / (2 give) mean
  /// loads times mean edge lengths to the path. 0: no help. Sensible: 1e-6 to 1e-2. With it no plan
  /// is refused, and plan_residual_rel says what help remains.
  double give = 0;
};

struct LoadPath {
  Net net;                       // plan as given; q >= 0 and the heights of the free points found
  double path_nm = 0;            // sum of force times length, N m
  double bound_nm = 0;           // no state of compression over this plan has less (from the dual)
  double gap_rel = 0;            // (path - bound) / path; below zero only by the residuals
  double plan_residual_rel = 0;  // greatest sideways force left at a free point over all the load
  double height_residual_rel = 0;  // the same, vertical
  int idle_edges = 0;              // edges that the plan alone keeps free of force; their q is 0
  int iterations = 0;
};

/// Plan positions of all points and the heights of the fixed ones are kept; heights of free points
/// are an outcome. `downward`: load on each point, N, >= 0. The heights of the fixed points must be
/// those of one plane, level or not: only then is the problem convex. A free point that no force
/// reaches and no load stands on keeps the height it has.
/// Faults: a loaded point that no compression holds over this plan (with the point that wants the
/// most sideways help, and which way); fixed points out of plane; no convergence.
[[nodiscard]] Result<LoadPath> least_load_path(const Net& net, const std::vector<double>& downward,
                                               const LoadPathOptions& options = {});

/// A net to start a search from: force densities in the proportions of the least load path over the
/// plan as drawn (supports taken as level, a little sideways help allowed), a thousandth of the
/// mean force added everywhere so that none is zero, then equilibrium with the mean of `crown` at
/// height z, in which points leave the plan by what the help was worth. Faults: as for the two
/// functions it joins.
[[nodiscard]] Result<Net> first_form_by_load_path(const Net& drawn,
                                                  const std::vector<double>& downward,
                                                  const std::vector<int>& crown, double z);

}  // namespace skewback
