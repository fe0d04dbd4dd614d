#include "brief/drawing.hpp"

#include <cmath>
#include <cstdint>

#include "brief/curves.hpp"
#include "brief/ply_file.hpp"
#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;
using ::testing::HasSubstr;

// Group codes and values on lines of their own.
std::string dxf(const std::string& entities, const std::string& unit = "6") {
  std::string text = "0 SECTION 2 HEADER 9 $INSUNITS 70 " + unit +
                     " 0 ENDSEC 0 SECTION 2 ENTITIES " + entities + " 0 ENDSEC 0 EOF";
  std::replace(text.begin(), text.end(), ' ', '\n');
  return text + "\n";
}

Drawing drawn(const Result<Drawing>& read) {
  EXPECT_TRUE(read.ok()) << all_of(read.faults());
  return read.ok() ? *read : Drawing{};
}

DrawingFile file(const std::string& text, const std::string& unit = "") {
  return {"plan", text, unit};
}

// A bulge of 1 is half a turn, counter-clockwise: from (0, 0) to (2, 0) below the x axis.
TEST(Dxf, BulgeOfHalfATurn) {
  const Drawing d =
      drawn(read_dxf(file(dxf("0 LWPOLYLINE 8 outline 90 2 70 1 10 0 20 0 42 1 10 2 20 0 42 0"))));
  ASSERT_EQ(d.size(), 1u);
  EXPECT_TRUE(d[0].closed);
  EXPECT_EQ(d[0].line.size(), static_cast<std::size_t>(arc_steps(1, std::acos(-1.0), kChord)) + 1);
  for (const Vec2& p : d[0].line) {
    EXPECT_NEAR((p - Vec2(1, 0)).norm(), 1, 1e-12);
    EXPECT_LE(p.y(), 1e-12);
  }
}

// Drawn in a plane turned upside down (extrusion 0, 0, -1): x is mirrored, arcs run the other way.
TEST(Dxf, MirroredPlanes) {
  const Drawing d =
      drawn(read_dxf(file(dxf("0 ARC 8 walk 10 1 20 0 40 1 50 0 51 90 210 0 220 0 230 -1 "
                              "0 LWPOLYLINE 8 outline 70 0 10 1 20 2 10 3 20 4 230 -1"))));
  ASSERT_EQ(d.size(), 2u);
  EXPECT_NEAR((d[0].line.front() - Vec2(-2, 0)).norm(), 0, 1e-12);
  EXPECT_NEAR((d[0].line.back() - Vec2(-1, 1)).norm(), 0, 1e-12);
  EXPECT_EQ(d[1].line, (std::vector<Vec2>{{-1, 2}, {-3, 4}}));
}

TEST(Dxf, PaperSpaceOtherLayersAndBlocksArePassedOver) {
  std::string text =
      dxf("0 LINE 8 walk 67 1 10 0 20 0 11 1 21 1 0 LINE 8 notes 10 x 20 0 11 1 21 1");
  EXPECT_TRUE(drawn(read_dxf(file(text))).empty());
  const Result<Drawing> insert = read_dxf(file(dxf("0 INSERT 8 outline 10 0 20 0")));
  ASSERT_FALSE(insert.ok());
  EXPECT_THAT(all_of(insert.faults()), HasSubstr("explode the block"));
}

TEST(Dxf, NamesLineLayerFoundAndExpected) {
  const Result<Drawing> read =
      read_dxf(file(dxf("0 CIRCLE 8 Opening_2 10 0 20 0 40 -1 0 LINE 8 walk 10 0 20 0 11 1")));
  ASSERT_EQ(read.faults().size(), 2u);
  EXPECT_EQ(read.faults()[0].line, 16);  // counted by hand: of the value CIRCLE
  EXPECT_EQ(read.faults()[0].key, "CIRCLE on layer Opening_2");
  EXPECT_EQ(read.faults()[1].found, "no group 21");
}

TEST(Dxf, UnitOfTheFileAgainstTheBrief) {
  const std::string line = "0 LINE 8 walk 10 0 20 0 11 1000 21 0";
  EXPECT_NEAR(drawn(read_dxf(file(dxf(line, "4"))))[0].line[1].x(), 1, 1e-12);
  EXPECT_NEAR(drawn(read_dxf(file(dxf(line, "4"), "mm")))[0].line[1].x(), 1, 1e-12);
  EXPECT_NEAR(drawn(read_dxf(file(dxf(line, "0"), "ft")))[0].line[1].x(), 304.8, 1e-9);
  EXPECT_FALSE(read_dxf(file(dxf(line, "4"), "m")).ok());
  EXPECT_FALSE(read_dxf(file(dxf(line, "0"))).ok());
  EXPECT_FALSE(read_dxf(file(dxf(line, "9"), "mm")).ok());  // mils
}

TEST(Svg, AUnitThatSvgDoesNotHaveIsNamed) {
  const std::string text =
      "<svg\n width=\"20m\" viewBox=\"0 0 20 20\"><line id=\"walk\" x2=\"9\"/></svg>";
  const Result<Drawing> read = read_svg(file(text));
  ASSERT_FALSE(read.ok());
  EXPECT_NE(read.faults().front().found.find("\"20m\", a unit that SVG does not have"),
            std::string::npos)
      << describe(read.faults().front());
  EXPECT_EQ(read.faults().front().line, 1);
  EXPECT_NEAR(drawn(read_svg(file(text, "m")))[0].line[1].x(), 9, 1e-12);
  const Result<Drawing> none = read_svg(file("<svg width=\"20\" viewBox=\"0 0 20 20\"/>"));
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.faults().front().found, "lengths without a unit");
}

TEST(Svg, ANameOfItsOwnGoesBeforeThatOfTheGroup) {
  const Drawing d = drawn(read_svg(file(
      R"(<svg width="10cm" viewBox="0 0 100 100"><g id="opening-1"><line id="walk-2" x2="100"/>)"
      R"(<rect x="1" y="2" width="3" height="4"/><path display="none" d="M0 0 1 1"/></g></svg>)")));
  ASSERT_EQ(d.size(), 2u);
  EXPECT_EQ(d[0].role, "walk-2");
  EXPECT_NEAR((d[0].line[1] - Vec2(0.1, 0)).norm(), 0, 1e-15);
  EXPECT_EQ(d[1].role, "opening-1");
  EXPECT_NEAR((d[1].line[2] - Vec2(0.004, -0.006)).norm(), 0, 1e-15);
}

// Stretched to an ellipse: the chords still keep within 5 mm of it.
TEST(Svg, CurvesUnderAnUnevenTransform) {
  const Drawing d = drawn(
      read_svg(file(R"x(<svg><circle id="opening" r="1" transform="scale(10 2)"/></svg>)x", "m")));
  ASSERT_EQ(d.size(), 1u);
  const auto& line = d[0].line;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const Vec2 middle = (line[i] + line[(i + 1) % line.size()]) / 2;
    // on the unit circle a chord falls short by 1 - r, at most tenfold outside
    EXPECT_LE(10 * (1 - Vec2(middle.x() / 10, middle.y() / 2).norm()), kChord * 1.001);
  }
}

TEST(Obj, TwoFacesRoundAHole) {
  // a square ring of two C shapes, each one face; corners by hand
  const std::string text =
      "v 0 0 0\nv 3 0 0\nv 3 3 0\nv 0 3 0\nv 1 1 0\nv 2 1 0\nv 2 2 0\nv 1 2 0\n"
      "f 1 2 6 5 8 4\nf -7 -6 -5 -8 -1 -2 -3\n";
  const Result<Drawing> read = read_flat_obj(file(text, "m"));
  ASSERT_FALSE(read.ok()) << "faces that do not fit leave forked rims";
  const std::string good =
      "v 0 0 0\nv 3 0 0\nv 3 3 0\nv 0 3 0\nv 1 1 0\nv 2 1 0\nv 2 2 0\nv 1 2 0\n"
      "f 1 2 6 5 8 4\nf -7 -6 -5 -1 -2 -3\n";
  const Drawing d = drawn(read_flat_obj(file(good, "m")));
  ASSERT_EQ(d.size(), 2u);
  for (const Drawn& rim : d)
    EXPECT_NEAR(std::abs(area(rim.line)), rim.role == "outline" ? 9 : 1, 1e-12);
}

// One triangle with a colour on each corner, written by hand in either order of bytes.
TEST(Ply, BinaryOfEitherOrder) {
  for (const bool big : {false, true}) {
    std::string text = std::string("ply\nformat binary_") + (big ? "big" : "little") +
                       "_endian 1.0\ncomment by hand\nelement vertex 3\nproperty float x\n"
                       "property float y\nproperty double z\nproperty uchar red\nelement face 1\n"
                       "property list uchar int vertex_indices\nend_header\n";
    const auto put = [&](const auto& value) {
      std::string bytes(reinterpret_cast<const char*>(&value),
                        sizeof value);  // little on this machine
      if (big) std::reverse(bytes.begin(), bytes.end());
      text += bytes;
    };
    for (int k = 0; k < 3; ++k) {
      put(static_cast<float>(k == 1 ? 1.5 : 0)), put(static_cast<float>(k == 2 ? -2.5 : 0));
      put(0.25 * k), put(static_cast<unsigned char>(200));
    }
    put(static_cast<unsigned char>(3));
    for (const std::int32_t corner : {0, 1, 2}) put(corner);
    const Result<TriangleMesh3> mesh = read_ply(file(text));
    ASSERT_TRUE(mesh.ok()) << all_of(mesh.faults());
    ASSERT_EQ(mesh->triangles.size(), 1u);
    EXPECT_EQ(mesh->vertices[1], Vec3(1.5, 0, 0.25));
    EXPECT_EQ(mesh->vertices[2], Vec3(0, -2.5, 0.5));
    EXPECT_FALSE(read_ply(file(text.substr(0, text.size() - 1))).ok());
  }
}

TEST(Drawings, DamagedFilesNeverCrashTheReaders) {
  const std::string texts[] = {
      dxf("0 LWPOLYLINE 8 outline 70 1 10 0 20 0 42 1 10 2 20 0 0 ARC 8 walk 10 1 20 0 40 1 50 0 "
          "51 "
          "90 0 POLYLINE 8 outline 70 1 0 VERTEX 10 0 20 1 0 VERTEX 10 2 20 1 0 SEQEND"),
      R"({"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {"role":)"
      R"("outline"}, "geometry": {"type": "Polygon", "coordinates": [[[0,0],[1,0],[0,1],[0,0]]]}}]})",
      R"x(<svg width="10cm" viewBox="0 0 9 9"><g id="walk"><path transform="rotate(3 4 5)" d="M1 1h2)x"
      R"x(A2 2 0 01 0 2C1 2 3 4 5 6z"/><polygon points="0,0 1,0 1,1"/><circle r="2"/></g></svg>)x",
      "v 0 0 0\nv 1 0 0\nv 0 1 0\ng outline\nf 1 2 3\ng walk\nl 1 2\n"};
  Result<Drawing> (*const readers[])(const DrawingFile&) = {read_dxf, read_geojson, read_svg,
                                                            read_flat_obj};
  Dice dice;
  int refused = 0;
  for (int k = 0; k < 4000; ++k) {
    const Result<Drawing> read =
        readers[k % 4](file(mutated(texts[k % 4], dice), k % 3 ? "m" : ""));
    refused += read.ok() ? 0 : 1;
    for (std::size_t i = 0; read.ok() && i < read->size(); ++i)
      for (const Vec2& p : (*read)[i].line) EXPECT_TRUE(p.allFinite());
  }
  EXPECT_GT(refused, 1000);
  EXPECT_LT(refused, 3900);
}

}  // namespace
}  // namespace skewback
