// Every kind of bad file, and what is said about it.

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>

#include "assembly/assembly.hpp"

namespace skewback {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

const json kBoxFaces = {{0, 3, 2, 1}, {4, 5, 6, 7}, {0, 1, 5, 4},
                        {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}};

json box_vertices(double z0, double z1) {
  return {{0, 0, z0}, {1, 0, z0}, {1, 1, z0}, {0, 1, z0},
          {0, 0, z1}, {1, 0, z1}, {1, 1, z1}, {0, 1, z1}};
}

json good() {
  json root;
  root["blocks"] = {
      {{"id", "g"}, {"fixed", true}, {"vertices", box_vertices(-1, 0)}, {"faces", kBoxFaces}},
      {{"id", "b"}, {"density", 2400}, {"vertices", box_vertices(0, 1)}, {"faces", kBoxFaces}}};
  root["joints"] = {
      {{"a", "g"}, {"b", "b"}, {"polygon", {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}}}}};
  root["cases"] = {{{"id", "dead"}},
                   {{"id", "push"},
                    {"live", {{{"block", "b"}, {"point", {0, 0.5, 1}}, {"force", {100, 0, 0}}}}}}};
  return root;
}

Result<Assembly> read_text(const std::string& text) {
  const auto* test =
      testing::UnitTest::GetInstance()->current_test_info();  // tests run side by side
  const std::string file = testing::TempDir() + test->name() + "-assembly-read.json";
  std::ofstream(file, std::ios::binary) << text;
  return read_assembly(file);
}

// All faults as one text, without the file's name.
std::string faults_of(const Result<Assembly>& read) {
  if (read.ok()) return "";
  std::string text;
  for (Fault f : read.faults()) {
    EXPECT_THAT(f.file, HasSubstr("assembly-read.json"));
    EXPECT_FALSE(f.found.empty() || f.expected.empty()) << describe(f);
    f.file.clear();
    text += describe(f) + "\n";
  }
  return text;
}

std::string faults_after(const std::function<void(json&)>& spoil) {
  json root = good();
  spoil(root);
  return faults_of(read_text(root.dump()));
}

TEST(Read, TheGoodFileIsGood) {
  const auto read = read_text(good().dump());
  ASSERT_TRUE(read.ok()) << faults_of(read);
  EXPECT_EQ(read->joints[0].friction, 0.6);  // the default
  EXPECT_EQ(read->cases[0].gravity, Vec3(0, 0, -9.81));
  EXPECT_NEAR(mass_kg(read->blocks[1]), 2400, 1e-9);
}

TEST(Read, DetectFindsTheSameJoint) {
  json root = good();
  root["joints"] = "detect";
  root["friction"] = 0.45;
  const auto read = read_text(root.dump());
  ASSERT_TRUE(read.ok()) << faults_of(read);
  ASSERT_EQ(read->joints.size(), 1u);
  EXPECT_EQ(read->joints[0].friction, 0.45);
  EXPECT_NEAR(area(read->joints[0].contact), 1, 1e-9);
}

TEST(Read, NotJson) {
  const auto read = read_text("{\"blocks\": [\n  {\"id\": oops}\n]}");
  ASSERT_FALSE(read.ok());
  EXPECT_EQ(read.faults()[0].line, 2);
  EXPECT_EQ(read.faults()[0].column, 10);
  EXPECT_THAT(faults_of(read_text("")), HasSubstr("an empty file"));
  EXPECT_THAT(faults_of(read_text("{\"a\": \"\xff\xfe\"}")), HasSubstr("a byte that is not text"));
  EXPECT_THAT(faults_of(read_text("{\"friction\": NaN}")), HasSubstr("expected JSON"));
  EXPECT_THAT(faults_of(read_text("{\"friction\": 1e999}")), HasSubstr("too large"));
  EXPECT_THAT(faults_of(read_text("[1, 2]")), HasSubstr("expected an object"));
  EXPECT_THAT(faults_of(read_text("{\"blocks\": 1, \"blocks\": 2}")), HasSubstr("twice"));
}

TEST(Read, NoFileOrADirectory) {
  const auto missing = read_assembly(testing::TempDir() + "not-there.json");
  ASSERT_FALSE(missing.ok());
  EXPECT_THAT(describe(missing.faults()[0]), HasSubstr("no such file"));
  const auto directory = read_assembly(testing::TempDir());
  ASSERT_FALSE(directory.ok());
  EXPECT_THAT(describe(directory.faults()[0]), HasSubstr("a directory"));
}

TEST(Read, WrongTypes) {
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["density"] = "heavy"; }),
              HasSubstr("blocks[1].density: found \"heavy\"; expected a finite number"));
  EXPECT_THAT(faults_after([](json& j) {
                j["blocks"][1]["vertices"][3] = {1, 2};
              }),
              HasSubstr("blocks[1].vertices[3]: found [1,2]; expected three numbers"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["vertices"][3][1] = nullptr; }),
              HasSubstr("blocks[1].vertices[3][1]: found null"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["faces"][0][2] = 1.5; }),
              HasSubstr("blocks[1].faces[0][2]: found 1.5; expected a whole number"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][0]["fixed"] = 1; }),
              HasSubstr("blocks[0].fixed: found 1; expected true or false"));
  EXPECT_THAT(faults_after([](json& j) { j["joints"] = "find"; }),
              HasSubstr("joints: found \"find\"; expected \"detect\" or a list"));
  EXPECT_THAT(faults_after([](json& j) { j["cases"] = json::object(); }),
              HasSubstr("cases: found {}"));
  EXPECT_THAT(faults_after([](json& j) { j["cases"][0] = 3; }),
              HasSubstr("cases[0]: found 3; expected an object"));
}

TEST(Read, UnknownAndMissingKeys) {
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["desity"] = 1; }),
              HasSubstr("blocks[1].desity: found an unknown key; expected one of id,"));
  EXPECT_THAT(faults_after([](json& j) { j["units"] = "mm"; }),
              HasSubstr("units: found an unknown key"));
  EXPECT_THAT(faults_after([](json& j) { j["joints"][0].erase("b"); }),
              HasSubstr("joints[0].b: found nothing; expected this key"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1].erase("density"); }),
              HasSubstr("blocks[1].density: found nothing"));
  EXPECT_THAT(faults_after([](json& j) { j.erase("cases"); }), HasSubstr("cases: found nothing"));
}

TEST(Read, DuplicateIds) {
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["id"] = "g"; }),
              HasSubstr("blocks[1].id: found \"g\" for a second time"));
  EXPECT_THAT(faults_after([](json& j) { j["cases"][1]["id"] = "dead"; }),
              HasSubstr("cases[1].id: found \"dead\" for a second time"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["id"] = ""; }), HasSubstr("blocks[1].id"));
}

TEST(Read, BadSolids) {
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["faces"][2][1] = 8; }),
              HasSubstr("blocks[1].faces[2][1]: found 8; expected a vertex index from 0 to 7"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["faces"][2][1] = -1; }),
              HasSubstr("blocks[1].faces[2][1]: found -1"));
  EXPECT_THAT(
      faults_after([](json& j) { j["blocks"][1]["faces"].erase(5); }),
      HasSubstr("blocks[1].faces: found an open surface: the edge between vertices 0 at [0.000000, "
                "0.000000, 0.000000] and 3 at"));
  EXPECT_THAT(faults_after([](json& j) {
                json& faces = j["blocks"][1]["faces"];
                std::reverse(faces[0].begin(), faces[0].end());
              }),
              HasSubstr("blocks[1].faces[0]: found a face inside out"));
  EXPECT_THAT(faults_after([](json& j) {
                for (json& face : j["blocks"][1]["faces"]) std::reverse(face.begin(), face.end());
              }),
              HasSubstr("blocks[1].faces: found a volume of -1"));
  EXPECT_THAT(faults_after([](json& j) {
                j["blocks"][1]["vertices"][6] = {1, 1, 1.2};
              }),
              HasSubstr("off one plane, at [0.000000, 0.000000, 1.000000]; expected a flat face"));
}

// A box in a box, the one face of the inner surface that runs the wrong way, and half a surface.
TEST(Read, TheFaceThatIsInsideOutIsNamed) {
  const auto hollow = [](json& j) {
    json& block = j["blocks"][1];
    for (json v : box_vertices(0.2, 0.8)) {
      v[0] = 0.2 + 0.6 * v[0].get<double>();
      v[1] = 0.2 + 0.6 * v[1].get<double>();
      block["vertices"].push_back(v);
    }
    for (json face : kBoxFaces) {
      for (json& i : face) i = i.get<int>() + 8;
      std::reverse(face.begin(), face.end());
      block["faces"].push_back(face);
    }
  };
  EXPECT_EQ(faults_after(hollow), "");
  for (const std::size_t wrong : {0, 3, 6, 11}) {
    EXPECT_THAT(
        faults_after([&](json& j) {
          hollow(j);
          json& face = j["blocks"][1]["faces"][wrong];
          std::reverse(face.begin(), face.end());
        }),
        HasSubstr("blocks[1].faces[" + std::to_string(wrong) + "]: found a face inside out"));
  }
  EXPECT_THAT(faults_after([&](json& j) {
                hollow(j);
                j["blocks"][1]["faces"].erase(11);
              }),
              HasSubstr("an open surface"));
}

TEST(Read, FaultsSayTheLineAndTheBlock) {
  json root = good();
  root["blocks"][1]["density"] = 0;
  root["cases"][1]["live"][0]["block"] = "nobody";
  root["joints"][0]["polygon"][2] = {1, 1, 0.05};
  root["blocks"][0].erase("vertices");
  const std::string text = root.dump(1);
  const Result<Assembly> read = read_text(text);
  ASSERT_FALSE(read.ok());
  const auto line_of = [&](const std::string& words) {
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(text.find(words));
    return 1 + static_cast<int>(std::count(text.begin(), end, '\n'));
  };
  std::map<std::string, Fault> faults;
  for (const Fault& fault : read.faults()) faults[fault.key] = fault;
  EXPECT_EQ(faults.at("blocks[1].density").line, line_of("\"density\""));
  EXPECT_THAT(faults.at("blocks[1].density").expected, HasSubstr("(block \"b\")"));
  EXPECT_EQ(faults.at("cases[1].live[0].block").line, line_of("\"nobody\""));
  EXPECT_EQ(faults.at("blocks[0].vertices").line,
            line_of("{\n   \"faces\""));  // where it is missing
  EXPECT_EQ(faults.at("joints[0]").line, line_of("{\n   \"a\""));
  EXPECT_THAT(faults.at("joints[0]").expected, HasSubstr("(joint of \"g\" and \"b\")"));
  EXPECT_THAT(faults.at("cases[1].live[0].block").expected, HasSubstr("(case \"push\")"));
}

TEST(Read, DensityAndFriction) {
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["density"] = 0; }),
              HasSubstr("blocks[1].density: found 0; expected a number above 0"));
  EXPECT_THAT(faults_after([](json& j) { j["joints"][0]["friction"] = -0.1; }),
              HasSubstr("joints[0].friction: found -0.1; expected a number of at least 0"));
  EXPECT_THAT(faults_after([](json& j) {
                j["blocks"][1]["carried"] = {{{"mass", -1}, {"point", {0, 0, 0}}}};
              }),
              HasSubstr("blocks[1].carried[0].mass: found -1"));
  EXPECT_THAT(faults_after([](json& j) {
                j["joints"][0]["pad"] = {{"thickness", 0}};
              }),
              HasSubstr("joints[0].pad.thickness: found 0"));
}

TEST(Read, NoGround) {
  EXPECT_THAT(faults_after([](json& j) {
                j["blocks"][0]["fixed"] = false;
                j["blocks"][0]["density"] = 1;
              }),
              HasSubstr("blocks: found no fixed block"));
  EXPECT_THAT(faults_after([](json& j) { j["blocks"][1]["fixed"] = true; }),
              HasSubstr("blocks: found no free block"));
}

TEST(Read, NestedTooDeeply) {
  for (const std::size_t deep : {std::size_t{60}, std::size_t{200000}}) {
    const std::string lists = std::string(deep, '[') + std::string(deep, ']');
    EXPECT_THAT(faults_of(read_text("{\"blocks\": " + lists + "}")), HasSubstr("nested"));
    std::string objects;
    for (std::size_t i = 0; i < deep; ++i) objects += "{\"a\":";
    EXPECT_THAT(faults_of(read_text(objects + "1" + std::string(deep, '}'))), HasSubstr("nested"));
  }
}

TEST(Read, NamesOfBlocksThatAreNotThere) {
  EXPECT_THAT(faults_after([](json& j) { j["cases"][1]["live"][0]["block"] = "x"; }),
              HasSubstr("cases[1].live[0].block: found \"x\"; expected the id of a block"));
  EXPECT_THAT(faults_after([](json& j) { j["joints"][0]["a"] = "x"; }),
              HasSubstr("joints[0].a: found \"x\"; expected the id of a block"));
  EXPECT_THAT(faults_after([](json& j) { j["joints"][0]["a"] = "b"; }),
              HasSubstr("a block joined to itself"));
}

TEST(Read, BadJointPolygons) {
  EXPECT_THAT(faults_after([](json& j) { j["joints"][0]["polygon"][2][2] = 0.01; }),
              AllOf(HasSubstr("2.5 mm off one plane, at ["), HasSubstr("; expected a flat joint")));
  EXPECT_THAT(faults_after([](json& j) {
                std::swap(j["joints"][0]["polygon"][1], j["joints"][0]["polygon"][2]);
              }),
              HasSubstr("joints[0]: found a polygon without area"));
  EXPECT_THAT(
      faults_after([](json& j) {
        j["joints"][0]["polygon"] = {{0, 0, 0}, {1, 0, 0}, {0.2, 1, 0}, {1, 1, 0}, {0, 0.5, 0}};
      }),
      HasSubstr("crosses itself"));
  EXPECT_THAT(faults_after([](json& j) {
                j["joints"][0]["polygon"].erase(0);
                j["joints"][0]["polygon"].erase(0);
              }),
              HasSubstr("joints[0].polygon: found 2 elements; expected a list of at least 3"));
  EXPECT_THAT(faults_after([](json& j) {
                for (json& p : j["joints"][0]["polygon"]) p[2] = 0.5;
              }),
              HasSubstr("no such face of block \"g\""));
  EXPECT_THAT(
      faults_after([](json& j) { j["joints"][0]["parts"] = json::array({json::object()}); }),
      HasSubstr("\"parts\" beside \"polygon\""));
}

TEST(Read, AllFaultsAtOnce) {
  const std::string all = faults_after([](json& j) {
    j["blocks"][1]["density"] = -5;
    j["blocks"][1]["faces"][0][0] = 99;
    j["joints"][0]["a"] = "nobody";
    j["cases"][1]["live"][0]["block"] = "nobody";
    j["colour"] = "red";
  });
  EXPECT_EQ(std::count(all.begin(), all.end(), '\n'), 5) << all;
}

TEST(Read, StrangeButLegal) {
  json root = good();
  json& b = root["blocks"][1];
  b["vertices"].push_back(
      {0.5, 0, 0});  // a vertex in the middle of an edge, used by both its faces
  b["faces"][0] = {0, 3, 2, 1, 8};
  b["faces"][2] = {0, 8, 1, 5, 4};
  b["density"] = 1e-3;
  root["joints"] = json::array();
  root["cases"] = json::array();
  const auto read = read_text(root.dump());
  EXPECT_TRUE(read.ok()) << faults_of(read);
}

}  // namespace
}  // namespace skewback
