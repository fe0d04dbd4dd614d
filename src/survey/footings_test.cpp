#include "survey/footings.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "base/constants.hpp"
#include "brief/sample_barrel.hpp"

namespace skewback {
namespace {

struct Site {
  Brief brief = sample::tripod_brief(4, 1.5);
  std::vector<Mark> drawn = springing_marks(brief);
  PointFile file;
  Site() {
    brief.survey.emplace();
    for (const Mark& mark : drawn) file.points.push_back({mark.name, mark.designed, 0, 1});
  }
  void move(const std::string& support, const Rigid& X) {
    for (std::size_t i = 0; i < drawn.size(); ++i)
      if (support.empty() || drawn[i].of == support) file.points[i].at = X(file.points[i].at);
  }
  [[nodiscard]] FootingsFound find() const {
    const Result<FootingsFound> found = find_footings(brief, &file, drawn);
    EXPECT_TRUE(found.ok()) << (found.ok() ? "" : describe(found.faults()[0]));
    return found.ok() ? *found : FootingsFound{};
  }
};
Rigid shift(const Vec3& by) { return {Mat3::Identity(), by}; }

// Least squares brings the middle of points of one weight onto the middle of those measured: one
// footing of three 12 mm low, 9 mm out, counts with a third of that, and none of it is thrown out.
TEST(FindFootings, WholeFitSharesTheErrorOfOneFooting) {
  Site site;
  site.move("a", shift({0.009, 0, -0.012}));
  const FootingsFound found = site.find();
  Vec3 middle = Vec3::Zero();
  for (const Mark& mark : site.drawn) middle += mark.designed / 9;
  EXPECT_LT((found.whole.X(middle) - middle - Vec3(0.003, 0, -0.004)).norm(), 1e-12);
  EXPECT_TRUE(found.whole.outliers.empty());
  EXPECT_LT((found.footings[0].X(middle) - middle - Vec3(0.009, 0, -0.012)).norm(), 1e-9);
  EXPECT_LT((found.footings[1].X(middle) - middle).norm(), 1e-9);
}

// The back of one footing measured a metre further out: that mark is named, with its line, and not
// all three.
TEST(FindFootings, OneMarkFarOffIsNamedByTheDistances) {
  Site site;
  for (std::size_t i = 0; i < site.file.points.size(); ++i)
    site.file.points[i].line = static_cast<int>(i) + 2;
  const std::size_t right = 0, left = 1, back = 2;
  ASSERT_EQ(site.drawn[back].name, "a back");
  const auto at = [&](std::size_t i) { return site.drawn[i].designed; };
  site.file.points[back].at += (at(back) - (at(right) + at(left)) / 2).normalized();
  const Result<FootingsFound> found = find_footings(site.brief, &site.file, site.drawn);
  ASSERT_FALSE(found.ok());
  const Fault& fault = found.faults()[0];
  EXPECT_EQ(fault.line, 4);
  EXPECT_NE(fault.found.find("a back looks off, by the distances: from it to a right and a left "
                             "both are wrong, between those two it is right"),
            std::string::npos)
      << fault.found;
}

// One mark of three is 20 mm off. With the usual 2 mm that is doubtful; a survey ten times as
// coarse, or a gate ten times as wide, does not doubt it.
TEST(FindFootings, DoubtsByTheAccuracyAndGateThatAreStated) {
  Site site;
  site.file.points[0].at.x() += 0.020;
  EXPECT_FALSE(site.find().doubtful.empty());
  EXPECT_FALSE(site.find().unfit.empty());  // all three are used
  Site by_point = site, by_brief = site, by_gate = site;
  for (MeasuredPoint& point : by_point.file.points) point.accuracy_m = 0.020;
  EXPECT_TRUE(by_point.find().doubtful.empty());
  EXPECT_TRUE(by_point.find().unfit.empty());
  by_brief.brief.survey->accuracy_m = 0.020;
  EXPECT_TRUE(by_brief.find().doubtful.empty());
  by_gate.brief.survey->gate = 30;
  EXPECT_TRUE(by_gate.find().doubtful.empty());
}

// The same marks written in the brief itself.
TEST(FindFootings, MarksOfTheBriefHaveItsAccuracy) {
  Site site;
  site.file.points[0].at.x() += 0.020;
  for (std::size_t i = 0; i < site.drawn.size(); ++i) {
    const Mark& mark = site.drawn[i];
    site.brief.survey->points.push_back(
        {mark.of, mark.name.substr(mark.of.size() + 1), site.file.points[i].at});
  }
  EXPECT_FALSE(find_footings(site.brief, nullptr, site.drawn)->doubtful.empty());
  site.brief.survey->accuracy_m = 0.020;
  EXPECT_TRUE(find_footings(site.brief, nullptr, site.drawn)->doubtful.empty());
}

// A survey in its own coordinates is turned about the vertical only: a low footing stays as low,
// and none is tilted.
TEST(FindFootings, AnotherDatumStaysPlumb) {
  Site site;
  site.move("a", shift({0, 0, -0.012}));
  const Rigid far{Eigen::AngleAxisd(0.7, Vec3::UnitZ()).toRotationMatrix(), {120, -35, 8}};
  site.move("", far);
  const FootingsFound found = site.find();
  EXPECT_NEAR(found.datum.R(2, 2), 1, 1e-15);
  const Vec3 p(1, 2, 3);
  EXPECT_NEAR(found.footings[0].X(p).z() - found.footings[1].X(p).z(), -0.012, 1e-9);
  for (const RigidFit& fit : found.footings) EXPECT_NEAR(fit.X.R(2, 2), 1, 1e-12);
}

// One footing far off is that footing's error: no axes of the survey's own, whether or not its
// points are on a grid. By hand: the others stay where they are.
TEST(FindFootings, OneFootingFarOffMovesNoAxes) {
  for (const double low : {-0.085, -0.099, -0.120, -0.240}) {
    Site site;
    site.move("a", shift({0, 0, low}));
    const FootingsFound found = site.find();
    EXPECT_TRUE(found.datum.t.isZero(0) && found.datum.R.isIdentity(0)) << low;
    const Vec3 p(1, 2, 3);
    EXPECT_NEAR(found.footings[0].X(p).z(), 3 + low, 1e-9);
    EXPECT_NEAR(found.footings[1].X(p).z(), 3, 1e-9);
  }
}

// On the grid that the brief states, a wrong benchmark is refused or told, never taken out.
TEST(FindFootings, PointsOnTheGridStayOnIt) {
  Site site;
  site.brief.site = {{1200, 800, 52.5}, 0.5, "2027-02-20"};
  site.file.site_axes = true;
  Site metre = site;
  metre.move("", shift({0, 0, -1}));
  const Result<FootingsFound> refused = find_footings(metre.brief, &metre.file, metre.drawn);
  ASSERT_FALSE(refused.ok());
  ASSERT_EQ(refused.faults().size(), 1u);
  EXPECT_EQ(refused.faults()[0].found,
            "all footings lie off their places alike: shifted by 0.000, 0.000, -1.000 m (x, y, z) "
            "and turned by 0.000 degrees");
  EXPECT_NE(refused.faults()[0].change.find("benchmark"), std::string::npos);

  Site less = site;
  less.move("", shift({0, 0, -0.12}));
  const FootingsFound found = less.find();
  EXPECT_NEAR(found.footings[0].X(Vec3::Zero()).z(), -0.12, 1e-9);
  ASSERT_EQ(found.doubtful.size(), 1u);
  EXPECT_NE(found.doubtful[0].find("every footing is 120 mm or more too low"), std::string::npos);
  EXPECT_TRUE(found.unfit.empty());

  Site one = site;  // alike is all of them
  one.move("a", shift({0, 0, -0.12}));
  EXPECT_TRUE(one.find().doubtful.empty());

  Site own = metre;  // no grid to be on: axes of its own, as before
  own.brief.site = {};
  EXPECT_NEAR(own.find().datum.t.z(), -1, 1e-12);
}

// A back mark 25 mm high, by hand: atan(25 mm over the footing's width) of tilt that three marks
// cannot tell from one wrong level.
TEST(FindFootings, AGreatTiltIsNotBelieved) {
  Site site;
  const double width = site.brief.ground.footing_width_m;
  for (std::size_t i = 0; i < site.drawn.size(); ++i)
    if (site.drawn[i].name == "a back") site.file.points[i].at.z() += 0.025;
  const FootingsFound found = site.find();
  ASSERT_EQ(found.unfit.size(), 1u);
  char tilt[64];
  std::snprintf(tilt, sizeof tilt, "footing a would be tilted by %.2f degrees",
                std::atan(0.025 / width) * 180 / kPi);
  EXPECT_NE(found.unfit[0].find(tilt), std::string::npos) << found.unfit[0];
  EXPECT_EQ(found.doubtful, found.unfit);
  site.brief.tolerances.footing_tilt_rad = 0.025 / width;  // looked at, and so it is
  EXPECT_TRUE(site.find().unfit.empty());
}

// A tilt of all would explain it; heights are plumb, so it is two footings far out.
TEST(FindFootings, NoFootingIsCastHalfAMetreOff) {
  Site site;
  site.move("a", shift({0, 0, 0.5}));
  site.move("b", shift({0, 0, -0.5}));
  const Result<FootingsFound> found = find_footings(site.brief, &site.file, site.drawn);
  ASSERT_FALSE(found.ok());
  ASSERT_EQ(found.faults().size(), 2u);
  EXPECT_EQ(found.faults()[0].key, "survey: support a");
  EXPECT_EQ(found.faults()[0].found, "the footing lies 0 mm off in plan and 500 mm high");
  EXPECT_EQ(found.faults()[1].found, "the footing lies 0 mm off in plan and 500 mm low");
  EXPECT_EQ(found.faults()[0].line, 1);

  Site less;  // badly cast, and what the tool is for
  less.move("a", shift({0.1, 0, 0.1}));
  EXPECT_TRUE(find_footings(less.brief, &less.file, less.drawn).ok());
}

}  // namespace
}  // namespace skewback
