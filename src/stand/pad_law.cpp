#include "stand/pad_law.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

/// A corner of a closed piece of a triangle: its place, closing there, and the three hat functions
/// of the triangle.
struct Corner {
  Vec3 place;  // (1, y, -x)
  double closing = 0;
  Vec3 hats = Vec3::Zero();
};

Corner between(const Corner& a, const Corner& b, double t) {
  return {a.place + t * (b.place - a.place), 0, a.hats + t * (b.hats - a.hats)};
}

/// k p p', upper half.
void add_square(double k, const Vec3& p, Mat3& upper) {
  for (int i = 0; i < 3; ++i)
    for (int j = i; j < 3; ++j) upper(i, j) += k * p[i] * p[j];
}

/// Adds how the pressures at the corners of the triangle go with the plane of the closing.
void add_rates(const PadLaw& law, const std::array<Corner, 3>& c, double area,
               const std::array<int, 3>& triangle, PadResponse& out) {
  const double k = law.kn * area / 12;
  const Vec3 places = c[0].place + c[1].place + c[2].place,
             hats = c[0].hats + c[1].hats + c[2].hats;
  for (int i = 0; i < 3; ++i) {
    Vec3& rate = out.rate[static_cast<std::size_t>(triangle[i])];
    rate += k * hats[i] * places;
    for (const Corner& corner : c) rate += k * corner.hats[i] * corner.place;
  }
}

/// Adds integrals over one piece; products of linear functions over a triangle:
/// area / 12 (sum of f_i g_i + sum f_i sum g_i).
void add_piece(const PadLaw& law, const std::array<Corner, 3>& c, double area,
               const std::array<int, 3>& triangle, PadResponse& out, Mat3& stiffness) {
  if (!out.rate.empty()) add_rates(law, c, area, triangle, out);
  const double k = law.kn * area / 12;
  const double sum = c[0].closing + c[1].closing + c[2].closing;
  Vec3 hats = sum * (c[0].hats + c[1].hats + c[2].hats);
  double squares = sum * sum;
  const Vec3 places = c[0].place + c[1].place + c[2].place;
  add_square(k, places, stiffness);
  for (const Corner& corner : c) {
    hats += corner.closing * corner.hats;
    squares += corner.closing * corner.closing;
    add_square(k, corner.place, stiffness);
  }
  out.energy += k * squares / 2;
  for (int i = 0; i < 3; ++i) out.normal[static_cast<std::size_t>(triangle[i])] += k * hats[i];
}

/// A triangle with one or two corners open.
void add_partly_closed(const PadLaw& law, const std::vector<double>& closing, std::size_t index,
                       int closed, PadResponse& out, Mat3& stiffness) {
  const auto& triangle = law.mesh.triangles[index];
  std::array<Corner, 3> c;
  for (int i = 0; i < 3; ++i) {
    const auto point = static_cast<std::size_t>(triangle[i]);
    const Vec2& p = law.mesh.points[point];
    c[i] = {{1, p.y(), -p.x()}, closing[point], Vec3::Unit(i)};
  }
  // Turn so that corner 0 is the one on its own side.
  int alone = 0;
  for (int i = 0; i < 3; ++i) {
    if ((c[i].closing > 0) == (closed == 1)) alone = i;
  }
  const double area = law.areas[index];
  const Corner p = c[alone], q = c[(alone + 1) % 3], r = c[(alone + 2) % 3];
  const double s = p.closing / (p.closing - q.closing), t = p.closing / (p.closing - r.closing);
  const Corner on_q = between(p, q, s), on_r = between(p, r, t);
  if (closed == 1) {
    add_piece(law, {p, on_q, on_r}, area * s * t, triangle, out, stiffness);
    return;
  }
  add_piece(law, {on_q, q, r}, area * (1 - s), triangle, out, stiffness);
  add_piece(law, {on_q, r, on_r}, area * s * (1 - t), triangle, out, stiffness);
}

void add_closed(const PadLaw& law, const std::vector<double>& closing, std::size_t index,
                PadResponse& out, Mat3& stiffness) {
  const auto& triangle = law.mesh.triangles[index];
  const double k = law.kn * law.areas[index] / 12;
  double sum = 0, squares = 0, y = 0, x = 0, yy = 0, xx = 0, xy = 0;
  for (const int i : triangle) {
    const auto point = static_cast<std::size_t>(i);
    const double c = closing[point];
    const Vec2& p = law.mesh.points[point];
    sum += c;
    squares += c * c;
    y += p.y();
    x += p.x();
    yy += p.y() * p.y();
    xx += p.x() * p.x();
    xy += p.x() * p.y();
  }
  for (const int i : triangle) {
    const auto point = static_cast<std::size_t>(i);
    out.normal[point] += k * (sum + closing[point]);
    if (out.rate.empty()) continue;
    const Vec2& p = law.mesh.points[point];
    out.rate[point] += k * Vec3(3 + 1, y + p.y(), -(x + p.x()));
  }
  out.energy += k * (squares + sum * sum) / 2;
  stiffness(0, 0) += 12 * k;
  stiffness(0, 1) += 4 * k * y;
  stiffness(0, 2) -= 4 * k * x;
  stiffness(1, 1) += k * (y * y + yy);
  stiffness(1, 2) -= k * (x * y + xy);
  stiffness(2, 2) += k * (x * x + xx);
}

void add_normal(const PadLaw& law, const Vec6& movement, PadResponse& out, Mat3& stiffness) {
  const std::size_t n = law.mesh.points.size();
  const Vec3 plane(-movement[2], -movement[3], -movement[4]);
  thread_local std::vector<double> closing;
  closing.resize(n);
  std::size_t open = 0;
  for (std::size_t i = 0; i < n; ++i) {
    closing[i] = closing_at(movement, law.mesh.points[i]);
    open += closing[i] <= 0;
  }
  if (open == n) return;
  if (open == 0) {
    for (std::size_t i = 0; i < n; ++i) out.normal[i] = law.kn * law.whole[i].dot(plane);
    for (std::size_t i = 0; i < out.rate.size(); ++i) out.rate[i] = law.kn * law.whole[i];
    out.energy += law.kn * plane.dot(law.whole_stiffness * plane) / 2;
    stiffness += law.kn * law.whole_stiffness;
    return;
  }
  Mat3 upper = Mat3::Zero();
  for (std::size_t t = 0; t < law.mesh.triangles.size(); ++t) {
    int closed = 0;
    for (const int i : law.mesh.triangles[t]) closed += closing[static_cast<std::size_t>(i)] > 0;
    if (closed == 3) add_closed(law, closing, t, out, upper);
    if (closed == 1 || closed == 2) add_partly_closed(law, closing, t, closed, out, upper);
  }
  stiffness += Mat3(upper.selfadjointView<Eigen::Upper>());
}

void add_spring(const PadLaw& law, const Vec6& movement, std::size_t i, PadResponse& out,
                Mat3& stiffness) {
  const Vec2& p = law.mesh.points[i];
  const double closing = closing_at(movement, p), k = law.kn * law.share[i];
  if (closing <= 0) return;
  const Vec3 place(1, p.y(), -p.x());
  out.normal[i] += k * closing;
  out.energy += k * closing * closing / 2;
  stiffness += k * place * place.transpose();
  if (!out.rate.empty()) out.rate[i] += k * place;
}

/// Adds the force along the joint at a point; stiffness over (x, y, turn), upper half.
void add_tangential(const PadLaw& law, std::size_t i, const Vec2& slip, double bound,
                    PadResponse& out, Mat3& upper) {
  const double k = law.ks * law.share[i], size = slip.norm(), reach = k * size;
  const Vec2& p = law.mesh.points[i];
  if (reach <= bound) {
    out.tangential[i] = -k * slip;
    out.energy += reach * size / 2;
    upper(0, 0) += k;
    upper(1, 1) += k;
    upper(0, 2) -= k * p.y();
    upper(1, 2) += k * p.x();
    upper(2, 2) += k * p.squaredNorm();
    return;
  }
  const Vec2 along = slip / size;
  out.tangential[i] = -bound * along;
  out.energy += bound * (size - bound / k / 2);
  if (bound <= 0) return;
  const double across = bound / size;
  const double u = -along.y(), v = along.x(), w = along.y() * p.y() + along.x() * p.x();
  upper(0, 0) += across * u * u;
  upper(0, 1) += across * u * v;
  upper(0, 2) += across * u * w;
  upper(1, 1) += across * v * v;
  upper(1, 2) += across * v * w;
  upper(2, 2) += across * w * w;
}

/// As above, the corner between sticking and slipping rounded: k slip / (1 + (k |slip| / bound)^p)
/// ^ (1 / p). Returns how the force goes with the bound.
double add_rounded(const PadLaw& law, std::size_t i, const Vec2& slip, double bound, double p,
                   PadResponse& out, Mat3& upper) {
  const double k = law.ks * law.share[i], size = slip.norm();
  if (!(bound > 0) || !(size > 0)) {
    add_tangential(law, i, slip, bound, out, upper);
    return size > 0 ? 1 : 0;
  }
  // x and 1 / x: whichever does not overflow
  const double x = k * size / bound, under = x <= 1 ? std::pow(x, p) : std::pow(x, -p);
  const double f = x <= 1 ? x * std::pow(1 + under, -1 / p) : std::pow(1 + under, -1 / p);
  const double slope = f / x * (x <= 1 ? 1 / (1 + under) : under / (1 + under));
  const Vec2 along = slip / size;
  out.tangential[i] = -bound * f * along;
  const Vec2& place = law.mesh.points[i];
  const auto add = [&](const Vec2& way, double stiffness) {
    const Vec3 row(way.x(), way.y(), way.y() * place.x() - way.x() * place.y());
    upper += stiffness * row * row.transpose();
  };
  add(along, k * slope);
  add({-along.y(), along.x()}, bound * f / size);
  return f - x * slope;
}

}  // namespace

double closing_at(const Vec6& d, const Vec2& p) { return -(d[2] + d[3] * p.y() - d[4] * p.x()); }

Vec2 slip_at(const Vec6& d, const Vec2& p) { return {d[0] - d[5] * p.y(), d[1] + d[5] * p.x()}; }

namespace {

/// `along_joint(i, slip, stiffness)` adds the force along the joint at a point, whose pressure is
/// known by then.
template <class AlongJoint>
void respond_with(const PadLaw& law, const Vec6& movement, const std::vector<Vec2>& drift,
                  AlongJoint along_joint, PadResponse& out) {
  const std::size_t n = law.mesh.points.size();
  out.energy = 0;
  out.wrench.setZero();
  out.stiffness.setZero();
  out.normal.assign(n, 0);
  out.tangential.assign(n, Vec2::Zero());
  Mat3 across = Mat3::Zero(), along = Mat3::Zero();
  if (law.mesh.triangles.empty()) {
    for (std::size_t i = 0; i < n; ++i) add_spring(law, movement, i, out, across);
  }
  if (!law.mesh.triangles.empty()) add_normal(law, movement, out, across);
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2& p = law.mesh.points[i];
    Vec2 slip = slip_at(movement, p);
    if (!drift.empty()) slip -= drift[i];
    along_joint(i, slip, along);
    const double N = out.normal[i];
    const Vec2& T = out.tangential[i];
    out.wrench[0] += T.x();
    out.wrench[1] += T.y();
    out.wrench[2] += N;
    out.wrench[3] += p.y() * N;
    out.wrench[4] -= p.x() * N;
    out.wrench[5] += p.x() * T.y() - p.y() * T.x();
  }
  out.stiffness.block<3, 3>(2, 2) = across;
  constexpr std::array<int, 3> rows = {0, 1, 5};
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) {
      out.stiffness(rows[i], rows[j]) = along(std::min(i, j), std::max(i, j));
    }
  }
}

}  // namespace

void respond(const PadLaw& law, const Vec6& movement, const std::vector<Vec2>& drift,
             const std::vector<double>& bound, PadResponse& out) {
  out.rate.clear();
  const auto along_joint = [&](std::size_t i, const Vec2& slip, Mat3& stiffness) {
    const double most = bound.empty() ? std::numeric_limits<double>::infinity() : bound[i];
    add_tangential(law, i, slip, most, out, stiffness);
  };
  respond_with(law, movement, drift, along_joint, out);
}

void respond_coulomb(const PadLaw& law, const Vec6& movement, const std::vector<Vec2>& drift,
                     double friction, double rounding, PadResponse& out) {
  const std::size_t n = law.mesh.points.size();
  out.rate.assign(n, Vec3::Zero());
  thread_local std::vector<double> by_bound;
  by_bound.assign(n, 0);
  const auto along_joint = [&](std::size_t i, const Vec2& slip, Mat3& stiffness) {
    const double most = friction * out.normal[i];
    if (rounding > 0) {
      by_bound[i] = add_rounded(law, i, slip, most, 1 / rounding, out, stiffness);
      return;
    }
    add_tangential(law, i, slip, most, out, stiffness);
    const double size = out.tangential[i].norm();
    by_bound[i] = size > 0 && size >= most * (1 - 1e-12) ? 1 : 0;
  };
  respond_with(law, movement, drift, along_joint, out);
  for (std::size_t i = 0; i < n; ++i) {
    const double size = out.tangential[i].norm();
    if (by_bound[i] == 0 || !(size > 0)) continue;
    const Vec2 along = -out.tangential[i] / size;  // the way it slips
    const Vec2& p = law.mesh.points[i];
    const Vec3 t = -by_bound[i] * friction * out.rate[i];
    for (int axis = 0; axis < 3; ++axis) {
      out.stiffness(0, 2 + axis) += t[axis] * along.x();
      out.stiffness(1, 2 + axis) += t[axis] * along.y();
      out.stiffness(5, 2 + axis) += t[axis] * (p.x() * along.y() - p.y() * along.x());
    }
  }
}

PadLaw pad_law(const Regions& contact, double kn, double ks, double edge_most_m) {
  PadLaw law;
  law.mesh = mesh_contact(contact, edge_most_m);
  law.kn = kn;
  law.ks = ks;
  law.share.assign(law.mesh.points.size(), 0);
  law.whole.assign(law.mesh.points.size(), Vec3::Zero());
  for (const auto& t : law.mesh.triangles) {
    std::array<Vec3, 3> places;
    for (int i = 0; i < 3; ++i) {
      const Vec2& p = law.mesh.points[static_cast<std::size_t>(t[i])];
      places[i] = {1, p.y(), -p.x()};
    }
    const Vec3 u = places[1] - places[0], v = places[2] - places[0],
               sum = places[0] + places[1] + places[2];
    const double area = std::abs(u.y() * v.z() - u.z() * v.y()) / 2;
    law.areas.push_back(area);
    law.whole_stiffness += area / 12 * sum * sum.transpose();
    for (int i = 0; i < 3; ++i) {
      const auto point = static_cast<std::size_t>(t[i]);
      law.share[point] += area / 3;
      law.whole[point] += area / 12 * (sum + places[i]);
      law.whole_stiffness += area / 12 * places[i] * places[i].transpose();
    }
  }
  return law;
}

}  // namespace skewback
