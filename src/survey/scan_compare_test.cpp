#include "survey/scan_compare.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "assembly/sample_arch.hpp"
#include "geometry/hull.hpp"
#include "survey/scan_where.hpp"

namespace skewback {
namespace {

/// The arch with its blocks 3 and 5 made lopsided, so that they lie one way only.
Assembly arch() {
  Assembly out = sample::arch_assembly({.voussoirs = 7, .radius = 3, .thickness = 0.6});
  for (const int b : {3, 5}) {
    Solid& solid = out.blocks[static_cast<std::size_t>(b)].solid;
    const Vec3 middle = mass_properties(solid).centroid;
    // one corner of the back drawn in: faces of the hull stay flat
    std::size_t far = 0;
    for (std::size_t v = 0; v < solid.vertices.size(); ++v)
      if ((solid.vertices[v] - middle).dot(Vec3(b == 3 ? 0.3 : 0.2, 1, 0.9)) >
          (solid.vertices[far] - middle).dot(Vec3(b == 3 ? 0.3 : 0.2, 1, 0.9)))
        far = v;
    solid.vertices[far] += (b == 3 ? 0.35 : 0.5) * (middle - solid.vertices[far]);
    solid = hull_of(solid.vertices);
  }
  Solid& other = out.blocks[1].solid;  // too large to be any of the others
  const Vec3 middle = mass_properties(other).centroid;
  for (Vec3& v : other.vertices) v = middle + 1.15 * (v - middle);
  measure(out);
  return out;
}

/// Faces divided into small triangles.
TriangleMesh3 scanned(const Solid& solid, int parts = 24) {
  TriangleMesh3 out;
  for (const auto& face : solid.faces) {
    for (std::size_t k = 1; k + 1 < face.size(); ++k) {
      const auto v = [&](std::size_t i) {
        return solid.vertices[static_cast<std::size_t>(face[i])];
      };
      const auto at = [&](int i, int j) {
        return Vec3(v(0) + (v(k) - v(0)) * i / parts + (v(k + 1) - v(0)) * j / parts);
      };
      for (int i = 0; i < parts; ++i) {
        for (int j = 0; i + j < parts; ++j) {
          const int n = static_cast<int>(out.vertices.size());
          for (const Vec3& p : {at(i, j), at(i + 1, j), at(i, j + 1)}) out.vertices.push_back(p);
          out.triangles.push_back({n, n + 1, n + 2});
        }
      }
    }
  }
  return out;
}

Rigid anywhere(int k) {
  return {Eigen::AngleAxisd(0.7 * k + 0.4, Vec3(1, 0.4 * k, -0.6).normalized()).toRotationMatrix(),
          Vec3(12 - k, 0.7, -3.5 * k)};
}

TriangleMesh3 moved(TriangleMesh3 mesh, const Rigid& X) {
  for (Vec3& p : mesh.vertices) p = X(p);
  return mesh;
}

// Property: the block's own surface, moved anywhere, is brought back exactly.
TEST(CompareScan, AKnownMovementAnywhere) {
  const Assembly assembly = arch();
  const TriangleMesh3 own = scanned(assembly.blocks[3].solid);
  for (int k = 0; k < 6; ++k) {
    const auto found = compare_scan(assembly, {}, 3, moved(own, anywhere(k)), "scan.ply", "m");
    ASSERT_TRUE(found.ok()) << describe(found.faults().front());
    EXPECT_LT(found->distances.worst_m, 1e-7) << k;
    double most = 0;
    for (std::size_t i = 0; i < own.vertices.size(); ++i)
      most = std::max(most, (found->scan.vertices[i] - own.vertices[i]).norm());
    EXPECT_LT(most, 1e-6) << k;
    EXPECT_TRUE(found->worst.empty());
    EXPECT_TRUE(found->remarks.empty());
  }
}

// A bell of 6 mm on the back, in the middle: its height, its sign and its place are found, also
// where the under side was never scanned.
TEST(CompareScan, ABumpOnTheBackOfAnOpenScan) {
  const Assembly assembly = arch();
  const Block& key = assembly.blocks[5];
  const double angle = std::acos(-1.0) * 5.5 / 7;
  const Vec3 up(-std::cos(angle), 0, std::sin(angle));  // square to its back
  const Vec3 middle = key.mass.centroid + 0.3 * up;
  TriangleMesh3 scan = scanned(key.solid, 40), open;
  double most = 0;  // of the bell, where it was scanned
  Vec3 peak = middle;
  for (const auto& t : scan.triangles) {
    const auto v = [&](int c) {
      return scan.vertices[static_cast<std::size_t>(t[static_cast<std::size_t>(c)])];
    };
    if ((v(1) - v(0)).cross(v(2) - v(0)).normalized().dot(up) < -0.9) continue;
    const int n = static_cast<int>(open.vertices.size());
    for (int c = 0; c < 3; ++c) {
      const double r = (v(c) - middle).norm() / 0.12;
      const double bell = r < 1 ? 0.003 * (1 + std::cos(std::acos(-1.0) * r)) : 0;
      if (bell > most) {
        most = bell;
        peak = v(c) + bell * up;
      }
      open.vertices.push_back(v(c) + bell * up);
    }
    open.triangles.push_back({n, n + 1, n + 2});
  }
  const auto found = compare_scan(assembly, {}, 5, moved(open, anywhere(2)), "scan.ply", "m");
  ASSERT_TRUE(found.ok()) << describe(found.faults().front());
  EXPECT_TRUE(found->open);
  ASSERT_FALSE(found->worst.empty());
  EXPECT_NEAR(found->outside_m, most, 1e-6);
  EXPECT_LT(found->inside_m, 1e-6);
  EXPECT_NE(found->worst.front().where.find("the back"), std::string::npos)
      << found->worst.front().where;
  EXPECT_LT((found->worst.front().at - peak).norm(), 1e-5);
}

// A block the same turned half round: said, not hidden.
TEST(CompareScan, AnotherWayRound) {
  const Assembly assembly = arch();
  const auto found =
      compare_scan(assembly, {}, 4, scanned(assembly.blocks[4].solid), "scan.ply", "m");
  ASSERT_TRUE(found.ok()) << describe(found.faults().front());
  ASSERT_EQ(found->remarks.size(), 1u);
  EXPECT_NE(found->remarks[0].find("another way round"), std::string::npos);
}

TEST(CompareScan, WrongUnitWrongBlockFlat) {
  const Assembly assembly = arch();
  TriangleMesh3 scan = scanned(assembly.blocks[3].solid);
  for (Vec3& p : scan.vertices) p *= 1000;
  auto bad = compare_scan(assembly, {}, 3, scan, "scan.ply", "m");
  ASSERT_FALSE(bad.ok());
  EXPECT_NE(bad.faults()[0].change.find("--scan-unit mm"), std::string::npos)
      << describe(bad.faults()[0]);
  for (Vec3& p : scan.vertices) p *= 0.001 * 0.3048;  // feet read as metres, the other way
  bad = compare_scan(assembly, {}, 3, scan, "scan.ply", "ft");
  ASSERT_FALSE(bad.ok());
  bad = compare_scan(assembly, {}, 4, scanned(assembly.blocks[1].solid), "scan.ply", "m");
  ASSERT_FALSE(bad.ok());
  EXPECT_NE(bad.faults()[0].change.find(assembly.blocks[1].id), std::string::npos)
      << describe(bad.faults()[0]);
  bad = compare_scan(assembly, {}, 3, {{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}}}, "s", "m");
  EXPECT_FALSE(bad.ok());
}

// By hand: the crown of the barrel lies across x = 0, its back up.
TEST(WhereOnBlock, BackSoffitSidesBeds) {
  const Assembly assembly = sample::arch_assembly({.voussoirs = 7, .radius = 3, .thickness = 0.6});
  std::size_t crown = 0;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b)
    if (std::abs(assembly.blocks[b].mass.centroid.x()) < 1e-9 && !assembly.blocks[b].fixed)
      crown = b;
  const auto where = [&](const Vec3& p) {
    return where_on_block(assembly, static_cast<int>(crown), p);
  };
  EXPECT_EQ(where({0, 0, 3.4}).substr(0, 8), "the back");
  EXPECT_EQ(where({0, 0, 2.5}).substr(0, 10), "the soffit");
  const double half = std::acos(-1.0) / 14;
  const std::string bed = where({3 * std::sin(half), 0, 3 * std::cos(half)});
  EXPECT_EQ(bed.substr(0, 10), "the bed to") << bed;
}

}  // namespace
}  // namespace skewback
