#include "survey/remedies.hpp"

#include <gtest/gtest.h>

#include "survey/sample_pillar.hpp"
#include "survey/sample_remedies.hpp"

namespace skewback {
namespace {

struct Row {
  sample::StraightRow row = sample::straight_row(5);
  StackModel model{row.assembly};
  FootingsFound found = sample::two_footings(row);
  [[nodiscard]] std::vector<Remedy> tried() const { return sample::tried_on(row, model, found); }
};

// Footings are where they are, whichever axes the blocks are laid from.
TEST(Remedies, FootingsStayWhereTheyAreAboutAnyAxes) {
  Row r;
  const auto turned = [](double angle, const Vec3& by) {
    return Rigid{Eigen::AngleAxisd(angle, Vec3::UnitZ()).toRotationMatrix(), by};
  };
  r.found.footings[0].X = turned(0.002, {0.004, -0.003, 0.006});
  r.found.footings[1].X = turned(0.003, {0.006, -0.004, 0.010});
  r.found.whole.X = turned(0.0025, {0.005, -0.0035, 0.008});
  const std::vector<Remedy> remedies = r.tried();
  ASSERT_GE(remedies.size(), 3u);
  for (const Remedy& remedy : remedies) {
    for (std::size_t s = 0; s < 2; ++s) {
      const Vec3 p(1, 2, 3);
      EXPECT_LT((remedy.axes(remedy.made.supports[s](p)) - r.found.footings[s].X(p)).norm(), 1e-12)
          << remedy.trial.name;
    }
  }
  EXPECT_TRUE(remedies[0].axes.R.isIdentity(0));
  EXPECT_TRUE(remedies[0].axes.t.isZero(0));
  // in plan and level: the middle of the marks goes where all of them together put it
  Vec3 middle = Vec3::Zero();
  for (const Mark& mark : r.found.marks) middle += mark.designed / 6;
  EXPECT_TRUE(remedies[1].axes.R.isIdentity(0));
  EXPECT_LT((remedies[1].axes(middle) - r.found.whole.X(middle)).norm(), 1e-12);
}

TEST(Remedies, SpringersAreMadeAnewOnlyWhereNothingElseGoesIn) {
  Row r;
  r.found.footings[1].X.t.x() = 0.010;
  r.found.whole.X.t.x() = 0.005;
  for (const Remedy& remedy : r.tried()) EXPECT_FALSE(remedy.springers);
  r.found.footings[1].X.t.x() = -0.010;  // six joints give 3 mm
  bool any = false;
  for (const Remedy& remedy : r.tried()) {
    any = any || remedy.springers;
    EXPECT_TRUE(remedy.springers || !remedy.trial.goes_in) << remedy.trial.name;
  }
  EXPECT_TRUE(any);
}

/// A block on one footing and one pad, carried by a rib on two feet.
struct Carried {
  Assembly assembly = sample::pillar(0.008);
  StackModel model{assembly};
  Brief brief;
  Centring centring;
  FootingsFound found;
  PointFile points;
  std::vector<double> closing;
  Carried() {
    brief.plan.supports = {{"ground", {0.5, 0}, {-0.5, 0}, 0}};
    found.marks = springing_marks(brief);
    found.footings.resize(1);
    Rib rib;
    rib.id = "R1";
    rib.place = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
    rib.feet = {-1, 1};
    centring.ribs.push_back(rib);
    for (int f = 0; f < 2; ++f) {
      const double x = rib.feet[static_cast<std::size_t>(f)];
      CentringFoot foot;
      foot.id = "R1-" + std::to_string(f + 1);
      foot.rib = "R1";
      foot.at = {x, 0, 0};
      foot.head = {x, 0, 0.7};
      foot.down_m = foot.up_m = 0.04;
      centring.feet.push_back(foot);
      Seat seat;
      seat.prop = {1, {x / 2, 0, 1}, Vec3::UnitZ(), 0.3};
      seat.rib = "R1";
      seat.along_m = x / 2;
      centring.seats.push_back(seat);
    }
  }
  [[nodiscard]] std::vector<Remedy> tried() const {
    RefitInput in;
    in.brief = &brief;
    in.assembly = &assembly;
    in.centring = &centring;
    in.closing_m = closing;
    if (!points.points.empty()) in.points = &points;
    return try_remedies(in, model, found, as_drawn(assembly, 1));
  }
};

// By hand: the footing 10 mm high, and a pad that will give 0.5 mm when the dead load comes on: the
// timber is to carry the block 10.5 mm higher than drawn, whichever axes are built on.
TEST(Remedies, FeetCarryTheBlocksAsTheyAreLaid) {
  Carried c;
  c.found.footings[0].X.t.z() = c.found.whole.X.t.z() = 0.010;
  c.closing = {0.0005};
  const std::vector<Remedy> remedies = c.tried();
  ASSERT_EQ(remedies.size(), 2u);
  for (const Remedy& remedy : remedies) {
    ASSERT_TRUE(remedy.feet.has_value());
    for (const FootSetting& foot : remedy.feet->feet)
      EXPECT_NEAR(foot.raise_m, 0.0105, 1e-9) << remedy.trial.name;
  }
}

// By hand: feet that stand 6 mm low want 6 mm more, in whatever coordinates they were measured.
TEST(Remedies, FeetMeasuredInCoordinatesOfTheirOwn) {
  Carried c;
  c.found.datum = {Eigen::AngleAxisd(0.7, Vec3::UnitZ()).toRotationMatrix(), {120, -35, 8}};
  for (const Mark& mark : setting_out(Brief{}, c.assembly, &c.centring)) {
    if (mark.kind != MarkKind::kFoot) continue;
    c.points.points.push_back({mark.name, c.found.datum(mark.designed - Vec3(0, 0, 0.006)), 0, 1});
  }
  const std::vector<Remedy> remedies = c.tried();
  for (const FootSetting& foot : remedies.at(0).feet->feet) {
    EXPECT_NEAR(foot.by_wedge_m, 0.006, 1e-9);
    EXPECT_EQ(foot.pack_m, 0);
  }
  EXPECT_TRUE(remedies[0].feet->remarks.empty()) << remedies[0].feet->remarks[0];
}

Remedy trial(bool goes_in, double packers_m) {
  Remedy out;
  out.trial.goes_in = goes_in;
  out.trial.packers_m = packers_m;
  return out;
}

TEST(Choose, TheFirstThatGoesInUnlessAnotherHalvesThePackers) {
  EXPECT_EQ(choose({trial(true, 0.010), trial(true, 0.006)}, {}), 0u);
  EXPECT_EQ(choose({trial(true, 0.010), trial(true, 0.004)}, {}), 1u);
  EXPECT_EQ(choose({trial(true, 0.010), trial(false, 0.001)}, {}), 0u);
  EXPECT_EQ(choose({trial(false, 0), trial(true, 0.020), trial(true, 0.015)}, {}), 1u);
}

// Limits as usual: squeeze 0.5 mm, packers 25 mm, steps 3 mm.
TEST(Choose, WhereNoneGoesInTheNearest) {
  const auto lies_so = [](double gap_m, double step_m) {
    Remedy out = trial(false, 0);
    JointLie lie;
    lie.gap_m.fill(gap_m);
    lie.step_m.fill(step_m);
    out.packed.joints = {JointLie{}, lie};
    return out;
  };
  EXPECT_EQ(choose({lies_so(-0.004, 0), lies_so(-0.002, 0)}, {}), 1u);
  EXPECT_EQ(choose({lies_so(0.027, 0), lies_so(-0.004, 0)}, {}), 0u);  // by 2 and by 3.5 mm
  EXPECT_EQ(choose({lies_so(0, 0.008), lies_so(0.027, 0)}, {}), 1u);
}

// By hand: 2.5 mm too far apart, six joints take that within half a millimetre each, so that
// nothing is packed; sheets of 0.2 mm fill all but 0.1 mm of each.
TEST(Remedies, EveryGapIsFilledOnlyWhereLessIsNotShownToStand) {
  sample::StraightRow row = sample::straight_row(5, 0.008);
  row.brief.packing = sample::half_mm();
  row.brief.packing.stock_m = {0.0002, 0.0005, 0.001, 0.002, 0.005};
  const StackModel model(row.assembly);
  FootingsFound found = sample::two_footings(row);
  found.footings[1].X.t.x() = 0.0025;
  const std::vector<Remedy> remedies = sample::tried_on(row, model, found);
  const std::size_t chosen = choose(remedies, row.brief.packing);
  EXPECT_TRUE(remedies[chosen].packed.packers.empty());
  const std::vector<std::size_t> others = instead(remedies, chosen);
  ASSERT_EQ(others.size(), 1u);
  const Remedy& filled = remedies[others[0]];
  EXPECT_TRUE(filled.filled);
  EXPECT_FALSE(filled.packed.packers.empty());
  double whole = 0;  // along one edge: packers and what is left at each joint
  for (std::size_t j = 0; j < row.assembly.joints.size(); ++j) {
    double packed = 0;
    for (const Packer& p : filled.packed.packers)
      if (p.joint == static_cast<int>(j)) packed = std::max(packed, p.thickness_m());
    whole += packed;
  }
  EXPECT_GT(whole, 0.0025 - 6 * 0.0001 - 1e-9);
  EXPECT_LT(whole, 0.0025 + 1e-9);
}

}  // namespace
}  // namespace skewback
