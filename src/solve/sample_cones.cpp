#include "solve/sample_cones.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback::sample {

namespace {

using Vec3 = Eigen::Vector3d;
constexpr double kThickness = 0.5;

struct Surface {
  Vec3 point, normal;
};

Surface surface(const Shell& shell, double u, double v) {
  if (shell.sail) {
    constexpr double R = 7.8;
    const Vec3 p(10 * u - 5, 10 * v - 5, 0);
    const Vec3 on(p.x(), p.y(), std::sqrt(R * R - p.squaredNorm()));
    return {on, on / R};
  }
  constexpr double kSpan = 10, kRise = 2.5;
  const double R = (kSpan * kSpan / 4 + kRise * kRise) / (2 * kRise);
  const double half = std::asin(kSpan / 2 / R), t = half * (2 * u - 1);
  const Vec3 normal(std::sin(t), 0, std::cos(t));
  return {R * normal + Vec3(0, shell.width * v, 0), normal};
}

Vec3 at(const Shell& shell, double u, double v, double h) {
  const Surface s = surface(shell, u, v);
  return s.point + h * kThickness / 2 * s.normal;
}

/// Head joints of a course, from 0 to 1.
std::vector<double> cuts(const Shell& shell, int course) {
  std::vector<double> at{0};
  const double unit = 1.0 / shell.units;
  for (double v = course % 2 == 0 ? unit : unit / 2; v < 1 - unit / 4; v += unit) at.push_back(v);
  at.push_back(1);
  return at;
}

struct Blocks {
  std::vector<int> first;  // per course, and the end
  std::vector<Vec3> centre;
  std::vector<double> weight;
  double mean_weight = 0, arm = 1;
};

Blocks blocks_of(const Shell& shell) {
  Blocks b;
  double sum = 0;
  for (int i = 0; i < shell.courses; ++i) {
    b.first.push_back(static_cast<int>(b.centre.size()));
    const auto v = cuts(shell, i);
    const double u0 = double(i) / shell.courses, u1 = double(i + 1) / shell.courses;
    for (std::size_t j = 0; j + 1 < v.size(); ++j) {
      const Vec3 d1 = at(shell, u1, v[j + 1], 0) - at(shell, u0, v[j], 0);
      const Vec3 d2 = at(shell, u0, v[j + 1], 0) - at(shell, u1, v[j], 0);
      b.centre.push_back(at(shell, (u0 + u1) / 2, (v[j] + v[j + 1]) / 2, 0));
      b.weight.push_back(d1.cross(d2).norm() / 2 * kThickness);
      sum += b.weight.back();
    }
  }
  b.first.push_back(static_cast<int>(b.centre.size()));
  b.mean_weight = sum / static_cast<double>(b.centre.size());
  b.arm = std::cbrt(b.mean_weight) / 2;
  return b;
}

Eigen::Matrix<double, 6, 3> columns_at(const Vec3& point, const Vec3& centre, double arm,
                                       const Eigen::Matrix3d& axes) {
  Eigen::Matrix<double, 6, 3> columns;
  columns.topRows<3>() = axes;
  for (int k = 0; k < 3; ++k) {
    columns.block<3, 1>(3, k) = (point - centre).cross(Vec3(axes.col(k))) / arm;
  }
  return columns;
}

/// Four contacts at the corners (u, v) x both faces; the force acts on b, its reverse on a.
void add_joint(const Shell& shell, const Blocks& blocks, int a, int b, double u0, double v0,
               double u1, double v1, ConeProgram& program) {
  const Vec3 low0 = at(shell, u0, v0, -1), low1 = at(shell, u1, v1, -1);
  const Vec3 high0 = at(shell, u0, v0, 1), high1 = at(shell, u1, v1, 1);
  const Vec3 middle = (low0 + low1 + high0 + high1) / 4;
  Vec3 n = (high1 - low0).cross(high0 - low1).normalized();
  const Vec3 inwards = b >= 0 ? Vec3(blocks.centre[std::size_t(b)] - middle)
                              : Vec3(middle - blocks.centre[std::size_t(a)]);
  if (n.dot(inwards) < 0) n = -n;
  const Vec3 t1 = (low1 - low0 - n.dot(low1 - low0) * n).normalized();
  Eigen::Matrix3d axes;
  axes << n, t1, n.cross(t1);
  for (const Vec3& p : {low0, low1, high0, high1}) {
    ConeContact c;
    c.a = a;
    c.b = b;
    c.friction = shell.friction;
    if (a >= 0) c.on_a = -columns_at(p, blocks.centre[std::size_t(a)], blocks.arm, axes);
    if (b >= 0) c.on_b = columns_at(p, blocks.centre[std::size_t(b)], blocks.arm, axes);
    program.contacts.push_back(c);
  }
}

/// Bed joint between courses i - 1 and i, where 0 and `courses` are the ground.
void add_bed(const Shell& shell, const Blocks& blocks, int i, ConeProgram& program) {
  const double u = double(i) / shell.courses;
  const auto below = i > 0 ? cuts(shell, i - 1) : std::vector<double>{0, 1};
  const auto above = i < shell.courses ? cuts(shell, i) : std::vector<double>{0, 1};
  for (std::size_t j = 0, k = 0; j + 1 < below.size() && k + 1 < above.size();) {
    const double v0 = std::max(below[j], above[k]), v1 = std::min(below[j + 1], above[k + 1]);
    const int a = i > 0 ? blocks.first[std::size_t(i - 1)] + int(j) : -1;
    const int b = i < shell.courses ? blocks.first[std::size_t(i)] + int(k) : -1;
    if (v1 - v0 > 1e-9) add_joint(shell, blocks, a, b, u, v0, u, v1, program);
    const double ahead = below[j + 1] - above[k + 1];
    if (ahead < 1e-9) ++j;
    if (ahead > -1e-9) ++k;
  }
}

}  // namespace

void move_patch(const Shell& shell, double along, double across, ConeProgram& program) {
  const Blocks blocks = blocks_of(shell);
  ConeColumn& live = program.columns.at(0);
  live.rows.setZero(6 * program.nodes);
  double sum = 0;
  const Vec3 target = at(shell, along, across, 0);
  for (int i = 0; i < program.nodes; ++i) {
    const double away = (blocks.centre[std::size_t(i)] - target).squaredNorm();
    const double load = blocks.weight[std::size_t(i)] * std::exp(-away / 2);
    live.rows[6 * i + 2] = -load;
    sum += load;
  }
  live.rows *= program.nodes / sum;
}

ConeProgram limit_program(const Shell& shell, double along, double across) {
  const Blocks blocks = blocks_of(shell);
  ConeProgram program;
  program.nodes = static_cast<int>(blocks.centre.size());
  for (int i = 0; i <= shell.courses; ++i) add_bed(shell, blocks, i, program);
  for (int i = 0; i < shell.courses; ++i) {
    const auto v = cuts(shell, i);
    const double u0 = double(i) / shell.courses, u1 = double(i + 1) / shell.courses;
    for (std::size_t j = 1; j + 1 < v.size(); ++j) {
      const int b = blocks.first[std::size_t(i)] + int(j);
      add_joint(shell, blocks, b - 1, b, u0, v[j], u1, v[j], program);
    }
  }
  program.b.setZero(6 * program.nodes);
  for (int i = 0; i < program.nodes; ++i) {
    program.b[6 * i + 2] = blocks.weight[std::size_t(i)] / blocks.mean_weight;
  }
  program.columns.resize(1);
  program.columns[0].cost = -1;
  move_patch(shell, along, across, program);
  return program;
}

namespace {

class Draw {
 public:
  explicit Draw(std::mt19937& rng) : rng_(rng) {}
  double share() { return std::uniform_real_distribution<double>(0, 1)(rng_); }
  double around() { return 2 * share() - 1; }
  int below(int n) { return std::min(n - 1, static_cast<int>(share() * n)); }
  Vec3 vector() { return {around(), around(), around()}; }

 private:
  std::mt19937& rng_;
};

using Columns = Eigen::Matrix<double, 6, 3>;

/// A force and its reduced cost with no product between them; sets n_most where it binds.
void draw_contact(Draw& draw, ConeContact& c, Vec3& f, Vec3& reduced) {
  const double turn = 7 * draw.share();
  const Vec3 aside(0, std::cos(turn), std::sin(turn));
  const double size = 0.1 + draw.share();
  f.setZero();
  reduced.setZero();
  const int kind = draw.below(8);
  if (kind < 3) {  // sliding
    f = size * (Vec3::UnitX() + c.friction * aside);
    reduced = (0.1 + draw.share()) * (c.friction * Vec3::UnitX() - aside);
  } else if (kind < 5) {  // sticking
    f = size * (Vec3::UnitX() + draw.share() * c.friction * aside);
  } else if (kind < 7) {  // open
    reduced = (c.friction + draw.share()) * Vec3::UnitX() + 0.9 * aside;
  } else {  // crushing
    f = size * (Vec3::UnitX() + draw.share() * c.friction * aside);
    c.n_most = size;
    reduced = -(0.1 + draw.share()) * Vec3::UnitX();
  }
  if (kind < 7 && draw.share() < 0.2) c.n_most = size + 1;
  if (c.friction == 0) {
    if (f[0] > 0 && kind < 3) reduced[0] = 0;
    f.tail<2>().setZero();
    reduced.tail<2>() = draw.vector().head<2>();
  }
}

void draw_column(Draw& draw, int kind, ConeColumn& c, double& x, double& reduced) {
  constexpr double kInf = std::numeric_limits<double>::infinity();
  x = draw.around();
  reduced = 0;
  const double cost = 0.1 + draw.share();
  switch (kind % 5) {
    case 0:  // free
      c.lower = -kInf;
      break;
    case 1:
      c.lower = x;
      reduced = cost;
      break;
    case 2:
      c.lower = -kInf;
      c.upper = x;
      reduced = -cost;
      break;
    case 3:
      c.lower = x - cost;
      c.upper = x;
      reduced = -cost;
      break;
    default:
      c.lower = x - cost;
      c.upper = x + cost;
  }
}

}  // namespace

KnownOptimum known_optimum(int nodes, bool rigid, std::mt19937& rng) {
  Draw draw(rng);
  KnownOptimum known;
  ConeProgram& program = known.program;
  program.nodes = nodes;
  std::vector<Vec3> centre(static_cast<std::size_t>(nodes));
  for (Vec3& p : centre) p = 3 * draw.vector();
  std::vector<std::array<int, 2>> pairs{{-1, 0}};
  for (int i = 1; i < nodes; ++i) {
    pairs.push_back({draw.below(i), i});
    if (draw.share() < 0.6) pairs.push_back({i, draw.below(i)});
    if (draw.share() < 0.2)
      pairs.push_back(draw.share() < 0.5 ? std::array{i, -1} : std::array{-1, i});
  }
  for (const auto& [a, b] : pairs) {
    const int count = 3 + draw.below(5);
    const double friction = draw.share() < 0.15 ? 0 : 0.2 + draw.share();
    for (int k = 0; k < count; ++k) {
      ConeContact c;
      c.a = a;
      c.b = b;
      c.friction = friction;
      if (rigid) {
        const Vec3 p = centre[std::size_t(a < 0 ? b : a)] + 0.5 * draw.vector();
        const Eigen::Matrix3d axes =
            Eigen::Quaterniond(draw.around(), draw.around(), draw.around(), draw.around())
                .normalized()
                .toRotationMatrix();
        if (a >= 0) c.on_a = -columns_at(p, centre[std::size_t(a)], 1, axes);
        if (b >= 0) c.on_b = columns_at(p, centre[std::size_t(b)], 1, axes);
      } else {
        if (a >= 0) c.on_a = Columns::NullaryExpr([&] { return draw.around(); });
        if (b >= 0) c.on_b = Columns::NullaryExpr([&] { return draw.around(); });
      }
      program.contacts.push_back(c);
    }
  }
  known.y = VectorX::NullaryExpr(6 * nodes, [&] { return draw.around(); });
  known.f.resize(3 * static_cast<Eigen::Index>(program.contacts.size()));
  program.b.setZero(6 * nodes);
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    ConeContact& c = program.contacts[i];
    Vec3 f;
    draw_contact(draw, c, f, c.cost);
    known.f.segment<3>(3 * static_cast<Eigen::Index>(i)) = f;
    const auto put = [&](int node, const Columns& on) {
      if (node < 0) return;
      c.cost += on.transpose() * known.y.segment<6>(6 * node);
      program.b.segment<6>(6 * node) += on * f;
    };
    put(c.a, c.on_a);
    put(c.b, c.on_b);
    known.objective += c.cost.dot(f);
  }
  const int kinds = draw.below(11);
  for (int k = 0; k < kinds; ++k) {
    ConeColumn c;
    double x = 0;
    draw_column(draw, k, c, x, c.cost);
    c.rows.setZero(6 * nodes);
    if (k % 2 == 0) {
      for (double& v : c.rows) v = draw.around();
    } else {
      const auto& pair =
          pairs[static_cast<std::size_t>(draw.below(static_cast<int>(pairs.size())))];
      for (const int node : pair) {
        for (int r = 0; node >= 0 && r < 6; ++r) c.rows[6 * node + r] = draw.around();
      }
    }
    c.cost += c.rows.dot(known.y);
    program.b += x * c.rows;
    known.objective += c.cost * x;
    program.columns.push_back(std::move(c));
  }
  return known;
}

LinearProgram faceted(const ConeProgram& program, int rays, bool inner) {
  constexpr double kPi = 3.14159265358979323846;
  constexpr double kInf = std::numeric_limits<double>::infinity();
  std::vector<Eigen::Triplet<double>> entries;
  std::vector<double> cost, lower, upper, limits;
  const int rows = 6 * program.nodes;
  for (const ConeContact& c : program.contacts) {
    const bool limited = c.friction > 0 && std::isfinite(c.n_most);
    const int row = rows + static_cast<int>(limits.size());
    if (limited) limits.push_back(c.n_most);
    const double reach = inner ? c.friction : c.friction / std::cos(kPi / rays);
    for (int k = 0; k < (c.friction > 0 ? rays : 1); ++k) {
      const double turn = 2 * kPi * k / rays;
      const Vec3 ray(1, reach * std::cos(turn), reach * std::sin(turn));
      const int column = static_cast<int>(cost.size());
      for (int r = 0; r < 6; ++r) {
        if (c.a >= 0) entries.emplace_back(6 * c.a + r, column, c.on_a.row(r).dot(ray));
        if (c.b >= 0) entries.emplace_back(6 * c.b + r, column, c.on_b.row(r).dot(ray));
      }
      if (limited) entries.emplace_back(row, column, 1);
      cost.push_back(c.cost.dot(ray));
      lower.push_back(0);
      upper.push_back(c.friction > 0 ? kInf : c.n_most);
    }
    if (!limited) continue;
    entries.emplace_back(row, static_cast<int>(cost.size()), 1);
    cost.push_back(0);
    lower.push_back(0);
    upper.push_back(kInf);
  }
  for (const ConeColumn& c : program.columns) {
    for (int r = 0; r < rows; ++r) {
      if (c.rows[r] != 0) entries.emplace_back(r, static_cast<int>(cost.size()), c.rows[r]);
    }
    cost.push_back(c.cost);
    lower.push_back(c.lower);
    upper.push_back(c.upper);
  }
  const auto n = static_cast<Eigen::Index>(cost.size()),
             m = static_cast<Eigen::Index>(limits.size());
  LinearProgram lp;
  lp.A.resize(rows + m, n);
  lp.A.setFromTriplets(entries.begin(), entries.end());
  lp.b.resize(rows + m);
  lp.b << program.b, Eigen::Map<const VectorX>(limits.data(), m);
  lp.c = Eigen::Map<const VectorX>(cost.data(), n);
  lp.lower = Eigen::Map<const VectorX>(lower.data(), n);
  lp.upper = Eigen::Map<const VectorX>(upper.data(), n);
  return lp;
}

}  // namespace skewback::sample
