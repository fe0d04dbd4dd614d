// Three legs and a key: ribs that end in the middle, over water or not.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "centring/brace_room.hpp"
#include "centring/sample_centring.hpp"

namespace skewback {
namespace {

struct Legs {
  sample::Tripod tripod;
  Brief brief;
  Assembly assembly;
  Legs() {
    tripod.courses = 7;
    brief = sample::brief_for(tripod);
    assembly = sample::tripod_assembly(tripod);
  }
  [[nodiscard]] Centring drawn() const {
    Result<Centring> made = make_centring(brief, assembly);
    EXPECT_TRUE(made.ok());
    return made ? std::move(made).value() : Centring{};
  }
};

/// Blocks whose soffit a rib can reach: the lowest courses of a quarter circle stand upright.
void expect_seated(const Legs& legs, const Centring& centring) {
  for (std::size_t b = 0; b < legs.assembly.blocks.size(); ++b) {
    const Block& block = legs.assembly.blocks[b];
    if (block.fixed || block.place.course <= 1) continue;
    const sample::Footing f = sample::footing_of(centring, static_cast<int>(b));
    EXPECT_GE(f.seats, 3) << block.id;
    EXPECT_GT(f.off_line_m, 0.05) << block.id;
  }
}

TEST(TripodCentring, EveryBlockAndTheKeyHaveThreeSeatsNotInALine) {
  const Legs legs;
  expect_seated(legs, legs.drawn());
}

TEST(TripodCentring, OverWaterTheRibsReachTheFarBank) {
  Legs legs;
  const std::vector<Vec2> water{{-0.6, -9}, {0.4, -9}, {0.4, 9}, {-0.6, 9}};
  legs.brief.centring.no_feet = {water};
  const Centring centring = legs.drawn();
  expect_seated(legs, centring);
  for (const CentringFoot& foot : centring.feet) {
    EXPECT_FALSE(contains({water, {}}, foot.at.head<2>())) << foot.id;
  }
  int across = 0;  // ribs with a foot on either bank
  for (const Rib& rib : centring.ribs) {
    bool east = false, west = false;
    for (const double x : rib.feet) {
      const double at = rib.place.to_world(Vec2(x, 0)).x();
      east = east || at > 0.4;
      west = west || at < -0.6;
    }
    if (east && west) ++across;
  }
  EXPECT_GE(across, 3);
}

TEST(TripodCentring, RibsOfDifferentLegsKeepApart) {
  const Legs legs;
  const Centring centring = legs.drawn();
  const double thickness = legs.brief.centring.sheet_thickness_m;
  for (const Rib& a : centring.ribs) {
    for (const Rib& b : centring.ribs) {
      if (&a == &b || a.is_cross || b.is_cross) continue;
      double nearest = 1e9;
      for (double x = 0; x <= a.top.back().x(); x += 0.01) {
        const Vec3 p = b.place.to_local(a.place.to_world(Vec2(x, 0)));
        const double beyond = std::max({0.0, -p.x(), p.x() - b.top.back().x()});
        nearest = std::min(nearest, std::hypot(beyond, p.z()));
      }
      EXPECT_GT(nearest, thickness) << a.id << " and " << b.id;
    }
  }
}

TEST(TripodCentring, RibsKeepClearOfTheGroundBlocks) {
  const Legs legs;
  const Centring centring = legs.drawn();
  for (const SheetPart& part : centring.parts) {
    for (const Vec2& q : part.outline.outer) {
      const Vec3 p = part.place.to_world(q);
      for (const Block& block : legs.assembly.blocks) {
        if (!block.fixed) continue;
        Vec3 low = block.solid.vertices[0], high = low;
        for (const Vec3& v : block.solid.vertices) {
          low = low.cwiseMin(v);
          high = high.cwiseMax(v);
        }
        const double out = (low - p).cwiseMax(p - high).maxCoeff();
        EXPECT_GT(out, 0.02) << part.id;
      }
    }
  }
}

TEST(TripodCentring, EachLegIsBracedAlongAndAcross) {
  const Legs legs;
  const Centring centring = legs.drawn();
  int along = 0, across = 0;
  for (const Stick& stick : centring.sticks) {
    if (stick.kind != "brace") continue;
    const Vec2 way = (stick.to - stick.from).head<2>().normalized();
    const Vec2 at = ((stick.to + stick.from) / 2).head<2>();
    // the leg it stands under: the nearest bearing
    double nearest = -1;
    for (int arm = 0; arm < 3; ++arm) {
      nearest = std::max(nearest, sample::tripod_bearing(arm).dot(at));
    }
    for (int arm = 0; arm < 3; ++arm) {
      const Vec2 e = sample::tripod_bearing(arm);
      if (e.dot(at) < nearest) continue;
      ++(std::abs(e.dot(way)) > 0.7 ? along : across);
    }
  }
  EXPECT_GE(along, 3);
  EXPECT_GE(across, 3);
}

/// Shortest way in plan from a post's axis to the middle of a board, between the posts it joins.
double beside_m(const Stick& board, const Stick& post) {
  const Vec2 from = (board.from + board.beside).head<2>(), to = (board.to + board.beside).head<2>();
  const Vec2 way = to - from, p = post.from.head<2>();
  const double part = std::clamp((p - from).dot(way) / way.squaredNorm(), 0.0, 1.0);
  return (p - from - part * way).norm();
}

TEST(TripodCentring, BracesLieOnFacesOfTheirPostsAndThroughNone) {
  const Legs legs;
  for (const int pairs : {0, 2}) {
    CentringDesign design;
    design.pairs = pairs;
    const Centring centring = make_centring(legs.brief, legs.assembly, {}, design).value();
    int braces = 0, packings = 0;
    for (const Stick& board : centring.sticks) {
      packings += board.kind == "packing" ? 1 : 0;
      if (board.kind != "brace") continue;
      ++braces;
      EXPECT_GE(board.beyond_m, 0.08) << board.id;
      EXPECT_GT(std::min(board.from.z(), board.to.z()) - board.beyond_m, -10) << board.id;
      for (const Stick& post : centring.sticks)
        if (post.kind == "post") {
          EXPECT_GT(beside_m(board, post), (post.width_m + board.width_m) / 2 - 1e-9)
              << board.id << " through " << post.id;
        }
    }
    EXPECT_EQ(braces, 2 * packings);
    EXPECT_GT(braces, 0);
  }
}

/// Posts long enough: braces at one height move apart by the depth of a board and more.
TEST(TripodCentring, NoBraceIsInAnothersWay) {
  Legs legs;
  legs.brief.centring.ground_level_m -= 1;
  for (const int pairs : {0, 2}) {
    CentringDesign design;
    design.pairs = pairs;
    const Centring centring = make_centring(legs.brief, legs.assembly, {}, design).value();
    int looked = 0;
    for (std::size_t i = 0; i < centring.sticks.size(); ++i) {
      const std::vector<Box> room = room_of_brace(centring.sticks[i], legs.brief.centring.post_m);
      looked += static_cast<int>(room.size());
      for (std::size_t j = 0; j < i; ++j)
        EXPECT_FALSE(
            in_each_others_way(room, room_of_brace(centring.sticks[j], legs.brief.centring.post_m)))
            << centring.sticks[i].id << " and " << centring.sticks[j].id;
    }
    EXPECT_GT(looked, 10);
  }
}

/// Ribs and feet so near each other that bays of one leg reach past posts of the next.
TEST(TripodCentring, NoBoardRunsThroughAPostOfAnotherLeg) {
  Legs legs;
  CentringRequest& request = legs.brief.centring;
  request.ground_level_m -= 1;
  int boards = 0;
  for (const double rib_m : {0.25, 0.3, 0.35, 0.4}) {
    request.rib_spacing_m = rib_m;
    for (const double foot_m : {0.6, 0.8, 1.0, 1.3}) {
      request.foot_spacing_m = foot_m;
      const Centring centring = legs.drawn();
      for (const Stick& board : centring.sticks) {
        if (board.kind != "brace") continue;
        ++boards;
        for (const Stick& post : centring.sticks)
          if (post.kind == "post") {
            EXPECT_FALSE(runs_through(board, post))
                << board.id << " through " << post.id << ", ribs " << rib_m << " feet " << foot_m;
          }
      }
    }
  }
  EXPECT_GT(boards, 100);
}

}  // namespace
}  // namespace skewback
