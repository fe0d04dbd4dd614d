// Joints shaped like rings, boxes and channels: kern, edge stress and the edge of the hull.
//
// Sources: S. Timoshenko, Strength of Materials, eccentric compression and the core of a section
// (from memory): stress N/A + M c / I, kern where the far edge is at zero. Where a part is out of
// contact, by hand from the linear pressure on the rest.

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kLoad = 3e5;

Polygon circle(double radius, int corners, bool hole) {
  Polygon p;
  for (int i = 0; i < corners; ++i) {
    const double t = 2 * kPi * i / corners;
    p.emplace_back(radius * std::cos(t), (hole ? -1 : 1) * radius * std::sin(t));
  }
  return p;
}

struct Section {
  double area = 0, inertia = 0;
};
// Of a regular polygon about an axis through its middle: I = A (6 R^2 - s^2) / 24, s its side.
Section regular(double radius, int corners) {
  const double side = 2 * radius * std::sin(kPi / corners);
  const double area = corners * radius * radius * std::sin(2 * kPi / corners) / 2;
  return {area, area * (6 * radius * radius - side * side) / 24};
}

TEST(PublishedSection, KernOfARing) {
  const double R = 0.6, r = 0.42;
  const int corners = 720;
  const Regions contact = {{circle(R, corners, false), {circle(r, corners, true)}}};
  const Section out = regular(R, corners), in = regular(r, corners);
  const double A = out.area - in.area, I = out.inertia - in.inertia;
  const double kern = I / (A * R);
  EXPECT_NEAR(kern, (R * R + r * r) / (4 * R), 5e-5 * kern);  // that of the true ring
  for (const double share : {0.2, 0.7, 1.0}) {
    for (const int corner : {0, 90, 401}) {  // towards a corner of the polygon, where the peak is
      const double t = 2 * kPi * corner / corners;
      const Vec2 p = share * kern * Vec2(std::cos(t), std::sin(t));
      EXPECT_NEAR(peak_pressure(contact, kLoad, p).value() / (kLoad / A), 1 + share, 1e-6);
    }
  }
}

// Half of the ring out of contact, pressure p x / R on the other half: N = 2 p (R^3 - r^3) / 3R and
// M = pi p (R^4 - r^4) / 8R, so e = 3 pi (R^4 - r^4) / 16 (R^3 - r^3).
TEST(PublishedSection, HalfOfARingInContact) {
  for (const double r : {0.0, 0.3, 0.55}) {
    const double R = 0.6;
    const int corners = 720;
    Regions contact = {{circle(R, corners, false), {}}};
    if (r > 0) contact[0].holes.push_back(circle(r, corners, true));
    const double cubes = std::pow(R, 3) - std::pow(r, 3);
    const double e = 3 * kPi * (std::pow(R, 4) - std::pow(r, 4)) / (16 * cubes);
    const double peak = 3 * kLoad * R / (2 * cubes);
    EXPECT_NEAR(peak_pressure(contact, kLoad, Vec2(e, 0)).value() / peak, 1, 2e-4) << r;
  }
}

Polygon oblong(double b, double h, bool hole) {
  Polygon p = {{-b / 2, -h / 2}, {b / 2, -h / 2}, {b / 2, h / 2}, {-b / 2, h / 2}};
  return hole ? Polygon{p.rbegin(), p.rend()} : p;
}

TEST(PublishedSection, KernOfABox) {
  const double b = 0.9, h = 0.5, bi = 0.74, hi = 0.3, A = b * h - bi * hi;
  const double Ix = (b * std::pow(h, 3) - bi * std::pow(hi, 3)) / 12;
  const double Iy = (h * std::pow(b, 3) - hi * std::pow(bi, 3)) / 12;
  const double kx = Iy / (A * b / 2), ky = Ix / (A * h / 2);
  const Regions contact = {{oblong(b, h, false), {oblong(bi, hi, true)}}};
  // the kern is a rhombus: all along its sides one corner is at zero and the opposite at 2 N / A
  for (const double share : {0.0, 0.3, 0.8, 1.0}) {
    const Vec2 p(share * kx, -(1 - share) * ky);
    EXPECT_NEAR(peak_pressure(contact, kLoad, p).value() / (kLoad / A), 2, 1e-6) << share;
    EXPECT_NEAR(peak_pressure(contact, kLoad, p / 2).value() / (kLoad / A), 1.5, 1e-6) << share;
  }
}

// A channel, its web below and two legs up.
struct Channel {
  double width = 1.0, web = 0.12, leg = 0.1, height = 0.5;
  [[nodiscard]] Regions contact() const {
    const double b = width / 2, i = width / 2 - leg;
    return {{{{-b, 0},
              {b, 0},
              {b, height},
              {i, height},
              {i, web},
              {-i, web},
              {-i, height},
              {-b, height}},
             {}}};
  }
  [[nodiscard]] double area() const { return width * web + 2 * leg * (height - web); }
  [[nodiscard]] double middle() const {
    return (width * web * web / 2 + 2 * leg * (height - web) * (height + web) / 2) / area();
  }
  [[nodiscard]] double inertia() const {  // about its middle, by parallel axes
    const double tall = height - web;
    return width * std::pow(web, 3) / 12 + width * web * std::pow(middle() - web / 2, 2) +
           2 * (leg * std::pow(tall, 3) / 12 +
                leg * tall * std::pow((height + web) / 2 - middle(), 2));
  }
};

TEST(PublishedSection, KernOfAChannel) {
  const Channel u;
  const double A = u.area(), y = u.middle(), I = u.inertia();
  const double up = I / (A * y), down = I / (A * (u.height - y));
  EXPECT_NE(up, down);
  const auto peak = [&](double at) {
    return peak_pressure(u.contact(), kLoad, Vec2(0, at)).value();
  };
  // load at the kern's upper end: the web's edge is at zero, the legs' ends carry N/A + M c / I
  EXPECT_NEAR(peak(y + up) / (kLoad / A * (1 + up * A * (u.height - y) / I)), 1, 1e-6);
  EXPECT_NEAR(peak(y - down) / (kLoad / A * (1 + down * A * y / I)), 1, 1e-6);
  EXPECT_NEAR(peak(y) / (kLoad / A), 1, 1e-6);
}

// Beyond the kern the ends of the legs carry alone: a triangle of three times the distance to their
// ends, on both. The point itself lies between the legs, where there is no joint at all.
TEST(PublishedSection, LegsOfAChannelCarryAlone) {
  const Channel u;
  for (const double a : {0.01, 0.05, (u.height - u.web) / 3}) {
    const double peak = 2 * kLoad / (2 * u.leg * 3 * a);
    EXPECT_NEAR(peak_pressure(u.contact(), kLoad, Vec2(0, u.height - a)).value() / peak, 1, 1e-6);
  }
  EXPECT_FALSE(peak_pressure(u.contact(), kLoad, Vec2(0, u.height + 1e-4)).has_value());
}

// A block on a channel-shaped bed, pushed level at height h above it towards the open side, turns
// about the line between the ends of the legs: push = weight * (distance to that line) / h. The
// other way it turns about the web's edge. Rigid blocks, so the hull counts, not the area.
TEST(PublishedSection, ABlockOnAChannelTurnsAboutTheEdgeOfItsHull) {
  const Channel u;
  const double off = 0.2, high = 0.4, mass = 500;
  for (const double way : {1.0, -1.0}) {
    Assembly assembly;
    assembly.blocks.resize(2);
    assembly.blocks[0].id = "ground";
    assembly.blocks[0].fixed = true;
    Block& block = assembly.blocks[1];
    block.id = "block";
    block.density = 1000;
    block.mass.volume = mass / block.density;
    block.mass.centroid = {0, off, 0.3};
    Joint joint;
    joint.a = 0;
    joint.b = 1;
    joint.contact = u.contact();
    joint.friction = 5;  // turning governs
    assembly.joints.push_back(joint);
    LoadCase push;
    push.id = "push";
    push.live.push_back({1, {0, off, high}, {0, way * mass * kGravity, 0}});
    push.gravity = {0, 0, -kGravity};
    const CaseProof proof = limit_load(assembly, push);
    const double lever = way > 0 ? u.height - off : off;
    ASSERT_TRUE(proof.load_factor.has_value()) << proof.reason;
    EXPECT_NEAR(*proof.load_factor, lever / high, 1e-6);
  }
}

}  // namespace
}  // namespace skewback
