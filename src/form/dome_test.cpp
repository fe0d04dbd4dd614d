// Domes of revolution under their own weight, whose membrane forces are known in closed form.
#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "form/flow.hpp"
#include "form/force_density.hpp"
#include "form/weight.hpp"

namespace skewback {
namespace {

constexpr int kRound = 96;  // meridians

// Rings of a sphere of radius 1 between two angles from the crown, the last ring fixed.
struct Dome {
  Net net;
  std::vector<std::array<int, 3>> triangles;
  std::vector<double> angle;  // of the rings
  [[nodiscard]] static int at(int ring, int m) { return ring * kRound + m % kRound; }
};

Dome dome(double from, double to, int steps) {
  Dome d;
  for (int i = 0; i <= steps; ++i) {
    d.angle.push_back(from + (to - from) * i / steps);
    const double a = d.angle.back();
    for (int m = 0; m < kRound; ++m) {
      const double t = 2 * kPi * m / kRound;
      d.net.points.emplace_back(std::sin(a) * std::cos(t), std::sin(a) * std::sin(t), std::cos(a));
      d.net.fixed.push_back(i == steps);
      if (i == steps) continue;
      const int p = Dome::at(i, m), q = Dome::at(i + 1, m), r = Dome::at(i + 1, m + 1),
                s = Dome::at(i, m + 1);
      d.triangles.push_back({p, q, r});
      d.triangles.push_back({p, r, s});
    }
  }
  return d;
}

std::vector<double> weight_of(const Dome& d) {
  Brief brief;
  brief.section.depth_crown_m = brief.section.depth_springing_m = 1;
  brief.material.density = 1 / kGravity;  // 1 N per m2
  return first_weight(brief, FibreMesh{}, d.triangles, d.net.points);
}

// J. Heyman, The Stone Skeleton (1995), domes; S. Timoshenko, S. Woinowsky-Krieger, Theory of
// Plates and Shells, art. 106 (from memory): spherical dome of radius 1, weight 1 per area, eye at
// angle a0 with a free edge:  meridian N = (cos a0 - cos a) / sin^2 a,  hoop = cos a - N.
double meridian(double a, double a0) {
  return (std::cos(a0) - std::cos(a)) / std::pow(std::sin(a), 2);
}
double hoop(double a, double a0) { return std::cos(a) - meridian(a, a0); }

void set_forces(double a0, Dome& d) {
  const auto add = [&](int a, int b, double force) {
    d.net.edges.push_back({a, b, force / (d.net.points[a] - d.net.points[b]).norm()});
  };
  const int steps = int(d.angle.size()) - 1;
  const double step = d.angle[1] - d.angle[0], turn = 2 * kPi / kRound;
  for (int i = 0; i < steps; ++i) {
    const double a = d.angle[i], between = a + 0.5 * step;
    // a ring stands for half a step either way; the first has its upper half missing
    const double hoop_here = i == 0 ? 0.5 * step * hoop(a + 0.25 * step, a0) : step * hoop(a, a0);
    for (int m = 0; m < kRound; ++m) {
      add(Dome::at(i, m), Dome::at(i + 1, m), meridian(between, a0) * turn * std::sin(between));
      add(Dome::at(i, m), Dome::at(i, m + 1), hoop_here);
    }
  }
}

// Membrane forces of the closed form put on the net find the sphere again, its eye included.
TEST(Dome, WithAnEyeStandsOnItsClosedFormForces) {
  const double a0 = 0.25, a1 = 0.85;  // 14 to 49 degrees: all in compression
  for (const int steps : {24, 48}) {
    Dome d = dome(a0, a1, steps);
    set_forces(a0, d);
    for (const NetEdge& e : d.net.edges) ASSERT_GT(e.q, 0);
    const auto found = equilibrium(d.net, as_forces(weight_of(d)));
    ASSERT_TRUE(found.ok());
    for (const Vec3& p : *found) ASSERT_NEAR(p.norm(), 1, 3e-4);  // 96 meridians: 2e-4
  }
}

// Patch forces in plan: N cos a along the meridian, hoop / cos a round (A. Pucher 1934).
TEST(Dome, PatchForcesMeetTheClosedForm) {
  const double a0 = 0.25;
  Dome d = dome(a0, 0.85, 48);
  set_forces(a0, d);
  Form form;
  form.vertices = d.net.points;
  form.triangles = d.triangles;
  form.edges = d.net.edges;
  const Membrane patch = membrane_forces(form, 0);
  for (int i = 4; i < 48; i += 4) {
    const Vec3& p = form.vertices[Dome::at(i, 5)];
    const Vec2 out = p.head<2>().normalized(), round(-out.y(), out.x());
    const double a = d.angle[i];
    EXPECT_NEAR(out.dot(patch.N[Dome::at(i, 5)] * out), meridian(a, a0) * std::cos(a), 0.005) << i;
    EXPECT_NEAR(round.dot(patch.N[Dome::at(i, 5)] * round), hoop(a, a0) / std::cos(a), 0.005) << i;
  }
}

// A hemisphere under its own weight: the hoop force changes sign where cos a + cos^2 a = 1, 51.827
// degrees from the crown (closed form, in every textbook of shells). Here forces come from the
// balance of each ring under the weight the form stage gives it.
TEST(Dome, HoopForceOfAHemisphereChangesSign) {
  const int steps = 180;
  const Dome d = dome(1e-4, 0.5 * kPi, steps);
  const std::vector<double> load = weight_of(d);
  double above = 0, push = 0, before = 0,
         angle = 0;  // push: meridian's, level, outward at its foot
  for (int i = 0; i < steps && angle == 0; ++i) {
    above += load[Dome::at(i, 0)];
    const Vec3 down = d.net.points[Dome::at(i + 1, 0)] - d.net.points[Dome::at(i, 0)];
    const double next = above * down.x() / -down.z();  // the meridian below carries all above
    const double hoop_force = (next - push) / (2 * std::sin(kPi / kRound));
    // what the ring must add: meridians push out by less above than below while it is compressed
    if (i > 1 && before > 0 && hoop_force <= 0)
      angle = d.angle[i - 1] + (d.angle[i] - d.angle[i - 1]) * before / (before - hoop_force);
    before = hoop_force;
    push = next;
  }
  EXPECT_NEAR(angle * 180 / kPi, 51.827, 0.2);
}

}  // namespace
}  // namespace skewback
