#pragma once
// Looks for the net: force densities fitted to the drawn plan with level cross-sections, then exact
// equilibrium, round and round.

#include "base/progress.hpp"
#include "form/force_density.hpp"
#include "form/mesh.hpp"

namespace skewback {

struct FoundNet {
  Net net;                     // in equilibrium under `load_n`, rise exact
  std::vector<double> load_n;  // per point, downward
  SearchCost cost;             // of all that was tried
  bool by_load_path = false;   // begun at the least load path
  bool plain_kept = false;     // wishes were missed by less without following them
};

/// `vertex_load_n` empty: the first guess of the weight follows the shape. Else the shape found for
/// that weight is kept, and forces bend to the loads: the same loads give the same net. Begun as
/// brief.form.start says; of two starts that is kept which meets more wishes. Where some are missed
/// and the form without wishes is nearer to them by the same measure, that one is kept.
[[nodiscard]] Result<FoundNet> find_net(const Brief& brief, const FibreMesh& mesh,
                                        const std::vector<std::array<int, 3>>& triangles,
                                        const std::vector<double>& vertex_load_n,
                                        const Progress& progress);

}  // namespace skewback
