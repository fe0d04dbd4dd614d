// What a program is refused for before it is solved.

#include <algorithm>
#include <cmath>

#include "solve/cone_data.hpp"

namespace skewback {

std::string fault_of(const ConeProgramView& program, const BlockPattern& pattern) {
  const auto place = [&](int node) { return pattern.place[static_cast<std::size_t>(node)]; };
  const Eigen::Index rows = 6 * static_cast<Eigen::Index>(pattern.nodes);
  if (program.nodes != pattern.nodes) return "the program has another number of nodes";
  if (program.b.size() != rows) return "b does not have six entries per node";
  if (!program.b.allFinite()) return "b is not finite";
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    const ConeContact& c = program.contacts[i];
    const std::string who = "contact " + std::to_string(i) + " ";
    if (c.a >= pattern.nodes || c.b >= pattern.nodes) return who + "names a node that is not there";
    if (c.a < 0 && c.b < 0) return who + "touches no node";
    if (c.a == c.b) return who + "touches one node twice";
    if (!(c.friction >= 0) || !std::isfinite(c.friction)) return who + "has no valid friction";
    if (!(c.n_most > 0)) return who + "has no positive n_most";
    if (!c.cost.allFinite() || (c.a >= 0 && !c.on_a.allFinite()) ||
        (c.b >= 0 && !c.on_b.allFinite())) {
      return who + "is not finite";
    }
    if (c.a >= 0 && c.b >= 0) {
      const auto [earlier, later] = std::minmax({place(c.a), place(c.b)});
      if (pattern.find(later, earlier) < 0)
        return who + "joins nodes that are no pair of the solver";
    }
  }
  for (std::size_t i = 0; i < program.columns.size(); ++i) {
    const ConeColumn& c = program.columns[i];
    const std::string who = "column " + std::to_string(i) + " ";
    if (c.rows.size() != rows) return who + "does not have six entries per node";
    if (!c.rows.allFinite() || !std::isfinite(c.cost)) return who + "is not finite";
    const bool low = std::isfinite(c.lower) || c.lower < 0,
               high = std::isfinite(c.upper) || c.upper > 0;
    if (!low || !high || !(c.lower <= c.upper)) return who + "has no valid bounds";
  }
  return {};
}

}  // namespace skewback
