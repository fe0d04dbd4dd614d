#pragma once
// What the user asks for: read, checked, defaulted. SI inside. Keys: docs/brief.md (made from the
// same table that reads them).

#include <algorithm>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/constants.hpp"
#include "brief/site_requests.hpp"
#include "brief/survey_requests.hpp"
#include "geometry/geometry.hpp"

namespace skewback {

struct Support {  // a springing line; both ends lie on the outline
  std::string id;
  Vec2 a = Vec2::Zero(), b = Vec2::Zero();  // a before b walking the outline counter-clockwise
  double level_m = 0;
  double bow_m = 0;  // how far the outline as drawn stands beyond the line: the footing's part
};

struct FreeEdge {          // outline between the end of one support and the start of the next
  int from = 0, to = 0;    // support indices
  std::vector<Vec2> line;  // from supports[from].b to supports[to].a, curve already sampled
};

struct Plan {
  Polygon outline;                   // counter-clockwise, curves sampled
  std::vector<Support> supports;     // counter-clockwise
  std::vector<FreeEdge> free_edges;  // free_edges[k] follows supports[k]
  std::vector<Polygon> openings;     // clockwise, as the holes of a Region
  std::optional<Vec2> meeting;       // where the arms meet; none: found from the outline
  // the other end of a spine that begins at `meeting`; who meets where: brief/meetings.hpp
  std::optional<Vec2> second_meeting;
  // how far free edges are already drawn out to the straight lines between their ends, 0 to 1
  double fill = 0;
};

struct HeightWish {  // the middle surface is to pass through it
  Vec2 at = Vec2::Zero();
  double z_m = 0;
};
struct ThrustCeiling {  // horizontal, under the dead load
  int support = 0;
  double most_n = 0;
};

inline constexpr const char *kByLoadPath = "least load path", *kAsNeeded = "as needed";

struct FormRequest {
  // of the middle surface at the meeting, or in the middle of the spine between two, over the mean
  // springing
  double rise_m = 0;
  double mesh_size_m = 0.15;  // length of an edge across the plan
  // what the fit is to come close to, beside the rise
  std::vector<HeightWish> heights;
  std::vector<std::vector<Vec3>> stay_under;  // the extrados stays below these lines (x, y, z)
  std::vector<ThrustCeiling> thrusts;
  TriangleMesh3 target;        // surface to come close to; empty: none
  double edge_distance_m = 0;  // free edges keep within this of where they are drawn; 0: no limit
  double evenness = 1;         // weight on evenness of force, 0.01 to 100
  // where the search begins: "plain", kByLoadPath, or kAsNeeded: by the load path where that meets
  // wishes that the plain start does not
  std::string start = kAsNeeded;
};

inline constexpr const char *kDepthAsGiven = "as given", *kDepthFromThrust = "from the thrust";

struct Section {
  double depth_crown_m = 0, depth_springing_m = 0;
  bool hollow = false;
  double leaf_m = 0.045;  // outer leaves all round
  double web_m = 0.045;
  double web_spacing_m = 0.3;         // centre to centre, at most
  std::string webs = "ladder";        // square to the leaves; or "warren": leaning to and fro
  std::string depth = kDepthAsGiven;  // or kDepthFromThrust: the two are where the search begins
};

struct Material {
  double density = 0;        // kg/m3
  double fck_pa = 0;         // cylinder strength
  std::string cement = "N";  // class S, N or R: how fast it hardens
};

struct BlockRequest {
  double mass_max_kg = 0;
  double length_m = 0;      // most along the flow; 0 when `count` rules
  double length_min_m = 0;  // least along the flow; 0: no limit
  double width_max_m = 0;   // most across the flow, wider courses get head joints; 0: by mass only
  double arris_face_m = 0.02;  // to which arrises under 30 degrees are cut back; 0: they stay
  int count = 0;  // voussoirs from springing to springing (two-legged plans); 0: by length
};

struct JointRequest {
  double friction = 0.6;
  double pad_thickness_m = 0;  // 0: dry, no pad
  double pad_shear_modulus_pa = 0.9e6;
};

struct Walkway {
  double width_m = 0;
  double weight_pa = 0;                  // N/m2
  std::vector<std::vector<Vec2>> lines;  // walking lines
  // Profile of the walking surface (x, y, z), one line for each of `lines` or none at all: what is
  // between it and the extrados is fill.
  std::vector<std::vector<Vec3>> surface;
  double fill_density = 0;  // kg/m3; 0: frames, whose weight is in weight_pa
};

struct Parapet {              // along every free edge
  double weight_n_per_m = 0;  // carried: per metre of free edge
  double inset_m = 0.1;       // from the edge to its middle
  // working: an upstand of the blocks themselves along both edges of these legs
  std::vector<int> working;  // support indices, ascending
  double upstand_height_m = 0, upstand_width_m = 0;
  [[nodiscard]] bool works_on(int support) const {
    return std::find(working.begin(), working.end(), support) != working.end();
  }
};

struct Loads {
  double people_pa = 0;
  double cap = 20;                            // a load factor at the cap reads "at least"
  std::string motion = "when needed";         // the third view of each case: or always, never
  bool people_by_length = false;              // less on a long deck (loads/actions.hpp)
  double patch_n = 10e3, patch_side_m = 0.1;  // concentrated load, for the skin of a block
  bool vehicle = false;                       // nothing bars a service vehicle
  double along_share = 0.1;           // of all the people's weight, pushing along a walking line
  double rail_push_n_per_m = 1e3;     // at the top of the parapet
  double wind_speed_m_s = 0;          // basic wind velocity; 0: no wind
  double wind_roughness_m = 0.05;     // roughness length z0 of the terrain
  double wind_height_m = 0;           // of the deck over the ground; 0: rise + 1 m, 2 m at least
  double snow_pa = 0;                 // on the ground
  double warmer_k = 0, colder_k = 0;  // of the bridge against the day it closed
  // while building, on what stands: people with hand tools; the gust at which work stops, 0: none
  double working_people_pa = 1e3, working_wind_m_s = 0;
};

/// Partial factors and combination values; defaults: EN 1990 A2 as recommended, from memory.
struct Factors {
  std::string edition = "EN 1990:2002 A2, recommended values (from memory)";
  double dead_high = 1.35, dead_low = 1.0;
  double people = 1.35, other = 1.5, warmth = 1.5, moved = 1.35;
  double psi_people = 0.4, psi_wind = 0.3, psi_snow = 0.8, psi_warmth = 0.6;
  std::string expression = "6.10";  // or "6.10a/b" (EN 1990:2002, 6.4.3.2)
  double xi = 0.85;                 // on heavy weight in 6.10b
  double concrete = 1.5, concrete_accident = 1.2, plain = 0.8;  // gamma_C; alpha_cc,pl, alpha_ct,pl
  double steel_thread = 1.25, steel_shank = 1.0;                // gamma_M2, gamma_M0
};

struct StrengthRequest {
  double layer_tension_pa = 0;  // characteristic, across layers; 0: half of f_ctk,0.05
};

enum class SoilKind { kUnknown, kDrained, kUndrained };
struct Soil {
  SoilKind kind = SoilKind::kUnknown;
  double phi_rad = 0, phi_cv_rad = 0;  // characteristic; phi_cv 0: phi
  double cohesion_pa = 0;
  double undrained_pa = 0;
  double weight_n_per_m3 = 18e3;
  double cover_m = 0;       // of soil over the underside of the footing; 0: its depth
  double stiffness_pa = 0;  // Young's modulus for settlement; 0: settlement not computed
};

struct AccessRequest {
  double gradient_max = 1.0 / 12, ramp_from = 1.0 / 20;  // steeper than `ramp_from` is a ramp
  double cross_fall_max = 1.0 / 48;
  double run_rise_m = 0.76;  // most rise between landings
  double landing_m = 1.5;
  double width_min_m = 1.2;
  double parapet_height_m = 1.1, handrail_height_m = 0.9;  // as designed
  double parapet_height_min_m = 1.1;
  bool parapet_stated = false, handrail_stated = false;  // heights in the brief, not by default
  bool required = false;                                 // must comply
};

struct Rates {  // the user's own; 0: not priced
  std::string currency = "";
  double concrete_per_m3 = 0, print_per_h = 0, steel_per_kg = 0;
  double pads_per_m2 = 0, walkway_per_m2 = 0, footing_per_m3 = 0, lorry_per_load = 0;
  double plywood_per_sheet = 0, sawn_per_m3 = 0;  // of the centring
};

struct CarbonFactor {  // kg CO2e per kg, A1 to A3
  double least, usual, most;
  double own = 0;  // from a declaration of the product: replaces all three; 0: none
};
struct Carbon {
  CarbonFactor printed{0.20, 0.27, 0.35}, stone{0.05, 0.08, 0.15}, concrete{0.10, 0.12, 0.15};
  CarbonFactor steel{0.76, 1.4, 1.99}, timber{0.26, 0.28, 0.30};
  CarbonFactor pads{2.9, 3.4, 4.0};
};
struct Tie {
  std::string id;
  int from = 0, to = 0;  // supports
  int rods = 2;
  double spacing_m = 1.0;  // between its outer rods
  double level_m = 0;
};

struct GroundRequest {
  std::vector<Tie> ties;
  double rod_yield_pa = 355e6;
  double thread_strength_pa = 800e6;  // f_ub of the threaded ends
  bool every_pair = false;            // ties may run between any two supports, not only as drawn
  double tie_factor = 1.35;           // on the live and dead thrust when rods are sized
  double footing_length_m = 0.6, footing_width_m = 0.4,
         footing_depth_m = 0.5;  // beyond, out from, below the springing
  double ground_shear_n = 0;     // each footing may count on, any direction
};

struct PrintRequest {   // defaults: usual figures of the trade, to be replaced by tests of the mix
  bool wanted = false;  // the brief has a table [print]
  double layer_min_m = 0.005, layer_max_m = 0.015;
  double bead_m = 0.04, bead_min_m = 0.02, bead_max_m = 0.06;  // width of wall a bead stands for
  double overlap_m = 0.005;                                    // of the foot of a web with the leaf
  double turn_radius_m = 0.006;
  double flow_m3_s = 5e-3 / 60;
  double accelerator = 0;  // volume over that of the mix
  double speed_min_m_s = 0.05, speed_max_m_s = 0.3;
  double layer_time_min_s = 20, layer_time_max_s = 180;
  double tilt_max_rad = kPi / 6, tilt_rate_max_rad_s = kPi / 6, spin_rate_max_rad_s = kPi;
  bool nozzle_follows = false;  // it is not round and turns with the path
  double turns_max = 0;         // of it, either way from rest; 0: not known (or a swivel)
  double nozzle_m = 0.05, nozzle_length_m = 0.25, wrist_m = 0.24, wrist_length_m = 0.3;
  double clearance_m = 0.005;
  // table frame: origin in the middle of the table's top, x along it, z up
  Vec3 robot = {0, -2, 0.6};  // centre of reach
  double reach_min_m = 0.8, reach_max_m = 3.1;
  double table_length_m = 3, table_width_m = 1.5;
  double overhang_max_rad = kPi / 9;
  std::string far_bed = "ground";  // how it is made true: "as printed", "levelled", "ground", "pad"
  double bed_accuracy_m = 0.001;   // after that
  double grind_allowance_m = 0.002;  // printed over the bed, then ground off
  // what cannot be printed bed to bed: "divide", "flat", "cast", by liking
  std::vector<std::string> otherwise = {"flat", "cast"};
  double fresh_density = 2200;  // kg/m3
  double fresh_yield_pa = 1e3, fresh_yield_growth_pa_s = 4;
  double fresh_stiffness_pa = 100e3, fresh_stiffness_growth_pa_s = 400;
  double batch_m3 = 0.25;
  int coupons = 1;         // per batch
  double open_time_s = 0;  // a mix is used no longer than this; 0: not known
  double setting_up_s = 1200, shift_s = 28800, curing_s = 7 * 86400.0;
  double step_m = 0.1;  // longest between two poses
};

struct Required {
  double live_factor = 1.35;  // on dead 1.0
  double geometric_safety = 2.0;
  double friction_reserve = 1.25;
  double footing_tolerance_m = 0.010;  // each footing is tried moved by this, each way
  double pad_stress_pa = 0;            // most the joints may take; 0: from material and pad
  bool tie_loss = false;               // the feet must be held when any one tie or rod is lost
};

struct Brief {
  std::string name;
  std::string title;
  std::filesystem::path file;
  std::string text;  // as read, for the report
  Plan plan;
  FormRequest form;
  Section section;
  Material material;
  BlockRequest blocks;
  JointRequest joints;
  Walkway walkway;
  Parapet parapet;
  Loads loads;
  GroundRequest ground;
  PrintRequest print;
  CentringRequest centring;
  ErectRequest erect;
  LiftRequest lifting;
  TransportRequest transport;
  SparesRequest spares;
  ProgrammeRequest programme;
  SiteGrid site;
  std::optional<SurveyRequest> survey;
  PackingRequest packing;
  TolerancesRequest tolerances;
  Required required;
  Factors factors;
  StrengthRequest strength;
  Soil soil;
  AccessRequest access;
  Rates rates;
  Carbon carbon;
};

/// Where a free edge passes from one leg to the next: metres along its line to the point nearest to
/// the meeting (its middle when there are two supports).
[[nodiscard]] double waist_m(const Plan& plan, int free_edge);

/// The stretches of free edge on whose parapets the blocks do not rely: each free edge from its
/// supports to its waist, without the legs on which the parapet works.
[[nodiscard]] std::vector<std::vector<Vec2>> carried_parapets(const Brief& brief);

/// Reads and checks a brief. All faults at once, each with file, line, column, key, found,
/// expected.
[[nodiscard]] Result<Brief> read_brief(const std::filesystem::path& file);

/// docs/brief.md, made from the table of keys.
[[nodiscard]] std::string brief_reference();

/// "5 kPa", "8 ft", "2.6 m" in SI, for the dimension named by an SI unit ("m", "Pa", "kg m-3"). The
/// fault has `found` and `expected` set. A bare number is a fault.
[[nodiscard]] Result<double> read_quantity(const std::string& text, const std::string& si_unit);

}  // namespace skewback
