#pragma once
// What the brief says of the works on site: centring, order, lifting, transport, spares, time.
// Defaults are common practice or figures from memory (docs/brief.md names each); all may be
// replaced. Part of brief/brief.hpp.

#include <optional>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct CentringRequest {
  bool wanted = false;         // the brief has a table [centring]
  double friction = 0.3;       // block on its seat
  std::string seats = "ribs";  // or "laggings", laid across the ribs
  double lagging_width_m = 0.1, lagging_thickness_m = 0.025;
  double rib_spacing_m = 0.5;  // most, of ribs along the flow
  double cross_spacing_m = 0.8;
  double rib_depth_m = 0.3;
  double ground_level_m = -0.8;
  std::vector<std::vector<Vec2>> no_feet;  // polygons in plan, counter-clockwise
  std::string feet = "wedges";             // or "jacks"
  double foot_spacing_m = 1.5;
  // characteristic: what a stake, ground screw or kentledge holds at a foot; 0: friction alone
  double foot_hold_n = 0, foot_hold_up_n = 0;
  double foot_hold_factor = 2;
  double jack_capacity_n = 0;  // design value; 0: a screw is chosen
  double travel_m = 0.06;      // of which the share below goes down, kept for striking
  static constexpr double kDownShare = 2.0 / 3;
  double post_m = 0.1;
  double stock_length_m = 4.8, saw_kerf_m = 0.004;  // of sawn timber as sold; of its cuts
  double sheet_length_m = 2.44, sheet_width_m = 1.22, sheet_thickness_m = 0.0177;
  std::string cutter = "router";  // or "laser"
  double tool_m = 0.006;          // diameter of the bit; kerf of the laser
  double clearance_m = 0.0003;
  double part_gap_m = 0.01;
  double bending_strength_pa = 33e6, shear_strength_pa = 3.5e6, bearing_strength_pa = 2.5e6;
  double post_strength_pa = 21e6;  // along the grain
  double edge_strength_pa = 15e6;  // of the sheet pressed in its own plane
  double stiffness_pa = 7.5e9;
  double density = 685;
  double k_mod = 0.8, gamma_m = 1.2;
  double working_load_pa = 1.5e3;
  double horizontal_share = 0.025;
  double deflection_max_m = 0.003;
  double settlement_m = 0.003;
  double strike_step_m = 0.002;
};

struct ErectRequest {
  std::string order = "together";  // or "leg by leg"
  bool compare = false;            // with the other
};

struct CraneReach {
  double radius_m = 0, capacity_kg = 0;
};
struct LiftRequest {
  bool wanted = false;                      // the brief has a table [lifting]
  std::optional<Vec2> crane, second_stand;  // where it stands; and where it stands later on
  std::optional<Vec2> lorry;                // that blocks are lifted from
  double crane_level_m = 0, hook_max_m = 12;
  std::vector<CraneReach> chart;  // radius ascending
  double wind_table_m_s = 9, drag = 1.2;
  int legs = 2;
  bool spreader = false;
  double sling_angle_rad = 0.5235987755982988;  // most, from the vertical
  double sling_capacity_n = 10e3, sling_width_m = 0.06;
  double rigging_mass_kg = 40;
  double dynamic = 1.4, dynamic_yard = 2.0;
  double adhesion_pa = 1e3;
  double table_age_s = 0, site_age_s = 0;  // when lifted; 0: what curing, and a journey, leave
  double early_strength = 0;  // share of the strength on leaving the table; 0: by its age
  double gamma_load = 1.35;
};

struct TransportRequest {
  bool wanted = false;  // the brief has a table [transport]
  double lorry_length_m = 6.2, lorry_width_m = 2.4, lorry_load_kg = 8000;
  double pallet_length_m = 1.2, pallet_width_m = 1.0, pallet_load_kg = 1000, pallet_mass_kg = 25;
  double pallet_gap_m = 0.05;
  double forward = 0.8, rearward = 0.5, sideways = 0.5, upright = 1.4;  // over gravity
  double bed_friction = 0.45;
  double strap_force_n = 5e3;
  double strap_angle_rad = 1.3089969389957472;  // to the load bed
  Vec3 journey_s = 86400 * Vec3(1, 1, 2);       // least, likely, most; so are all below
};

struct SparesRequest {
  bool wanted = false;  // the brief has a table [spares]
  double broken_share = 0.03, known_blocks = 20;
  int count = -1;      // -1: as many as late_risk asks
  int count_line = 0;  // of the brief: how many blocks there are turns out later
  double late_risk = 0.1;
  double delay_cost = 0;  // of a day
};

struct ProgrammeRequest {
  bool wanted = false;  // the brief has a table [programme]
  std::string start = "2027-03-01";
  std::vector<std::string> week;      // "mon", ...: worked; empty: all
  std::vector<std::string> holidays;  // dates
  int draws = 10000, seed = 1;
  Vec3 footings_s = 86400 * Vec3(10, 14, 21);
  Vec3 cutting_s = 86400 * Vec3(3, 5, 8), centring_s = 86400 * Vec3(2, 3, 5);
  Vec3 placing_s = 60 * Vec3(15, 20, 45);  // one block
  Vec3 striking_s = 86400 * Vec3(1, 1, 3), walkway_s = 86400 * Vec3(2, 3, 5);
  double site_day_s = 8 * 3600.0;
};

}  // namespace skewback
