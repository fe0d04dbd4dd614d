#include <gtest/gtest.h>

#include "brief/sample_barrel.hpp"
#include "survey/footings.hpp"

namespace skewback {
namespace {

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// All marks as drawn, each 10 mm off at most, one a line from line 2.
struct Site {
  Brief brief;
  std::vector<Mark> drawn;
  PointFile file{"points.csv", true, {}};

  explicit Site(Brief of) : brief(std::move(of)) {
    brief.site = {{4512.3, 1980.45, 36.12}, 0.3, ""};
    brief.survey.emplace();
    for (std::size_t s = 0; s < brief.plan.supports.size(); ++s)
      brief.plan.supports[s].level_m += 0.4 * static_cast<double>(s);
    drawn = springing_marks(brief);
    for (std::size_t i = 0; i < drawn.size(); ++i) {
      const auto off = static_cast<double>(i / 3);
      file.points.push_back({drawn[i].name,
                             drawn[i].designed + Vec3(0.004 * off, 0.003, -0.005 * off), 0.002,
                             static_cast<int>(i) + 2});
    }
  }
  void level() {
    for (Mark& mark : drawn) mark.designed.z() = 0;
    for (MeasuredPoint& point : file.points) point.at.z() = 0;
  }
  void swap(std::size_t a, std::size_t b) {
    for (std::size_t k = 0; k < 3; ++k)
      std::swap(file.points[3 * a + k].at, file.points[3 * b + k].at);
  }
  void move(const Rigid& X) {
    for (MeasuredPoint& point : file.points) point.at = X(point.at);
  }
  template <class Change>
  void write(Change change) {  // another thing into the columns of the file
    for (MeasuredPoint& point : file.points) {
      if (file.site_axes)
        point.at = from_site(brief.site, change(to_site(brief.site, point.at)));
      else
        point.at = change(point.at);
    }
  }
  [[nodiscard]] Faults faults() const {
    const Result<FootingsFound> found = find_footings(brief, &file, drawn);
    return found.ok() ? Faults{} : found.faults();
  }
  [[nodiscard]] std::string found() const {
    const Faults all = faults();
    return all.empty() ? "" : all.front().found;
  }
};
const Rigid kFar{Eigen::AngleAxisd(0.7, Vec3::UnitZ()).toRotationMatrix(), {120, -35, 8}};

Site tripod() { return Site(sample::tripod_brief(4, 1.5)); }
/// Two springings that half a turn brings onto each other.
Site barrel() {
  Site out(sample::barrel_brief(8, 2));
  out.level();
  return out;
}

TEST(MixUp, NoneOfSoundMarks) {
  for (Site site : {tripod(), barrel()}) {
    EXPECT_EQ(site.found(), "");
    site.file.site_axes = false;  // on the grid they would be refused
    site.move(kFar);
    EXPECT_EQ(site.found(), "");
  }
}

// Half a turn and a shift explain two swapped supports as well: on the site's grid there is
// neither.
TEST(MixUp, TwoSupportsSwapped) {
  for (Site site : {tripod(), barrel()}) {
    for (const bool of_site : {true, false}) {
      site.file.site_axes = of_site;
      site.swap(0, 1);
      const Faults faults = site.faults();
      ASSERT_EQ(faults.size(), 2U) << site.found();
      const auto& supports = site.brief.plan.supports;
      EXPECT_TRUE(holds(faults[0].found, "the names of the supports " + supports[0].id + " and " +
                                             supports[1].id + " look swapped"))
          << faults[0].found;
      EXPECT_EQ(faults[0].key, "survey: support " + supports[0].id);
      EXPECT_EQ(faults[0].file, "points.csv");
      EXPECT_EQ(faults[0].line, 2);
      EXPECT_EQ(faults[1].key, "survey: support " + supports[1].id);
      EXPECT_EQ(faults[1].line, 5);
      EXPECT_EQ(holds(faults[0].change, "axes are turned"), supports.size() == 2)
          << faults[0].change;
      site.swap(0, 1);
    }
  }
}

TEST(MixUp, ThreeNamesPassedRound) {
  Site site = tripod();
  site.swap(0, 1);
  site.swap(1, 2);  // a at b's place, b at c's, c at a's
  const Faults faults = site.faults();
  EXPECT_EQ(faults.size(), 3U);
  EXPECT_TRUE(holds(site.found(),
                    "what is named a lies at b, what is named b lies at c, what is named c lies "
                    "at a"))
      << site.found();
}

TEST(MixUp, TwoSupportsSwappedOnAxesOfItsOwn) {
  Site site = tripod();
  site.swap(1, 2);
  site.move(kFar);
  EXPECT_TRUE(holds(site.found(), "supports b and c look swapped")) << site.found();
}

TEST(MixUp, MirroredAxesByTheirNames) {
  const auto exchanged = [](const Vec3& p) { return Vec3(p.y(), p.x(), p.z()); };
  const auto no_x = [](const Vec3& p) { return Vec3(-p.x(), p.y(), p.z()); };
  const auto no_y = [](const Vec3& p) { return Vec3(p.x(), -p.y(), p.z()); };
  const auto no_z = [](const Vec3& p) { return Vec3(p.x(), p.y(), -p.z()); };
  const auto said = [](bool of_site, auto change) {
    Site site = tripod();
    site.file.site_axes = of_site;
    site.write(change);
    const Faults faults = site.faults();
    EXPECT_EQ(faults.size(), 1U);
    if (faults.empty()) return std::string();
    EXPECT_EQ(faults[0].file, "points.csv");
    EXPECT_EQ(faults[0].line, 2);
    EXPECT_FALSE(holds(faults[0].found, "upside down"));
    return faults[0].found;
  };
  const std::string mirrored = "the points are mirrored: ";
  EXPECT_EQ(said(true, exchanged), mirrored + "east and north look exchanged");
  EXPECT_EQ(said(true, no_x), mirrored + "east looks negated");
  EXPECT_EQ(said(true, no_y), mirrored + "north looks negated");
  EXPECT_EQ(said(true, no_z), mirrored + "level looks negated");
  EXPECT_EQ(said(false, exchanged), mirrored + "x and y look exchanged");
  EXPECT_EQ(said(false, no_x), mirrored + "x looks negated");
  EXPECT_EQ(said(false, no_y), mirrored + "y looks negated");
  EXPECT_EQ(said(false, no_z), mirrored + "z looks negated");
}

// Which axis cannot be told where all axes are unknown.
TEST(MixUp, MirroredOnAxesOfItsOwn) {
  for (const bool in_level : {false, true}) {
    Site site = tripod();
    site.move(kFar);
    site.write([&](const Vec3& p) {
      return in_level ? Vec3(p.x(), p.y(), -p.z()) : Vec3(p.y(), p.x(), p.z());
    });
    EXPECT_TRUE(holds(site.found(), "mirrored")) << site.found();
    EXPECT_EQ(holds(site.found(), "the level (z) looks negated"), in_level) << site.found();
  }
}

// Marks of one height fit a mirror when turned over.
TEST(MixUp, MirroredInOnePlane) {
  Site site = tripod();
  site.level();
  site.write([](const Vec3& p) { return Vec3(p.y(), p.x(), p.z()); });
  EXPECT_EQ(site.found(), "the points are mirrored: east and north look exchanged");
}

TEST(MixUp, OneMarkOnly) {
  Site site = tripod();
  site.file.points.resize(1);
  const Faults faults = site.faults();
  ASSERT_EQ(faults.size(), 3U);
  EXPECT_EQ(faults[0].found, "1 mark: fewer than three points leave a turn undetermined");
  EXPECT_EQ(faults[0].line, 2);
  EXPECT_EQ(faults[1].found, "0 marks: no points");
  EXPECT_EQ(faults[1].file, "points.csv");
}

TEST(MixUp, FeetReadAsMetres) {
  Site site = tripod();
  for (std::size_t i = 0; i < site.drawn.size(); ++i)
    site.file.points[i].at = site.drawn[i].designed;
  site.write([](const Vec3& p) { return Vec3(p / 0.3048); });
  EXPECT_TRUE(holds(site.found(), "measured in feet and read as metres")) << site.found();
}

TEST(MixUp, OneMarkOfThreeIsNamedWithItsRow) {
  Site site = tripod();
  site.file.points[4].at.y() += 0.3;
  const Faults faults = site.faults();
  ASSERT_FALSE(faults.empty());
  EXPECT_EQ(faults[0].file, "points.csv");
  EXPECT_TRUE(faults[0].line >= 5 && faults[0].line <= 7) << faults[0].line;
}

// Rows of the brief itself: the line of their table.
TEST(MixUp, RowsOfTheBrief) {
  Site site = tripod();
  site.swap(0, 1);
  site.brief.file = "brief.toml";
  site.brief.text = "[bridge]\n";
  for (const MeasuredPoint& point : site.file.points) {
    const std::size_t blank = point.mark.find(' ');
    site.brief.survey->points.push_back(
        {point.mark.substr(0, blank), point.mark.substr(blank + 1), point.at});
    site.brief.text += "\n[[survey.point]]\nsupport = \"\"\n";
  }
  const Result<FootingsFound> found = find_footings(site.brief, nullptr, site.drawn);
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.faults()[1].file, "brief.toml");
  EXPECT_EQ(found.faults()[1].line, 3 + 3 * 3);
}

// Within one footing and from one footing to another, on the axes of the drawing and on others.
TEST(MixUp, TwoMarksAreNamedWithTheirLine) {
  for (const bool far : {false, true}) {
    for (const auto& [a, b] : {std::pair(3, 4), std::pair(0, 6), std::pair(2, 5)}) {
      Site site = tripod();
      std::swap(site.file.points[static_cast<std::size_t>(a)].at,
                site.file.points[static_cast<std::size_t>(b)].at);
      if (far) site.move(kFar);
      const Faults faults = site.faults();
      ASSERT_EQ(faults.size(), 1u) << a << " " << b;
      EXPECT_EQ(faults[0].found, "marks " + site.drawn[static_cast<std::size_t>(a)].name + " and " +
                                     site.drawn[static_cast<std::size_t>(b)].name +
                                     " look swapped");
      EXPECT_EQ(faults[0].line, a + 2);
    }
  }
}

}  // namespace
}  // namespace skewback
