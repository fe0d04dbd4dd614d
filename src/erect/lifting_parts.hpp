#pragma once
// Private to erect/: what the files of the lifting hand to one another.

#include "brief/brief.hpp"
#include "erect/handling_block.hpp"
#include "erect/lifting.hpp"

namespace skewback {

// Textile slings on concrete, and room between a block's top and the hook: common practice, no
// source.
inline constexpr double kSlingFriction = 0.3;
inline constexpr double kHookClear_m = 0.5;
inline constexpr double kLiftOver_m = 0.5;  // under a block that passes over what stands
inline constexpr double kEntry_m = 0.5;     // straight part of its way in

/// A sling under the soffit, in an upright plane along `along`: up the back, under, up the front.
struct SlingLine {
  double off_m = 0;                                // from the centre of gravity, along `across`
  Vec3 back = Vec3::Zero(), front = Vec3::Zero();  // ends of the soffit, where it turns up
  Vec3 back_top = Vec3::Zero(), front_top = Vec3::Zero();  // where its parts leave the block
  Vec3 head = Vec3::Zero();   // to where its parts go: hook, or end of the beam
  std::vector<Vec2> outline;  // of the block there, hull: along and up from the centre of gravity
};
struct Slinging {
  std::vector<SlingLine> lines;  // two
  Vec3 hook = Vec3::Zero();
  std::vector<HandlingForce> forces;  // on the block, for a weight of 1 N
  std::vector<HandlingForce>
      squeeze;  // of slings drawn tight under the soffit; balance by themselves
  std::vector<double> leg_lengths_m;  // from head to where they bear, so that it hangs as it stands
  double angle_rad = 0;               // greatest from the vertical
  double part_n = 0;                  // pull in the hardest drawn part, for a weight of 1 N
  double leg_n = 0;                   // in the hardest drawn leg: a part, or both up to a ring
  double tilt_rad = 0;                // with legs of equal length
  bool straddles = true;              // every part pulls
  double slope_rad = 0;               // of the soffit along the slings
  double cross_slope_rad = 0;         // and across them
};

/// A rectangle in plan.
struct PlanBar {
  Vec2 middle = Vec2::Zero(), way = Vec2::UnitX();
  double half_length_m = 0, half_width_m = 0;
};
/// What of the centring lies against the soffit: laggings, or else the ribs along.
/// (sling_seats.cpp)
[[nodiscard]] std::vector<PlanBar> under_blocks(const CentringRequest& request,
                                                const Centring& centring);
/// How many of the slings, so wide, run over one of these.
[[nodiscard]] int lines_over(const std::vector<SlingLine>& lines, double width_m,
                             const std::vector<PlanBar>& bars);
[[nodiscard]] std::string remark_on_seats(const Brief& brief, const Centring* centring,
                                          const LiftPlan& plan);

/// Two lines, even on both sides of the centre of gravity, where the block bends least; but where
/// fewest run over `bars`, of all that pull it no harder than `enough_pa` for a weight of 1 N. None
/// where there is no soffit to sling.
[[nodiscard]] std::optional<Slinging> sling(const LiftRequest& request, const Solid& solid,
                                            const HandlingBlock& block,
                                            const std::vector<PlanBar>& bars = {},
                                            double enough_pa = 0);
/// Tension in the block for a weight of 1 N that asks little of its strength, whenever it hangs.
[[nodiscard]] double little_tension(const Brief& brief, double mass_kg);

/// Legs that are counted on.
[[nodiscard]] int counted_legs(const LiftRequest& request);

void check_tension(const Brief& brief, const Solid& solid, const HandlingBlock& block,
                   const Slinging& slinging, BlockLift& lift);
void check_slings(const Brief& brief, const HandlingBlock& block, const Slinging& slinging,
                  BlockLift& lift);
/// From when on the pressure on an edge, of its age, is borne.
void set_edge_age(const Brief& brief, HandlingCheck& edge);
/// `over_m`: top of what stands when it comes. `on_bed_m`: from the middle of the lorry's bed to
/// where the block stands on it; none: not known.
void check_crane(const LiftRequest& request, const Solid& solid, const HandlingBlock& block,
                 double over_m, std::optional<double> on_bed_m, BlockLift& lift);

/// What radius the chart is asked at. `loads_known`: where blocks stand on the bed is.
[[nodiscard]] std::string remark_on_lorry(const LiftRequest& request, bool loads_known);

/// Greatest area that the block shows to a level wind from any side (of its convex hull), m2.
[[nodiscard]] double wind_area_m2(const Solid& solid);

/// What is met on the way in: the block, moved out along `entry` by up to kEntry_m, against those
/// in place. Empty: nothing.
[[nodiscard]] std::string way_in(const Assembly& assembly, const std::vector<char>& placed,
                                 const Entry& entry);

/// What must be held along a soffit that falls so, design.
[[nodiscard]] double stop_n(const LiftRequest& request, double mass_kg, double slope_rad);
/// Where slings that straddle the centre of gravity do not hold the block alone: the strap that
/// does, and what it presses on the lower edge; after check_slings. (sling_strap.cpp)
void check_strap(const Brief& brief, const HandlingBlock& block, const Slinging& slinging,
                 BlockLift& lift);
/// Held along a sling for each newton of hand tension in the strap over it that turns so far from
/// down one bed to up the other, in two equal corners.
[[nodiscard]] double grip_of_strap(double turn_rad);

[[nodiscard]] double utilisation_of(double demand, double resistance);

}  // namespace skewback
