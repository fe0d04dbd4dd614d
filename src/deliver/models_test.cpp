#include <gtest/gtest.h>

#include <bit>
#include <nlohmann/json.hpp>

#include "deliver/csv.hpp"
#include "deliver/gltf.hpp"
#include "deliver/sample_dossier.hpp"
#include "deliver/three_mf.hpp"
#include "deliver/triangles.hpp"

namespace skewback::deliver {
namespace {

using nlohmann::json;

std::uint32_t u32(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = 4; i-- > 0;) value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

struct Glb {
  json doc;
  std::string buffer;
};
Glb unpack(const std::string& bytes) {
  const std::uint32_t length = u32(bytes, 12);
  return {json::parse(bytes.substr(20, length)), bytes.substr(20 + length + 8)};
}

Vec3 point(const Glb& glb, const json& accessor, std::size_t i) {
  const std::size_t offset =
      glb.doc["bufferViews"][accessor["bufferView"].get<std::size_t>()]["byteOffset"];
  Vec3 p;
  for (std::size_t c = 0; c < 3; ++c) {
    p[static_cast<Eigen::Index>(c)] =
        std::bit_cast<float>(u32(glb.buffer, offset + 12 * i + 4 * c));
  }
  return p;
}

// Signed volume of the tetrahedra between the triangles of a mesh and the origin.
double volume(const Glb& glb, std::size_t mesh) {
  const json& primitive = glb.doc["meshes"][mesh]["primitives"][0];
  const json& accessor =
      glb.doc["accessors"][primitive["attributes"]["POSITION"].get<std::size_t>()];
  const json& indices = glb.doc["accessors"][primitive["indices"].get<std::size_t>()];
  const std::size_t from =
      glb.doc["bufferViews"][indices["bufferView"].get<std::size_t>()]["byteOffset"];
  const auto corner = [&](std::size_t i) {
    return point(glb, accessor, u32(glb.buffer, from + 4 * i));
  };
  double sum = 0;
  for (std::size_t i = 0; i + 2 < indices["count"].get<std::size_t>(); i += 3)
    sum += corner(i).dot(corner(i + 1).cross(corner(i + 2))) / 6;
  return sum;
}

TEST(Glb, IsPackedAsTheStandardAsks) {  // ISO/IEC 12113:2022, binary container
  const std::string bytes = blocks_glb(sample::small_dossier());
  EXPECT_EQ(bytes.substr(0, 4), "glTF");
  EXPECT_EQ(u32(bytes, 4), 2U);
  EXPECT_EQ(u32(bytes, 8), bytes.size());
  EXPECT_EQ(u32(bytes, 12) % 4, 0U);
  EXPECT_EQ(bytes.substr(16, 4), "JSON");
  const std::size_t bin = 20 + u32(bytes, 12);
  EXPECT_EQ(bytes.substr(bin + 4, 4), std::string("BIN\0", 4));
  EXPECT_EQ(bin + 8 + u32(bytes, bin), bytes.size());
}

// The straight-edged wedge between radii 2.775 and 3.225 over pi/7, 1 m wide, by hand:
// 0.5 sin(pi/7) (3.225^2 - 2.775^2) = 0.585743 m3.
TEST(Glb, HoldsEveryBlockByNameWithItsVolumeAndMass) {
  const Dossier dossier = sample::small_dossier();
  const Glb glb = unpack(blocks_glb(dossier));
  std::size_t found = 0;
  for (const json& node : glb.doc["nodes"]) {
    const std::string name = node["name"];
    if (name.front() != 'v') continue;
    ++found;
    EXPECT_NEAR(volume(glb, node["mesh"]), 0.585743, 1e-5) << name;
    EXPECT_NEAR(node["extras"]["mass_kg"].get<double>(), 0.585743 * 2400, 0.01) << name;
  }
  EXPECT_EQ(found, 7U);
}

TEST(Glb, RootTurnsUpIntoY) {
  const Glb glb = unpack(blocks_glb(sample::small_dossier()));
  const std::size_t root = glb.doc["scenes"][0]["nodes"][0];
  const json& q = glb.doc["nodes"][root]["rotation"];
  const Eigen::Vector3d axis(q[0], q[1], q[2]);
  const double w = q[3];
  const Vec3 up = Vec3::UnitZ();
  const Vec3 turned = up + 2 * w * axis.cross(up) + 2 * axis.cross(axis.cross(up));
  EXPECT_NEAR((turned - Vec3::UnitY()).norm(), 0, 1e-12);
  EXPECT_EQ(glb.doc["nodes"][root]["children"].size(), 9U);
}

TEST(Glb, SharesCorners) {
  const Glb glb = unpack(blocks_glb(sample::small_dossier()));
  const json& primitive = glb.doc["meshes"][1]["primitives"][0];
  const auto count = [&](const json& a) {
    return glb.doc["accessors"][a.get<std::size_t>()]["count"].get<std::size_t>();
  };
  EXPECT_EQ(count(primitive["attributes"]["POSITION"]), 8U);  // a voussoir has eight corners
  EXPECT_EQ(count(primitive["indices"]), 36U);
}

TEST(ThreeMf, SameDossierSameBytes) {
  const std::string a = blocks_3mf(sample::small_dossier());
  EXPECT_EQ(a, blocks_3mf(sample::small_dossier()));
  EXPECT_EQ(a.substr(0, 2), "PK");
  EXPECT_EQ(a.substr(10, 4), std::string("\0\0\x21\0", 4));  // midnight, 1980-01-01
}

TEST(Triangles, OfAClosedSolidClose) {
  const Solid prism_L = prism(Frame{}, {{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}, 0, 1);
  Solid cut{prism_L.vertices, {}};
  for (const auto& t : triangle_corners(prism_L)) cut.faces.push_back({t[0], t[1], t[2]});
  EXPECT_TRUE(closed(cut));
  EXPECT_NEAR(mass_properties(cut).volume, 3, 1e-12);
}

// An L of three unit squares: area 3.
TEST(Triangles, CoverAFaceThatTurnsInwards) {
  const Solid prism_L = prism(Frame{}, {{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}, 0, 1);
  double top = 0;
  for (const FlatTriangle& t : triangles(prism_L)) {
    const Vec3 twice = (t.corners[1] - t.corners[0]).cross(t.corners[2] - t.corners[0]);
    EXPECT_GT(twice.dot(t.normal), 0);
    if (t.normal.z() > 0.5) top += twice.norm() / 2;
  }
  EXPECT_NEAR(top, 3, 1e-12);
}

TEST(Csv, QuotesAsRfc4180Asks) {
  EXPECT_EQ(csv_line({"a", "b,c", "say \"x\"", ""}), "a,\"b,c\",\"say \"\"x\"\"\",\r\n");
}

TEST(Csv, HasARowForEachBlockAndJoint) {
  const Dossier dossier = sample::small_dossier();
  const auto lines = [](const std::string& text) {
    return std::count(text.begin(), text.end(), '\n');
  };
  EXPECT_EQ(lines(blocks_csv(dossier)), 1 + 7);
  EXPECT_EQ(lines(joints_csv(dossier)), 1 + 8);
  EXPECT_NE(blocks_csv(dossier).find("\r\nv4,key,4,1,1405.78"), std::string::npos)
      << blocks_csv(dossier);
}

}  // namespace
}  // namespace skewback::deliver
