#include <algorithm>
#include <cmath>
#include <map>

#include "cut/tubes.hpp"

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;  // m

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Takes the flat faces of a bed away and gives back the loop of vertices they leave open, in the
/// order in which the new bed has to run. Empty if the bed was not one simple polygon.
std::vector<int> lift_bed(Solid& solid, const Plane& bed) {
  const auto in_bed = [&](const std::vector<int>& face) {
    return std::all_of(face.begin(), face.end(), [&](int v) {
      return std::abs(bed.distance(solid.vertices[at(v)])) <= kOnPlane;
    });
  };
  const auto gone =
      std::stable_partition(solid.faces.begin(), solid.faces.end(),
                            [&](const std::vector<int>& face) { return !in_bed(face); });
  std::map<std::pair<int, int>, int> edges;
  for (auto face = gone; face != solid.faces.end(); ++face) {
    for (std::size_t i = 0; i < face->size(); ++i)
      edges[{(*face)[i], (*face)[(i + 1) % face->size()]}] = 1;
  }
  solid.faces.erase(gone, solid.faces.end());
  std::map<int, int> next;
  std::size_t rim = 0;
  for (const auto& [edge, one] : edges) {
    if (edges.count({edge.second, edge.first}) != 0) continue;
    next[edge.first] = edge.second;
    ++rim;
  }
  std::vector<int> loop;
  if (next.empty()) return loop;
  for (int v = next.begin()->first; loop.size() < rim && next.count(v) != 0; v = next[v])
    loop.push_back(v);
  const bool whole = loop.size() == rim && next.size() == rim && next[loop.back()] == loop.front();
  return whole ? loop : std::vector<int>{};
}

/// Lays a bed with holes into the open loop. `first_ring` is the index of the rings' first vertex.
/// False if the triangulation did not take every vertex.
bool lay_bed(Solid& solid, const std::vector<int>& loop, const Frame& frame, bool faces_up,
             const TubeRings& rings, int first_ring) {
  Region region;
  std::vector<int> index = loop;
  for (int v : loop) region.outer.push_back(frame.to_local(solid.vertices[at(v)]).head<2>());
  int v = first_ring;
  for (const Ring& ring : rings) {
    Polygon hole;
    for (const Vec3& p : ring) {
      hole.push_back(frame.to_local(p).head<2>());
      index.push_back(v++);
    }
    region.holes.push_back(std::move(hole));
  }
  const TriangleMesh2 mesh = triangulate(region);
  if (mesh.vertices.size() != index.size()) return false;
  for (const auto& t : mesh.triangles) {
    std::vector<int> face{index[at(t[0])], index[at(t[1])], index[at(t[2])]};
    if (!faces_up) std::swap(face[1], face[2]);
    solid.faces.push_back(std::move(face));
  }
  return true;
}

}  // namespace

Result<Solid> open_tubes(const Solid& solid, const Plane& low, const TubeRings& low_rings,
                         const Plane& high, const TubeRings& high_rings) {
  const Fault odd{.key = "cut",
                  .found = "a bed that is not one simple polygon around its tubes",
                  .expected = "one closed outline, tubes inside it",
                  .change = "another blocks.length or a gentler curve of the free edges"};
  Solid out = solid;
  const std::vector<int> low_loop = lift_bed(out, low), high_loop = lift_bed(out, high);
  if (low_loop.empty() || high_loop.empty()) return odd;
  const int first_low = static_cast<int>(out.vertices.size());
  for (const Ring& ring : low_rings)
    out.vertices.insert(out.vertices.end(), ring.begin(), ring.end());
  const int first_high = static_cast<int>(out.vertices.size());
  for (const Ring& ring : high_rings)
    out.vertices.insert(out.vertices.end(), ring.begin(), ring.end());

  if (!lay_bed(out, low_loop, frame_on(low), false, low_rings, first_low) ||
      !lay_bed(out, high_loop, frame_on(high), true, high_rings, first_high)) {
    return odd;
  }
  int base = 0;
  for (const Ring& ring : low_rings) {  // walls look into the tube
    const int n = static_cast<int>(ring.size());
    for (int i = 0; i < n; ++i) {
      const int a = base + i, b = base + (i + 1) % n;
      out.faces.push_back({first_high + a, first_high + b, first_low + a});
      out.faces.push_back({first_high + b, first_low + b, first_low + a});
    }
    base += n;
  }
  if (!closed(out)) return odd;
  return out;
}

}  // namespace skewback
