#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "centring/sample_centring.hpp"
#include "centring/soffit.hpp"

namespace skewback {
namespace {

using sample::Arch;

struct Barrel {
  Arch arch = sample::wide_arch();
  Brief brief = sample::brief_for(arch);
  Assembly assembly = sample::arch_assembly(arch);
  [[nodiscard]] Centring drawn() const {
    Result<Centring> made = make_centring(brief, assembly);
    EXPECT_TRUE(made.ok());
    return made ? std::move(made).value() : Centring{};
  }
  /// Height of the soffit by hand: chords of the inner circle between the joints' angles.
  [[nodiscard]] double soffit_at(double x) const {
    const double r = arch.radius - arch.thickness / 2;
    for (int i = 0; i < arch.voussoirs; ++i) {
      const double a = kPi * i / arch.voussoirs, b = kPi * (i + 1) / arch.voussoirs;
      const double xa = -r * std::cos(a), xb = -r * std::cos(b);
      if (x > xb) continue;
      return r * std::sin(a) + (x - xa) / (xb - xa) * r * (std::sin(b) - std::sin(a));
    }
    return 0;
  }
};

TEST(MakeCentring, TopOfARibIsThePolygonOfTheSoffit) {
  const Barrel barrel;
  const Centring centring = barrel.drawn();
  int ribs = 0;
  for (const Rib& rib : centring.ribs) {
    if (rib.is_cross) continue;
    ++ribs;
    const double length = rib.top.back().x();
    for (int i = 0; i <= 500; ++i) {
      const double x = length * i / 500;
      const Vec3 p = rib.place.to_world(Vec2(x, 0));
      EXPECT_NEAR(sample::at(rib.top, x), barrel.soffit_at(p.x()), 1e-9) << rib.id << " at " << x;
    }
  }
  EXPECT_EQ(ribs, 5);  // 1.9 m less 0.12 m at each edge, at no more than 0.5 m
}

TEST(MakeCentring, LaggingsLowerTheRibSquareToTheSoffit) {
  Barrel barrel;
  barrel.brief.centring.seats = "laggings";
  const Centring centring = barrel.drawn();
  // in the middle of each voussoir, clear of its ends
  const double apothem =
      (barrel.arch.radius - barrel.arch.thickness / 2) * std::cos(kPi / 2 / barrel.arch.voussoirs);
  const Rib& rib = centring.ribs.front();
  int seen = 0;
  for (int i = 2; i + 2 < barrel.arch.voussoirs; ++i) {
    const double angle = kPi * (i + 0.5) / barrel.arch.voussoirs;
    const double r = apothem - barrel.brief.centring.lagging_thickness_m;
    const Vec3 p = rib.place.to_local({-r * std::cos(angle), 0, 0});
    EXPECT_NEAR(sample::at(rib.top, p.x()), r * std::sin(angle), 1e-9) << i;
    ++seen;
  }
  EXPECT_EQ(seen, 11);
  EXPECT_GT(std::ranges::count(centring.sticks, "lagging", &Stick::kind), 20);
  for (const Seat& seat : centring.seats) {
    EXPECT_DOUBLE_EQ(seat.length_m, barrel.brief.centring.lagging_width_m);
  }
}

TEST(MakeCentring, EveryBlockHasTwoSeatsOnARibSquareToItsSoffit) {
  const Barrel barrel;
  const Centring centring = barrel.drawn();
  for (int b = 1; b + 1 < barrel.arch.voussoirs; ++b) {
    const auto faces = soffit(barrel.assembly, b);
    ASSERT_EQ(faces.size(), 1u) << b;
    for (const Rib& rib : centring.ribs) {
      if (rib.is_cross) continue;
      int seats = 0;
      for (const Seat& seat : centring.seats) {
        if (seat.prop.block != b || seat.rib != rib.id) continue;
        ++seats;
        EXPECT_NEAR((seat.prop.direction + faces[0].normal).norm(), 0, 1e-12);
        EXPECT_NEAR(faces[0].normal.dot(seat.prop.point - faces[0].centre), 0, 1e-9);
        const Vec3 on_rib = rib.place.to_local(seat.prop.point);
        EXPECT_NEAR(on_rib.z(), 0, 1e-12);
        EXPECT_NEAR(on_rib.x(), seat.along_m, 1e-12);
        EXPECT_NEAR(sample::at(rib.top, on_rib.x()), on_rib.y(), 1e-9);
        EXPECT_DOUBLE_EQ(seat.prop.friction, 0.3);
      }
      EXPECT_EQ(seats, 2) << barrel.assembly.blocks[b].id << " on " << rib.id;
    }
  }
}

TEST(MakeCentring, ARibIsNowhereShallowerThanAskedAwayFromItsEnds) {
  const Barrel barrel;
  const Centring centring = barrel.drawn();
  const double depth = barrel.brief.centring.rib_depth_m;
  for (const Rib& rib : centring.ribs) {
    if (rib.is_cross) continue;
    for (double x = rib.feet.front(); x <= rib.feet.back(); x += 0.02) {
      const Vec2 low(x, sample::at(rib.bottom, x));
      double nearest = 1e9;
      for (double t = 0; t <= rib.top.back().x(); t += 0.002) {
        nearest = std::min(nearest, (Vec2(t, sample::at(rib.top, t)) - low).norm());
      }
      EXPECT_GT(nearest, depth - 1e-9) << rib.id << " at " << x;
    }
  }
}

TEST(MakeCentring, PartsFitTheSheetAndHaveSimpleOutlines) {
  const Barrel barrel;
  const CentringRequest& request = barrel.brief.centring;
  const Centring centring = barrel.drawn();
  EXPECT_GT(centring.parts.size(), 20u);
  for (const SheetPart& part : centring.parts) {
    // an outline that crosses itself encloses another area than its corners add up to
    const Regions whole = unite({{part.outline.outer, {}}});
    ASSERT_EQ(whole.size(), 1u) << part.id;
    EXPECT_TRUE(whole[0].holes.empty()) << part.id;
    EXPECT_NEAR(area(whole[0]), area(part.outline.outer), 1e-8) << part.id;
    EXPECT_GT(area(part.outline.outer), 0) << part.id;
    for (const Polygon& hole : part.outline.holes) {
      EXPECT_LT(area(hole), 0) << part.id;
      for (const Vec2& p : hole) EXPECT_TRUE(contains({part.outline.outer, {}}, p)) << part.id;
    }
    for (const Vec2& p : part.outline.outer) {
      EXPECT_GE(p.x(), -1e-7);
      EXPECT_GE(p.y(), -1e-7);
      EXPECT_LE(p.x(), request.sheet_length_m - 2 * request.part_gap_m) << part.id;
      EXPECT_LE(p.y(), request.sheet_width_m - 2 * request.part_gap_m) << part.id;
    }
    EXPECT_NEAR(part.place.x.cross(part.place.y).dot(part.place.z), 1, 1e-12) << part.id;
  }
}

TEST(MakeCentring, WholeRibIsItsPiecesTogether) {
  const Barrel barrel;
  const Centring centring = barrel.drawn();
  for (const Rib& rib : centring.ribs) {
    EXPECT_EQ(std::ranges::count_if(centring.parts,
                                    [&](const SheetPart& part) {
                                      return part.rib == rib.id && part.kind != "splice";
                                    }),
              static_cast<long>(rib.splices.size()) + 1)
        << rib.id;
    for (std::size_t i = 0; i < rib.splices.size(); ++i) {
      for (const Seat& seat : centring.seats) {
        if (seat.rib != rib.id) continue;
        EXPECT_GT(std::abs(seat.along_m - rib.splices[i]), 0.01);
      }
      for (const double x : rib.crossings) EXPECT_GT(std::abs(x - rib.splices[i]), 0.05);
    }
  }
}

TEST(MakeCentring, HolesOfSplicePlatesMeetTheHolesOfTheRib) {
  const Barrel barrel;
  const Centring centring = barrel.drawn();
  int plates = 0;
  for (const SheetPart& plate : centring.parts) {
    if (plate.kind != "splice") continue;
    ++plates;
    ASSERT_EQ(plate.outline.holes.size(), 4u);
    for (const Polygon& hole : plate.outline.holes) {
      const Vec3 centre = plate.place.to_world(centroid(Region{{hole.rbegin(), hole.rend()}, {}}));
      int met = 0;
      for (const SheetPart& part : centring.parts) {
        if (part.rib != plate.rib || part.kind == "splice") continue;
        for (const Polygon& other : part.outline.holes) {
          const Vec3 p = part.place.to_local(centre);
          const Vec2 c = centroid(Region{{other.rbegin(), other.rend()}, {}});
          if ((p.head<2>() - c).norm() < 1e-6) ++met;
        }
        // faces touch: middles of the sheets are a thickness apart
        EXPECT_NEAR(std::abs(part.place.to_local(centre).z()),
                    barrel.brief.centring.sheet_thickness_m, 1e-12);
      }
      EXPECT_EQ(met, 1) << plate.id;
    }
  }
  EXPECT_GE(plates, 10);
}

TEST(MakeCentring, NoFootStandsInABarredArea) {
  Barrel barrel;
  const std::vector<Vec2> water{{-0.6, -2}, {0.9, -2}, {0.9, 2}, {-0.6, 2}};
  barrel.brief.centring.no_feet = {water};
  const Centring centring = barrel.drawn();
  const double half = barrel.brief.centring.post_m / 2;
  EXPECT_GE(centring.feet.size(), 20u);
  for (const CentringFoot& foot : centring.feet) {
    EXPECT_TRUE(foot.at.x() < -0.6 - half || foot.at.x() > 0.9 + half) << foot.id;
    EXPECT_NEAR(foot.down_m + foot.up_m, barrel.brief.centring.travel_m, 1e-15);
    EXPECT_NEAR(foot.down_m, 0.04, 1e-12) << "two thirds of 60 mm, kept for striking";
  }
  // 1.5 m of water and a post on each bank: more than the spacing, and said
  EXPECT_THAT(centring.remarks, testing::Contains(testing::HasSubstr("spans 1.")));
}

TEST(MakeCentring, FeetStandNoFurtherApartThanAsked) {
  const Barrel barrel;
  for (const Rib& rib : barrel.drawn().ribs) {
    for (std::size_t i = 1; i < rib.feet.size(); ++i) {
      EXPECT_LE(rib.feet[i] - rib.feet[i - 1], barrel.brief.centring.foot_spacing_m + 1e-9);
      // level under the foot
      EXPECT_NEAR(sample::at(rib.bottom, rib.feet[i] - 0.04),
                  sample::at(rib.bottom, rib.feet[i] + 0.04), 1e-12);
    }
  }
}

TEST(MakeCentring, MarksLieWithinTheirParts) {
  const Barrel barrel;
  int words = 0;
  for (const SheetPart& part : barrel.drawn().parts) {
    bool named = false;
    for (const Engraving& mark : part.marks) {
      for (const Vec2& p : mark.line) EXPECT_TRUE(contains(part.outline, p)) << part.id;
      if (mark.words.empty()) continue;
      ++words;
      named = named || mark.words == part.id;
      EXPECT_TRUE(contains(part.outline, mark.at)) << part.id << " " << mark.words;
      EXPECT_TRUE(contains(part.outline, mark.at + Vec2(0, mark.height_m))) << part.id;
    }
    EXPECT_TRUE(named) << part.id;
  }
  EXPECT_GT(words, 100);
}

TEST(MakeCentring, QuantitiesAddUp) {
  const Barrel barrel;
  const Centring centring = barrel.drawn();
  double sheet = 0, timber = 0;
  for (const SheetPart& part : centring.parts) sheet += area(part.outline);
  for (const Stick& s : centring.sticks)
    timber += ((s.to - s.from).norm() + 2 * s.beyond_m) * s.width_m * s.depth_m;
  EXPECT_NEAR(centring.plywood_m2, sheet, 1e-12);
  EXPECT_NEAR(centring.timber_m3, timber, 1e-12);
  EXPECT_NEAR(centring.mass_kg, sheet * 0.0177 * 685 + timber * 420, 1e-9);
}

TEST(MakeCentring, SaysWhereNoFootHasAPlace) {
  Barrel barrel;
  barrel.brief.centring.no_feet = {{{-9, -9}, {9, -9}, {9, 9}, {-9, 9}}};
  const Result<Centring> made = make_centring(barrel.brief, barrel.assembly);
  ASSERT_FALSE(made.ok());
  EXPECT_THAT(made.faults().front().key, testing::HasSubstr("no_feet"));
}

TEST(MakeCentring, SaysWhereThereIsNoSoffit) {
  Barrel barrel;
  for (Block& block : barrel.assembly.blocks) block.fixed = true;
  const Result<Centring> made = make_centring(barrel.brief, barrel.assembly);
  ASSERT_FALSE(made.ok());
  EXPECT_THAT(made.faults().front().key, testing::HasSubstr("soffit"));
}

TEST(MakeCentring, SameInputSameCentring) {
  const Barrel barrel;
  const Centring a = barrel.drawn(), b = barrel.drawn();
  ASSERT_EQ(a.parts.size(), b.parts.size());
  for (std::size_t i = 0; i < a.parts.size(); ++i) {
    EXPECT_EQ(a.parts[i].id, b.parts[i].id);
    ASSERT_EQ(a.parts[i].outline.outer.size(), b.parts[i].outline.outer.size());
    for (std::size_t k = 0; k < a.parts[i].outline.outer.size(); ++k) {
      EXPECT_EQ(a.parts[i].outline.outer[k], b.parts[i].outline.outer[k]);
    }
  }
}

}  // namespace
}  // namespace skewback
