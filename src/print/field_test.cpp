#include "print/field.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "print/layers.hpp"

namespace skewback {
namespace {

constexpr double kAngle = 20 * kPi / 180, kInner = 1.0, kOuter = 1.6;

/// Annular wedge of 20 degrees about the z axis, radii 1.0 and 1.6 m, 0.5 m high: its round faces
/// in `pieces` flat strips.
Solid wedge(int pieces) {
  std::vector<std::vector<Vec3>> rings;
  for (int i = pieces; i >= 0; --i) {
    const double a = kAngle * i / pieces;
    const auto at = [&](double r, double z) { return Vec3(r * std::cos(a), r * std::sin(a), z); };
    rings.push_back({at(kInner, 0), at(kOuter, 0), at(kOuter, 0.5), at(kInner, 0.5)});
  }
  Solid solid = skin(rings);
  if (mass_properties(solid).volume < 0) {
    for (auto& face : solid.faces) std::reverse(face.begin(), face.end());
  }
  return solid;
}

Fan beds() {
  const Plane low{Vec3::Zero(), Vec3::UnitY()};
  return fan_between(low, {Vec3::Zero(), {-std::sin(kAngle), std::cos(kAngle), 0}});
}

Vec3 polar(double r, double angle, double z = 0.2) {
  return {r * std::cos(angle), r * std::sin(angle), z};
}

// F1, closed form: in an annular wedge the angle is harmonic and no flow crosses the sides, so the
// planes of a fan are the level sets of the harmonic field; ways are arcs.
TEST(Field, FanOfAnAnnularWedgeIsItsAngle) {
  const FieldPtr fan = fan_field(beds());
  for (double r : {1.0, 1.3, 1.6}) {
    for (double share : {0.0, 0.2, 0.5, 1.0}) {
      EXPECT_NEAR(fan->level(polar(r, share * kAngle)), share, 1e-12);
      EXPECT_NEAR(fan->way(polar(r, share * kAngle)), r * kAngle, 1e-12);
    }
  }
  const WayRange ways = ways_through(*fan, wedge(64));
  EXPECT_NEAR(ways.greatest_m / ways.least_m, 1.6, 1e-12);
  const LayerCount count = layer_count(ways, 0.006, 0.012);
  EXPECT_EQ(count.fewest, 47);
  EXPECT_EQ(count.most, 58);
}

TEST(Field, HarmonicFieldOfAnAnnularWedgeIsItsAngle) {
  const Result<FieldPtr> harmonic = harmonic_field(wedge(64), beds(), 5);
  ASSERT_TRUE(harmonic.ok());
  for (double r : {1.01, 1.3, 1.59}) {
    for (double share : {0.0, 0.1, 0.25, 0.5, 0.8, 1.0}) {
      EXPECT_NEAR((*harmonic)->level(polar(r, share * kAngle)), share, 2e-5) << r << " " << share;
      EXPECT_NEAR((*harmonic)->way(polar(r, share * kAngle)), r * kAngle, 2e-3 * r * kAngle);
    }
  }
}

// A block whose sides lean: its fan of parallel planes meets them aslant by their lean, the
// harmonic field comes to them square, the more so the more terms it has.
TEST(Field, HarmonicFieldMeetsTheSidesSquare) {
  Solid leaning = box({-0.5, -0.2, 0}, {0.5, 0.2, 0.4});
  for (Vec3& p : leaning.vertices) p.x() += 0.5 * p.z();
  const Fan flat = fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.4}, Vec3::UnitZ()});
  const Vec3 side = Vec3(1, 0, -0.5).normalized();  // normal of the leaning faces
  const auto aslant = [&](const LayerField& field) {
    double sum = 0;
    for (int i = 1; i < 8; ++i)
      for (double x : {0.5, -0.5})
        sum += std::abs(field.gradient({x + 0.025 * i, 0, 0.05 * i}).normalized().dot(side)) / 14;
    return sum;
  };
  const double planes = aslant(*fan_field(flat));
  EXPECT_NEAR(planes, std::sin(std::atan(0.5)), 1e-12);
  const Result<FieldPtr> few = harmonic_field(leaning, flat, 3),
                         more = harmonic_field(leaning, flat, 6);
  ASSERT_TRUE(few.ok() && more.ok());
  EXPECT_LT(aslant(**few), 0.3 * planes);
  EXPECT_LT(aslant(**more), aslant(**few));
}

// F2, by quadrature: blend of the distances to the two planes has the same planes, unevenly turned:
// angle steps of 40 layers vary as 1.0295. The levels of the fan are evenly turned.
TEST(Field, BlendOfDistancesTurnsUnevenly) {
  const Fan fan = beds();
  double least = 1, greatest = 0, even_least = 1, even_greatest = 0, before = 0;
  for (int k = 1; k <= 40; ++k) {
    // the plane (1 - u) d_low + u d_high = 0 through the axis
    const double u = k / 40.0;
    const Vec3 normal = (1 - u) * fan.low.normal + u * fan.high.normal;
    const double turned = std::atan2(-normal.x(), normal.y());
    least = std::min(least, turned - before), greatest = std::max(greatest, turned - before);
    before = turned;
    const Plane a = fan.surface((k - 1) / 40.0), b = fan.surface(u);
    const double step = std::asin(a.normal.cross(b.normal).z());
    even_least = std::min(even_least, step), even_greatest = std::max(even_greatest, step);
    EXPECT_NEAR(b.distance(Vec3(0, 0, 3)), 0, 1e-12);  // holds the axis
  }
  EXPECT_NEAR(greatest / least, 1.0295, 1e-3);
  EXPECT_NEAR(even_greatest / even_least, 1, 1e-9);
}

TEST(Field, ParallelBedsHaveParallelLayers) {
  const Fan fan = fan_between({{0, 0, 1}, Vec3::UnitZ()}, {{5, 5, 1.4}, Vec3::UnitZ()});
  EXPECT_NEAR(fan.level({3, -2, 1.1}), 0.25, 1e-12);
  EXPECT_NEAR(fan.way({3, -2, 1.1}), 0.4, 1e-12);
  EXPECT_NEAR(fan.surface(0.25).distance({7, 7, 1.1}), 0, 1e-12);
}

// F3: areas times heights of the layers make up the solid.
TEST(Layers, VolumesOfLayersCloseOnTheSolid) {
  const Solid solid = wedge(32);
  const FieldPtr fan = fan_field(beds());
  double sum = 0;
  for (const LayerSection& layer : layer_sections(*fan, solid, 50, Vec3::UnitX())) {
    sum += layer.volume_m3;
    EXPECT_NEAR(layer.height_max_m / layer.height_min_m, 1.6, 2e-3);  // flat strips for the arcs
  }
  const double volume = mass_properties(solid).volume;
  EXPECT_NEAR(sum, volume, 1e-3 * volume);
}

TEST(Layers, CurvedLevelsCloseOnTheSolidToo) {
  Solid leaning = box({-0.5, -0.2, 0}, {0.5, 0.2, 0.4});
  for (Vec3& p : leaning.vertices) p.x() += 0.3 * p.z();
  const Fan flat = fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.4}, Vec3::UnitZ()});
  const Result<FieldPtr> harmonic = harmonic_field(leaning, flat, 6);
  ASSERT_TRUE(harmonic.ok());
  double sum = 0;
  for (const LayerSection& layer : layer_sections(**harmonic, leaning, 40, Vec3::UnitX()))
    sum += layer.volume_m3;
  EXPECT_NEAR(sum, 0.16, 1e-3 * 0.16);
}

// A wall that leans by 20 degrees over the layer below leans so at every layer, out on one side and
// in on the other; the first layer lies on the table.
TEST(Layers, LeanOfAWall) {
  Solid leaning = box({0, 0, 0}, {1, 0.5, 0.4});
  for (Vec3& p : leaning.vertices) p.x() += std::tan(20 * kPi / 180) * p.z();
  const FieldPtr fan =
      fan_field(fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.4}, Vec3::UnitZ()}));
  const auto layers = layer_sections(*fan, leaning, 40, Vec3::UnitX());
  EXPECT_EQ(layers[0].lean_max(), 0);
  for (std::size_t k = 1; k < layers.size(); ++k) {
    EXPECT_NEAR(layers[k].lean_max(), 20 * kPi / 180, 1e-6);
    const double shift = std::tan(20 * kPi / 180) * 0.4 * layers[k].middle;
    const auto local = [&](double x) {
      return Vec2(layers[k].frame.to_local(Vec3(x + shift, 0.25, 0)).head<2>());
    };
    EXPECT_NEAR(layers[k].lean_at(local(1)), 20 * kPi / 180, 1e-6);
    EXPECT_NEAR(layers[k].lean_at(local(0)), -20 * kPi / 180, 1e-6);
  }
}

/// Walls of a body whose sides lean back by `lean_rad` from all four sides.
Solid battered(double lean_rad, double length, double depth) {
  Solid body = box({-length / 2, -depth / 2, 0}, {length / 2, depth / 2, 0.2});
  const double in = 0.2 * std::tan(lean_rad);
  for (Vec3& p : body.vertices)
    if (p.z() > 0.1) p.head<2>() -= Vec2(std::copysign(in, p.x()), std::copysign(in, p.y()));
  return body;
}

// What leans back lies on the layer below: a heap hangs over nothing. The leaf of a hollow body
// that leans back hangs over on the side of its tube.
TEST(Layers, LeaningBackIsNoOverhangUnlessATubeLeansWithIt) {
  const double lean = 30 * kPi / 180;
  const FieldPtr fan =
      fan_field(fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.2}, Vec3::UnitZ()}));
  const Solid heap = battered(lean, 1, 0.8);
  for (const LayerSection& layer : layer_sections(*fan, heap, 20, Vec3::UnitX()))
    EXPECT_EQ(layer.lean_max(), 0);
  Solid tube = battered(lean, 0.9, 0.7);
  for (Vec3& p : tube.vertices) {  // through both beds
    const double beyond = p.z() > 0.1 ? 0.01 : -0.01;
    p.head<2>() -= std::tan(lean) * beyond * Vec2(std::copysign(1, p.x()), std::copysign(1, p.y()));
    p.z() += beyond;
  }
  const Result<Solid> hollow = subtract(heap, tube);
  ASSERT_TRUE(hollow.ok());
  const auto layers = layer_sections(*fan, *hollow, 20, Vec3::UnitX());
  for (std::size_t k = 1; k < layers.size(); ++k) EXPECT_NEAR(layers[k].lean_max(), lean, 1e-6);
}

// A tube that lies in a block has a roof: the layer over it is laid on nothing for half the tube's
// width, whose lean is atan(width / 2 / height); closed form.
TEST(Layers, RoofOfALyingTubeIsAnOverhang) {
  Solid block = box({0, 0, 0}, {1, 0.5, 0.4});
  Solid tube = box({-0.1, 0.15, 0.1}, {1.1, 0.35, 0.3});
  const Result<Solid> hollow = subtract(block, tube);
  ASSERT_TRUE(hollow.ok());
  const FieldPtr fan =
      fan_field(fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.4}, Vec3::UnitZ()}));
  double most = 0;
  for (const LayerSection& layer : layer_sections(*fan, *hollow, 40, Vec3::UnitX()))
    most = std::max(most, layer.lean_max());
  EXPECT_GE(most, std::atan2(0.1, 0.01) - 1e-6);
}

// A void all inside: its roof has no outline in the layer that closes it.
TEST(Layers, RoofOfAClosedVoidIsAnOverhang) {
  Solid hollow = box({0, 0, 0}, {1, 0.5, 0.4});
  Solid hole = box({0.4, 0.15, 0.1}, {0.6, 0.35, 0.3});
  for (auto& face : hole.faces) std::reverse(face.begin(), face.end());
  hollow = join({hollow, hole});
  const FieldPtr fan =
      fan_field(fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.4}, Vec3::UnitZ()}));
  const auto layers = layer_sections(*fan, hollow, 40, Vec3::UnitX());
  EXPECT_LT(layers[25].lean_max(), 1e-6);
  EXPECT_GT(layers[30].lean_max(), 80 * kPi / 180);  // the corners lie 0.15 m from any wall
}

TEST(Layers, WholeNumberOfLayersIsNotRoundedUp) {
  EXPECT_EQ(layer_count({0.3, 0.3}, 0.005, 0.010).fewest, 30);
  EXPECT_EQ(layer_count({0.3, 0.3}, 0.005, 0.010).most, 60);
}

TEST(Layers, TooUnequalBlockHasNoCount) {
  EXPECT_FALSE(layer_count({0.20, 0.60}, 0.006, 0.012).fits());
  EXPECT_FALSE(layer_count({-0.1, 0.60}, 0.006, 0.012).fits());
}

// Between an intrados z = x2/20 and an extrados 0.3 m above it the layers follow both; closed form.
TEST(Layers, LaidBetweenTwoFaces) {
  std::vector<std::vector<Vec3>> rings;
  for (int i = 0; i <= 20; ++i) {
    const double x = -0.5 + i / 20.0, z = x * x / 20;
    rings.push_back({{x, -0.4, z}, {x, 0.4, z}, {x, 0.4, z + 0.3}, {x, -0.4, z + 0.3}});
  }
  Solid solid = skin(rings);
  if (mass_properties(solid).volume < 0)
    for (auto& face : solid.faces) std::reverse(face.begin(), face.end());
  const Result<FieldPtr> between = faces_field(solid, Vec3::UnitZ());
  ASSERT_TRUE(between.ok());
  const Vec3 on_a_strip(0.325, 0.1, (0.3 * 0.3 + 0.35 * 0.35) / 40);
  EXPECT_NEAR((*between)->level(on_a_strip), 0, 1e-12);
  EXPECT_NEAR((*between)->level(on_a_strip + Vec3(0, 0, 0.3)), 1, 1e-12);
  EXPECT_NEAR((*between)->level({0.3, 0.1, 0.3 * 0.3 / 20 + 0.15}), 0.5, 2e-3);
  const auto layers = layer_sections(**between, solid, 30, Vec3::UnitX());
  double sum = 0;
  for (const LayerSection& layer : layers) {
    sum += layer.volume_m3;
    EXPECT_NEAR(layer.area_m2, 0.8, 2e-3);
    EXPECT_NEAR(layer.height_max_m, 0.01, 1e-4);
  }
  EXPECT_NEAR(sum, 0.24, 1e-3 * 0.24);
}

// A tube's roof looks down as the intrados does.
TEST(Layers, NotBetweenFacesOverOneAnother) {
  const auto box = [](double half, int first, Solid& solid) {
    for (int i = 0; i < 8; ++i)
      solid.vertices.emplace_back((i & 1) != 0 ? half : -half, (i & 2) != 0 ? half : -half,
                                  (i & 4) != 0 ? half : -half);
    for (std::vector<int> face : std::vector<std::vector<int>>{
             {0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}}) {
      for (int& i : face) i += first;
      if (first > 0) std::ranges::reverse(face);
      solid.faces.push_back(face);
    }
  };
  Solid solid;
  box(0.5, 0, solid);
  EXPECT_TRUE(faces_field(solid, Vec3::UnitZ()).ok());
  box(0.2, 8, solid);
  EXPECT_NEAR(mass_properties(solid).volume, 1 - 0.064, 1e-12);
  EXPECT_FALSE(faces_field(solid, Vec3::UnitZ()).ok());
}

}  // namespace
}  // namespace skewback
