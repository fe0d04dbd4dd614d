// A box keeps its twelve edges; a tube of many sides is round.
#include "lodge/shell.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "lodge/unpacked.hpp"

namespace skewback::lodge {
namespace {

Unpacked shell_of(const Solid& solid) {
  Shell shell;
  shell.add(solid, 7);
  Sheaf sheaf;
  sheaf.head = {{"view", "test"}};
  shell.move_to(sheaf, "block");
  return unpack(sheaf.bytes());
}

Solid tube(int sides) {
  Polygon ring;
  for (int i = 0; i < sides; ++i)
    ring.emplace_back(std::cos(2 * kPi * i / sides), std::sin(2 * kPi * i / sides));
  return prism({}, ring, 0, 2);
}

TEST(Shell, BoxHasTwelveEdgesAndFourCornersAFace) {
  const Unpacked box_shell = shell_of(box({0, 0, 0}, {1, 2, 3}));
  EXPECT_EQ(box_shell.rows("points"), 24u);
  EXPECT_EQ(box_shell.rows("triangles"), 12u);
  EXPECT_EQ(box_shell.rows("lines"), 12u);
  for (const std::uint32_t owner : box_shell.u32("block")) EXPECT_EQ(owner, 7u);
  double length = 0;
  const auto lines = box_shell.f32("lines");
  for (std::size_t i = 0; i + 5 < lines.size(); i += 6)
    length += std::hypot(lines[i + 3] - lines[i], lines[i + 4] - lines[i + 1],
                         lines[i + 5] - lines[i + 2]);
  EXPECT_NEAR(length, 4 * (1 + 2 + 3), 1e-6);
}

// 24 sides turn by 15 degrees, 8 sides by 45: only these are edges.
TEST(Shell, BluntEdgesAreShadedRound) {
  const Unpacked round = shell_of(tube(24)), sharp = shell_of(tube(8));
  EXPECT_EQ(round.rows("lines"), 2u * 24);
  EXPECT_EQ(round.rows("points"), 4u * 24);  // side and end are apart
  EXPECT_EQ(sharp.rows("lines"), 3u * 8);
  EXPECT_EQ(sharp.rows("points"), 6u * 8);
}

// A corner drawn a hair off a straight edge leaves a sliver, which is no edge.
TEST(Shell, SliversAreNoEdges) {
  const Solid plain = box({0, 0, 0}, {1, 1, 1});
  Solid cut = plain;
  const std::vector<int> face = cut.faces[0];
  const int a = face[0], b = face[1], n = static_cast<int>(cut.vertices.size());
  cut.vertices.push_back(
      (cut.vertices[static_cast<std::size_t>(a)] + cut.vertices[static_cast<std::size_t>(b)]) / 2);
  cut.faces[0] = {face[2], face[3], a, n, b};
  cut.faces.push_back({b, n, a});  // of no height: closes against the neighbour's whole edge
  ASSERT_TRUE(closed(cut));
  const Unpacked shell = shell_of(cut);
  EXPECT_EQ(shell.rows("points"), 26u);  // 24, and the new one on either face
  double length = 0;
  const auto lines = shell.f32("lines");
  for (std::size_t i = 0; i + 5 < lines.size(); i += 6)
    length += std::hypot(lines[i + 3] - lines[i], lines[i + 4] - lines[i + 1],
                         lines[i + 5] - lines[i + 2]);
  EXPECT_NEAR(length, 12, 1e-6);
}

}  // namespace
}  // namespace skewback::lodge
