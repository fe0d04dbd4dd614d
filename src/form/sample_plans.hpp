#pragma once
// The two demo briefs built by hand, for tests that must not depend on the reader.

#include <Eigen/Dense>

#include "brief/brief.hpp"

namespace skewback::sample {

// Natural cubic spline through points, knots at the chord lengths, `per_piece` samples a piece.
inline std::vector<Vec2> smooth(const std::vector<Vec2>& p, int per_piece = 40) {
  const Eigen::Index n = Eigen::Index(p.size());
  Eigen::MatrixXd A = Eigen::MatrixXd::Identity(n, n);
  Eigen::MatrixX2d rhs = Eigen::MatrixX2d::Zero(n, 2);
  const auto h = [&](Eigen::Index i) { return (p[i + 1] - p[i]).norm(); };
  for (Eigen::Index i = 1; i + 1 < n; ++i) {
    A.row(i).segment<3>(i - 1) << h(i - 1), 2 * (h(i - 1) + h(i)), h(i);
    rhs.row(i) = 6 * ((p[i + 1] - p[i]) / h(i) - (p[i] - p[i - 1]) / h(i - 1)).transpose();
  }
  const Eigen::MatrixX2d second = A.partialPivLu().solve(rhs);  // second derivatives at the knots
  std::vector<Vec2> out;
  for (Eigen::Index i = 0; i + 1 < n; ++i)
    for (int s = 0; s < per_piece; ++s) {
      const double v = double(s) / per_piece, u = 1 - v, hh = h(i) * h(i) / 6;
      out.push_back(u * p[i] + v * p[i + 1] + hh * (u * u * u - u) * second.row(i).transpose() +
                    hh * (v * v * v - v) * second.row(i + 1).transpose());
    }
  out.push_back(p.back());
  return out;
}

inline Plan plan_of(const std::vector<Support>& supports,
                    const std::vector<std::vector<Vec2>>& free_lines) {
  Plan plan;
  plan.supports = supports;
  const int n = static_cast<int>(supports.size());
  for (int k = 0; k < n; ++k) {
    plan.free_edges.push_back({k, (k + 1) % n, free_lines[k]});
    plan.outline.push_back(supports[k].a);
    plan.outline.insert(plan.outline.end(), free_lines[k].begin(), free_lines[k].end() - 1);
  }
  return plan;
}

// Clockwise, as openings are.
inline Polygon round_opening(const Vec2& centre, double diameter, int points = 64) {
  Polygon p;
  for (int i = 0; i < points; ++i) {
    const double angle = -2 * 3.14159265358979323846 * i / points;
    p.push_back(centre + 0.5 * diameter * Vec2(std::cos(angle), std::sin(angle)));
  }
  return p;
}

// Supports on a circle about the origin at these bearings, each `width` long and square to its
// bearing; free edges are parabolas bowed inward by `bow`.
inline Plan star_plan(const std::vector<double>& bearings_deg, double radius, double width,
                      double bow) {
  std::vector<Support> supports;
  for (std::size_t k = 0; k < bearings_deg.size(); ++k) {
    const double angle = bearings_deg[k] * 3.14159265358979323846 / 180;
    const Vec2 out(std::cos(angle), std::sin(angle)), left(-out.y(), out.x());
    supports.push_back({"s" + std::to_string(k + 1), radius * out - 0.5 * width * left,
                        radius * out + 0.5 * width * left, 0});
  }
  std::vector<std::vector<Vec2>> lines;
  for (std::size_t k = 0; k < supports.size(); ++k) {
    const Vec2 from = supports[k].b, to = supports[(k + 1) % supports.size()].a;
    const Vec2 along = (to - from).normalized(), inward(-along.y(), along.x());
    lines.emplace_back();
    for (int i = 0; i <= 80; ++i) {
      const double t = i / 80.0;
      lines.back().push_back((1 - t) * from + t * to + 4 * bow * t * (1 - t) * inward);
    }
  }
  return plan_of(supports, lines);
}

// Asks for next to nothing: for tests of the fit that follows wishes.
inline Brief wishing(Brief brief) {
  brief.form.evenness = 1 + 1e-9;
  return brief;
}

// A square canopy of 7.5 m, its corners cut by springing lines of 0.9 m, round eye at the crown.
inline Brief canopy() {
  Brief brief;
  brief.name = "canopy";
  const double half = 3.75, cut = 0.9 / std::sqrt(2.0);
  brief.plan = star_plan({45, 135, 225, 315}, std::sqrt(2.0) * (half - 0.5 * cut), 0.9, 0.75);
  brief.plan.openings = {round_opening({0, 0}, 1.8)};
  brief.form.rise_m = 1.6;
  brief.form.mesh_size_m = 0.2;
  brief.section = {0.16, 0.2, false};
  brief.material = {2400, 40e6};
  return brief;
}

// Six legs and an eye.
inline Brief six_legs() {
  Brief brief = canopy();
  brief.name = "six-legs";
  brief.plan = star_plan({0, 60, 120, 180, 240, 300}, 8, 1.6, 2.2);
  brief.plan.openings = {round_opening({0, 0}, 2.2)};
  brief.form.rise_m = 2.0;
  brief.form.mesh_size_m = 0.3;
  return brief;
}

inline Brief drovers_hop() {
  Brief brief;
  brief.name = "drovers-hop";
  const Vec2 nw(-4.5, 0.95), sw(-4.5, -0.95), se(4.5, -0.95), ne(4.5, 0.95);
  brief.plan = plan_of({{"west", nw, sw, 0}, {"east", se, ne, 0}}, {{sw, se}, {ne, nw}});
  brief.form.rise_m = 1.8;
  brief.form.mesh_size_m = 0.2;
  brief.section = {0.28, 0.28, false};
  brief.material = {2400, 40e6};
  brief.walkway.width_m = 1.5;
  brief.walkway.weight_pa = 500;
  brief.walkway.lines = {{{-4.5, 0}, {4.5, 0}}};
  brief.parapet.weight_n_per_m = 500;
  brief.parapet.inset_m = 0.1;
  return brief;
}

inline Brief wren_leat() {
  Brief brief;
  brief.name = "wren-leat";
  const std::vector<Support> supports = {{"yard", {1.076, 6.441}, {-1.523, 6.351}, 0},
                                         {"orchard", {-5.370, -2.054}, {-3.916, -4.209}, 0},
                                         {"towpath", {4.324, -4.358}, {5.740, -2.178}, 0}};
  const std::vector<std::vector<Vec2>> drawn = {{{-1.523, 6.351},
                                                 {-1.291, 4.989},
                                                 {-1.091, 3.724},
                                                 {-0.940, 2.577},
                                                 {-0.876, 1.589},
                                                 {-0.939, 0.916},
                                                 {-1.215, 0.304},
                                                 {-1.959, -0.341},
                                                 {-2.966, -0.910},
                                                 {-4.116, -1.473},
                                                 {-5.370, -2.054}},
                                                {{-3.916, -4.209},
                                                 {-2.970, -3.297},
                                                 {-2.078, -2.468},
                                                 {-1.237, -1.760},
                                                 {-0.431, -1.279},
                                                 {0.202, -1.220},
                                                 {0.797, -1.456},
                                                 {1.573, -1.988},
                                                 {2.425, -2.684},
                                                 {3.344, -3.483},
                                                 {4.324, -4.358}},
                                                {{5.740, -2.178},
                                                 {4.432, -1.580},
                                                 {3.231, -1.004},
                                                 {2.171, -0.433},
                                                 {1.348, 0.183},
                                                 {0.961, 0.766},
                                                 {0.800, 1.450},
                                                 {0.768, 2.479},
                                                 {0.830, 3.681},
                                                 {0.939, 5.010},
                                                 {1.076, 6.441}}};
  brief.plan = plan_of(supports, {smooth(drawn[0]), smooth(drawn[1]), smooth(drawn[2])});
  brief.plan.meeting = Vec2(0, 0);
  brief.form.rise_m = 1.55;
  brief.form.mesh_size_m = 0.15;
  brief.section = {0.34, 0.42, true, 0.045, 0.045, 0.3};
  brief.material = {2250, 35e6};
  brief.walkway.width_m = 1.4;
  brief.walkway.weight_pa = 600;
  brief.walkway.lines = {
      {{-0.2234, 6.396}, {0, 0}}, {{-4.643, -3.1315}, {0, 0}}, {{5.032, -3.268}, {0, 0}}};
  brief.parapet.weight_n_per_m = 900;
  brief.parapet.inset_m = 0.1;
  return brief;
}

/// A strip of 8 m by 2 m, 0.33 m deep in the mean, that rises 1.5 m.
inline Brief strip(double right_level_m) {
  Brief brief = drovers_hop();
  const Vec2 nw(-4, 1), sw(-4, -1), se(4, -1), ne(4, 1);
  brief.plan = plan_of({{"l", nw, sw, 0}, {"r", se, ne, right_level_m}}, {{sw, se}, {ne, nw}});
  brief.form.rise_m = 1.5;
  brief.section = {0.28, 0.38, false};
  brief.material = {2300, 35e6};
  brief.walkway = {};
  brief.parapet = {};
  return brief;
}

}  // namespace skewback::sample
