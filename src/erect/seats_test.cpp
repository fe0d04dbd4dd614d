// Seats of the centring: where they lie, and whose force is whose.

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"
#include "centring/soffit.hpp"
#include "erect/erect.hpp"

namespace skewback {
namespace {

TEST(Seats, LieOnTheSoffitAndPushOutwards) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const double inner = arch.radius - arch.thickness / 2, half = kPi / arch.voussoirs / 2;
  for (int i = 0; i < arch.voussoirs; ++i) {
    const auto seats = seats_of(assembly, i, 0.3);
    ASSERT_EQ(seats.size(), 4u) << assembly.blocks[i].id;
    for (const Prop& seat : seats) {
      // Straight-edged voussoir: its soffit is the chord plane at inner * cos(half) from the axis.
      const Vec3 out = sample::arch_point(1, (2 * i + 1) * half);
      EXPECT_NEAR(seat.point.dot(out), inner * std::cos(half), 1e-9);
      EXPECT_NEAR((seat.direction - out).norm(), 0, 1e-9);
      EXPECT_LT(std::abs(seat.point.y()), arch.width / 2);
      EXPECT_EQ(seat.friction, 0.3);
    }
  }
}

TEST(Seats, NotOnTheCeilingOfAVoid) {
  const sample::Arch arch;
  Assembly assembly = sample::arch_assembly(arch);
  const int key = arch.voussoirs / 2;
  const Vec3 low(-0.1, -0.3, arch.radius - 0.1), high(0.1, 0.3, arch.radius + 0.1);
  Solid inside = box(low, high);  // a closed void is enough: its ceiling looks down
  for (auto& face : inside.faces) std::ranges::reverse(face);
  assembly.blocks[key].solid = join({assembly.blocks[key].solid, inside});
  for (const Prop& seat : seats_of(assembly, key, 0.3))
    EXPECT_LT(seat.point.z(), arch.radius - 0.2);
}

SeatLoads only(const std::vector<SeatLoads>& loads, bool people) {
  const auto it = std::ranges::find(loads, people, &SeatLoads::with_people);
  EXPECT_NE(it, loads.end());
  return it == loads.end() ? SeatLoads{} : *it;
}

// Four seats, of which the first is not in and the last was lowered: what the views call their
// first prop is the second seat.
TEST(Erect, SeatLoadsGoToTheSeatsOfTheStage) {
  Programme programme;
  programme.seats.resize(4);
  Stage& stage = programme.stages.emplace_back();
  stage.state.seated = {0, 1, 1, 1};
  stage.state.lowered_m = {0, 0, 0, 2e-3};
  PadState pads;
  pads.found = true;
  pads.forces.props = {{0, Vec3(0, 0, 10)}, {2, Vec3(1, 0, 20)}};
  stage.proof.pads = pads;
  stage.working.emplace();
  stage.working->seat_force_n = {Vec3(0, 0, 11), Vec3::Zero(), Vec3(0, 0, 22)};
  const auto up = [](const SeatLoads& loads) {
    std::vector<double> z;
    for (const Vec3& f : loads.force) z.push_back(f.z());
    return z;
  };
  EXPECT_EQ(up(only(seat_loads(programme), false)), (std::vector<double>{0, 10, 0, 20}));
  EXPECT_EQ(up(only(seat_loads(programme), true)), (std::vector<double>{0, 11, 0, 22}));
  stage.proof.pads.reset();
  Forces forces;
  forces.props = {{1, Vec3(0, 0, 30)}};
  stage.proof.evidence = forces;  // view 1 has no lowered seat
  EXPECT_EQ(up(only(seat_loads(programme), false)), (std::vector<double>{0, 0, 30, 0}));
}

// A centring that lists its seats from the key down: leg by leg, all that they bear at first is the
// first leg's.
TEST(Erect, SeatsAreToldByTheirBlockNotByTheirPlaceInTheList) {
  const Assembly assembly = sample::arch_assembly({.voussoirs = 7, .radius = 3, .thickness = 0.45});
  Brief brief = sample::barrel_brief(3, 1);
  brief.erect.order = "leg by leg";
  brief.loads.working_people_pa = 0;
  Centring centring;
  for (const int block : {3, 4, 2, 5, 1, 6, 0}) {
    for (const Prop& prop : seats_of(assembly, block, 0.3))
      centring.seats.emplace_back().prop = prop;
  }
  const Programme programme = plan_erection(brief, assembly, &centring);
  for (int i = 0; i < 3; ++i) {
    EXPECT_GT(programme.stages[i].seat_load_n, 0);
    EXPECT_NEAR(programme.stages[i].seat_uneven_n, programme.stages[i].seat_load_n, 1e-9);
  }
}

}  // namespace
}  // namespace skewback
