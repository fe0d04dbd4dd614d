#include "form/objectives.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "form/height_field.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

// Against 1 for a metre of a point of a free edge from its place.
constexpr double kHeightWeight = 10, kLineWeight = 15, kTargetWeight = 0.3, kWithinWeight = 5;
constexpr double kThrustWeight = 8;  // for an excess as large as the ceiling
constexpr double kLineStep = 0.2;    // m between the places where a line is kept to
constexpr double kEasyEdge = 0.3;    // weight on an edge's place where a distance is allowed
// What counts as met.
constexpr double kLineMargin = 0.004;  // m: a one-sided wish gives way by a few millimetres
constexpr double kHeightMet = 0.01, kLineMet = 0.002, kTargetMet = 0.01, kWithinMet = 0.001;  // m
constexpr double kThrustMet = 0.005;  // of the ceiling
constexpr double kRiseMet = 1e-6;     // m

std::string text(const char* format, double a, double b = 0) {
  char buffer[120];
  std::snprintf(buffer, sizeof buffer, format, a, b);
  return buffer;
}

// 0 at supports, 1 where arms meet, per point: how far along its half fibre.
std::vector<double> share_along(const FibreMesh& mesh) {
  std::vector<double> share(mesh.points.size(), 0.0);
  for (const Arm& arm : mesh.arms)
    for (const auto* side : {&arm.before, &arm.after})
      for (const std::vector<int>& fibre : *side)
        for (std::size_t i = 0; i < fibre.size(); ++i)
          share[fibre[i]] = double(i) / double(fibre.size() - 1);
  return share;
}

// Half the depth of the body at a spot, measured vertically.
double half_depth(const Section& section, const std::vector<double>& share,
                  const HeightField::Spot& spot) {
  double along = 0;
  for (int c = 0; c < 3; ++c) along += spot.share[c] * share[spot.corner[c]];
  const double depth =
      section.depth_springing_m + along * (section.depth_crown_m - section.depth_springing_m);
  return 0.5 * depth * std::sqrt(1 + spot.slope.squaredNorm());
}

std::vector<Vec3> samples(const std::vector<Vec3>& line) {
  std::vector<Vec3> out;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const int steps =
        std::max(1, int(std::ceil((line[i] - line[i - 1]).head<2>().norm() / kLineStep)));
    for (int s = i == 1 ? 0 : 1; s <= steps; ++s)
      out.push_back(line[i - 1] + double(s) / steps * (line[i] - line[i - 1]));
  }
  return out;
}

SpotWish spot_wish(const HeightField::Spot& spot, const Vec3& target, double weight) {
  return {spot.corner, spot.share, target, spot.slope, weight, false};
}

void wish_within(const Plan& plan, const FibreMesh& mesh, const Net& net, double most,
                 ShapeWish& wish) {
  wish.within.clear();
  std::vector<std::vector<Vec2>> drawn;
  for (std::size_t e = 0; e < plan.free_edges.size() + plan.openings.size(); ++e)
    drawn.push_back(drawn_edge(plan, int(e)));
  for (int i = 0; i < int(mesh.points.size()); ++i) {
    if (mesh.free_edge_of[i] < 0) continue;
    const OnLine on = nearest(drawn[mesh.free_edge_of[i]], net.points[i].head<2>());
    const Vec2 off = net.points[i].head<2>() - on.point;
    if (off.norm() < 0.5 * most) continue;  // far from its limit
    wish.within.push_back({i, on.point, off.normalized(), most, kWithinWeight});
  }
}

void wish_thrusts(const Brief& brief, const FibreMesh& mesh, ShapeWish& wish) {
  wish.thrusts.clear();
  for (const ThrustCeiling& ceiling : brief.form.thrusts) {
    ThrustWish thrust{{}, ceiling.most_n, kThrustWeight * wish.unit_m / ceiling.most_n};
    for (int k = 0; k < int(mesh.edges.size()); ++k)
      for (int end : {mesh.edges[k].a, mesh.edges[k].b})
        if (mesh.support_of[end] == ceiling.support) thrust.edges.emplace_back(k, end);
    wish.thrusts.push_back(std::move(thrust));
  }
}

Achieved at_most(const std::string& name, double asked, double got, const char* unit,
                 double slack) {
  return {name, asked, got, unit, got <= asked + slack};
}

}  // namespace

Faults check_objectives(const Brief& brief, const FibreMesh& mesh,
                        const std::vector<std::array<int, 3>>& triangles) {
  std::vector<Vec3> drawn;
  for (const Vec2& p : mesh.points) drawn.emplace_back(p.x(), p.y(), 0);
  const HeightField field(drawn, triangles);
  Faults faults;
  for (std::size_t k = 0; k < brief.form.heights.size(); ++k) {
    const HeightWish& height = brief.form.heights[k];
    if (field.at(height.at)) continue;
    Fault fault;
    fault.key = "form.height[" + std::to_string(k + 1) + "]";
    fault.found =
        text("a height at (%.3f, %.3f), where there is no surface", height.at.x(), height.at.y());
    fault.expected = "a place inside the plan and outside its openings";
    fault.change = "move the point onto the plan";
    faults.push_back(fault);
  }
  return faults;
}

void wish_objectives(const Brief& brief, const FibreMesh& mesh,
                     const std::vector<std::array<int, 3>>& triangles, const Net& net,
                     ShapeWish& wish) {
  const FormRequest& asked = brief.form;
  const HeightField here(net.points, triangles);
  const std::vector<double> share = share_along(mesh);
  wish.spots.clear();
  for (const HeightWish& height : asked.heights)
    if (const auto spot = here.at(height.at))
      wish.spots.push_back(
          spot_wish(*spot, {height.at.x(), height.at.y(), height.z_m}, kHeightWeight));
  for (const std::vector<Vec3>& line : asked.stay_under)
    for (const Vec3& p : samples(line))
      if (const auto spot = here.at(p.head<2>())) {
        const double top = p.z() - half_depth(brief.section, share, *spot) - kLineMargin;
        wish.spots.push_back(spot_wish(*spot, {p.x(), p.y(), top}, kLineWeight));
        wish.spots.back().at_most = true;
      }
  if (!asked.target.triangles.empty()) {
    const HeightField target(asked.target.vertices, asked.target.triangles);
    for (int i = 0; i < int(net.points.size()); ++i) {
      if (net.fixed[i]) continue;
      const Vec2 p = net.points[i].head<2>();
      if (const auto spot = target.at(p))
        wish.spots.push_back(
            {{i, i, i}, Vec3(1, 0, 0), {p.x(), p.y(), spot->z}, spot->slope, kTargetWeight, false});
    }
    wish.level_weight = 0;  // the target says what is level
  }
  if (asked.edge_distance_m > 0) {
    for (std::size_t i = 0; i < mesh.points.size(); ++i)
      if (mesh.free_edge_of[i] >= 0) wish.place[i].weight = kEasyEdge * Eigen::Matrix2d::Identity();
    wish_within(brief.plan, mesh, net, asked.edge_distance_m, wish);
  }
  wish_thrusts(brief, mesh, wish);
}

std::vector<Achieved> achievements(const Brief& brief, const FibreMesh& mesh, const Form& form) {
  const FormRequest& asked = brief.form;
  std::vector<Achieved> out;
  out.push_back(
      {"rise", asked.rise_m, form.rise_m, "m", std::abs(form.rise_m - asked.rise_m) <= kRiseMet});
  const HeightField here(form.vertices, form.triangles);
  for (const HeightWish& height : asked.heights) {
    const auto spot = here.at(height.at);
    const double got = spot ? spot->z : std::nan("");
    out.push_back({text("height at (%.3f, %.3f)", height.at.x(), height.at.y()), height.z_m, got,
                   "m", spot && std::abs(got - height.z_m) <= kHeightMet});
  }
  const std::vector<double> share = share_along(mesh);
  for (std::size_t k = 0; k < asked.stay_under.size(); ++k) {
    double most = -HUGE_VAL;
    for (const Vec3& p : samples(asked.stay_under[k]))
      if (const auto spot = here.at(p.head<2>()))
        most = std::max(most, spot->z + half_depth(brief.section, share, *spot) - p.z());
    if (most > -HUGE_VAL)
      out.push_back(at_most("extrados over line " + std::to_string(k + 1), 0, most, "m", kLineMet));
  }
  for (const ThrustCeiling& ceiling : asked.thrusts) {
    Vec3 sum = Vec3::Zero();
    for (std::size_t i = 0; i < form.vertices.size(); ++i)
      if (form.support_of[i] == ceiling.support) sum += form.reaction_n[i];
    out.push_back(at_most("thrust at " + brief.plan.supports[ceiling.support].id, ceiling.most_n,
                          sum.head<2>().norm(), "N", kThrustMet * ceiling.most_n));
  }
  if (!asked.target.triangles.empty()) {
    const HeightField target(asked.target.vertices, asked.target.triangles);
    double squares = 0, count = 0;
    for (std::size_t i = 0; i < form.vertices.size(); ++i)
      if (const auto spot = target.at(form.vertices[i].head<2>())) {
        squares += std::pow(form.vertices[i].z() - spot->z, 2);
        count += 1;
      }
    out.push_back(at_most("distance from the target, root mean square", kTargetMet,
                          count > 0 ? std::sqrt(squares / count) : std::nan(""), "m", 0));
  }
  if (asked.edge_distance_m > 0) {
    double most = 0;
    for (std::size_t i = 0; i < form.vertices.size(); ++i)
      if (form.free_edge_of[i] >= 0)
        most = std::max(
            most, nearest(drawn_edge(brief.plan, form.free_edge_of[i]), form.vertices[i].head<2>())
                      .distance);
    out.push_back(at_most(kEdgesWish, asked.edge_distance_m, most, "m", kWithinMet));
  }
  return out;
}

double unevenness(const FibreMesh& mesh, const Form& form) {
  std::map<std::pair<int, int>, double> force;
  for (const NetEdge& e : form.edges)
    force[std::minmax(e.a, e.b)] = e.q * (form.vertices[e.a] - form.vertices[e.b]).head<2>().norm();
  double squares = 0, pairs = 0, sum = 0, count = 0;
  for (const auto& grid : mesh.bundles)
    for (const std::vector<int>& fibre : grid)
      for (std::size_t i = 0; i + 1 < fibre.size(); ++i) {
        const double here = force.at(std::minmax(fibre[i], fibre[i + 1]));
        sum += here;
        count += 1;
        if (i == 0) continue;
        squares += std::pow(here - force.at(std::minmax(fibre[i - 1], fibre[i])), 2);
        pairs += 1;
      }
  return std::sqrt(squares / pairs) / (sum / count);
}

}  // namespace skewback
