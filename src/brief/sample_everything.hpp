#pragma once
// For tests only: a brief with every key that the examples leave out.

#include <string>

#include "brief/sample_text.hpp"

namespace skewback::sample {

// wren-leat, whose parapets work on two legs, with the keys that the examples leave out.
inline std::string with_everything() {
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
      "fill = 0.01\n"
      R"(openings = [[["0.5 m", "4.9 m"], ["0.7 m", "4.9 m"], ["0.7 m", "5.4 m"]]])");
  add("meeting = [\"0 m\", \"0 m\"]",
      "[[plan.round_opening]]\ncentre = [\"-0.7 m\", \"5 m\"]\ndiameter = \"20 cm\"");
  add("mesh_size = \"0.15 m\"",
      "edge_distance = \"60 mm\"\nevenness = 0.5\nstart = \"least load path\"\n"
      "[[form.height]]\nat = [\"0 m\", \"2.4 m\"]\nz = \"1.3 m\"\n"
      "[[form.stay_under]]\n"
      "line = [[\"-1 m\", \"2 m\", \"1.7 m\"], [\"1 m\", \"2 m\", \"1.8 m\"]]\n"
      "[[form.thrust]]\nsupport = \"towpath\"\nmost = \"60 kN\"");
  add("[material]", "cement = \"R\"");
  add("length = \"0.40 m\"",
      "length_min = \"15 cm\"\nwidth_max = \"1.2 m\"\narris_face = \"16 mm\"");
  add("weight = \"0.6 kPa\"",
      "fill_density = \"1600 kg/m3\"\nsurface = [\n"
      "  [[\"-0.2234 m\", \"6.396 m\", \"0.4 m\"], [\"0 m\", \"0 m\", \"1.9 m\"]],\n"
      "  [[\"-4.643 m\", \"-3.1315 m\", \"0.4 m\"], [\"0 m\", \"0 m\", \"1.9 m\"]],\n"
      "  [[\"5.032 m\", \"-3.268 m\", \"0.4 m\"], [\"0 m\", \"0 m\", \"1.9 m\"]]]");
  add("tie_factor = 1.35",
      "footing_length = \"0.5 m\"\nground_shear = \"2 kN\"\n"
      "thread_strength = \"500 MPa\"\ntie_lines = \"every pair\"");
  add("web_spacing = \"300 mm\"", "webs = \"warren\"\ndepth = \"from the thrust\"");
  add("layer_max = \"14 mm\"",
      "bead = \"42 mm\"\nbead_min = \"21 mm\"\nbead_max = \"61 mm\"\noverlap = \"6 mm\"\n"
      "turn_radius = \"16 mm\"\nflow = \"6 L/min\"\naccelerator = 0.05\n"
      "speed_min = \"55 mm/s\"\nspeed_max = \"310 mm/s\"\nlayer_time_min = \"25 s\"\n"
      "layer_time_max = \"4 min\"\ntilt_max = \"18 degrees\"\n"
      "tilt_rate_max = \"36 degrees/s\"\nspin_rate_max = \"90 degrees/s\"\n"
      "nozzle_follows = true\nturns_max = 1.5\nnozzle = \"51 mm\"\nnozzle_length = \"260 mm\"\n"
      "wrist = \"250 mm\"\nwrist_length = \"310 mm\"\nclearance = \"7 mm\"\n"
      "robot = [\"0.1 m\", \"-2.1 m\", \"0.7 m\"]\nreach_min = \"0.9 m\"\n"
      "reach_max = \"3.2 m\"\ntable_length = \"3.3 m\"\ntable_width = \"1.6 m\"\n"
      "overhang_max = \"15 degrees\"\nfar_bed = \"pad\"\nbed_accuracy = \"2 mm\"\n"
      "grind_allowance = \"3 mm\"\nopen_time = \"90 min\"\n"
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
      "[rates]\ncurrency = \"crowns\"\nconcrete_per_m3 = 1\nprint_per_h = 2\nsteel_per_kg = 3\n"
      "pads_per_m2 = 5\nwalkway_per_m2 = 6\nfooting_per_m3 = 7\n"
      "lorry_per_load = 8\nplywood_per_sheet = 9\nsawn_per_m3 = 10\n"
      "[carbon]\nprinted = 0.21\nstone = 0.22\nconcrete = 0.23\nsteel = 0.24\n"
      "timber = 0.26\npads = 0.27");
  add("handrail_height = \"0.9 m\"",
      "gradient_max = 0.1\nramp_from = 0.06\ncross_fall_max = 0.03\n"
      "run_rise = \"0.5 m\"\nlanding = \"1.6 m\"\nwidth_min = \"1 m\"\n"
      "parapet_height_min = \"1 m\"\nrequired = false");
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
foot_hold = "1.7 kN"
foot_hold_up = "2.6 kN"
foot_hold_factor = 1.8
jack_capacity = "17 kN"
travel = "80 mm"
stock_length = "5.4 m"
saw_kerf = "3.2 mm"
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
second_stand = ["2 m", "-11 m"]
lorry = ["3 m", "12 m"]
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
table_age = "3 days"
site_age = "10 days"
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
week = ["mon", "tue", "thu"]
holidays = ["2027-05-03"]
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
      "tie_loss = true\n"
      "footing_tolerance = \"20 mm\"\npad_stress = \"3 MPa\"");
  text = with("[survey]\naccuracy = \"2 mm\"",
              "[survey]\naccuracy = \"1 mm\"\nfile = \"points.csv\"\ngate = 4", text);
  text = with(
      "stock = [\"0.05 mm\", \"0.1 mm\", \"0.2 mm\", \"0.5 mm\", \"1 mm\", \"2 mm\", \"3 mm\", \"5 "
      "mm\", \"10 mm\"]\n"
      "most = \"25 mm\"\nslack = \"0.05 mm\"\nsqueeze = \"0.02 mm\"\nstep = \"1 mm\"",
      "stock = [\"6 mm\", \"2 mm\"]\nmost = \"24 mm\"\nslack = \"0.4 mm\"\nsqueeze = \"0.7 mm\"\n"
      "step = \"4 mm\"\nplate_length = \"140 mm\"\nplate_depth = \"90 mm\"\n"
      "spacing = \"250 mm\"\ntrim = \"35 mm\"",
      text);
  text = with("footing_plan = \"10 mm\"\nfooting_level = \"10 mm\"\ndraws = 10000",
              "footing_plan = \"11 mm\"\nfooting_level = \"9 mm\"\nfooting_turn = \"0.3 degrees\"\n"
              "footing_tilt = \"0.15 degrees\"\ncentring = \"4 mm\"\nblock_length = \"1.2 mm\"\n"
              "bed_tilt = \"0.06 degrees\"\nbed_flatness = \"0.6 mm\"\npad = 0.04\n"
              "even = [\"pad\", \"footing_plan\"]\ndraws = 20000\nseed = 3\nproof_draws = 150\n"
              "chance = 0.9",
              text);
  return text;
}

}  // namespace skewback::sample
