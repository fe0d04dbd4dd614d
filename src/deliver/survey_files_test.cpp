#include "deliver/survey_files.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <sstream>

#include "base/constants.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/outline.hpp"
#include "deliver/paper.hpp"
#include "deliver/report_survey.hpp"
#include "deliver/sample_survey.hpp"
#include "deliver/setting_out_files.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using sample::rows_of;
using sample::said;
using sample::Surveyed;

TEST(Footings, EveryMarkIsDrawnPlusMovePlusResidual) {
  const Surveyed s;
  const auto marks = marks_found(s.d.brief, s.refit);
  ASSERT_EQ(marks.size(), 6U);
  // the west was moved 17 mm along -x and turned 0.4 degrees about (-3, 0)
  const double turn = 0.4 * kPi / 180;
  for (const MarkFound& m : marks) {
    if (m.support != "west") continue;
    const Vec2 arm = m.drawn.head<2>() - Vec2(-3, 0);
    const Vec2 by_hand = Vec2(-3, 0) + Eigen::Rotation2Dd(turn) * arm + Vec2(-0.017, 0);
    EXPECT_NEAR((m.found.head<2>() - by_hand).norm(), 0, 1e-9) << m.name;
  }
  EXPECT_TRUE(marks.back().outlier);
  const auto rows = rows_of(residuals_csv(s.d.brief, s.refit));
  ASSERT_EQ(rows.size(), 7U);
  EXPECT_EQ(rows[1][0], "west right");
  EXPECT_EQ(rows[6].back(), "yes");
  EXPECT_NEAR(std::stod(rows[6][5]) - std::stod(rows[6][2]), 0.006, 1e-4);  // 2 and 4 mm
}

TEST(Footings, SheetSaysHowTheyLie) {
  const Surveyed s;
  const std::string text = said(footings_sheet(s.d.brief, s.refit, {190, 235}));
  for (const char* part : {"west: 17.0 mm outward, turned 0.40 degrees counter-clockwise",
                           "14.0 mm low", "100 x", "1:"})
    EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
}

TEST(Footings, SheetSaysWhatItsMarksAreNotWorth) {
  const Surveyed s;
  Refit refit = s.refit;
  const auto text = [&] { return said(footings_sheet(s.d.brief, refit, {190, 235})); };
  EXPECT_EQ(text().find("MEASURE AGAIN"), std::string::npos);
  EXPECT_EQ(text().find("off the bridge's axes"), std::string::npos);
  refit.datum.t.x() = 120;
  EXPECT_NE(text().find("off the bridge's axes"), std::string::npos);
  refit.unfit = {"the marks of west: west left is 17 mm from where the others have it"};
  EXPECT_NE(text().find("MEASURE AGAIN: the marks of west: west left is 17 mm"), std::string::npos);
}

TEST(FeetSet, EachThatMovesHasACardAndARow) {
  const Surveyed s;
  const FeetSet& feet = *s.refit.feet;
  EXPECT_EQ(feet_to_set(feet).size(), 5U);
  EXPECT_EQ(feet_to_cut(feet).size(), 3U);  // R1-2 and R2-3 cut, R1-3 packed
  std::string all;
  for (const Sheet& page : foot_sheets(s.d.brief, *s.d.centring, feet, {})) all += said(page);
  for (const char* text : {"-12.8", "52.0 mm LOWER", "31.0 mm HIGHER",
                           "CUT IS OVER WHAT IS ALLOWED", "+3.4", "pack under it", "16.0 mm"})
    EXPECT_NE(all.find(text), std::string::npos) << text;
  const auto rows = rows_of(feet_set_csv(&*s.d.centring, feet));
  ASSERT_EQ(rows.size(), 1 + feet.feet.size());
  for (std::size_t i = 1; i < rows.size(); ++i)
    EXPECT_NEAR(std::stod(rows[i][5]) - std::stod(rows[i][6]), std::stod(rows[i][3]), 0.11)
        << rows[i][0];
  EXPECT_EQ(rows[2].back(), "no");
}

// Nothing is to lie otherwise than drawn, and one foot was measured 12 mm low.
TEST(FeetSet, MeasuredFeetAreOnTheSheetThoughTheBridgeIsAsDrawn) {
  Surveyed s;
  FeetSet feet;
  for (const CentringFoot& foot : s.d.centring->feet)
    feet.feet.push_back({foot.id, 0, 0, 0, 0, true});
  EXPECT_TRUE(foot_sheets(s.d.brief, *s.d.centring, feet, {}).empty());
  feet.feet[3].by_wedge_m = 0.012;
  ASSERT_EQ(feet_to_set(feet).size(), 1U);
  const auto pages = foot_sheets(s.d.brief, *s.d.centring, feet, {});
  ASSERT_EQ(pages.size(), 1U);
  const std::string text = said(pages[0]);
  EXPECT_NE(text.find(feet.feet[3].foot + "\n0.0\n+12.0\n"), std::string::npos) << text;
}

TEST(FeetSet, SetByWhatTheBriefHasUnderPosts) {
  Surveyed s;
  const auto text = [&] {
    std::string all;
    for (const Sheet& page : foot_sheets(s.d.brief, *s.d.centring, *s.refit.feet, {}))
      all += said(page);
    return all;
  };
  const std::string wedges = text();
  EXPECT_NE(wedges.find("wedge"), std::string::npos);
  EXPECT_EQ(wedges.find("jack"), std::string::npos);
  s.d.brief.centring.feet = "jacks";
  EXPECT_NE(text().find("jack"), std::string::npos);
  EXPECT_EQ(text().find("wedge"), std::string::npos);
}

/// Axes of the survey's own know no levels of the site: 8 m higher, and said.
TEST(FeetSet, LevelsAreThoseTheSurveyKnows) {
  const Surveyed s;
  const FeetSet& feet = *s.refit.feet;
  const auto text = [&](const Rigid& datum) {
    std::string all;
    for (const Sheet& page : foot_sheets(s.d.brief, *s.d.centring, feet, datum)) all += said(page);
    return all;
  };
  const FootSetting* cut = feet_to_cut(feet).front();
  const auto foot = std::ranges::find(s.d.centring->feet, cut->foot, &CentringFoot::id);
  const double up = cut->raise_m + s.d.brief.centring.settlement_m, z = foot->head.z() + up;
  const std::string site = text({}), own = text({Mat3::Identity(), {0, 0, 8}});
  EXPECT_NE(site.find("set to " + fixed(z + s.d.brief.site.origin.z(), 3) + " m"),
            std::string::npos);
  EXPECT_NE(site.find("the levels of the site"), std::string::npos);
  EXPECT_NE(own.find("set to " + fixed(z + 8, 3) + " m"), std::string::npos) << own;
  EXPECT_NE(own.find("survey's own levels, not the site's"), std::string::npos);
  EXPECT_NE(own.find("set to, survey"), std::string::npos);
}

/// Bed moved by 30 mm along z into the block's way or out of it: joint 7 runs from v7 into the
/// ground, so that what lies further along z makes v7 longer.
TEST(Springer, CornersAreHeightAndSlope) {
  const Surveyed s;
  const auto sheets = springer_sheets(s.d.brief, s.assembly, s.refit);
  ASSERT_EQ(sheets.size(), 1U);
  const std::string text = said(sheets[0]);
  EXPECT_NE(text.find("New springer v7"), std::string::npos) << text;
  const JointCorners corners = joint_corners(s.assembly.joints[7]);
  const BedError& bed = s.refit.packed.springer[0];
  for (std::size_t k = 0; k < 4; ++k) {
    const double grows = 0.03 + 0.002 * corners[k].x() - 0.02 * corners[k].y() + bed.corner_m[k];
    EXPECT_NE(text.find("+" + fixed(1000 * grows, 1)), std::string::npos) << grows << text;
  }
}

TEST(Scan, ColoursRunFromBlueToRedAndStopAtTheMost) {
  const Colour in = scan_colour(-0.003, 0.003), out = scan_colour(0.003, 0.003),
               beyond = scan_colour(0.3, 0.003), place = scan_colour(0, 0.003);
  EXPECT_GT(in.b, in.r);
  EXPECT_GT(out.r, out.b);
  EXPECT_EQ(beyond.r, out.r);
  EXPECT_EQ(beyond.b, out.b);
  EXPECT_GT(place.r, 200);
  EXPECT_GT(place.b, 200);
  const std::vector<Vec3> corners = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}};
  const Image image =
      scan_picture(corners, {0.003, 0.003, -0.003, -0.003}, {{0, 1, 2}, {0, 2, 3}}, 0.003, 120);
  EXPECT_EQ(image.width, 120);
  EXPECT_GT(image.height, 10);
  EXPECT_EQ(image.rgb.size(),
            static_cast<std::size_t>(image.width) * static_cast<std::size_t>(image.height));
}

TEST(SurveyFiles, HoldWhatTheyAreNamedFor) {
  const Surveyed s;
  const auto files = survey_files(s.d.brief, s.assembly, &*s.d.centring, s.refit, {}, s.plan);
  std::map<std::string, std::string> by_path;
  for (const OutputFile& file : files) by_path[file.path] = file.bytes;
  for (const char* path :
       {"asbuilt/packers.csv", "asbuilt/feet.csv", "asbuilt/seats.csv", "asbuilt/residuals.csv",
        "asbuilt/blocks.csv", "asbuilt/work-sheets.pdf", "asbuilt/footings.svg",
        "asbuilt/packers.svg", "asbuilt/springer-v7.svg"}) {
    ASSERT_TRUE(by_path.contains(path)) << path;
    EXPECT_GT(by_path[path].size(), 60U) << path;
  }
  EXPECT_EQ(by_path["asbuilt/work-sheets.pdf"].substr(0, 5), "%PDF-");
  EXPECT_EQ(by_path["asbuilt/seats.csv"],
            "rib,block,along_m,open_mm\r\nR1,v3,0.400,3.40\r\nR2,v5,0.900,-1.20\r\n");
  const auto again = survey_files(s.d.brief, s.assembly, &*s.d.centring, s.refit, {}, s.plan);
  ASSERT_EQ(again.size(), files.size());
  for (std::size_t i = 0; i < files.size(); ++i)
    EXPECT_TRUE(files[i].bytes == again[i].bytes) << files[i].path;
}

std::string text_of_pdf(const std::string& bytes) {
  const std::string file = testing::TempDir() + "skewback-work-sheets.pdf";
  std::ofstream(file, std::ios::binary) << bytes;
  std::string text;
  if (FILE* read = popen(("pdftotext -layout " + file + " -").c_str(), "r")) {
    for (int c = 0; (c = std::fgetc(read)) != EOF;) text += static_cast<char>(c);
    pclose(read);
  }
  return text;
}

TEST(SurveyFiles, WorkSheetsSayThatTheProofFails) {
  const Surveyed s;
  const auto sheets = [&](const std::string& why) {
    for (OutputFile& file : survey_files(s.d.brief, s.assembly, nullptr, s.refit, {}, s.plan, why))
      if (file.path == "asbuilt/work-sheets.pdf") return text_of_pdf(file.bytes);
    return std::string();
  };
  EXPECT_THAT(sheets("9.6 MPa as gaps close, where 6.3 are allowed"),
              testing::AllOf(testing::HasSubstr("Do not build by this sheet"),
                             testing::HasSubstr("9.6 MPa as gaps close")));
  EXPECT_THAT(sheets(""), testing::Not(testing::HasSubstr("Do not build")));
}

// The west footing was found 17 mm out along -x and turned about (-3, 0); the east one 14 mm low. A
// list of marks as packed has them there, in the site's axes.
TEST(SurveyFiles, MarksAndJointsAsPacked) {
  Surveyed s;
  s.d.refit->laid[1].shift = Vec3(0, 0, -0.010);
  std::map<std::string, std::string> by_path;
  for (OutputFile& file : survey_files(s.d.brief, s.assembly, &*s.d.centring, s.refit, {}, s.plan))
    by_path[file.path] = file.bytes;
  const auto heights = [](const std::string& csv) {
    std::map<std::string, double> out;
    std::istringstream lines(csv);
    for (std::string line; std::getline(lines, line);) {
      const std::size_t name = line.find(','), last = line.rfind(',');
      if (!line.starts_with("#") && !line.starts_with("mark,"))
        out[line.substr(0, name)] = std::stod(line.substr(last + 1));
    }
    return out;
  };
  const std::string& csv = by_path["asbuilt/marks.csv"];
  EXPECT_TRUE(csv.starts_with("# as packed: ")) << csv.substr(0, 200);
  const auto packed = heights(csv);
  const auto drawn =
      heights(setting_out_csv(s.d.brief.site, setting_out(s.d.brief, s.assembly, &*s.d.centring)));
  ASSERT_EQ(packed.size(), drawn.size());
  EXPECT_NEAR(packed.at("east left") - drawn.at("east left"), -0.014, 2e-4);
  EXPECT_NEAR(packed.at("west left") - drawn.at("west left"), 0, 2e-4);
  const std::string mark = s.assembly.blocks[1].id + " 1";
  // 10 mm down when laid, and 7 mm with the axes that the bridge is shifted to
  EXPECT_NEAR(packed.at(mark) - drawn.at(mark), -0.017, 2e-4);
  const std::string head = s.refit.feet->feet[0].foot + " 2";
  EXPECT_NEAR(packed.at(head) - drawn.at(head), -0.0128, 2e-4);

  const auto joints = rows_of(by_path["asbuilt/joints.csv"]);
  ASSERT_EQ(joints.size(), 1 + s.assembly.joints.size());
  EXPECT_EQ(joints[2][1], "2.10");
  EXPECT_EQ(joints[2][7], "1.20");
  EXPECT_EQ(joints[2].back(), "6");  // four at the upper edge, two at the lower

  s.d.refit->key_goes_in = false;
  for (const OutputFile& file :
       survey_files(s.d.brief, s.assembly, &*s.d.centring, s.refit, {}, s.plan))
    EXPECT_NE(file.path, "asbuilt/marks.csv");
}

TEST(SurveyFiles, MarksAsPackedSayWhereTheyAreNotToBeBuiltBy) {
  Surveyed s;
  const auto csv = [&](const std::string& why) {
    return packed_marks_csv(s.d.brief, s.assembly, nullptr, s.refit, why);
  };
  EXPECT_EQ(csv("").find("do not build"), std::string::npos);
  EXPECT_NE(csv("9.6 MPa").find("\n# do not build by this list"), std::string::npos);
  s.d.refit->datum.t = {100, 0, 0};  // axes of the survey's own: no grid of the site
  EXPECT_NE(csv("").find("survey's own axes"), std::string::npos);
  // 2 mm east, and a third of the 4 mm that its back is off
  EXPECT_NE(csv("").find("\neast left,103.0033,"), std::string::npos) << csv("");
}

TEST(SurveyFiles, BlocksInPlaceAreListed) {
  Surveyed s;
  BlockInPlace off;
  off.block = "v3";
  off.marks = 3;
  off.off_m = {0.3, 0, -0.001};
  off.worst = "v3 2";
  off.worst_m = 0.31;
  off.beyond = off.far = true;
  s.d.refit->in_place = {off};
  const auto rows = rows_of(blocks_in_place_csv(s.refit.in_place));
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[1][2], "300.00");
  EXPECT_EQ(rows[1][8], "yes");
  const auto json = survey_json(s.d);
  EXPECT_EQ(json["blocks_in_place"][0]["id"], "v3");
  EXPECT_EQ(json["blocks_in_place"][0]["worst_m"], 0.31);
}

TEST(SurveyFiles, NothingFoundNothingDrawn) {
  const Surveyed s;
  for (const OutputFile& file : survey_files(s.d.brief, s.assembly, nullptr, Refit{}, {}, s.plan)) {
    EXPECT_EQ(file.path.find("packers"), std::string::npos) << file.path;
    EXPECT_EQ(file.path.find("feet"), std::string::npos) << file.path;
    EXPECT_EQ(file.path.find("springer"), std::string::npos) << file.path;
  }
}

TEST(SurveyJson, HoldsWhatWasFound) {
  const Surveyed s;
  const auto json = survey_json(s.d);
  EXPECT_EQ(json["fit_rms_m"], 0.0061);
  EXPECT_EQ(json["offset_max_m"], 0.0123);
  EXPECT_EQ(json["packers"], 18);
  EXPECT_EQ(json["load_factor_after"], 2.31);
  EXPECT_EQ(json["trials"][1]["name"], "a new springer at east");
  EXPECT_TRUE(json["trials"][1]["chosen"]);
  EXPECT_TRUE(json["table"][1]["load_factor"].is_null());
  EXPECT_EQ(json["packing"]["stock"][0]["to_have"], 14);
  EXPECT_EQ(json["springers"][0]["support"], "east");
  EXPECT_EQ(json["blocks"][1]["length_error_m"], 0.0031);
  EXPECT_EQ(json["feet"]["set"].size(), s.refit.feet->feet.size());
  EXPECT_EQ(json["footings"][1]["left_out"][0], "east back");
}

/// East and north of a mark worked by hand: origin + turn by 17 degrees.
TEST(SettingOut, TableHoldsEveryMarkInTheSitesAxes) {
  const Surveyed s;
  const std::vector<Mark> marks = setting_out(s.d.brief, s.assembly, &*s.d.centring);
  std::string all;
  for (const Sheet& page : marks_tables(s.d.brief, marks)) all += said(page);
  for (const Mark& mark : marks)
    EXPECT_NE(all.find("\n" + mark.name + "\n"), std::string::npos) << mark.name;
  const double turn = 17 * kPi / 180;  // "west right" is at (-3, 0.5, 0)
  const double east = 4512.3 - 3 * std::cos(turn) - 0.5 * std::sin(turn),
               north = 1980.45 - 3 * std::sin(turn) + 0.5 * std::cos(turn);
  const std::string row = "west right\n" + fixed(east, 4) + "\n" + fixed(north, 4) + "\n36.1200\n";
  EXPECT_NE(all.find(row), std::string::npos) << row;
}

TEST(SettingOut, DrawnListSaysThatItIsAsDrawnWhereFootingsWereMeasured) {
  Surveyed s;
  EXPECT_EQ(as_drawn_words(nullptr), "");
  const std::string note = as_drawn_words(&s.refit);
  EXPECT_NE(note.find("asbuilt/marks.csv"), std::string::npos);
  const std::vector<Mark> marks = setting_out(s.d.brief, s.assembly, nullptr);
  const auto files = setting_out_files(s.d.brief, s.assembly, marks, s.plan, note);
  EXPECT_TRUE(files[0].bytes.starts_with("# As drawn, not as the footings were found"));
  std::string paper_words;
  for (const Sheet& page : marks_tables(s.d.brief, marks, note)) paper_words += said(page);
  EXPECT_NE(paper_words.find("As drawn, not as the"), std::string::npos);
  s.d.refit->key_goes_in = false;
  EXPECT_EQ(as_drawn_words(&s.refit).find("asbuilt/marks.csv"), std::string::npos);
}

TEST(SettingOut, PlanDrawsTheGridWhereItLies) {
  const Surveyed s;
  const std::vector<Mark> marks = setting_out(s.d.brief, s.assembly, nullptr);
  const Sheet sheet = marks_plan(s.d.brief, s.assembly, marks, s.plan, SheetSize{});
  const std::string text = said(sheet);
  for (const char* part :
       {"west right", "east back", "E 45", "N 19", "N\n", "2027-02-22", "second set-up", "m, 1:"})
    EXPECT_NE(text.find(part), std::string::npos) << part;
}

TEST(SettingOut, HeaderOfTheTableStandsAloneWhateverTheGrid) {
  Surveyed s;
  s.d.brief.site.origin = {1234567.891, 7654321.987, 1234.5};
  const std::vector<Mark> marks = setting_out(s.d.brief, s.assembly, nullptr);
  const std::string csv = setting_out_csv(s.d.brief.site, marks);
  EXPECT_NE(csv.find("\nmark,east_m,north_m,level_m\n"), std::string::npos) << csv.substr(0, 400);
}

TEST(SettingOut, FilesAreTheSameEveryTime) {
  const Surveyed s;
  const std::vector<Mark> marks = setting_out(s.d.brief, s.assembly, &*s.d.centring);
  const auto one = setting_out_files(s.d.brief, s.assembly, marks, s.plan),
             two = setting_out_files(s.d.brief, s.assembly, marks, s.plan);
  ASSERT_EQ(one.size(), 4U);
  for (std::size_t i = 0; i < one.size(); ++i)
    EXPECT_TRUE(one[i].bytes == two[i].bytes) << one[i].path;
  EXPECT_TRUE(setting_out_files(s.d.brief, s.assembly, {}, s.plan).empty());
}

TEST(SettingOut, SaysWhichSupportIsWhichWhereMarksKeepOtherNames) {
  const Surveyed s;
  const std::vector<Mark> marks = setting_out(s.d.brief, s.assembly, nullptr);
  const auto named = setting_out_files(s.d.brief, s.assembly, marks, s.plan, "west is north.");
  EXPECT_EQ(named[0].path, "setting-out/marks.csv");
  EXPECT_EQ(named[0].bytes, "# west is north.\n" + setting_out_csv(s.d.brief.site, marks));
  EXPECT_NE(said(marks_tables(s.d.brief, marks, "west is north.").at(0)).find("west is north."),
            std::string::npos);
}

TEST(Paper, NumbersAreSignedOnlyWhereTheyAreSome) {
  EXPECT_EQ(mm_signed(0.0032), "+3.2");
  EXPECT_EQ(mm_signed(-0.00001), "0.0");
  EXPECT_EQ(mm_words(-0.0128), "-12.8");
  EXPECT_EQ(stock_words({0.01, 0.0025, 0.001}), "10 + 2.5 + 1");
}

}  // namespace
}  // namespace skewback::deliver
