#include "cut/arrises.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "cut/connected.hpp"
#include "cut/courses.hpp"

namespace skewback {
namespace {

constexpr double kLeastFace_m2 = 1e-6;  // whose normal is to be trusted
constexpr double kShareMost = 0.04;     // of the solid that one arris may cost
constexpr double kTipReach = 3;         // of the depth of the cut: how far the tip reaches
constexpr double kProbe = 0.01;         // m from an edge: there the solid is a wedge, or no arris
constexpr double kPastEnds = 0.001;     // m
constexpr int kArrisesMost = 12;

const Vec3& at(const Solid& solid, int v) { return solid.vertices[static_cast<std::size_t>(v)]; }

/// Twice the area, along the outward normal (Newell).
Vec3 doubled_normal(const Solid& solid, const std::vector<int>& face) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 0; i < face.size(); ++i)
    sum += at(solid, face[i]).cross(at(solid, face[(i + 1) % face.size()]));
  return sum;
}

double length(const Solid& solid, const SharpEdge& edge) {
  return (at(solid, edge.to) - at(solid, edge.from)).norm();
}

/// Edges that hang together by their ends.
std::vector<std::vector<SharpEdge>> runs(std::vector<SharpEdge> edges) {
  std::vector<std::vector<SharpEdge>> out;
  while (!edges.empty()) {
    std::vector<SharpEdge> run{edges.back()};
    edges.pop_back();
    for (std::size_t i = 0; i < run.size(); ++i) {
      const SharpEdge from = run[i];
      const auto rest = std::ranges::partition(edges, [&](const SharpEdge& e) {
        return e.from != from.from && e.from != from.to && e.to != from.from && e.to != from.to;
      });
      run.insert(run.end(), rest.begin(), rest.end());
      edges.erase(rest.begin(), rest.end());
    }
    out.push_back(std::move(run));
  }
  return out;
}

double distance_to_run(const Solid& solid, const std::vector<SharpEdge>& run, const Vec3& p) {
  double least = 1e18;
  for (const SharpEdge& edge : run) {
    const Vec3 &a = at(solid, edge.from), way = at(solid, edge.to) - a;
    const double share = std::clamp((p - a).dot(way) / way.squaredNorm(), 0.0, 1.0);
    least = std::min(least, (p - a - share * way).norm());
  }
  return least;
}

/// Folds of the surface, slivers too, are sharp over next to no depth.
bool is_wedge(const Solid& solid, const SharpEdge& edge) {
  const Vec3 &a = at(solid, edge.from), &b = at(solid, edge.to);
  const Vec3 along = (b - a).normalized();
  const Frame frame{(a + b) / 2, edge.outwards, along.cross(edge.outwards), along};
  const Regions section = slice(solid, frame);
  const auto inside = [&](double across) {
    return std::ranges::any_of(section,
                               [&](const Region& r) { return contains(r, Vec2(-kProbe, across)); });
  };
  const double beside = kProbe * std::tan(edge.inside_rad / 2) + 0.3 * kProbe;
  return inside(0) && !inside(beside) && !inside(-beside);
}

struct TipCut {
  Plane plane;  // the tip is ahead
  double depth_m = 0;
  Vec3 along = Vec3::Zero();
};

TipCut cut_of(const Solid& solid, const std::vector<SharpEdge>& run, double face_m) {
  Vec3 outwards = Vec3::Zero(), along = Vec3::Zero(), middle = Vec3::Zero();
  double sum = 0, inside = 0;
  for (const SharpEdge& edge : run) {
    const double l = length(solid, edge);
    Vec3 way = at(solid, edge.to) - at(solid, edge.from);
    if (way.dot(along) < 0) way = -way;
    along += way;
    outwards += l * edge.outwards;
    middle += l / 2 * (at(solid, edge.from) + at(solid, edge.to));
    inside += l * edge.inside_rad;
    sum += l;
  }
  along.normalize();
  outwards -= outwards.dot(along) * along;
  const double depth = face_m / (2 * std::tan(inside / sum / 2));
  const Vec3 normal = outwards.normalized();
  return {{middle / sum - depth * normal, normal}, depth, along};
}

/// The tip alone, where the plane would reach other parts of the solid: by a box around it.
std::pair<Solid, double> without_tip_only(const Solid& solid, const std::vector<SharpEdge>& run,
                                          const TipCut& cut, double face_m) {
  const Frame frame{cut.plane.point, cut.plane.normal, cut.along.cross(cut.plane.normal),
                    cut.along};
  double low = 1e18, high = -1e18, run_m = 0;
  for (const SharpEdge& edge : run) {
    for (const int v : {edge.from, edge.to}) {
      const double z = frame.to_local(at(solid, v)).z();
      low = std::min(low, z), high = std::max(high, z);
    }
    run_m += length(solid, edge);
  }
  const Solid tool = prism(
      frame, {{0, -face_m}, {2 * cut.depth_m, -face_m}, {2 * cut.depth_m, face_m}, {0, face_m}},
      low - kPastEnds, high + kPastEnds);
  const Result<Solid> rest = subtract(solid, tool);
  if (!rest || !closed(*rest) || connected(*rest).size() != 1) return {};
  const double removed = mass_properties(solid).volume - mass_properties(*rest).volume;
  const double wedge = face_m * cut.depth_m / 2 * run_m;
  if (!(removed > 0.5 * wedge && removed < 1.5 * wedge)) return {};
  return {*rest, removed};
}

/// Nothing where the cut takes more than the tip.
std::pair<Solid, double> without_tip(const Solid& solid, const std::vector<SharpEdge>& run,
                                     double face_m, bool plainly) {
  const TipCut cut = cut_of(solid, run, face_m);
  const Result<std::pair<Solid, Solid>> parts = parted(solid, cut.plane, plainly);
  if (!parts || parts->first.faces.empty() || parts->second.faces.empty()) return {};
  for (const Vec3& p : parts->second.vertices)
    if (distance_to_run(solid, run, p) > kTipReach * cut.depth_m)
      return plainly ? std::pair<Solid, double>{} : without_tip_only(solid, run, cut, face_m);
  const double removed = mass_properties(parts->second).volume;
  if (!(removed < kShareMost * mass_properties(solid).volume)) return {};
  if (!closed(parts->first) || connected(parts->first).size() != 1) return {};
  return {parts->first, removed};
}

}  // namespace

std::vector<SharpEdge> sharp_edges(const Solid& solid) {
  std::map<std::pair<int, int>, Vec3> across;  // by edge, from vertex to vertex: unit normal
  for (const std::vector<int>& face : solid.faces) {
    const Vec3 normal = doubled_normal(solid, face);
    if (normal.norm() < 2 * kLeastFace_m2) continue;
    for (std::size_t i = 0; i < face.size(); ++i)
      across.insert({{face[i], face[(i + 1) % face.size()]}, normal.normalized()});
  }
  std::vector<SharpEdge> out;
  for (const auto& [edge, normal] : across) {
    const auto other = across.find({edge.second, edge.first});
    if (edge.first > edge.second || other == across.end()) continue;
    const Vec3 way = at(solid, edge.second) - at(solid, edge.first);
    const double turn =
        std::atan2(normal.cross(other->second).dot(way.normalized()), normal.dot(other->second));
    if (kPi - turn >= kSharpArris_rad || way.norm() < 1e-6) continue;
    const SharpEdge sharp{edge.first, edge.second, kPi - turn,
                          (normal + other->second).normalized()};
    if (is_wedge(solid, sharp)) out.push_back(sharp);
  }
  return out;
}

Arris sharpest_arris(const Solid& solid) {
  Arris out{kPi, 0};
  for (const SharpEdge& edge : sharp_edges(solid)) {
    out.inside_rad = std::min(out.inside_rad, edge.inside_rad);
    out.length_m += length(solid, edge);
  }
  return out;
}

Blunted blunted(Solid solid, double face_m, bool plainly) {
  Blunted out;
  out.solid = std::move(solid);
  if (!(face_m > 0)) return out;
  for (bool again = true; again && out.arrises < kArrisesMost;) {
    again = false;
    for (const std::vector<SharpEdge>& run : runs(sharp_edges(out.solid))) {
      double sum = 0;
      for (const SharpEdge& edge : run) sum += length(out.solid, edge);
      if (sum < kLeastArris_m) continue;
      auto [rest, removed] = without_tip(out.solid, run, face_m, plainly);
      if (rest.faces.empty()) continue;
      out.solid = std::move(rest);
      out.removed_m3 += removed;
      ++out.arrises;
      again = true;  // vertices have other numbers now
      break;
    }
  }
  return out;
}

}  // namespace skewback
