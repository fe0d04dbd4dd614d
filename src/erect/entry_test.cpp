#include "erect/entry.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"

namespace skewback {
namespace {

// Block 0 among fixed neighbours 1, 2, ... that touch it on planes with these normals into it.
Assembly among(const std::vector<Vec3>& into) {
  Assembly assembly;
  assembly.blocks.resize(into.size() + 1);
  assembly.blocks[0].id = "block";
  for (std::size_t i = 0; i < into.size(); ++i) {
    Block& neighbour = assembly.blocks[i + 1];
    neighbour.id = "n" + std::to_string(i + 1);
    neighbour.fixed = true;
    Joint joint;
    joint.a = int(i) + 1;
    joint.b = 0;
    joint.frame = frame_on({Vec3::Zero(), into[i].normalized()});
    if (i % 2 == 1) {  // the other way round
      std::swap(joint.a, joint.b);
      joint.frame = frame_on({Vec3::Zero(), -into[i].normalized()});
    }
    assembly.joints.push_back(joint);
  }
  return assembly;
}

Entry entry_among(const std::vector<Vec3>& into) {
  return entry_directions(among(into), {0}).front();
}

// Closed form, by symmetry: out upwards, at half the wedge's angle to both faces.
TEST(Entry, AKeystoneGoesInFromAbove) {
  for (const int voussoirs : {5, 7, 21}) {
    const sample::Arch arch{.voussoirs = voussoirs, .radius = 3, .thickness = 0.5};
    const Assembly assembly = sample::arch_assembly(arch);
    const auto index = [&](int number) {
      const std::string id = "v" + std::to_string(number);
      for (int i = 0; i < int(assembly.blocks.size()); ++i)
        if (assembly.blocks[i].id == id) return i;
      return -1;
    };
    std::vector<int> order;  // from both springings
    for (int k = 1; k <= voussoirs / 2; ++k) {
      order.push_back(index(k));
      order.push_back(index(voussoirs + 1 - k));
    }
    const int key = index(voussoirs / 2 + 1);
    order.push_back(key);
    const std::vector<Entry> entries = entry_directions(assembly, order);
    ASSERT_EQ(entries.size(), std::size_t(voussoirs));
    const Entry& last = entries.back();
    EXPECT_EQ(last.block, key);
    EXPECT_NEAR((last.direction - Vec3::UnitZ()).norm(), 0, 1e-9);
    EXPECT_NEAR(last.margin, std::sin(kPi / voussoirs / 2), 1e-9);
    EXPECT_TRUE(last.stuck_by.empty());
    // each one before it has one joint only, and leaves it square
    for (std::size_t i = 0; i + 1 < entries.size(); ++i) EXPECT_NEAR(entries[i].margin, 1, 1e-9);
  }
}

TEST(Entry, BetweenThreeSquareSidesItSlidesOutAlongTheOpenOne) {
  const Entry entry = entry_among({Vec3::UnitX(), -Vec3::UnitX(), Vec3::UnitY()});
  EXPECT_NEAR(entry.margin, 0, 1e-12);
  EXPECT_NEAR((entry.direction - Vec3::UnitY()).norm(), 0, 1e-9);
  EXPECT_TRUE(entry.stuck_by.empty());
}

TEST(Entry, OnABedBetweenTwoWallsItGoesUp) {
  const Entry entry = entry_among({Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitX()});
  EXPECT_NEAR(entry.margin, 0, 1e-12);
  EXPECT_NEAR((entry.direction - Vec3::UnitZ()).norm(), 0, 1e-9);
}

// Three flanks at even bearings that lean back by an angle: out along their axis, at that angle.
TEST(Entry, AThreeSidedKeyGoesInAlongItsAxis) {
  for (const double lean : {0.3, 0.02}) {
    std::vector<Vec3> flanks;
    for (int i = 0; i < 3; ++i) {
      const double t = 0.4 + 2 * kPi / 3 * i;
      flanks.emplace_back(std::cos(lean) * std::cos(t), std::cos(lean) * std::sin(t),
                          std::sin(lean));
    }
    const Entry entry = entry_among(flanks);
    EXPECT_NEAR(entry.margin, std::sin(lean), 1e-9);
    EXPECT_NEAR((entry.direction - Vec3::UnitZ()).norm(), 0, 1e-9);
  }
}

// Flanks that close over the block, a bed below and a wall behind and before: no way. The least bad
// one is at the same sine to all that hold it.
TEST(Entry, ADovetailInAPocketIsStuckAndItsJointsAreNamed) {
  const double lean = 0.2;
  const std::vector<Vec3> pocket = {{std::cos(lean), 0, -std::sin(lean)},
                                    {-std::cos(lean), 0, -std::sin(lean)},
                                    {0, 1, 0},
                                    {0, -1, 0},
                                    {0, 0, 1}};
  const Assembly assembly = among(pocket);
  const Entry entry = entry_directions(assembly, {0}).front();
  EXPECT_LT(entry.margin, -kSlides);
  EXPECT_GE(entry.stuck_by.size(), 2u);
  const std::string words = stuck_words(assembly, entry);
  EXPECT_NE(words.find("block is held by "), std::string::npos) << words;
  // without the walls at its ends it slides out along its own length
  const Entry open = entry_among({pocket[0], pocket[1], pocket[4]});
  EXPECT_NEAR(open.margin, 0, 1e-12);
  EXPECT_NEAR(std::abs(open.direction.y()), 1, 1e-9);
}

// Against a search over many directions of the sphere, seeds shown.
TEST(Entry, NoDirectionIsBetterThanTheOneFound) {
  for (unsigned seed = 1; seed <= 40; ++seed) {
    std::mt19937 random(seed);
    const auto share = [&] { return double(random()) / 4294967296.0; };
    std::vector<Vec3> into;
    for (unsigned i = 0; i < 1 + seed % 6; ++i)
      into.push_back(Vec3(share() - 0.5, share() - 0.5, share() - 0.3).normalized());
    const Entry entry = entry_among(into);
    EXPECT_NEAR(entry.direction.norm(), 1, 1e-12);
    double best = -1;
    const int n = 20000;
    for (int k = 0; k < n; ++k) {  // even spiral
      const double z = 1 - (2 * k + 1.0) / n, t = k * kPi * (3 - std::sqrt(5.0));
      const double r = std::sqrt(1 - z * z);
      double least = 1;
      for (const Vec3& a : into)
        least = std::min(least, a.dot(Vec3(r * std::cos(t), r * std::sin(t), z)));
      best = std::max(best, least);
    }
    EXPECT_GE(entry.margin, best - 1e-9) << "seed " << seed;
    EXPECT_LE(entry.margin, best + 0.03) << "seed " << seed;  // spacing of the spiral
  }
}

TEST(Entry, TheKeyOfThreeArmsHasAWay) {
  const Assembly assembly = sample::tripod_assembly({});
  std::vector<int> order;
  int key = -1;
  for (int i = 0; i < int(assembly.blocks.size()); ++i) {
    if (assembly.blocks[i].id == "key") key = i;
    if (!assembly.blocks[i].fixed && assembly.blocks[i].id != "key") order.push_back(i);
  }
  order.push_back(key);
  const Entry entry = entry_directions(assembly, order).back();
  EXPECT_EQ(entry.block, key);
  EXPECT_GE(entry.margin, -kSlides);
  EXPECT_GT(entry.direction.z(), 0.99);
}

}  // namespace
}  // namespace skewback
