#pragma once
// Getting each block off its table, into its place, past its neighbours. Theory:
// docs/theory/lifting.md.

#include <optional>
#include <string>
#include <vector>

#include "erect/erect.hpp"
#include "erect/lift_age.hpp"
#include "print/print.hpp"

namespace skewback {

/// One thing a lifted or carried block is held to.
struct HandlingCheck {
  std::string name;  // "tension, table", "tension, site", "sling", "edge, table",
                     // "edge, site", "crane", "hook height"; "yard" for blocks that are not printed
  double demand = 0, resistance = 0;
  std::string unit;
  double utilisation = 0;
  std::string place, source;
  double age_days = 0;                         // of the concrete; 0: its age does not count
  std::optional<double> holds_from_days = {};  // least age at which it holds; none: not by 28
};

struct Transport;

/// Of the crane, for one block; radii 0: no lorry is drawn, capacities 0: beyond its chart.
/// lorry_m: to where the block stands on the bed, turned the worst way; to the middle of the bed
/// where that is not known.
struct StandTried {
  double place_m = 0, lorry_m = 0, place_kg = 0, lorry_kg = 0;
  double hoisted_kg = 0;
  [[nodiscard]] bool place_stops() const { return place_kg < hoisted_kg; }
  [[nodiscard]] bool lorry_stops() const { return lorry_m > 0 && lorry_kg < hoisted_kg; }
};

struct BlockLift {
  int block = -1;
  std::string id;
  double mass_kg = 0;           // of the block alone
  Vec3 centre = Vec3::Zero();   // of gravity, without what it will carry; world, in place
  std::vector<Vec3> slings;     // where they bear, world, block in place
  Vec3 hook = Vec3::Zero();     // block in place
  double sling_angle_rad = 0;   // of the steepest-loaded leg from the vertical
  double leg_force_n = 0;       // dynamic factor on, legs counted as the brief says; not less than
                                // what balances the weight
  double tilt_rad = 0;          // between the way it would hang, all legs of equal length, and the
                                // way it stands in its place
  double layer_tension_pa = 0;  // greatest across layers while it hangs; below 0: compressed
  double radius_m = 0, crane_share = 0;  // hoisted mass over the chart's; 0: no crane drawn
  int stand = 1;                         // of the crane
  std::vector<StandTried> stands;        // until one did, against its chart
  double wind_m_s = 0;                   // gust up to which it may hang
  bool way_clear = true;                 // straight in along erect/entry.hpp, with its slings
  std::string obstacle;
  std::vector<HandlingCheck> checks;
  double utilisation = 0;             // worst check
  std::vector<double> leg_lengths_m;  // per sling or pair's leg, head to where it bears or leaves
                                      // the block: hung so, it does not tilt
  double slope_rad = 0;               // of the soffit along the slings
  bool cradle = false;                // slings alone do not hold it
  // hand tension of a strap over each sling, round the block, that does; 0: none is needed, or the
  // slings' edges are not on both sides of the centre of gravity and a cradle must carry it
  double strap_n = 0;
  // a sling is pinched where the block comes to rest; none: no centring is drawn, or no slings
  std::optional<bool> sling_over_seat = {};
};

/// Least age at which all that hangs on age holds: off the table, or on site; days. None: not
/// by 28.
[[nodiscard]] std::optional<double> may_leave_table_days(const BlockLift& lift);
[[nodiscard]] std::optional<double> may_be_placed_days(const BlockLift& lift);

struct LiftPlan {
  std::vector<BlockLift> lifts;  // in the order of placing
  LiftAge table, site;
  double utilisation = 0;
  std::vector<std::string> remarks;
};

/// No stand that was looked at carries it from the lorry to its place.
[[nodiscard]] bool beyond_the_crane(const BlockLift& lift);
/// What each stand that was looked at comes to, and what stops it.
[[nodiscard]] std::string stands_in_words(const BlockLift& lift);

/// "slings"; "slings and straps"; "cradle": neither would hold it, or no place for slings was
/// found.
[[nodiscard]] std::string held_by(const BlockLift& lift);

/// `print`: ages, and the direction of layers; null: none are known. `centring`: what slings may be
/// pinched on; null: none is drawn. `transport`: where each block stands on its lorry; null: not
/// known.
[[nodiscard]] LiftPlan plan_lifts(const Brief& brief, const Assembly& assembly,
                                  const Programme& programme, const PrintSet* print,
                                  const Centring* centring = nullptr,
                                  const Transport* transport = nullptr);

/// Force in each of `legs` slings at beta from the vertical (EN 13155 practice, angle factor
/// 1/cos beta), N.
[[nodiscard]] double sling_force(double weight_n, double dynamic, int legs, double beta_rad);
/// Gust at which a load may hang: v_table sqrt(1.2 m / A_W), m in t, A_W = drag x area in m2
/// (crane-makers' note, T-13.0); never over v_table.
[[nodiscard]] double permitted_wind(double v_table_m_s, double mass_kg, double drag,
                                    double area_m2);

}  // namespace skewback
