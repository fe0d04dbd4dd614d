// A plane through a closed solid.
#include <algorithm>
#include <cmath>
#include <map>

#include "geometry/geometry.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

using EdgeKey = std::pair<int, int>;  // lower vertex first

struct Crossing {
  EdgeKey edge;
  Vec2 point = Vec2::Zero();
};

/// Where a face meets the plane: pairs of crossings, each a piece of outline with the solid on its
/// left. A corner on the plane counts as in front, so every crossed edge has one face on each side.
void cross_face(const Solid& solid, const std::vector<int>& face, const Frame& frame,
                const std::vector<double>& height, std::map<EdgeKey, Crossing>& next) {
  std::vector<Crossing> found;
  std::vector<char> rises;
  for (std::size_t i = 0; i < face.size(); ++i) {
    const int p = face[i], q = face[(i + 1) % face.size()];
    const bool up_p = height[at(p)] >= 0, up_q = height[at(q)] >= 0;
    if (up_p == up_q) continue;
    const int low = std::min(p, q), high = std::max(p, q);
    const double s = height[at(low)] / (height[at(low)] - height[at(high)]);
    const Vec3 on =
        solid.vertices[at(low)] + s * (solid.vertices[at(high)] - solid.vertices[at(low)]);
    found.push_back({{low, high}, frame.to_local(on).head<2>()});
    rises.push_back(up_q ? 1 : 0);
  }
  if (found.size() == 2) {
    const std::size_t first = rises[0] != 0 ? 1 : 0;
    next[found[first].edge] = found[1 - first];
    return;
  }
  if (found.empty()) return;
  // more than two: along the line of the cut they pair up in order
  const Vec2 along = found[1].point - found[0].point;
  std::vector<std::size_t> order(found.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    return found[i].point.dot(along) < found[j].point.dot(along);
  });
  for (std::size_t i = 0; i + 1 < order.size(); i += 2) {
    const std::size_t a = order[i], b = order[i + 1], first = rises[a] != 0 ? b : a;
    next[found[first].edge] = found[first == a ? b : a];
  }
}

}  // namespace

Regions slice(const Solid& solid, const Frame& frame) {
  std::vector<double> height;
  height.reserve(solid.vertices.size());
  for (const Vec3& v : solid.vertices) height.push_back(frame.plane().distance(v));
  std::map<EdgeKey, Crossing> next;  // from an edge to the next crossing of the outline
  for (const auto& face : solid.faces) cross_face(solid, face, frame, height, next);
  Regions out;
  std::vector<Polygon> holes;
  while (!next.empty()) {
    Polygon ring;
    for (auto step = next.begin(); step != next.end();) {
      const Crossing to = step->second;
      next.erase(step);
      ring.push_back(to.point);
      step = next.find(to.edge);
    }
    if (std::abs(area(ring)) < 1e-10) continue;
    if (area(ring) > 0) {
      out.push_back({std::move(ring), {}});
    } else {
      holes.push_back(std::move(ring));
    }
  }
  for (Polygon& hole : holes) {
    const auto home = std::find_if(out.begin(), out.end(), [&](const Region& region) {
      return contains({region.outer, {}}, hole.front());
    });
    if (home != out.end()) home->holes.push_back(std::move(hole));
  }
  return out;
}

}  // namespace skewback
