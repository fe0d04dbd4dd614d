// Plane booleans on a 10 nm integer grid: within 10 m of the origin Clipper then works in 64 bits.
#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "geometry/geometry.hpp"

namespace skewback {
namespace {

namespace cl = ClipperLib;
constexpr double kGrid = 1e8;      // units per metre
constexpr double kSliver = 1e-12;  // m2

cl::Path to_path(const Polygon& p) {
  cl::Path path;
  path.reserve(p.size());
  for (const Vec2& v : p)
    path.emplace_back(std::llround(v.x() * kGrid), std::llround(v.y() * kGrid));
  return path;
}

cl::Paths to_paths(const Regions& regions) {
  cl::Paths paths;
  for (const Region& r : regions) {
    paths.push_back(to_path(r.outer));
    for (const Polygon& hole : r.holes) paths.push_back(to_path(hole));
  }
  return paths;
}

Polygon to_polygon(const cl::Path& path) {
  Polygon p;
  p.reserve(path.size());
  for (const cl::IntPoint& q : path) {
    p.emplace_back(static_cast<double>(q.X) / kGrid, static_cast<double>(q.Y) / kGrid);
  }
  return p;
}

void collect(const cl::PolyNode& node, Regions& out) {
  for (const cl::PolyNode* child : node.Childs) {  // outer contours
    Region region{to_polygon(child->Contour), {}};
    if (area(region.outer) < 0) std::reverse(region.outer.begin(), region.outer.end());
    for (const cl::PolyNode* hole : child->Childs) {
      Polygon h = to_polygon(hole->Contour);
      if (area(h) > 0) std::reverse(h.begin(), h.end());
      if (-area(h) > kSliver) region.holes.push_back(std::move(h));
      collect(*hole, out);
    }
    if (area(region) > kSliver) out.push_back(std::move(region));
  }
}

Regions run(cl::ClipType type, const cl::Paths& subject, const cl::Paths& other) {
  cl::Clipper clipper;
  clipper.AddPaths(subject, cl::ptSubject, true);
  if (!other.empty()) clipper.AddPaths(other, cl::ptClip, true);
  cl::PolyTree tree;
  clipper.Execute(type, tree, cl::pftNonZero, cl::pftNonZero);
  Regions out;
  collect(tree, out);
  return out;
}

}  // namespace

Regions intersect(const Regions& a, const Regions& b) {
  if (a.empty() || b.empty()) return {};
  return run(cl::ctIntersection, to_paths(a), to_paths(b));
}

Regions unite(const Regions& a) { return run(cl::ctUnion, to_paths(a), {}); }

Regions subtract(const Regions& a, const Regions& b) {
  return run(cl::ctDifference, to_paths(a), to_paths(b));
}

Regions offset(const Regions& a, double d) {
  cl::ClipperOffset grower(3.0);
  grower.AddPaths(to_paths(a), cl::jtMiter, cl::etClosedPolygon);
  cl::PolyTree tree;
  grower.Execute(tree, d * kGrid);
  Regions out;
  collect(tree, out);
  return out;
}

Regions strip_along(const std::vector<Vec2>& line, double width) {
  cl::ClipperOffset grower(3.0);
  grower.AddPath(to_path(line), cl::jtMiter, cl::etOpenButt);
  cl::PolyTree tree;
  grower.Execute(tree, width / 2 * kGrid);
  Regions out;
  collect(tree, out);
  return out;
}

}  // namespace skewback
