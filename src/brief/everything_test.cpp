#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "brief/sample_everything.hpp"

namespace skewback {
namespace {

using namespace sample;

/// The printing cell of with_everything().
void expect_print(const PrintRequest& p) {
  const double degree = std::acos(-1.0) / 180;
  const double read[] = {p.bead_m,
                         p.bead_min_m,
                         p.bead_max_m,
                         p.overlap_m,
                         p.turn_radius_m,
                         p.flow_m3_s * 60e3,
                         p.accelerator,
                         p.speed_min_m_s,
                         p.speed_max_m_s,
                         p.layer_time_min_s,
                         p.layer_time_max_s,
                         p.tilt_max_rad / degree,
                         p.tilt_rate_max_rad_s / degree,
                         p.spin_rate_max_rad_s / degree,
                         p.nozzle_m,
                         p.nozzle_length_m,
                         p.wrist_m,
                         p.wrist_length_m,
                         p.clearance_m,
                         p.reach_min_m,
                         p.reach_max_m,
                         p.table_length_m,
                         p.table_width_m,
                         p.overhang_max_rad / degree,
                         p.bed_accuracy_m,
                         p.fresh_density,
                         p.fresh_yield_pa,
                         p.fresh_yield_growth_pa_s,
                         p.fresh_stiffness_pa,
                         p.fresh_stiffness_growth_pa_s,
                         p.batch_m3,
                         p.setting_up_s,
                         p.shift_s,
                         p.curing_s,
                         p.step_m};
  const std::vector<double> written = {
      0.042, 0.021, 0.061, 0.006, 0.016, 6,    0.05,  0.055, 0.31, 25,      240, 18,
      36,    90,    0.051, 0.26,  0.25,  0.31, 0.007, 0.9,   3.2,  3.3,     1.6, 15,
      0.002, 2150,  2000,  5,     150e3, 500,  0.3,   1800,  36e3, 1209600, 0.04};
  EXPECT_THAT(read, testing::Pointwise(testing::DoubleNear(1e-9), written));
  EXPECT_EQ(p.robot, Vec3(0.1, -2.1, 0.7));
  EXPECT_EQ(p.far_bed, "pad");
  EXPECT_EQ(p.otherwise, (std::vector<std::string>{"cast", "divide"}));
  EXPECT_EQ(p.coupons, 2);
  EXPECT_TRUE(p.nozzle_follows);
  EXPECT_EQ(p.turns_max, 1.5);
  EXPECT_NEAR(p.grind_allowance_m, 0.003, 1e-12);
  EXPECT_NEAR(p.open_time_s, 5400, 1e-9);
}

/// Actions, factors, soil, access, rates and carbon of with_everything().
void expect_practice(const Brief& b) {
  const Loads& l = b.loads;
  EXPECT_TRUE(l.people_by_length && l.vehicle);
  EXPECT_EQ(l.motion, "always");
  const double loads[] = {l.patch_n,           l.patch_side_m,      l.along_share,
                          l.rail_push_n_per_m, l.wind_speed_m_s,    l.wind_roughness_m,
                          l.wind_height_m,     l.snow_pa,           l.warmer_k,
                          l.colder_k,          l.working_people_pa, l.working_wind_m_s};
  EXPECT_THAT(loads, testing::Pointwise(testing::DoubleEq(), {7e3, 0.2, 0.05, 800.0, 24.0, 0.3, 5.0,
                                                              600.0, 20.0, 25.0, 750.0, 11.0}));
  const Factors& f = b.factors;
  EXPECT_EQ(f.edition, "our annex");
  const double factors[] = {
      f.dead_high,         f.dead_low, f.people,       f.other,      f.warmth, f.moved,
      f.psi_people,        f.psi_wind, f.psi_snow,     f.psi_warmth, f.xi,     f.concrete,
      f.concrete_accident, f.plain,    f.steel_thread, f.steel_shank};
  EXPECT_THAT(factors, testing::ElementsAre(1.3, 0.95, 1.4, 1.45, 1.55, 1.2, 0.5, 0.2, 0.7, 0.65,
                                            0.9, 1.45, 1.15, 0.85, 1.3, 1.05));
  EXPECT_EQ(f.expression, "6.10a/b");
  EXPECT_DOUBLE_EQ(b.strength.layer_tension_pa, 0.9e6);
  EXPECT_EQ(b.soil.kind, SoilKind::kDrained);
  const double degree = std::acos(-1.0) / 180;
  EXPECT_NEAR(b.soil.phi_rad, 32 * degree, 1e-12);
  EXPECT_NEAR(b.soil.phi_cv_rad, 30 * degree, 1e-12);
  const double soil[] = {b.soil.cohesion_pa, b.soil.undrained_pa, b.soil.weight_n_per_m3,
                         b.soil.cover_m, b.soil.stiffness_pa};
  EXPECT_THAT(soil, testing::Pointwise(testing::DoubleEq(), {3e3, 50e3, 18e3, 0.4, 25e6}));
  const AccessRequest& a = b.access;
  const double access[] = {a.gradient_max,     a.ramp_from,         a.cross_fall_max,
                           a.run_rise_m,       a.landing_m,         a.width_min_m,
                           a.parapet_height_m, a.handrail_height_m, a.parapet_height_min_m};
  EXPECT_THAT(access, testing::Pointwise(testing::DoubleEq(),
                                         {0.1, 0.06, 0.03, 0.5, 1.6, 1.0, 1.1, 0.9, 1.0}));
  EXPECT_FALSE(a.required);
  const Rates& r = b.rates;
  EXPECT_EQ(r.currency, "crowns");
  const double rates[] = {r.concrete_per_m3, r.print_per_h,       r.steel_per_kg,
                          r.pads_per_m2,     r.walkway_per_m2,    r.footing_per_m3,
                          r.lorry_per_load,  r.plywood_per_sheet, r.sawn_per_m3};
  EXPECT_THAT(rates, testing::ElementsAre(1, 2, 3, 5, 6, 7, 8, 9, 10));
  const Carbon& c = b.carbon;
  const double carbon[] = {c.printed.own, c.stone.own,  c.concrete.own,
                           c.steel.own,   c.timber.own, c.pads.own};
  EXPECT_THAT(carbon, testing::ElementsAre(0.21, 0.22, 0.23, 0.24, 0.26, 0.27));
}

/// Centring and order of with_everything().
void expect_centring(const Brief& b) {
  const CentringRequest& c = b.centring;
  EXPECT_TRUE(c.wanted);
  const double read[] = {c.friction,
                         c.lagging_width_m,
                         c.lagging_thickness_m,
                         c.rib_spacing_m,
                         c.cross_spacing_m,
                         c.rib_depth_m,
                         c.ground_level_m,
                         c.foot_spacing_m,
                         c.foot_hold_n,
                         c.foot_hold_up_n,
                         c.foot_hold_factor,
                         c.travel_m,
                         c.post_m,
                         c.sheet_length_m,
                         c.sheet_width_m,
                         c.sheet_thickness_m,
                         c.tool_m,
                         c.clearance_m,
                         c.part_gap_m,
                         c.bending_strength_pa / 1e6,
                         c.shear_strength_pa / 1e6,
                         c.edge_strength_pa / 1e6,
                         c.bearing_strength_pa / 1e6,
                         c.post_strength_pa / 1e6,
                         c.stiffness_pa / 1e9,
                         c.density,
                         c.k_mod,
                         c.gamma_m,
                         c.working_load_pa,
                         c.horizontal_share,
                         c.deflection_max_m,
                         c.settlement_m,
                         c.strike_step_m,
                         c.stock_length_m,
                         c.saw_kerf_m};
  const std::vector<double> written = {
      0.3,  0.095, 0.022, 0.45,   0.7,    0.28,   -1.1,  1.4,   1700,  2600, 1.8,   0.08,
      0.12, 2.5,   1.25,  0.0175, 0.0003, 0.0004, 0.012, 30,    3,     14,   2.2,   18,
      7,    600,   0.7,   1.3,    1250,   0.01,   0.004, 0.002, 0.003, 5.4,  0.0032};
  EXPECT_THAT(read, testing::Pointwise(testing::DoubleNear(1e-9), written));
  EXPECT_EQ(c.seats, "laggings");
  EXPECT_EQ(c.feet, "jacks");
  EXPECT_NEAR(c.jack_capacity_n, 17e3, 1e-9);
  EXPECT_EQ(c.cutter, "laser");
  ASSERT_EQ(c.no_feet.size(), 1u);
  EXPECT_NEAR(area(Polygon(c.no_feet[0])), 0.5, 1e-12);  // half a square metre, by hand
  EXPECT_EQ(b.erect.order, "leg by leg");
  EXPECT_TRUE(b.erect.compare);
}

/// Lifting and transport of with_everything().
void expect_hauling(const Brief& b) {
  const double degree = std::acos(-1.0) / 180;
  const LiftRequest& l = b.lifting;
  const TransportRequest& t = b.transport;
  EXPECT_TRUE(l.wanted && t.wanted);
  ASSERT_TRUE(l.crane.has_value());
  EXPECT_EQ(*l.crane, Vec2(1, 11));
  EXPECT_EQ(l.second_stand.value_or(Vec2(0, 0)), Vec2(2, -11));
  EXPECT_EQ(l.lorry.value_or(Vec2(0, 0)), Vec2(3, 12));
  ASSERT_EQ(l.chart.size(), 1u);
  const double lifting[] = {
      l.crane_level_m,    l.hook_max_m,    l.chart[0].radius_m, l.chart[0].capacity_kg,
      l.wind_table_m_s,   l.drag,          double(l.legs),      l.sling_angle_rad / degree,
      l.sling_capacity_n, l.sling_width_m, l.rigging_mass_kg,   l.dynamic,
      l.dynamic_yard,     l.adhesion_pa,   l.early_strength,    l.gamma_load,
      l.table_age_s,      l.site_age_s};
  EXPECT_THAT(lifting,
              testing::Pointwise(testing::DoubleNear(1e-9),
                                 {-0.2, 10.0, 8.0, 2400.0, 10.0, 1.3, 4.0, 45.0, 12e3, 0.05, 60.0,
                                  1.3, 2.2, 2e3, 0.6, 1.3, 259200.0, 864000.0}));
  EXPECT_TRUE(l.spreader);
  EXPECT_EQ(b.material.cement, "R");
  const double road[] = {t.lorry_length_m,  t.lorry_width_m,  t.lorry_load_kg,
                         t.pallet_length_m, t.pallet_width_m, t.pallet_load_kg,
                         t.pallet_mass_kg,  t.pallet_gap_m,   t.forward,
                         t.rearward,        t.sideways,       t.upright,
                         t.bed_friction,    t.strap_force_n,  t.strap_angle_rad / degree};
  EXPECT_THAT(road, testing::Pointwise(testing::DoubleNear(1e-9),
                                       {7.0, 2.5, 9000.0, 1.4, 0.9, 900.0, 30.0, 0.06, 1.0, 0.6,
                                        0.6, 1.5, 0.4, 4e3, 60.0}));
}

/// Spares and programme of with_everything().
void expect_time(const Brief& b) {
  const SparesRequest& s = b.spares;
  const ProgrammeRequest& p = b.programme;
  EXPECT_TRUE(s.wanted && p.wanted);
  const double spares[] = {s.broken_share, s.known_blocks, double(s.count), s.late_risk,
                           s.delay_cost};
  EXPECT_THAT(spares, testing::ElementsAre(0.05, 30, 3, 0.2, 900));
  EXPECT_EQ(p.start, "2027-04-05");
  EXPECT_THAT(p.week, testing::ElementsAre("mon", "tue", "thu"));
  EXPECT_THAT(p.holidays, testing::ElementsAre("2027-05-03"));
  EXPECT_EQ(p.draws, 20000);
  EXPECT_EQ(p.seed, 7);
  const double day = 86400;
  const auto expect = [](const Vec3& read, const Vec3& written) {
    EXPECT_LT((read - written).norm(), 1e-6) << read.transpose();
  };
  expect(b.transport.journey_s / day, {1, 2, 3});
  expect(p.footings_s / day, {9, 13, 20});
  expect(p.cutting_s / day, {2, 4, 7});
  expect(p.centring_s / day, {1, 2, 4});
  expect(p.placing_s / 60, {10, 18, 40});
  expect(p.striking_s / day, {1, 2, 4});
  expect(p.walkway_s / day, {1, 2, 3});
  EXPECT_NEAR(p.site_day_s, 7 * 3600, 1e-6);
}

/// Site, packers and tolerances of with_everything().
void expect_survey(const Brief& b) {
  const double degree = std::acos(-1.0) / 180;
  EXPECT_EQ(b.site.origin, Vec3(4512.3, 1980.45, 36.12));
  EXPECT_NEAR(b.site.turn_rad, 17 * degree, 1e-12);
  EXPECT_EQ(b.site.date, "2027-02-22");
  EXPECT_EQ(b.survey->file.filename(), "points.csv");
  EXPECT_DOUBLE_EQ(b.survey->accuracy_m, 0.001);
  EXPECT_DOUBLE_EQ(b.survey->gate, 4);
  const PackingRequest& p = b.packing;
  EXPECT_EQ(p.stock_m, (std::vector<double>{0.002, 0.006}));
  const double packing[] = {p.most_m,         p.slack_m,       p.squeeze_m, p.step_m,
                            p.plate_length_m, p.plate_depth_m, p.spacing_m, p.trim_m};
  EXPECT_THAT(packing, testing::Pointwise(testing::DoubleNear(1e-12),
                                          {0.024, 0.0004, 0.0007, 0.004, 0.14, 0.09, 0.25, 0.035}));
  const TolerancesRequest& t = b.tolerances;
  EXPECT_TRUE(t.wanted);
  const double tolerances[] = {
      t.footing_plan_m, t.footing_level_m, t.footing_turn_rad / degree, t.footing_tilt_rad / degree,
      t.centring_m,     t.block_length_m,  t.bed_tilt_rad / degree,     t.bed_flatness_m,
      t.pad_share,      t.chance};
  EXPECT_THAT(tolerances,
              testing::Pointwise(testing::DoubleNear(1e-12), {0.011, 0.009, 0.3, 0.15, 0.004,
                                                              0.0012, 0.06, 0.0006, 0.04, 0.9}));
  EXPECT_EQ(t.even, (std::vector<std::string>{"pad", "footing_plan"}));
  EXPECT_EQ(t.draws, 20000);
  EXPECT_EQ(t.seed, 3);
  EXPECT_EQ(t.proof_draws, 150);
}

TEST(Brief, TheKeysOutsideTheExamplesAreReadToo) {
  const Result<Brief> read = read_brief_text(with_everything(), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Brief& b = *read;
  ASSERT_EQ(b.plan.openings.size(), 2u);
  EXPECT_NEAR(area(b.plan.openings[0]), -0.05, 1e-12);  // clockwise
  // 48 corners on a circle of radius 0.1 m: n/2 r2 sin(2 pi/n)
  EXPECT_NEAR(area(b.plan.openings[1]), -24 * 0.01 * std::sin(2 * std::acos(-1.0) / 48), 1e-12);
  EXPECT_DOUBLE_EQ(b.plan.fill, 0.01);
  EXPECT_DOUBLE_EQ(b.form.edge_distance_m, 0.06);
  EXPECT_DOUBLE_EQ(b.form.evenness, 0.5);
  EXPECT_EQ(b.form.start, kByLoadPath);
  EXPECT_EQ(b.section.depth, kDepthFromThrust);
  ASSERT_EQ(b.form.heights.size(), 1u);
  EXPECT_EQ(b.form.heights[0].at, Vec2(0, 2.4));
  EXPECT_DOUBLE_EQ(b.form.heights[0].z_m, 1.3);
  ASSERT_EQ(b.form.stay_under.size(), 1u);
  EXPECT_EQ(b.form.stay_under[0], (std::vector<Vec3>{{-1, 2, 1.7}, {1, 2, 1.8}}));
  ASSERT_EQ(b.form.thrusts.size(), 1u);
  EXPECT_EQ(b.plan.supports[static_cast<std::size_t>(b.form.thrusts[0].support)].id, "towpath");
  EXPECT_DOUBLE_EQ(b.form.thrusts[0].most_n, 60e3);
  EXPECT_DOUBLE_EQ(b.blocks.length_min_m, 0.15);
  EXPECT_DOUBLE_EQ(b.blocks.width_max_m, 1.2);
  EXPECT_DOUBLE_EQ(b.blocks.arris_face_m, 0.016);
  ASSERT_EQ(b.walkway.surface.size(), 3u);
  EXPECT_EQ(b.walkway.surface[2].back(), Vec3(0, 0, 1.9));
  EXPECT_DOUBLE_EQ(b.walkway.fill_density, 1600);
  EXPECT_TRUE(b.parapet.works_on(0) && b.parapet.works_on(1) && !b.parapet.works_on(2));
  EXPECT_DOUBLE_EQ(b.parapet.upstand_height_m, 0.35);
  EXPECT_DOUBLE_EQ(b.parapet.upstand_width_m, 0.12);
  EXPECT_DOUBLE_EQ(b.ground.footing_length_m, 0.5);
  EXPECT_TRUE(b.ground.every_pair);
  EXPECT_DOUBLE_EQ(b.ground.thread_strength_pa, 500e6);
  EXPECT_DOUBLE_EQ(b.ground.ground_shear_n, 2000);
  EXPECT_DOUBLE_EQ(b.required.live_factor, 1.5);
  EXPECT_DOUBLE_EQ(b.required.geometric_safety, 3);
  EXPECT_DOUBLE_EQ(b.required.friction_reserve, 1.4);
  EXPECT_TRUE(b.required.tie_loss);
  expect_practice(b);
  expect_print(b.print);
  expect_centring(b);
  expect_hauling(b);
  expect_time(b);
  EXPECT_EQ(b.section.webs, "warren");
  ASSERT_TRUE(b.survey.has_value());
  expect_survey(b);
  EXPECT_EQ(b.survey->points.at(5).support, "orchard");
  EXPECT_EQ(b.survey->points.at(5).mark, "back");
  EXPECT_EQ(b.survey->points.at(5).measured, Vec3(-5.6378, -3.8026, -0.0140));
}

}  // namespace
}  // namespace skewback
