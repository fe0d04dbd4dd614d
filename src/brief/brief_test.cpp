#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "brief/keys.hpp"
#include "brief/outline.hpp"
#include "brief/sample_text.hpp"
namespace skewback {
namespace {

using namespace sample;
using ::testing::HasSubstr;

TEST(Brief, DroversHopReads) {
  const Result<Brief> read = read_brief(source("examples/drovers-hop/brief.toml"));
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Brief& b = *read;
  EXPECT_EQ(b.name, "drovers-hop");
  EXPECT_EQ(b.text, drovers_hop());
  EXPECT_NEAR(area(b.plan.outline), 9.0 * 1.9, 1e-12);  // by hand
  ASSERT_EQ(b.plan.supports.size(), 2u);
  EXPECT_EQ(b.plan.supports[0].a, Vec2(-4.5, 0.95));
  EXPECT_EQ(b.plan.supports[0].b, Vec2(-4.5, -0.95));
  EXPECT_DOUBLE_EQ(b.form.rise_m, 1.8);
  EXPECT_DOUBLE_EQ(b.section.depth_crown_m, 0.28);
  EXPECT_DOUBLE_EQ(b.material.fck_pa, 40e6);
  EXPECT_DOUBLE_EQ(b.parapet.weight_n_per_m, 500);
  EXPECT_EQ(b.blocks.count, 23);
  ASSERT_EQ(b.ground.ties.size(), 1u);
  EXPECT_EQ(b.ground.ties[0].from, 0);
  EXPECT_EQ(b.ground.ties[0].to, 1);
  EXPECT_FALSE(b.survey.has_value());
}

// Width of the deck across a leg, `along` metres from the meeting (the origin).
double width_across(const Polygon& outline, const Vec2& direction, double along) {
  const Vec2 across(-direction.y(), direction.x()), at = along * direction;
  double left = HUGE_VAL, right = HUGE_VAL;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i] - at, b = outline[(i + 1) % outline.size()] - at;
    const double ua = a.dot(direction), ub = b.dot(direction);
    if ((ua > 0) == (ub > 0)) continue;
    const double v = (a + ua / (ua - ub) * (b - a)).dot(across);
    (v > 0 ? left : right) = std::min(v > 0 ? left : right, std::abs(v));
  }
  return left + right;
}

TEST(Brief, WrenLeatHasTheDrawnWidths) {
  const Result<Brief> read = read_brief(source("examples/wren-leat/brief.toml"));
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Plan& plan = read->plan;
  ASSERT_EQ(plan.supports.size(), 3u);
  EXPECT_GT(area(plan.outline), 0);
  EXPECT_FALSE(crossing_sides(plan.outline).has_value());
  const double legs[] = {6.4, 5.6, 6.0};  // m, of the scenario: yard, orchard, towpath
  for (std::size_t k = 0; k < 3; ++k) {
    const Support& s = plan.supports[k];
    const Vec2 middle = 0.5 * (s.a + s.b);
    EXPECT_NEAR((s.b - s.a).norm(), 2.6, 2e-3) << s.id;
    EXPECT_NEAR(middle.norm(), legs[k], 2e-3) << s.id;
    double waist = HUGE_VAL;
    for (double along = 1.5; along < legs[k] - 0.1; along += 0.02)
      waist = std::min(waist, width_across(plan.outline, middle.normalized(), along));
    EXPECT_GT(waist, 1.6) << s.id;
    EXPECT_LT(waist, 1.8) << s.id;
  }
}

// wren-leat, whose parapets work on two legs, with the keys that the examples leave out.
std::string with_everything() {
  std::string text = file_text(source("examples/wren-leat/brief.toml"));
  text = with(
      "bead = \"45 mm\"\nflow = \"5 L/min\"\naccelerator = 0.04\noverhang_max = \"25 degrees\"\n"
      "robot = [\"0 m\", \"-1.9 m\", \"0.6 m\"]\n",
      "", text);
  text = with("working_wind = \"12 m/s\"\n", "", text);
  const auto add = [&](const std::string& under, const std::string& lines) {
    text = with(under, under + "\n" + lines, text);
  };
  add("free_edges = \"smooth\"",
      R"(openings = [[["0.5 m", "4.9 m"], ["0.7 m", "4.9 m"], ["0.7 m", "5.4 m"]]])");
  add("meeting = [\"0 m\", \"0 m\"]",
      "[[plan.round_opening]]\ncentre = [\"-0.7 m\", \"5 m\"]\ndiameter = \"20 cm\"");
  add("mesh_size = \"0.15 m\"",
      "edge_distance = \"60 mm\"\nevenness = 0.5\n"
      "[[form.height]]\nat = [\"0 m\", \"2.4 m\"]\nz = \"1.3 m\"\n"
      "[[form.stay_under]]\n"
      "line = [[\"-1 m\", \"2 m\", \"1.7 m\"], [\"1 m\", \"2 m\", \"1.8 m\"]]\n"
      "[[form.thrust]]\nsupport = \"towpath\"\nmost = \"60 kN\"");
  add("length = \"0.40 m\"", "length_min = \"15 cm\"\nwidth_max = \"1.2 m\"");
  add("weight = \"0.6 kPa\"",
      "fill_density = \"1600 kg/m3\"\nsurface = [\n"
      "  [[\"-0.2234 m\", \"6.396 m\", \"0.4 m\"], [\"0 m\", \"0 m\", \"1.9 m\"]],\n"
      "  [[\"-4.643 m\", \"-3.1315 m\", \"0.4 m\"], [\"0 m\", \"0 m\", \"1.9 m\"]],\n"
      "  [[\"5.032 m\", \"-3.268 m\", \"0.4 m\"], [\"0 m\", \"0 m\", \"1.9 m\"]]]");
  add("tie_factor = 1.35",
      "footing_length = \"0.5 m\"\nfooting_depth = \"0.6 m\"\nground_shear = \"2 kN\"\n"
      "thread_strength = \"500 MPa\"\ntie_lines = \"every pair\"");
  add("web_spacing = \"300 mm\"", "webs = \"warren\"");
  add("layer_max = \"14 mm\"",
      "bead = \"42 mm\"\nbead_min = \"21 mm\"\nbead_max = \"61 mm\"\noverlap = \"6 mm\"\n"
      "turn_radius = \"16 mm\"\nflow = \"6 L/min\"\naccelerator = 0.05\n"
      "speed_min = \"55 mm/s\"\nspeed_max = \"310 mm/s\"\nlayer_time_min = \"25 s\"\n"
      "layer_time_max = \"4 min\"\ntilt_max = \"18 degrees\"\n"
      "tilt_rate_max = \"36 degrees/s\"\nspin_rate_max = \"90 degrees/s\"\n"
      "nozzle_follows = true\nnozzle = \"51 mm\"\nnozzle_length = \"260 mm\"\n"
      "wrist = \"250 mm\"\nwrist_length = \"310 mm\"\nclearance = \"7 mm\"\n"
      "robot = [\"0.1 m\", \"-2.1 m\", \"0.7 m\"]\nreach_min = \"0.9 m\"\n"
      "reach_max = \"3.2 m\"\ntable_length = \"3.3 m\"\ntable_width = \"1.6 m\"\n"
      "overhang_max = \"15 degrees\"\nfar_bed = \"pad\"\nbed_accuracy = \"2 mm\"\n"
      "otherwise = [\"cast\", \"divide\"]\nfresh_density = \"2150 kg/m3\"\n"
      "fresh_yield = \"2 kPa\"\nfresh_yield_growth = \"5 Pa/s\"\n"
      "fresh_stiffness = \"150 kPa\"\nfresh_stiffness_growth = \"500 Pa/s\"\n"
      "batch = \"0.3 m3\"\ncoupons = 2\nsetting_up = \"30 min\"\nshift = \"10 h\"\n"
      "curing = \"14 day\"\nstep = \"40 mm\"");
  add("cap = 20",
      "people_by_length = true\npatch = \"7 kN\"\npatch_side = \"0.2 m\"\nvehicle = true\n"
      "along_share = 0.05\nrail_push = \"0.8 kN/m\"\nwind_roughness = \"0.3 m\"\n"
      "wind_height = \"5 m\"\nworking_people = \"0.75 kPa\"\nworking_wind = \"11 m/s\"");
  add("stiffness = \"25 MPa\"",
      "cohesion = \"3 kPa\"\nundrained_strength = \"50 kPa\"\ncover = \"0.4 m\"\n"
      "[factors]\nedition = \"our annex\"\ndead_high = 1.3\ndead_low = 0.95\npeople = 1.4\n"
      "other = 1.45\nwarmth = 1.55\nmoved = 1.2\npsi_people = 0.5\npsi_wind = 0.2\n"
      "psi_snow = 0.7\npsi_warmth = 0.65\nexpression = \"6.10a/b\"\nxi = 0.9\nconcrete = "
      "1.45\nconcrete_accident = 1.15\nplain = 0.85\n"
      "steel_thread = 1.3\nsteel_shank = 1.05\n"
      "[strength]\nlayer_tension = \"0.9 MPa\"\n"
      "[access]\ngradient_max = 0.1\nramp_from = 0.06\ncross_fall_max = 0.03\n"
      "run_rise = \"0.5 m\"\nlanding = \"1.6 m\"\nwidth_min = \"1 m\"\n"
      "parapet_height = \"1.2 m\"\nhandrail_height = \"0.95 m\"\nparapet_height_min = \"1 m\"\n"
      "required = false\n"
      "[rates]\ncurrency = \"crowns\"\nconcrete_per_m3 = 1\nprint_per_h = 2\nsteel_per_kg = 3\n"
      "pads_per_m2 = 5\nwalkway_per_m2 = 6\nfooting_per_m3 = 7\n"
      "lorry_per_load = 8\n"
      "[carbon]\nprinted = 0.21\nstone = 0.22\nconcrete = 0.23\nsteel = 0.24\n"
      "timber = 0.26\npads = 0.27");
  // the site's tables as they are in the example are replaced
  const std::size_t site = text.find("ground_level"), end = text.find("# The footings as built");
  text.erase(site, end - site);
  text = with("friction = 0.3\n", R"(friction = 0.3
seats = "laggings"
lagging_width = "95 mm"
lagging_thickness = "22 mm"
rib_spacing = "0.45 m"
cross_spacing = "0.7 m"
rib_depth = "0.28 m"
ground_level = "-1.1 m"
no_feet = [[["-0.5 m", "-0.5 m"], ["0.5 m", "-0.5 m"], ["0.5 m", "0.5 m"]]]
feet = "jacks"
foot_spacing = "1.4 m"
travel = "80 mm"
post = "120 mm"
sheet_length = "2.5 m"
sheet_width = "1.25 m"
sheet_thickness = "17.5 mm"
cutter = "laser"
tool = "0.3 mm"
clearance = "0.4 mm"
part_gap = "12 mm"
bending_strength = "30 MPa"
shear_strength = "3 MPa"
bearing_strength = "2.2 MPa"
edge_strength = "14 MPa"
post_strength = "18 MPa"
stiffness = "7 GPa"
density = "600 kg/m3"
k_mod = 0.7
gamma_m = 1.3
working_load = "1.25 kPa"
horizontal_share = 0.01
deflection_max = "4 mm"
settlement = "2 mm"
strike_step = "3 mm"
[erect]
order = "leg by leg"
compare = true
[lifting]
crane = ["1 m", "11 m"]
crane_level = "-0.2 m"
hook_max = "10 m"
wind_table = "10 m/s"
drag = 1.3
legs = 4
spreader = true
sling_angle = "45 degrees"
sling_capacity = "12 kN"
sling_width = "50 mm"
rigging_mass = "60 kg"
dynamic = 1.3
dynamic_yard = 2.2
adhesion = "2 kPa"
early_strength = 0.6
gamma_load = 1.3
[[lifting.chart]]
radius = "8 m"
capacity = "2.4 t"
[transport]
lorry_length = "7 m"
lorry_width = "2.5 m"
lorry_load = "9 t"
pallet_length = "1.4 m"
pallet_width = "0.9 m"
pallet_load = "900 kg"
pallet_mass = "30 kg"
pallet_gap = "60 mm"
forward = 1
rearward = 0.6
sideways = 0.6
upright = 1.5
bed_friction = 0.4
strap_force = "4 kN"
strap_angle = "60 degrees"
journey = ["1 day", "2 day", "3 day"]
[spares]
broken_share = 0.05
known_blocks = 30
count = 3
late_risk = 0.2
delay_cost = 900
[programme]
start = "2027-04-05"
draws = 20000
seed = 7
footings = ["9 day", "13 day", "20 day"]
cutting = ["2 day", "4 day", "7 day"]
centring = ["1 day", "2 day", "4 day"]
placing = ["10 min", "18 min", "40 min"]
striking = ["1 day", "2 day", "4 day"]
walkway = ["1 day", "2 day", "3 day"]
site_day = "7 h")",
              text);
  add("colder = \"25 K\"",
      "[required]\nlive_factor = 1.5\ngeometric_safety = 3\nfriction_reserve = 1.4\n"
      "footing_tolerance = \"20 mm\"\npad_stress = \"3 MPa\"");
  return text;
}

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
}

/// Actions, factors, soil, access, rates and carbon of with_everything().
void expect_practice(const Brief& b) {
  const Loads& l = b.loads;
  EXPECT_TRUE(l.people_by_length && l.vehicle);
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
                                         {0.1, 0.06, 0.03, 0.5, 1.6, 1.0, 1.2, 0.95, 1.0}));
  EXPECT_FALSE(a.required);
  const Rates& r = b.rates;
  EXPECT_EQ(r.currency, "crowns");
  const double rates[] = {r.concrete_per_m3, r.print_per_h,    r.steel_per_kg,  r.pads_per_m2,
                          r.walkway_per_m2,  r.footing_per_m3, r.lorry_per_load};
  EXPECT_THAT(rates, testing::ElementsAre(1, 2, 3, 5, 6, 7, 8));
  const Carbon& c = b.carbon;
  const double carbon[] = {c.printed.own, c.stone.own,  c.concrete.own,
                           c.steel.own,   c.timber.own, c.pads.own};
  EXPECT_THAT(carbon, testing::ElementsAre(0.21, 0.22, 0.23, 0.24, 0.26, 0.27));
}

TEST(Brief, TheKeysOutsideTheExamplesAreReadToo) {
  const Result<Brief> read = read_brief_text(with_everything(), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Brief& b = *read;
  ASSERT_EQ(b.plan.openings.size(), 2u);
  EXPECT_NEAR(area(b.plan.openings[0]), -0.05, 1e-12);  // clockwise
  // 48 corners on a circle of radius 0.1 m: n/2 r2 sin(2 pi/n)
  EXPECT_NEAR(area(b.plan.openings[1]), -24 * 0.01 * std::sin(2 * std::acos(-1.0) / 48), 1e-12);
  EXPECT_DOUBLE_EQ(b.form.edge_distance_m, 0.06);
  EXPECT_DOUBLE_EQ(b.form.evenness, 0.5);
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
  ASSERT_EQ(b.walkway.surface.size(), 3u);
  EXPECT_EQ(b.walkway.surface[2].back(), Vec3(0, 0, 1.9));
  EXPECT_DOUBLE_EQ(b.walkway.fill_density, 1600);
  EXPECT_TRUE(b.parapet.works_on(0) && b.parapet.works_on(1) && !b.parapet.works_on(2));
  EXPECT_DOUBLE_EQ(b.parapet.upstand_height_m, 0.35);
  EXPECT_DOUBLE_EQ(b.parapet.upstand_width_m, 0.12);
  EXPECT_DOUBLE_EQ(b.ground.footing_length_m, 0.5);
  EXPECT_TRUE(b.ground.every_pair);
  EXPECT_DOUBLE_EQ(b.ground.thread_strength_pa, 500e6);
  EXPECT_DOUBLE_EQ(b.ground.footing_depth_m, 0.6);
  EXPECT_DOUBLE_EQ(b.ground.ground_shear_n, 2000);
  EXPECT_DOUBLE_EQ(b.required.live_factor, 1.5);
  EXPECT_DOUBLE_EQ(b.required.geometric_safety, 3);
  EXPECT_DOUBLE_EQ(b.required.friction_reserve, 1.4);
  expect_practice(b);
  expect_print(b.print);
  EXPECT_EQ(b.section.webs, "warren");
  ASSERT_TRUE(b.survey.has_value());
  EXPECT_DOUBLE_EQ(b.survey->packer_max_m, 0.025);
  EXPECT_EQ(b.survey->points.at(5).support, "orchard");
  EXPECT_EQ(b.survey->points.at(5).mark, "back");
  EXPECT_EQ(b.survey->points.at(5).measured, Vec3(-5.6378, -3.8026, -0.0140));
}

// "plan.support[2].id" of "plan.support[].id"
std::string in_table(std::string path, int number) {
  if (const auto at = path.find("[]"); at != std::string::npos)
    path.insert(at + 1, std::to_string(number));
  return path;
}

// A plan and a surface in files beside the brief; two supports cut corners, one lies between
// points.
std::string with_files(const std::filesystem::path& folder) {
  std::ofstream(folder / "plan.svg")
      << R"(<svg><polygon id="outline" points="-3000,2000 3000,2000 1000,-3000 -1000,-3000"/></svg>)";
  std::ofstream(folder / "surface.ply")
      << "ply\nformat ascii 1.0\nelement vertex 4\nproperty double x\nproperty double y\n"
         "property double z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
         "-400 -300 0\n400 -300 0\n0 0 150\n0 400 0\n4 0 1 2 3\n";
  std::string text = drovers_hop();
  const auto from = text.find("[plan]"), to = text.find("[form]");
  text = text.substr(0, from) +
         R"([plan]
file = "plan.svg"
file_unit = "mm"
[[plan.support]]
id = "a"
at = ["-3 m", "-2 m"]
width = "0.9 m"
[[plan.support]]
id = "b"
at = ["3 m", "-2 m"]
width = "0.9 m"
[[plan.support]]
id = "c"
between = [["-1 m", "3 m"], ["1 m", "3 m"]]
)" + text.substr(to);
  text = with("count = 23", "length = \"0.4 m\"", text);
  text = with("mesh_size = \"0.2 m\"", "target = \"surface.ply\"\ntarget_unit = \"cm\"", text);
  text = with("lines = [[[\"-4.5 m\", \"0 m\"], [\"4.5 m\", \"0 m\"]]]",
              "lines = [[[\"0 m\", \"3 m\"], [\"0 m\", \"-2 m\"]]]", text);
  return text.substr(0, text.find("[[ground.tie]]"));
}

TEST(Brief, PlanAndSurfaceFromFiles) {
  const std::filesystem::path folder = scratch_folder("from-files");
  const Result<Brief> read = read_brief_text(with_files(folder), folder / "brief.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  EXPECT_EQ(read->plan.outline.size(), 6u);  // y is turned up, two corners are cut, edges as drawn
  EXPECT_NEAR((read->plan.supports[2].b - Vec2(-1, 3)).norm(), 0, 1e-12);
  ASSERT_EQ(read->form.target.triangles.size(), 2u);  // one face of four corners
  EXPECT_NEAR((read->form.target.vertices[2] - Vec3(0, 0, 1.5)).norm(), 0, 1e-12);
}

TEST(Brief, SurfacesThatAreNone) {
  const std::filesystem::path folder = scratch_folder("no-surfaces");
  const std::string text = with_files(folder);
  const auto says = [&](const std::string& content) {
    std::ofstream(folder / "surface.ply") << content;
    const Result<Brief> read = read_brief_text(text, folder / "brief.toml");
    return read.ok() ? "read" : all_of(read.faults());
  };
  EXPECT_THAT(says("nothing"), HasSubstr("surface.ply: PLY: found a file that cannot be read"));
  const std::string head =
      "ply\nformat ascii 1.0\nelement vertex 3\nproperty double x\nproperty double y\n"
      "property double z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n";
  EXPECT_THAT(says(head + "0 0 1\n1 0 1\n0 1 1\n3 0 1 7\n"), HasSubstr("PLY: found"));
  EXPECT_THAT(says(head + "900 0 1\n901 0 1\n900 1 1\n3 0 1 2\n"),
              HasSubstr("no corner is over the plan"));
  std::filesystem::remove(folder / "surface.ply");
  EXPECT_THAT(all_of(read_brief_text(text, folder / "brief.toml").faults()),
              HasSubstr("surface.ply: found no such file"));
}

TEST(Brief, EveryKeyIsReadInOneOfTheseBriefs) {
  const std::filesystem::path folder = scratch_folder("every-key");
  std::set<std::string> read;
  for (const std::string& text : {drovers_hop(), with_everything(), with_files(folder)}) {
    const Result<Draft> draft = read_draft(text, folder / "brief.toml");
    ASSERT_TRUE(draft.ok()) << all_of(draft.faults());
    EXPECT_TRUE(draft->faults.empty()) << all_of(draft->faults);
    for (const Key& key : keys())
      for (int number = 1; number <= 3; ++number)
        if (draft->has(in_table(key.path, number))) read.insert(key.path);
  }
  for (const Key& key : keys()) EXPECT_TRUE(read.contains(key.path)) << key.path;
}

// Alone in its section, a value that no key takes is refused where it stands.
TEST(Brief, EveryKeyRefusesADate) {
  for (const Key& key : keys()) {
    const std::string section = section_of(key.path);
    const bool list = section.ends_with("[]");
    const std::string header =
        list ? "[[" + section.substr(0, section.size() - 2) + "]]" : "[" + section + "]";
    const std::string text = header + "\n" + leaf_of(key.path) + " = 1979-05-27\n";
    const Result<Draft> draft = read_draft(text, "some.toml");
    ASSERT_TRUE(draft.ok()) << all_of(draft.faults());
    const auto fault = std::find_if(
        draft->faults.begin(), draft->faults.end(),
        [&](const Fault& f) { return f.key == in_table(key.path, 1) && f.found == "a date"; });
    ASSERT_NE(fault, draft->faults.end()) << key.path << "\n" << all_of(draft->faults);
    EXPECT_EQ(fault->line, 2) << key.path;
    EXPECT_EQ(fault->column, static_cast<int>(leaf_of(key.path).size()) + 4) << key.path;
    EXPECT_FALSE(fault->expected.empty()) << key.path;
  }
}

}  // namespace
}  // namespace skewback
