#pragma once
// Private to works/: the form's own net under the patterns of live load.

#include "works/works.hpp"

namespace skewback {

struct NetPattern {
  std::string id;
  // greatest distance of the thrust surface from the middle one over half the depth: an upper bound
  double share = 0;
  Vec3 worst = Vec3::Zero();  // where
  double thrust_n = 0;        // largest support
  std::string trouble;        // why there are no forces; empty: there are
};

/// Per vertex of the form: the live load of a case, block by block on the vertices nearest to it.
[[nodiscard]] std::vector<double> live_at_vertices(const Form& form, const Assembly& assembly,
                                                   const LoadCase& load);

/// For each pattern of people its own forces of the net, the geometry kept, with the live load
/// times `live_factor`. Needs form, body, cut and loads.
[[nodiscard]] std::vector<NetPattern> net_under_patterns(const Dossier& dossier, double live_factor,
                                                         const Progress& progress);

}  // namespace skewback
