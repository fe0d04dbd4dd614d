#include <gtest/gtest.h>

#include <bit>
#include <cstdint>

#include "brief/stl_file.hpp"

namespace skewback {
namespace {

DrawingFile file(std::string text) { return {"scan.stl", std::move(text), "mm"}; }

std::string word(std::uint32_t w) {
  std::string out;
  for (int k = 0; k < 4; ++k) out.push_back(static_cast<char>(w >> (8 * k) & 0xff));
  return out;
}

/// Two triangles over the unit square. 80 bytes of head, then little-endian floats: normal, three
/// corners, two bytes (the format as its makers describe it).
std::string binary(const std::string& head) {
  std::string out = head + std::string(80 - head.size(), ' ') + word(2);
  for (const auto& t : {std::array<std::array<float, 3>, 3>{{{0, 0, 1}, {1, 0, 1}, {1, 1, 1}}},
                        {{{0, 0, 1}, {1, 1, 1}, {0, 1, 1}}}}) {
    out += word(0) + word(0) + word(std::bit_cast<std::uint32_t>(1.0f));
    for (const auto& p : t)
      for (const float x : p) out += word(std::bit_cast<std::uint32_t>(x));
    out += std::string(2, '\0');
  }
  return out;
}

TEST(ReadStl, BinaryAlsoWhereItBeginsWithSolid) {
  for (const char* head : {"made by a scanner", "solid but binary"}) {
    const auto mesh = read_stl(file(binary(head)));
    ASSERT_TRUE(mesh.ok());
    EXPECT_EQ(mesh->triangles.size(), 2u);
    ASSERT_EQ(mesh->vertices.size(), 4u);  // shared corners are one
    EXPECT_EQ(mesh->vertices[2], Vec3(1, 1, 1));
  }
}

TEST(ReadStl, Text) {
  const std::string text =
      "solid a\n facet normal 0 0 1\n  outer loop\n   vertex 0 0 1\n   vertex 1e1 0 1\n   vertex 1 "
      "1 1\n  endloop\n endfacet\nendsolid a\n";
  const auto mesh = read_stl(file(text));
  ASSERT_TRUE(mesh.ok());
  ASSERT_EQ(mesh->triangles.size(), 1u);
  EXPECT_EQ(mesh->vertices[1], Vec3(10, 0, 1));
}

TEST(ReadStl, SaysWhatIsWrong) {
  std::string cut = binary("x");
  cut.pop_back();
  EXPECT_FALSE(read_stl(file(cut)).ok());
  EXPECT_FALSE(read_stl(file("")).ok());
  EXPECT_FALSE(read_stl(file("solid nothing\nendsolid\n")).ok());
  const auto bad = read_stl(file("solid a\nvertex 0 0 zero\n"));
  ASSERT_FALSE(bad.ok());
  EXPECT_EQ(bad.faults()[0].line, 2);
}

}  // namespace
}  // namespace skewback
