// What lies between the legs of a centring, on three ribs worked by hand.

#include "centring/leg_packings.hpp"

#include <gtest/gtest.h>

#include "base/constants.hpp"
#include "centring/fixings.hpp"

namespace skewback {
namespace {

constexpr double kOff = 0.0577;  // m, from the end of a rib to the plane of the one it stops at

Rib rib(const std::string& id, const Vec3& from, double turn_deg, double length) {
  const double turn = turn_deg * kPi / 180;
  Rib out;
  out.id = id;
  const Vec3 way(std::cos(turn), std::sin(turn), 0);
  out.place = {from, way, Vec3::UnitZ(), way.cross(Vec3::UnitZ())};
  out.top = {{0, 0}, {length, 0}};
  out.bottom = {{0, -0.3}, {length, -0.3}};
  return out;
}

/// R1 from the east along y = 0 and on past the middle; R2 from the south-west and R3 from the
/// north-west stop 57.7 mm from its plane. Seats push each leg inwards by 1 kN.
struct Star {
  Brief brief;
  Centring centring;
  SeatCase seats;
  Star() {
    centring.ribs = {rib("R1", {3, 0, 0}, 180, 3.5)};
    for (const int side : {-1, 1}) {
      const double turn = side * 60 * kPi / 180;
      const Vec3 in(std::cos(turn), std::sin(-turn), 0);  // towards the middle
      const Vec3 end(0, side * kOff, 0);
      centring.ribs.push_back(rib(side < 0 ? "R2" : "R3", end - 2 * in, side < 0 ? 60 : -60, 2));
    }
    seats.stage = "place a1";
    seats.design = true;
    const Vec3 pushes[] = {
        {-1000, 0, -5000}, {500, 500 * std::sqrt(3.0), -5000}, {500, -500 * std::sqrt(3.0), -5000}};
    for (std::size_t r = 0; r < 3; ++r) {
      Seat seat;
      seat.rib = centring.ribs[r].id;
      seat.along_m = 1;
      seat.prop.direction = Vec3::UnitZ();
      centring.seats.push_back(seat);
      seats.force.push_back(pushes[r]);
    }
  }
  Sway sway() const { return check_sway(brief, centring, {seats}); }
};

// The pushes add up to nothing: each leg leans on the other two with its own 1 kN. Along R2, at 60
// degrees to R1, with sheets of 17.7 mm: (57.7 - 8.85 -+ 8.85 cos 60) / sin 60 = 51.30 and 61.52
// mm. Across the grain 0.8 x 2.5 / 1.2 = 1.667 MPa on 17.7 mm: 29.5 kN a metre of height; 1 kN asks
// for 34 mm, so the least, 100 mm, is used to 1000 / 2950 = 0.339.
TEST(LegPackings, AtTheEndsOfRibsThatStopShort) {
  Star star;
  const Sway sway = star.sway();
  ASSERT_EQ(sway.leg_pushes.size(), 3U);
  for (const LegPush& leg : sway.leg_pushes) EXPECT_NEAR(leg.n, 1000, 1e-6);
  Judged judged;
  std::vector<std::string> remarks;
  const auto packings = pack_legs(star.brief, star.centring, sway.leg_pushes, judged, remarks);
  ASSERT_EQ(packings.size(), 2U);
  EXPECT_EQ(packings[0].rib, "R2");
  EXPECT_EQ(packings[1].rib, "R3");
  for (const LegPacking& packing : packings) {
    EXPECT_EQ(packing.other, "R1");
    EXPECT_EQ(packing.stage, "place a1");
    EXPECT_NEAR(packing.force_n, 1000, 1e-6);
    EXPECT_NEAR(packing.short_m, 0.05130, 1e-5);
    EXPECT_NEAR(packing.long_m, 0.06152, 1e-5);
    EXPECT_NEAR(packing.height_m, 0.1, 1e-12);
    EXPECT_NEAR(packing.room_m, 0.3, 1e-12);
    EXPECT_NEAR(packing.from.z(), -0.15, 1e-12);
    EXPECT_NEAR(std::abs(packing.from.y()), kOff, 1e-9);
    EXPECT_NEAR(std::abs(packing.to.y()), 0.0177 / 2, 1e-9);  // on R1's face
  }
  ASSERT_EQ(judged.worst.all().size(), 1U);
  EXPECT_EQ(judged.worst.all()[0].name, "packing between legs");
  EXPECT_NEAR(judged.worst.all()[0].utilisation, 1000 / 2950.0, 1e-4);
  ASSERT_EQ(remarks.size(), 1U);  // R1 has no end of its own there: the others bear on it
  EXPECT_NE(remarks[0].find("K1 to K2"), std::string::npos) << remarks[0];
}

// 4 kN ask for 4000 / (0.9 x 29500) = 0.1507 m: 160 mm. 10 kN for 377 mm, and the ribs are 300
// deep: that is used to 10000 / 8850 = 1.13.
TEST(LegPackings, AsHighAsTheirForceAsks) {
  for (const auto& [push_n, high_m, used] :
       {std::tuple(4000.0, 0.16, 4000 / 4720.0), {10000.0, 0.3, 10000 / 8850.0}}) {
    Star star;
    Judged judged;
    std::vector<std::string> remarks;
    const auto packings =
        pack_legs(star.brief, star.centring, {{{1}, push_n, "s"}}, judged, remarks);
    ASSERT_EQ(packings.size(), 1U);
    EXPECT_NEAR(packings[0].height_m, high_m, 1e-12);
    EXPECT_NEAR(judged.worst.all().at(0).utilisation, used, 1e-4);
  }
}

// Two ribs of one leg end there: half its push each.
TEST(LegPackings, ALegsPushInEqualParts) {
  Star star;
  Rib beside = star.centring.ribs[1];
  beside.id = "R4";
  beside.place.origin.x() += 0.5;
  star.centring.ribs.push_back(beside);
  Judged judged;
  std::vector<std::string> remarks;
  const auto packings =
      pack_legs(star.brief, star.centring, {{{1, 3}, 3000, "s"}}, judged, remarks);
  ASSERT_EQ(packings.size(), 2U);
  EXPECT_NEAR(packings[0].force_n, 1500, 1e-9);
  EXPECT_NEAR(packings[1].force_n, 1500, 1e-9);
}

// R1's own push of 6 kN goes to what bears on it: 3 kN each, more than R2's 1 kN, less than
// R3's 5 kN.
TEST(LegPackings, TheGreaterPartOfTheTwoLegsCounts) {
  Star star;
  Judged judged;
  std::vector<std::string> remarks;
  const auto packings =
      pack_legs(star.brief, star.centring, {{{0}, 6000, "a"}, {{1}, 1000, "b"}, {{2}, 5000, "c"}},
                judged, remarks);
  ASSERT_EQ(packings.size(), 2U);
  EXPECT_NEAR(packings[0].force_n, 3000, 1e-9);
  EXPECT_EQ(packings[0].stage, "a");
  EXPECT_NEAR(packings[1].force_n, 5000, 1e-9);
  EXPECT_EQ(packings[1].stage, "c");
}

// A rib that ends 0.3 m away leans on nothing that is drawn.
TEST(LegPackings, ALegThatReachesNoOtherIsNamed) {
  Star star;
  star.centring.ribs[1].place.origin.y() -= 0.25;
  Judged judged;
  std::vector<std::string> remarks;
  EXPECT_TRUE(pack_legs(star.brief, star.centring, {{{1}, 2000, "s"}}, judged, remarks).empty());
  ASSERT_EQ(remarks.size(), 1U);
  EXPECT_NE(remarks[0].find("rib R2 pushes the others by up to 2.00 kN"), std::string::npos)
      << remarks[0];
  star.centring.legs_push_n = 2000;
  const Fixings fixings = fixings_of(star.brief, star.centring);
  EXPECT_TRUE(std::ranges::any_of(fixings.missing, [](const std::string& m) {
    return m.find("no rib's end is near") != std::string::npos;
  }));
}

// A cross: R2 from the south and R3 from the north run the same way and push R1 from both sides.
// Added up they are nothing; each leans on R1 with its own 1 kN.
TEST(LegPackings, LegsFromTwoSidesLeanOnEachOther) {
  Star star;
  star.centring.ribs[1] = rib("R2", {0, -kOff - 2, 0}, 90, 2);
  star.centring.ribs[2] = rib("R3", {0, kOff + 2, 0}, -90, 2);
  star.seats.force = {{0, 0, -5000}, {0, 1000, -5000}, {0, -1000, -5000}};
  Judged judged;
  std::vector<std::string> remarks;
  const Sway sway = star.sway();
  EXPECT_NEAR(sway.legs_push_n, 1000, 1e-6);
  const auto packings = pack_legs(star.brief, star.centring, sway.leg_pushes, judged, remarks);
  ASSERT_EQ(packings.size(), 2U);
  for (const LegPacking& packing : packings) {
    EXPECT_NEAR(packing.force_n, 1000, 1e-6);
    EXPECT_NEAR(packing.short_m, 0.0577 - 0.00885, 1e-9);  // square: both sides alike
    EXPECT_NEAR(packing.long_m, 0.0577 - 0.00885, 1e-9);
  }
}

TEST(LegPackings, AreInTheListOfFixings) {
  Star star;
  Judged judged;
  std::vector<std::string> remarks;
  star.centring.leg_packings =
      pack_legs(star.brief, star.centring, star.sway().leg_pushes, judged, remarks);
  const Fixings fixings = fixings_of(star.brief, star.centring);
  const auto it = std::ranges::find(fixings.rows, "packing between legs", &Fixing::what);
  ASSERT_NE(it, fixings.rows.end());
  EXPECT_EQ(it->where, "K1, R2 against R1");
  EXPECT_EQ(it->size, "51.3 to 61.5 along the rib, 100 wide, 100 high");
  EXPECT_NEAR(it->force_n, 1000, 1e-6);
}

}  // namespace
}  // namespace skewback
