#include "assembly/surface.hpp"

#include <algorithm>
#include <map>
#include <vector>

namespace skewback {
namespace {

using Edge = std::pair<int, int>;

std::optional<Edge> odd_edge(const Solid& solid) {
  std::map<Edge, int> used;
  for (const auto& face : solid.faces) {
    for (std::size_t i = 0; i < face.size(); ++i) ++used[{face[i], face[(i + 1) % face.size()]}];
  }
  for (const auto& [edge, times] : used) {
    const auto twin = used.find({edge.second, edge.first});
    if (edge.first == edge.second || twin == used.end() || twin->second != times) return edge;
  }
  return std::nullopt;
}

struct Use {
  std::size_t face = 0;
  bool forth = true;  // from the lower vertex to the higher
};

/// Per edge, whichever way it runs, the faces along it.
std::map<Edge, std::vector<Use>> uses_of(const Solid& solid) {
  std::map<Edge, std::vector<Use>> uses;
  for (std::size_t f = 0; f < solid.faces.size(); ++f) {
    const auto& face = solid.faces[f];
    for (std::size_t i = 0; i < face.size(); ++i) {
      const int from = face[i], to = face[(i + 1) % face.size()];
      uses[std::minmax(from, to)].push_back({f, from < to});
    }
  }
  return uses;
}

/// Of faces with two along every edge: which of them run against the first of those they hang
/// together with, and the piece each belongs to. None where no way round suits all.
struct Sides {
  std::vector<int> against;  // per face, 0 or 1; -1: not reached
  std::vector<int> piece;
};
std::optional<Sides> sides_of(const Solid& solid, const std::map<Edge, std::vector<Use>>& uses) {
  std::vector<std::vector<std::pair<std::size_t, int>>> beside(solid.faces.size());
  for (const auto& [edge, along] : uses) {
    const int same = along[0].forth == along[1].forth ? 1 : 0;
    beside[along[0].face].emplace_back(along[1].face, same);
    beside[along[1].face].emplace_back(along[0].face, same);
  }
  Sides sides{std::vector<int>(solid.faces.size(), -1), std::vector<int>(solid.faces.size(), -1)};
  for (std::size_t first = 0; first < solid.faces.size(); ++first) {
    if (sides.against[first] >= 0) continue;
    sides.against[first] = 0;
    std::vector<std::size_t> open{first};
    while (!open.empty()) {
      const std::size_t f = open.back();
      open.pop_back();
      sides.piece[f] = static_cast<int>(first);
      for (const auto& [g, same] : beside[f]) {
        const int wanted = sides.against[f] ^ same;
        if (sides.against[g] >= 0 && sides.against[g] != wanted) return std::nullopt;
        if (sides.against[g] < 0) open.push_back(g);
        sides.against[g] = wanted;
      }
    }
  }
  return sides;
}

}  // namespace

std::optional<SurfaceFault> surface_fault(const Solid& solid) {
  const auto edge = odd_edge(solid);
  if (!edge) return std::nullopt;
  SurfaceFault fault{*edge, -1};
  const auto uses = uses_of(solid);
  if (std::ranges::any_of(uses, [](const auto& use) { return use.second.size() != 2; }))
    return fault;
  const auto sides = sides_of(solid, uses);
  if (!sides) return fault;
  for (std::size_t f = 0; f < solid.faces.size() && fault.face < 0; ++f) {
    std::size_t same = 0, other = 0;  // of its piece
    for (std::size_t g = 0; g < solid.faces.size(); ++g) {
      if (sides->piece[g] == sides->piece[f])
        ++(sides->against[g] == sides->against[f] ? same : other);
    }
    if (other > 0 && (same < other || (same == other && sides->against[f] == 1)))
      fault.face = static_cast<int>(f);
  }
  return fault;
}

}  // namespace skewback
