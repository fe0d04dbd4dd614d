#include "deliver/outline.hpp"

#include <map>

namespace skewback::deliver {
namespace {

void add_edge(std::multimap<int, int>& rim, int from, int to) {
  const auto [first, last] = rim.equal_range(to);
  for (auto it = first; it != last; ++it) {
    if (it->second != from) continue;
    rim.erase(it);
    return;
  }
  rim.emplace(from, to);
}

Polygon take_loop(std::multimap<int, int>& rim, const std::vector<Vec2>& flat) {
  Polygon loop;
  const int start = rim.begin()->first;
  int at = start;
  do {
    loop.push_back(flat[static_cast<std::size_t>(at)]);
    const auto edge = rim.find(at);
    at = edge->second;  // a rim of whole faces leaves every vertex as often as it comes to it
    rim.erase(edge);
  } while (at != start);
  return loop;
}

}  // namespace

View plan_view() { return {}; }

View side_view(const Vec2& from, const Vec2& to) {
  View view;
  view.origin = {from.x(), from.y(), 0};
  const Vec2 along = (to - from).normalized();
  view.right = {along.x(), along.y(), 0};
  view.up = Vec3::UnitZ();
  view.towards = view.right.cross(view.up);
  return view;
}

// An edge between two faces that look at the eye runs once each way and cancels; what is left runs
// round the covered part, as often as it is covered, so that its nonzero-winding union is the
// outline.
Regions silhouette(const Solid& solid, const View& view) {
  std::vector<Vec2> flat;
  for (const Vec3& p : solid.vertices) flat.push_back(view(p));
  std::multimap<int, int> rim;  // from, to
  Polygon ring;
  for (const auto& face : solid.faces) {
    ring.clear();
    for (const int v : face) ring.push_back(flat[static_cast<std::size_t>(v)]);
    if (!(area(ring) > 1e-10)) continue;
    for (std::size_t i = 0; i < face.size(); ++i)
      add_edge(rim, face[i], face[(i + 1) % face.size()]);
  }
  Regions loops;
  while (!rim.empty()) loops.push_back({take_loop(rim, flat), {}});
  return unite(loops);
}

}  // namespace skewback::deliver
