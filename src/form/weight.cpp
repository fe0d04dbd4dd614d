#include "form/weight.hpp"

#include <Eigen/Geometry>
#include <Eigen/SparseCholesky>
#include <algorithm>

#include "base/constants.hpp"
#include "geometry/polyline.hpp"
#include "solve/solve.hpp"

namespace skewback {
namespace {

constexpr double kHollowSolidFraction = 0.5;  // replaced by the body's own weight in the next round
constexpr int kSplit = 4;  // a triangle is sampled at the middles of kSplit^2 parts

bool on_walkway(const Walkway& walkway, const Vec2& p) {
  for (const std::vector<Vec2>& line : walkway.lines)
    if (line.size() > 1 && nearest(line, p).distance <= 0.5 * walkway.width_m) return true;
  return false;
}

// Calls use(barycentric) at the middles of equal parts of a triangle.
template <class Use>
void at_samples(Use use) {
  for (int i = 0; i < kSplit; ++i)
    for (int j = 0; j < kSplit - i; ++j) {
      const double a = (i + 1.0 / 3) / kSplit, b = (j + 1.0 / 3) / kSplit;
      use(Vec3(a, b, 1 - a - b));
      if (j == kSplit - i - 1) continue;
      const double c = (i + 2.0 / 3) / kSplit, d = (j + 2.0 / 3) / kSplit;
      use(Vec3(c, d, 1 - c - d));
    }
}

void add_slab_and_walkway(const Brief& brief, const std::vector<std::array<int, 3>>& triangles,
                          const std::vector<Vec3>& points, std::vector<double>& load) {
  const Section& s = brief.section;
  const double solid = s.hollow ? kHollowSolidFraction : 1.0;
  const double per_area =
      0.5 * (s.depth_crown_m + s.depth_springing_m) * solid * brief.material.density * kGravity;
  for (const std::array<int, 3>& t : triangles) {
    const Vec3 &a = points[t[0]], &b = points[t[1]], &c = points[t[2]];
    const Vec3 normal = 0.5 * (b - a).cross(c - a);
    const double per_sample = brief.walkway.weight_pa * normal.z() / (kSplit * kSplit);
    Vec3 share = Vec3::Constant(per_area * normal.norm() / 3);
    at_samples([&](const Vec3& w) {
      const Vec3 p = w[0] * a + w[1] * b + w[2] * c;
      if (on_walkway(brief.walkway, p.head<2>())) share += per_sample * w;
    });
    for (int i = 0; i < 3; ++i) load[t[i]] += share[i];
  }
}

// Puts `weight` on a row of points at `inset` from its first, shared by the lever rule.
void add_inset(const std::vector<int>& row, const std::vector<Vec3>& points, double inset,
               double weight, std::vector<double>& load) {
  for (std::size_t i = 0; i + 1 < row.size(); ++i) {
    const double step = (points[row[i + 1]] - points[row[i]]).head<2>().norm();
    if (inset <= step || i + 2 == row.size()) {
      const double inner = std::min(1.0, inset / step);
      load[row[i]] += (1 - inner) * weight;
      load[row[i + 1]] += inner * weight;
      return;
    }
    inset -= step;
  }
}

void add_parapets(const Brief& brief, const FibreMesh& mesh, const std::vector<Vec3>& points,
                  std::vector<double>& load) {
  const int outer = int(brief.plan.free_edges.size());  // edges of openings have no parapet
  std::vector<double> run(points.size(), 0.0);  // length of free edge that belongs to a point
  const auto half = [&](int a, int b) {
    const double d = 0.5 * (points[a] - points[b]).norm();
    run[a] += d;
    run[b] += d;
  };
  for (const MeshEdge& e : mesh.edges)
    if (e.free_edge >= 0 && e.free_edge < outer) half(e.a, e.b);
  for (const std::vector<int>& row : mesh.rows)
    add_inset(row, points, brief.parapet.inset_m, brief.parapet.weight_n_per_m * run[row.front()],
              load);
}

}  // namespace

std::vector<double> first_weight(const Brief& brief, const FibreMesh& mesh,
                                 const std::vector<std::array<int, 3>>& triangles,
                                 const std::vector<Vec3>& points) {
  std::vector<double> load(points.size(), 0.0);
  add_slab_and_walkway(brief, triangles, points, load);
  add_parapets(brief, mesh, points, load);
  return load;
}

std::vector<double> spread_across(const FibreMesh& mesh, double reach_m,
                                  const std::vector<double>& load) {
  const Eigen::Index n = Eigen::Index(load.size());
  VectorX area = VectorX::Zero(n);
  for (const std::array<int, 4>& q : mesh.quads) {
    const Vec2 d = mesh.points[q[2]] - mesh.points[q[0]], e = mesh.points[q[3]] - mesh.points[q[1]];
    for (int v : q) area[v] += (d.x() * e.y() - d.y() * e.x()) / 8;
  }
  std::vector<Eigen::Triplet<double>> entries;
  for (Eigen::Index i = 0; i < n; ++i) entries.emplace_back(i, i, area[i]);
  for (const MeshEdge& e : mesh.edges) {
    if (e.along || e.brace) continue;
    const double step2 = (mesh.points[e.a] - mesh.points[e.b]).squaredNorm();
    const double pass = reach_m * reach_m * 0.5 * (area[e.a] + area[e.b]) / step2;
    entries.emplace_back(e.a, e.a, pass);
    entries.emplace_back(e.b, e.b, pass);
    entries.emplace_back(e.a, e.b, -pass);
    entries.emplace_back(e.b, e.a, -pass);
  }
  SparseMatrix K(n, n);
  K.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<SparseMatrix> factor(K);
  const VectorX density = factor.solve(Eigen::Map<const VectorX>(load.data(), n));
  std::vector<double> out(load.size());
  for (Eigen::Index i = 0; i < n; ++i) out[i] = area[i] * density[i];
  return out;
}

}  // namespace skewback
