#include "form/load_path.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "form/load_path_program.hpp"

namespace skewback {
namespace {

constexpr double kInPlane = 1e-9;  // of the size of the plan

std::string written(const char* format, double a, double b) {
  char text[96];
  std::snprintf(text, sizeof text, format, a, b);
  return text;
}

std::string place(const Net& net, std::size_t i) {
  return written("(%.3f, %.3f)", net.points[i].x(), net.points[i].y());
}

Fault fault_at(const std::string& found, const std::string& expected, const std::string& change) {
  Fault fault;
  fault.key = "form: load path";
  fault.found = found;
  fault.expected = expected;
  fault.change = change;
  return fault;
}

// z = slope . (x, y) + offset through the fixed points.
struct Tilt {
  Vec2 slope = Vec2::Zero();
  double offset = 0, error = 0;
};

Tilt tilt_of(const Net& net) {
  Vec3 middle = Vec3::Zero();
  double count = 0;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (net.fixed[i]) {
      middle += net.points[i];
      count += 1;
    }
  if (count == 0) return {};
  middle /= count;
  Eigen::MatrixX3d rows(Eigen::Index(count), 3);
  for (std::size_t i = 0, k = 0; i < net.points.size(); ++i)
    if (net.fixed[i]) rows.row(Eigen::Index(k++)) = (net.points[i] - middle).transpose();
  // least slope where the points are in line
  Tilt tilt;
  tilt.slope = rows.leftCols<2>().completeOrthogonalDecomposition().solve(rows.col(2));
  tilt.offset = middle.z() - tilt.slope.dot(middle.head<2>());
  tilt.error = (rows.col(2) - rows.leftCols<2>() * tilt.slope).lpNorm<Eigen::Infinity>();
  return tilt;
}

double size_of(const Net& net) {
  Vec3 low = net.points.front(), high = low;
  for (const Vec3& p : net.points) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  return (high - low).head<2>().norm();
}

// Points that edges able to carry join to a fixed one.
std::vector<char> held(const Net& net, const std::vector<char>& can) {
  std::vector<std::vector<int>> next(net.points.size());
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    if (can[k]) {
      next[net.edges[k].a].push_back(net.edges[k].b);
      next[net.edges[k].b].push_back(net.edges[k].a);
    }
  std::vector<char> reached(net.points.size(), 0);
  std::vector<int> stack;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (net.fixed[i]) {
      reached[i] = 1;
      stack.push_back(int(i));
    }
  while (!stack.empty()) {
    const int i = stack.back();
    stack.pop_back();
    for (int j : next[i])
      if (!reached[j]) {
        reached[j] = 1;
        stack.push_back(j);
      }
  }
  return reached;
}

Fault unheld(const Net& net, const std::vector<double>& downward, std::size_t first) {
  const std::string expected = "a plan over which struts hold every loaded point";
  const auto joined = held(net, std::vector<char>(net.edges.size(), 1));
  for (std::size_t i = 0; i < joined.size(); ++i)
    if (!joined[i] && downward[i] > 0)
      return fault_at("a load at " + place(net, i) + " that no edges join to a support", expected,
                      "join it to its neighbours");
  const std::vector<Vec2> help = sideways_help(net, downward);
  std::size_t worst = first;
  for (std::size_t i = 0; i < help.size(); ++i)
    if (help[i].norm() > help[worst].norm()) worst = i;
  if (help.empty() || help[worst].norm() == 0)
    return fault_at("a load at " + place(net, first) + " that no state of compression holds",
                    expected, "");
  const Vec2 way = help[worst].normalized();
  return fault_at("a plan that must be pushed at " + place(net, worst) + " with " +
                      written("%.3g N towards (%.3f,", help[worst].norm(), way.x()) +
                      written(" %.3f)", way.y(), 0) + " to stand as drawn",
                  expected, "move that point that way, or lead an edge in from the other side");
}

// What of the net takes part: edges that can carry, and the free points they hold.
struct Part {
  std::vector<int> edges, row;  // row per point, -1 if it takes no part
  int rows = 0;
};

Part part_of(const Net& net, const std::vector<char>& can, const std::vector<char>& reached) {
  Part part;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    part.row.push_back(!net.fixed[i] && reached[i] ? part.rows++ : -1);
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    if (can[k] && reached[net.edges[k].a]) part.edges.push_back(int(k));
  return part;
}

struct Units {
  double length = 1, load = 1;
};

PathProgram program_of(const Net& net, const Part& part, const Tilt& tilt, const Units& units,
                       const std::vector<double>& downward) {
  std::vector<Eigen::Triplet<double>> up, across;
  PathProgram program;
  const Eigen::Index m = Eigen::Index(part.edges.size());
  program.c.resize(m);
  for (Eigen::Index k = 0; k < m; ++k) {
    const NetEdge& e = net.edges[part.edges[std::size_t(k)]];
    const Vec2 d = (net.points[e.a] - net.points[e.b]).head<2>() / units.length;
    const double rise = tilt.slope.dot(d);
    program.c[k] = d.squaredNorm() + rise * rise;
    for (const auto& [end, sign] : {std::pair{e.a, 1.0}, {e.b, -1.0}})
      if (const int row = part.row[end]; row >= 0) {
        up.emplace_back(row, k, sign);
        across.emplace_back(2 * row, k, sign * d.x());
        across.emplace_back(2 * row + 1, k, sign * d.y());
      }
  }
  program.B.resize(part.rows, m);
  program.B.setFromTriplets(up.begin(), up.end());
  program.A.resize(2 * part.rows, m);
  program.A.setFromTriplets(across.begin(), across.end());
  program.p = VectorX::Zero(part.rows);
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (part.row[i] >= 0) program.p[part.row[i]] = downward[i] / units.load;
  return program;
}

void measure_residuals(const Net& given, const std::vector<double>& downward, LoadPath& out) {
  double all = 0;
  const std::vector<Vec3> rest = unbalanced(out.net, as_forces(downward));
  for (std::size_t i = 0; i < rest.size(); ++i) {
    if (given.fixed[i]) continue;
    all += downward[i];
    out.plan_residual_rel = std::max(out.plan_residual_rel, rest[i].head<2>().norm());
    out.height_residual_rel = std::max(out.height_residual_rel, std::abs(rest[i].z()));
  }
  if (all > 0) {
    out.plan_residual_rel /= all;
    out.height_residual_rel /= all;
  }
}

}  // namespace

Result<LoadPath> least_load_path(const Net& net, const std::vector<double>& downward,
                                 const LoadPathOptions& options) {
  const Tilt tilt = tilt_of(net);
  if (tilt.error > kInPlane * size_of(net))
    return fault_at(written("supports that stand %.4g m out of one plane", tilt.error, 0),
                    "supports in one plane, level or tilted: else the problem is not convex", "");
  const std::vector<char> can =
      options.give > 0 ? std::vector<char>(net.edges.size(), 1) : edges_that_can_carry(net);
  if (can.empty() && !net.edges.empty())
    return fault_at("a plan whose edges could not be sorted into those that carry and those idle",
                    "an answer of the linear program", "");
  const std::vector<char> reached = held(net, can);
  double all = 0;
  for (std::size_t i = 0; i < net.points.size(); ++i) {
    if (!reached[i] && downward[i] > 0) return unheld(net, downward, i);
    if (!net.fixed[i]) all += downward[i];
  }
  LoadPath out;
  out.net = net;
  for (NetEdge& e : out.net.edges) e.q = 0;
  const Part part = part_of(net, can, reached);
  out.idle_edges = int(net.edges.size() - part.edges.size());
  if (all == 0 || part.rows == 0) return out;

  Units units;
  double lengths = 0;
  for (int k : part.edges)
    lengths += (net.points[net.edges[k].a] - net.points[net.edges[k].b]).head<2>().norm();
  units.length = lengths / double(part.edges.size());
  units.load = all / part.rows;
  PathProgram program = program_of(net, part, tilt, units, downward);
  program.give = options.give;
  const PathAnswer answer = solve_path(program, options.tolerance, options.max_iterations);
  const PathValue value = value_of(program, answer);
  out.iterations = answer.iterations;
  if (!answer.converged)
    return fault_at(written("no convergence in %.0f steps, gap %.2g", answer.iterations,
                            value.path > 0 ? 1 - value.bound / value.path : 1),
                    "a state of least path", "");
  for (std::size_t k = 0; k < part.edges.size(); ++k)
    out.net.edges[part.edges[k]].q = answer.q[Eigen::Index(k)] * units.load / units.length;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (part.row[i] >= 0)
      out.net.points[i].z() = answer.z[part.row[i]] * units.length + tilt.offset +
                              tilt.slope.dot(net.points[i].head<2>());
  out.path_nm = value.path * units.load * units.length;
  out.bound_nm = value.bound * units.load * units.length;
  out.gap_rel = (value.path - value.bound) / value.path;
  measure_residuals(net, downward, out);
  return out;
}

}  // namespace skewback
