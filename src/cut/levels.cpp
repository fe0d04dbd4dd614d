#include "cut/levels.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr int kSteps = 64;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double between(const std::vector<double>& x, const std::vector<double>& y, double value) {
  const std::size_t i = std::clamp<std::size_t>(
      static_cast<std::size_t>(std::lower_bound(x.begin(), x.end(), value) - x.begin()), 1,
      x.size() - 1);
  const double s = (value - x[i - 1]) / (x[i] - x[i - 1]);
  return y[i - 1] + s * (y[i] - y[i - 1]);
}

}  // namespace

std::vector<ArmField> arm_fields(const Form& form) {
  std::vector<ArmField> arms(form.arms.size());
  const int legs = static_cast<int>(arms.size()) - form.spine_arms;
  std::vector<double> top(arms.size(), 0);
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (double phi : form.phi[t]) top[at(form.arm[t])] = std::max(top[at(form.arm[t])], phi);
  std::vector<int> seen(form.vertices.size(), -1), shared(form.vertices.size(), 0);
  for (std::size_t k = 0; k < arms.size(); ++k) {
    arms[k].support = static_cast<int>(k);
    arms[k].phi.assign(form.vertices.size(), std::numeric_limits<double>::quiet_NaN());
  }
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    ArmField& arm = arms[at(form.arm[t])];
    arm.triangles.push_back(static_cast<int>(t));
    for (std::size_t c = 0; c < 3; ++c) {
      const std::size_t v = at(form.triangles[t][c]);
      const double phi =
          form.arm[t] < legs ? form.phi[t][c] : top[at(form.arm[t])] - form.phi[t][c];
      arm.phi[v] = phi;
      arm.top_phi_m = std::max(arm.top_phi_m, phi);
      if (seen[v] >= 0 && seen[v] != form.arm[t] && (seen[v] < legs || form.arm[t] < legs))
        shared[v] = 1;
      seen[v] = form.arm[t];
    }
  }
  for (ArmField& arm : arms) {
    arm.border_phi_m = arm.top_phi_m;
    for (std::size_t v = 0; v < shared.size(); ++v) {
      if (shared[v] != 0 && !std::isnan(arm.phi[v]))
        arm.border_phi_m = std::min(arm.border_phi_m, arm.phi[v]);
    }
    arm.border_phi_m *= 1 - 1e-9;
  }
  return arms;
}

Level level_at(const Body& body, const ArmField& arm, double phi) {
  const Form& form = body.form;
  Level level;
  level.phi_m = phi;
  for (const int t : arm.triangles) {
    std::vector<Vec3> points;
    double depth = 0;
    for (std::size_t c = 0; c < 3; ++c) {
      const std::size_t a = at(form.triangles[at(t)][c]),
                        b = at(form.triangles[at(t)][(c + 1) % 3]);
      if ((arm.phi[a] < phi) == (arm.phi[b] < phi)) continue;
      const double s = (phi - arm.phi[a]) / (arm.phi[b] - arm.phi[a]);
      points.push_back((1 - s) * form.vertices[a] + s * form.vertices[b]);
      depth += ((1 - s) * body.depth_m[a] + s * body.depth_m[b]) / 2;
    }
    if (points.size() != 2) continue;
    const double length = (points[1] - points[0]).norm();
    level.width_m += length;
    level.centre += length * (points[0] + points[1]) / 2;
    level.depth_m += length * depth;
  }
  level.centre /= std::max(level.width_m, 1e-12);
  level.depth_m /= std::max(level.width_m, 1e-12);
  for (const NetEdge& e : form.edges) {
    const double pa = arm.phi[at(e.a)], pb = arm.phi[at(e.b)];
    if (std::isnan(pa) || std::isnan(pb) || (pa < phi) == (pb < phi)) continue;
    const Vec3 up = form.vertices[at(e.b)] - form.vertices[at(e.a)];
    level.resultant_n += e.q * (pa < phi ? up : Vec3(-up));
  }
  return level;
}

Plane level_plane(const Body& body, const ArmField& arm, double phi_m) {
  const Level level = level_at(body, arm, phi_m);
  return {level.centre, level.resultant_n.normalized()};
}

double mass_per_metre(const Body& body, const Level& level) {
  return level.width_m * level.depth_m * body.density *
         solid_fraction(body.section, level.depth_m, level.width_m);
}

Way::Way(const Body& body, const ArmField& arm, double end_phi_m) {
  const double within = std::min(end_phi_m, arm.border_phi_m);
  Vec3 before = body.springing[at(arm.support)].point;
  phi_.push_back(0);
  length_.push_back(0);
  for (int i = 1; i <= kSteps; ++i) {
    const double phi = within * i / kSteps;
    const Vec3 centre = level_at(body, arm, phi).centre;
    phi_.push_back(phi);
    length_.push_back(length_.back() + (centre - before).norm());
    before = centre;
  }
  if (end_phi_m > within) {  // past the border planes are moved along their normal: phi is length
    phi_.push_back(end_phi_m);
    length_.push_back(length_.back() + end_phi_m - within);
  }
}

double Way::phi_at(double length) const { return between(length_, phi_, length); }

double Way::length_at(double phi) const { return between(phi_, length_, phi); }

}  // namespace skewback
