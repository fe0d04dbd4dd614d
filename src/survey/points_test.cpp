#include "survey/points.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <fstream>
#include <random>

namespace skewback {
namespace {

namespace fs = std::filesystem;

std::vector<Mark> marks() {
  std::vector<Mark> out;
  for (const char* name : {"yard left", "yard right", "yard back", "yard-01 near 1"})
    out.push_back({name, MarkKind::kSpringing, "yard", Vec3::Zero()});
  return out;
}

class Points : public testing::Test {
 protected:
  fs::path path = fs::temp_directory_path() / ("points-" + std::to_string(getpid()) + ".csv");
  SiteGrid site{{100, 200, 10}, 0, ""};

  Result<PointFile> read(const std::string& text) {
    std::ofstream(path, std::ios::binary) << text;
    Result<PointFile> out = read_points(path, site, marks(), 0.002);
    fs::remove(path);
    return out;
  }
  PointFile sound(const std::string& text) {
    const Result<PointFile> out = read(text);
    if (!out.ok()) {
      for (const Fault& fault : out.faults()) ADD_FAILURE() << describe(fault);
      return {};
    }
    return *out;
  }
};

TEST_F(Points, OfTheSiteInMetres) {
  const PointFile file = sound("mark,east_m,north_m,level_m\nyard left, 101.5, 202, 10.25\n");
  ASSERT_EQ(file.points.size(), 1U);
  EXPECT_EQ(file.points[0].mark, "yard left");
  EXPECT_NEAR((file.points[0].at - Vec3(1.5, 2, 0.25)).norm(), 0, 1e-9);
  EXPECT_EQ(file.points[0].accuracy_m, 0.002);
  EXPECT_EQ(file.points[0].line, 2);
}

TEST_F(Points, AxesOfTheBridgeAndUnits) {
  const Vec3 want(1.5, -2, 0.25);
  for (const std::string text : {
           "mark,x_mm,y_mm,z_mm\nyard left,1500,-2000,250\n",
           "mark;x_cm;y_cm;z_cm\nyard left;150;-200;25\n",
           "Mark;X [m];Y (m);Z m\n\"yard left\";+1.5;-2;2.5e-1\n",
           "x_m,y_mm,z_cm,mark\n1.5,-2000,25,yard  left\n",
           "mark\tx_m\ty_m\tz_m\nyard left\t1.5\t-2\t.25\n",
           "\xEF\xBB\xBFmark,x_m,y_m,z_m\r\n\r\n# note, with, commas\r\nyard left,1.5,-2,0.25\r\n",
           "mark,x_m,y_m,z_m\ryard left,1.5,-2,0.25",
           "mark,x_m,y_m,z_m,remark\nyard left,1.5,-2,0.25,\"prism, low\"\n",
       }) {
    const PointFile file = sound(text);
    ASSERT_EQ(file.points.size(), 1U) << text;
    EXPECT_NEAR((file.points[0].at - want).norm(), 0, 1e-12) << text;
  }
  // the international foot is 0.3048 m exactly
  EXPECT_NEAR(sound("mark,x_ft,y_ft,z_ft\nyard left,10,0,0\n").points[0].at.x(), 3.048, 1e-12);
}

// The list of marks is itself a file of points: read again, it is the drawing to its 0.1 mm.
TEST_F(Points, TheListOfMarksIsReadAgain) {
  site.turn_rad = 0.3;
  std::vector<Mark> drawn = marks();
  for (std::size_t i = 0; i < drawn.size(); ++i)
    drawn[i].designed = {1.23456 * static_cast<double>(i), -2.34567, 0.1 * static_cast<double>(i)};
  const PointFile file = sound(setting_out_csv(site, drawn));
  ASSERT_EQ(file.points.size(), drawn.size());
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    EXPECT_EQ(file.points[i].mark, drawn[i].name);
    EXPECT_LT((file.points[i].at - drawn[i].designed).norm(), 0.5e-4 * std::sqrt(3.0) + 1e-9);
  }
}

TEST_F(Points, AccuracyOfEach) {
  const PointFile file =
      sound("mark,x_m,y_m,z_m,accuracy_mm\nyard left,1,2,3,0.5\nyard right,1,2,3,\n");
  ASSERT_EQ(file.points.size(), 2U);
  EXPECT_NEAR(file.points[0].accuracy_m, 0.0005, 1e-15);
  EXPECT_EQ(file.points[1].accuracy_m, 0.002);
}

struct Bad {
  const char* what;
  std::string text;
  int line;
  const char* says;
};

TEST_F(Points, EveryFaultNamesItsLine) {
  const std::string header = "mark,x_m,y_m,z_m\n";
  const std::vector<Bad> table = {
      {"unknown mark", header + "yard leftt,1,2,3\n", 2, "is it \"yard left\"?"},
      {"twice", header + "yard left,1,2,3\nyard left,1,2,4\n", 3, "line 2"},
      {"no number", header + "yard left,1,two,3\n", 2, "\"two\""},
      {"empty", header + "yard left,1,,3\n", 2, "a number"},
      {"not a number", header + "yard left,1,nan,3\n", 2, "\"nan\""},
      {"infinite", header + "yard left,1,inf,3\n", 2, "\"inf\""},
      {"overflow", header + "yard left,1,1e999,3\n", 2, "1e999"},
      {"hexadecimal", header + "yard left,1,0x10,3\n", 2, "0x10"},
      {"with unit", header + "yard left,1,2 m,3\n", 2, "without unit"},
      {"far away", header + "yard left,1,2e9,3\n", 2, "1e8"},
      {"decimal comma", "mark;x_m;y_m;z_m\nyard left;1;2,5;3\n", 2, "write 2.5"},
      {"decimal commas", header + "yard left,1,0,2,5,3,0\n", 2, "decimal commas?"},
      {"a field short", header + "yard left,1,2\n", 2, "3 fields"},
      {"no unit", "mark,x,y_m,z_m\nyard left,1,2,3\n", 1, "no unit in column \"x\""},
      {"other unit", "mark,x_yd,y_m,z_m\nyard left,1,2,3\n", 1, "unit \"yd\""},
      {"no mark", "x_m,y_m,z_m\n1,2,3\n", 1, "no column \"mark\""},
      {"no level", "mark,east_m,north_m\nyard left,1,2\n", 1, "not all three"},
      {"mixed axes", "mark,east_m,north_m,level_m,z_m\nyard left,1,2,3,4\n", 1, "of the bridge"},
      {"misspelt", "mark,est_m,north_m,level_m\nyard left,1,2,3\n", 1, "is it \"east\"?"},
      {"column twice", "mark,x_m,x_mm,y_m,z_m\nyard left,1,2,3,4\n", 1, "twice"},
      {"other column", "mark,x_m,y_m,z_m,colour\nyard left,1,2,3,red\n", 1, "\"colour\""},
      {"no header", "yard left,1,2,3\n", 1, "column \"yard left\""},
      {"header alone", header, 1, "no points"},
      {"empty file", "", 0, "no line"},
      {"comments alone", "# a\n\n# b\n", 0, "no line"},
      {"open quote", header + "\"yard left,1,2,3\n", 2, "not closed"},
      {"no text", header + std::string("yard\0left,1,2,3\n", 16), 2, "control characters"},
      {"Latin-1",
       header + "yard l\xE9"
                "ft,1,2,3\n",
       2, "UTF-8"},
      {"no accuracy", "mark,x_m,y_m,z_m,accuracy_mm\nyard left,1,2,3,0\n", 2, "over 0"},
      {"negative accuracy", "mark,x_m,y_m,z_m,accuracy_mm\nyard left,1,2,3,-1\n", 2, "over 0"},
      {"coarse", "mark,x_m,y_m,z_m,accuracy_m\nyard left,1,2,3,5\n", 2, "up to 1 m"},
  };
  for (const Bad& bad : table) {
    const Result<PointFile> out = read(bad.text);
    ASSERT_FALSE(out.ok()) << bad.what;
    bool said = false;
    std::string all;
    for (const Fault& fault : out.faults()) {
      all += describe(fault) + " " + fault.change + "\n";
      EXPECT_EQ(fault.file, path.string()) << bad.what;
      said = said || (fault.line == bad.line && all.find(bad.says) != std::string::npos);
    }
    EXPECT_TRUE(said) << bad.what << ":\n" << all;
  }
}

TEST_F(Points, AllFaultsAtOnce) {
  const Result<PointFile> out =
      read("mark,x_m,y_m,z_m\nyard lefft,a,2,3\nyard right,1,2,3\nyard right,1,b,3\n");
  ASSERT_FALSE(out.ok());
  EXPECT_EQ(out.faults().size(), 4U);  // name, a, twice, b
}

TEST_F(Points, FaultsAreNotWithoutEnd) {
  std::string text = "mark,x_m,y_m,z_m\n";
  for (int i = 0; i < 5000; ++i) text += "nowhere,1,2,3\n";
  const Result<PointFile> out = read(text);
  ASSERT_FALSE(out.ok());
  EXPECT_LT(out.faults().size(), 110U);
  EXPECT_EQ(out.faults().back().found, "too many faults");
}

TEST_F(Points, TooLargeAndNotThere) {
  EXPECT_EQ(read_points("/nowhere/points.csv", site, marks(), 0.002).faults()[0].found,
            "no such file");
  EXPECT_EQ(read_points(fs::temp_directory_path(), site, marks(), 0.002).faults()[0].found,
            "no ordinary file");
  EXPECT_EQ(read(std::string((8 << 20) + 1, '#')).faults()[0].found, "more than 8 MB");
}

// Bytes struck at random in a sound file: read, or refused with faults that have words.
TEST_F(Points, BytesAtRandom) {
  const std::string sound_text =
      "mark;east_m;north_m;level_m;accuracy_mm\n\"yard left\";101.5;202;10.25;2\n"
      "yard right;101;202;10;\n# end\n";
  std::mt19937 rng(7);
  int refused = 0;
  for (int round = 0; round < 2000; ++round) {
    std::string text = sound_text;
    for (unsigned k = 0; k <= rng() % 4; ++k) {
      const std::size_t at = rng() % text.size();
      if (rng() % 2)
        text[at] = static_cast<char>(rng() % 256);
      else
        text.erase(at, 1 + rng() % 8);
      if (text.empty()) text = " ";
    }
    const Result<PointFile> out = read(text);
    if (out.ok()) {
      for (const MeasuredPoint& p : out->points) EXPECT_TRUE(p.at.allFinite() && p.accuracy_m > 0);
      continue;
    }
    ++refused;
    for (const Fault& fault : out.faults()) EXPECT_FALSE(fault.found.empty());
  }
  EXPECT_GT(refused, 500);
  EXPECT_LT(refused, 2000);
}

}  // namespace
}  // namespace skewback
