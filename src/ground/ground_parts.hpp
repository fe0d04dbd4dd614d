#pragma once
// What the parts of `Groundworks` hold. Lengths m, forces N, moments N m, pressures Pa.

#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "loads/loads.hpp"

namespace skewback {

struct SupportReaction {
  std::string id;
  Vec3 point = Vec3::Zero();   // middle of the springing
  Vec3 force = Vec3::Zero();   // of the ground on the bridge, N
  Vec3 moment = Vec3::Zero();  // about point, N m
  double thrust_n = 0;         // horizontal part of force
};

struct TieForce {
  std::string id;
  std::vector<double> rod_force_n = {};  // per rod, tension > 0
  double force_n = 0;                    // sum
  double governing_n = 0;                // the largest rod force over all cases, factored
  std::string governing = "";            // its case and factors in words
  double diameter_m = 0;                 // of each rod, next size of a stated series
  double length_m = 0;
  std::string thread = "";  // "M30"; empty where none of the series does
  double resistance_n = 0;  // of one rod, the lesser of thread and shank
  bool thread_governs = false;
};

struct TieState {  // of one case
  std::string case_id;
  std::vector<SupportReaction> supports;
  std::vector<std::vector<double>> rod_force_n;  // per tie, per rod
  std::vector<Vec3> ground_shear_n;              // per support: x, y force and yaw moment in z
  double residual_rel = 0;                       // plan equilibrium of the footings
  bool balanced = false;
  std::string reason;  // when not: which footing, what is missing
};

struct FootingSize {                // rectangle in plan
  double length_m = 0;              // along the springing line
  double inner_m = 0, outer_m = 0;  // from the springing line, towards the bridge and away
  double depth_m = 0;               // of the underside below the springing
  [[nodiscard]] double width_m() const { return inner_m + outer_m; }
};

/// Variable actions that are on together, by the ids of the states in which each is alone with the
/// weight; the first leads. Factors come with the design approach.
struct FootingCombination {
  std::string id;
  std::vector<ActionPart> parts;
};

/// How far reactions of actions added up are from those of the combination put on at once.
struct AddingUp {
  double rel = 0;  // greatest difference over the reaction
  std::string case_id;
};

struct FootingCase {  // one combination, one set of factors
  std::string case_id, approach;
  double dead_factor = 1, live_factor = 1;  // on weight; on the leading variable action
  std::string words = "";                   // "1 weight + 1.5 wind-east"
  double vertical_n = 0;
  Vec2 horizontal_n = Vec2::Zero();  // out, along; what ties leave
  Vec2 eccentricity_m = Vec2::Zero();
  Vec2 effective_m = Vec2::Zero();
  double pressure_pa = 0;       // on the effective area; 0 where there is none
  double pressure_most_pa = 0;  // of all sets of factors of this combination, not far
  double resistance_pa = 0;     // of the soil; 0 where unknown
  double slide_resistance_n = 0;
  // none: soil unknown, or the load is off the base
  std::optional<double> bearing_used, sliding_used;
  bool gap = false, far = false;  // eccentric beyond a sixth; beyond a third
};

struct Holdfast {                           // what holds the thrust that ties leave
  double thrust_n = 0;                      // greatest over the cases, factored
  std::optional<double> deadman_m;          // height of a buried block as long as the footing
  double pile_slope = 1.0 / 3;              // out of plumb
  double pile_push_n = 0, pile_pull_n = 0;  // of the pair; pull > 0 is tension
};

struct FootingReport {
  std::string id;
  FootingSize size;
  double weight_n = 0;
  std::vector<FootingCase> cases;  // the worst set of factors of each combination, then
                                   // sets that slide or lean more than these
  int worst_bearing = -1, worst_sliding = -1, worst_eccentric = -1;  // in `cases`
  bool cleared = false;
  std::string reason;             // when not, in words
  double pressure_needed_pa = 0;  // greatest design pressure under it, load beyond a third aside
  double friction_needed = 0;     // greatest H / V, design
  // least area that passes (soil unknown: on which no edge lifts); none up to 4 m out
  std::optional<FootingSize> proposed;
  double proposed_pressure_pa = 0;  // greatest under that
  // under the dead load, in the end; none also where that lies off the base
  std::optional<double> settlement_m;
  double settled_at_once = 1;                                 // share of it that comes at once
  std::optional<Vec2> tilt_rad;                               // likewise; see footing_tilt
  double plain_ratio = 0, overhang_m = 0, plain_depth_m = 0;  // thickness that needs no bars
  std::optional<Holdfast> holdfast;                           // where thrust is left after ties
};

/// One slab under all springings, which the thrusts stretch instead of ties.
struct Raft {
  std::vector<Vec2> outline;          // in plan, counter-clockwise
  double top_m = 0, thickness_m = 0;  // level of its top; the least that the checks allow
  double area_m2 = 0, weight_n = 0;
  double pressure_pa = 0;                            // on the effective area, greatest design value
  std::optional<double> bearing_used, sliding_used;  // none: soil unknown, or the load is off it
  bool gap = false;                                  // some edge lifts
  double pull_n = 0, moment_nm = 0;  // on the section that asks for most steel, design
  double section_m = 0;              // its width
  double steel_m2_per_m = 0;         // most, top and bottom together, per metre of section
  double steel_kg = 0;               // that over all of it, both ways
  std::string bearing_case, sliding_case, steel_case;
  bool cleared = false;
  std::string reason;  // when not
};

struct LaidTie {
  std::string id;
  double length_m = 0, force_n = 0;  // of one rod, factored: its capacity
  int rods = 0;
  std::string thread = "";  // empty: none of the series does
  double steel_kg = 0;      // with exactly the area needed
  double thread_kg = 0;     // with the next size
};
struct Layout {
  std::vector<LaidTie> ties;
  double steel_kg = 0, thread_kg = 0;
};
struct TieLayout {
  std::vector<std::string> candidates, refused;  // refused: "a-b: runs through the footing of c"
  std::vector<std::string> unheld;               // cases no candidates hold, left out
  std::optional<Layout> best, second, every_pair;
  std::string second_reason;  // where there is no second
};

struct LossState {  // one tie, or one rod of it, gone; factors of an accident
  std::string tie;
  int rod = -1;       // -1: all of it
  bool held = false;  // in every case
  int cases = 0, cases_held = 0;
  double used = 0;        // worst over the cases held: force over resistance at gamma 1.0
  std::string governing;  // case and tie
  std::string reason;     // when not held: first case and what is missing
};

struct Shoe {
  std::string id;
  double slope_deg = 0;  // of the bed out of level
  double plate_along_m = 0, plate_across_m = 0, plate_thickness_m = 0;
  double pressure_pa = 0;            // of the first bed, greatest peak, factored
  double normal_n = 0, shear_n = 0;  // of the case with most shear left; shear factored
  double shear_left_n = 0;           // after friction
  int bolts = 0;
  std::string bolt = "";
  double levelling_m = 0;  // each way
  double tie_n = 0;        // greatest pull of one tie on it, factored
  std::string governing;   // case
};

}  // namespace skewback
