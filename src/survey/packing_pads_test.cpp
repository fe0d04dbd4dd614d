#include "survey/packing_pads.hpp"

#include <gtest/gtest.h>

#include "survey/poses.hpp"
#include "survey/remedies.hpp"
#include "survey/sample_give.hpp"
#include "survey/sample_remedies.hpp"

namespace skewback {
namespace {

constexpr double kPad = 0.008, kShear = 0.9e6;

/// Of a square of side a: S = a / 4 t, 1 / E = 1 / (3 G (1 + 2 S^2)) + 1 / 2000 MPa (Gent and
/// Lindley 1959; EN 1337-3 5.3.3.7, from memory).
Pad square_pad(double a, double t) {
  const double S = a / (4 * t);
  return {t, 1 / (1 / (3 * kShear * (1 + 2 * S * S)) + 1 / 2000e6) / t, kShear / t};
}

/// Five blocks and six joints in a row; half a millimetre of slack and of squeeze in each.
struct Row {
  sample::StraightRow row = sample::straight_row(5, kPad);
  FootingsFound found;
  std::optional<StackModel> model;
  Row() {
    row.brief.packing = sample::half_mm();
    for (Joint& joint : row.assembly.joints) joint.pad = square_pad(row.width, kPad);
    model.emplace(row.assembly);
    found = sample::two_footings(row);
  }
  [[nodiscard]] std::vector<Remedy> tried() const { return sample::tried_on(row, *model, found); }
  [[nodiscard]] std::vector<OtherPad> chosen() const {
    AsMade made = as_drawn(row.assembly, 2);
    made.supports[1] = found.footings[1].X;
    return choose_pads(*model, made, row.brief.packing);
  }
};

const Remedy* with_pads_among(const std::vector<Remedy>& remedies) {
  const auto it = std::ranges::find_if(remedies, &Remedy::pads);
  return it == remedies.end() ? nullptr : &*it;
}

// By hand: 6 mm too far apart, six joints take 3 mm of that as slack; a sheet of 3 mm on one pad is
// the rest.
TEST(OtherPads, OneSheetForAParallelGap) {
  Row r;
  r.found.footings[1].X.t.x() = r.found.whole.X.t.x() = 0.006;
  const std::vector<OtherPad> pads = r.chosen();
  ASSERT_EQ(pads.size(), 1u);
  EXPECT_EQ(pads[0].from_stock, std::vector<double>{0.003});

  const std::vector<Remedy> remedies = r.tried();
  const Remedy* remedy = with_pads_among(remedies);
  ASSERT_NE(remedy, nullptr);
  EXPECT_EQ(remedy->trial.name, "other pads, then packers");
  EXPECT_TRUE(remedy->trial.goes_in) << remedy->trial.reason;
  EXPECT_EQ(remedy->trial.other_pads, 1);
  EXPECT_EQ(remedy->trial.packers, 0);
  EXPECT_GT(remedies.front().trial.packers, 0);

  // all of the bed bears, on a pad of 11 mm; packers alone leave it on their plates
  const auto joint = static_cast<std::size_t>(pads[0].joint);
  const Assembly on_sheet = rebuilt(
      *r.model,
      {&remedy->as_laid, remedy->packed.moves, {}, remedy->packed.packers, remedy->packed.pads},
      r.row.brief.packing);
  const Pad want = square_pad(r.row.width, kPad + 0.003);
  const Joint& now = on_sheet.joints[joint];
  EXPECT_NEAR(now.pad->thickness_m, want.thickness_m, 1e-12);
  EXPECT_NEAR(now.pad->kn, want.kn, 1e-6 * want.kn);  // contacts are set in by 3e-8 m
  EXPECT_NEAR(now.pad->ks, want.ks, 1e-9 * want.ks);
  EXPECT_NEAR(area(now.contact), 0.3 * 0.3, 1e-6);
}

// By hand: 6 mm too near, six joints give 3 mm of that as squeeze; 5 mm in place of one pad of 8
// are the rest.
TEST(OtherPads, AThinnerOneWhereItIsTooTight) {
  Row r;
  r.found.footings[1].X.t.x() = r.found.whole.X.t.x() = -0.006;
  const std::vector<OtherPad> pads = r.chosen();
  ASSERT_EQ(pads.size(), 1u);
  EXPECT_EQ(pads[0].from_stock, std::vector<double>{0.005});
  EXPECT_EQ(pads[0].in_place_of_m, kPad);
  EXPECT_NEAR(pads[0].by_m(), -0.003, 1e-12);

  const std::vector<Remedy> remedies = r.tried();
  EXPECT_FALSE(remedies.front().trial.goes_in);  // packers alone
  const Remedy* remedy = with_pads_among(remedies);
  ASSERT_NE(remedy, nullptr);
  EXPECT_TRUE(remedy->trial.goes_in) << remedy->trial.reason;
  EXPECT_EQ(remedy->trial.packers, 0);
  EXPECT_EQ(choose(remedies, r.row.brief.packing),
            static_cast<std::size_t>(remedy - remedies.data()));
  const Assembly built = rebuilt(
      *r.model,
      {&remedy->as_laid, remedy->packed.moves, {}, remedy->packed.packers, remedy->packed.pads},
      r.row.brief.packing);
  const Pad want = square_pad(r.row.width, 0.005);
  const Joint& now = built.joints[static_cast<std::size_t>(pads[0].joint)];
  EXPECT_NEAR(now.pad->thickness_m, want.thickness_m, 1e-12);
  EXPECT_NEAR(now.pad->kn, want.kn, 1e-6 * want.kn);
}

// By hand: open from nothing to 4 mm across the bed, nothing given away. Any sheet is too thick on
// one side.
TEST(OtherPads, NoneForAWedge) {
  Row r;
  r.row.brief.packing.slack_m = r.row.brief.packing.squeeze_m = 1e-5;
  const double end = r.row.brief.plan.supports[1].a.x(), turn = 0.004 / r.row.width;
  Rigid& X = r.found.footings[1].X;
  X.R = Eigen::AngleAxisd(turn, Vec3::UnitZ()).toRotationMatrix();
  const Vec3 about(end, 0, 0);
  X.t = about - X.R * about + Vec3(0.002, 0, 0);
  EXPECT_TRUE(r.chosen().empty());
  EXPECT_EQ(with_pads_among(r.tried()), nullptr);
}

TEST(OtherPads, NoneWhereAllCloses) {
  Row r;
  r.found.footings[1].X.t.x() = 0.0025;  // of the 3 mm
  EXPECT_TRUE(r.chosen().empty());
}

// Under one load a pad of the same stuff closes by load over stiffness: 3 mm more of a square.
TEST(OtherPads, GiveMore) {
  const Row r;
  const double more = square_pad(r.row.width, kPad).kn / square_pad(r.row.width, kPad + 0.003).kn;
  const std::vector<double> closing =
      closing_with(*r.model, {1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4}, {{2, {0.003}}});
  EXPECT_NEAR(closing[2], 1e-4 * more, 1e-9);
  EXPECT_EQ(closing[1], 1e-4);
  EXPECT_TRUE(closing_with(*r.model, {}, {{2, {0.003}}}).empty());
}

// packing.most is of all in one place.
TEST(OtherPads, CountWithThePackersOnThem) {
  const Row r;
  Packed packed;
  packed.pads = {{2, {0.010}}};
  packed.packers = {{1, false, 0, 0.02, {0.010, 0.010}}, {2, false, 0, 0.015, {0.010, 0.005}}};
  EXPECT_EQ(too_thick(*r.model, r.row.brief.packing, packed), "");  // 25 mm
  packed.packers[1].from_stock.push_back(0.001);
  EXPECT_NE(too_thick(*r.model, r.row.brief.packing, packed).find("26.0 mm, over 25.0 mm"),
            std::string::npos)
      << too_thick(*r.model, r.row.brief.packing, packed);
}

// In order of ease: packers alone where they go in; the pads before the thinnest packers where
// these are then not shown to stand.
TEST(OtherPads, ComeAfterPackersAloneAndBeforeTheThinnest) {
  Row r;
  r.found.footings[1].X.t.x() = r.found.whole.X.t.x() = 0.006;
  const std::vector<Remedy> remedies = r.tried();
  const std::size_t chosen = choose(remedies, r.row.brief.packing);
  EXPECT_EQ(remedies[chosen].trial.name, "packers alone");
  const std::vector<std::size_t> others = instead(remedies, chosen);
  ASSERT_FALSE(others.empty());
  EXPECT_TRUE(remedies[others.front()].pads);
}

}  // namespace
}  // namespace skewback
