#pragma once
// What carries the blocks until the last is in: ribs cut from sheets, crossed like an egg-crate,
// on posts with feet that can be lowered. Theory: docs/theory/centring.md.

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "stand/forces.hpp"

namespace skewback {

struct Engraving {         // in the part's own x and y, m
  std::vector<Vec2> line;  // a mark; empty: words
  std::string words;
  Vec2 at = Vec2::Zero();  // middle of the words' base line
  double height_m = 0.012;
  double turn_rad = 0;  // counter-clockwise
};

/// A flat part cut from a sheet. It fills its frame's plane by half the sheet's thickness to each
/// side.
struct SheetPart {
  std::string id;    // "R3b": second piece of rib R3
  std::string rib;   // "R3": what it is a piece of; its own id for single parts
  std::string kind;  // "rib", "cross rib", "splice", "brace", "gusset"
  Frame place;       // x along the rib, y up or square to it, z through the sheet
  Region outline;    // as it is to be after cutting: slots, relief at inner corners for a router
  std::vector<Engraving> marks;
  bool grain_along_x = true;  // outer plies run along its x: it may only be laid so, or turned over
};

/// Sawn timber: posts, braces, what packs a pair of braces apart where they cross, laggings, sills.
struct Stick {
  std::string id, kind;                         // "post", "brace", "packing", "lagging", "sill"
  Vec3 from = Vec3::Zero(), to = Vec3::Zero();  // axis; of a brace from post's axis to post's axis
  double width_m = 0, depth_m = 0;
  double beyond_m = 0;         // that it is longer than its axis, at each end
  Vec3 beside = Vec3::Zero();  // from its axis to the middle of the timber
  [[nodiscard]] double cut_length_m() const { return (to - from).norm() + 2 * beyond_m; }
};

struct CentringFoot {
  std::string id;  // "R3-2"
  std::string rib;
  int post = -1;                // index of the stick
  Vec3 at = Vec3::Zero();       // on the ground
  Vec3 head = Vec3::Zero();     // where rib and post meet
  double down_m = 0, up_m = 0;  // travel from where it is set
  bool held = false;            // sideways, by a stake, ground screw or kentledge
  bool held_down = false;       // post and rib tied to it: it does not lift
};

/// One place where a block is carried.
struct Seat {
  Prop prop;            // what stand/ is given
  std::string rib;      // "R3"
  double along_m = 0;   // of the rib's place frame, x of its middle
  double length_m = 0;  // of edge that bears
  double width_m = 0;   // sheet thickness, or lagging width
};

/// A rib as a beam over its feet, whole (its pieces spliced).
struct Rib {
  std::string id;
  bool is_cross = false;
  Frame place;
  std::vector<Vec2> top;                   // edge under the seats, x ascending
  std::vector<Vec2> bottom;                // lower edge, x ascending
  std::vector<double> feet;                // x of its feet, ascending
  std::vector<double> splices, crossings;  // x
};

struct NestedPart {
  int part = -1;           // index into Centring::parts
  Vec2 at = Vec2::Zero();  // where its frame's origin lies on the sheet, m from the lower left
  double turn_rad = 0;     // counter-clockwise: multiples of pi/2 (of pi where the grain rules)
  bool flipped = false;    // x mirrored before turning
};
struct CutSheet {
  std::string id;  // "sheet 1"
  std::vector<NestedPart> parts;
  double used_share = 0;  // parts' area over the sheet's
};

/// Forces on the seats at one moment of the works, by the caller (erect/): what judge_centring is
/// given.
struct SeatLoads {
  std::string stage;         // starts with "place" while blocks are placed: "place s3", "place s3,
                             // people everywhere"
  bool with_people = false;  // working loads are in it, factors on
  std::vector<Vec3> force;   // per seat of Centring::seats: on the block, world, N
};

/// What the stages of lowering found, by the caller.
struct Struck {
  double drop_m = 0;     // of the bridge, which follows
  double lowered_m = 0;  // whole steps until no seat bears; one more where some still do
};

/// Between the end of a rib and the face of another leg's rib, where legs push each other. Sawn
/// timber, its grain upright; cut askew where the ribs meet askew.
struct LegPacking {
  std::string id;                               // "K1"
  std::string rib, other;                       // whose end it packs, against whose face
  Vec3 from = Vec3::Zero(), to = Vec3::Zero();  // middle of that end; on the face
  double short_m = 0, long_m = 0;               // along the rib, its two sides
  double width_m = 0, height_m = 0;
  double room_m = 0;   // height that both ribs have there
  double force_n = 0;  // design
  std::string stage;
};

struct CentringCheck {  // the worst of its kind
  std::string name;     // "bending", "shear", "bearing under a seat", "post", "deflection", ...
  double demand = 0, resistance = 0;
  std::string unit;
  double utilisation = 0;
  std::string place, stage;  // in words
  std::string source;
};

struct RibFinding {
  std::string rib;
  double load_n = 0;        // greatest vertical load on it in any stage
  double deflection_m = 0;  // greatest between feet, weight alone
  double camber_m = 0;      // to be built in at mid-span of its longest bay
  double utilisation = 0;   // worst of bending, shear, bearing
  std::string governs;
};
struct FootFinding {
  std::string foot;
  double load_max_n = 0;  // characteristic, weight alone
  double design_n = 0;    // with factors and working load
  double utilisation = 0;
  // characteristic, what the foot's hold must be good for (factor centring.foot_hold_factor in it)
  double hold_n = 0, hold_up_n = 0;
};

/// What a centring has beyond what the brief's spacings ask for: grown by settle_centring.
struct CentringDesign {
  struct Across {
    std::string rib;
    double from_m = 0, to_m = 0;
  };
  std::vector<Across> across;  // one rib across more, where this rib has none between these two x
  std::vector<std::string> braced;  // ribs with one more braced bay, as often as they are named
  int boards = 0;                   // braces by so many sizes thicker
  std::vector<std::string> held, held_down;  // feet
  int bolts = 0;                             // of splices, by so many sizes thicker
  int pairs = 0;                             // of posts braced in each row across, so many more
};

struct Centring {
  std::vector<Rib> ribs;
  std::vector<SheetPart> parts;
  std::vector<Stick> sticks;
  std::vector<CentringFoot> feet;
  std::vector<Seat> seats;
  std::vector<CutSheet> sheets;
  double used_share = 0;  // of all sheets; the last, begun one counted whole
  double plywood_m2 = 0, timber_m3 = 0, mass_kg = 0;
  // filled by judge_centring
  std::vector<CentringCheck> checks;
  std::vector<RibFinding> rib_findings;
  std::vector<FootFinding> foot_findings;
  double load_max_n = 0;   // all seats together, vertical, in any stage
  double legs_push_n = 0;  // legs on each other in the middle: through leg_packings
  std::vector<LegPacking> leg_packings;
  double brace_bolt_m = 0;  // in each end of each brace; 0: none was chosen
  double deflection_max_m = 0;
  std::vector<std::string> remarks;
};

/// Ribs, seats, parts, posts and feet. A fault where none can be had: no soffit, no place for feet.
/// Ribs along, seats and feet do not depend on `design`: loads stay good while it grows.
[[nodiscard]] Result<Centring> make_centring(const Brief& brief, const Assembly& assembly,
                                             const Progress& progress = {},
                                             const CentringDesign& design = {});

/// Lays the parts on sheets; fills sheets and used_share. A part larger than a sheet is a fault.
/// (nest.cpp)
[[nodiscard]] std::optional<Fault> nest_parts(const Brief& brief, Centring& centring,
                                              const Progress& progress = {});

/// Bending, shear, bearing, posts, sideways force, deflection, camber under the loads of every
/// stage.
void judge_centring(const Brief& brief, const Assembly& assembly,
                    const std::vector<SeatLoads>& loads, Centring& centring,
                    const Struck& struck = {});

/// make_centring and judge_centring in turn: where a check fails, one rib across, braced bay, size
/// of boards or bolts or held foot more, until nothing fails, nothing more helps or twelve rounds
/// are over. Feet are held only as far as the brief gives a hold. Not nested. (settle.cpp)
[[nodiscard]] Result<Centring> settle_centring(const Brief& brief, const Assembly& assembly,
                                               const std::vector<SeatLoads>& loads,
                                               const Progress& progress = {},
                                               const Struck& struck = {});

/// What the slope of its bed, and friction, hold by themselves.
struct SelfHeld {
  std::string block;
  double slope_rad = 0;        // of the bed it stands on
  bool by_friction = false;    // slope under atan(mu / 1.25): it does not slide down its bed
  bool by_weight = false;      // and does not tip off it
  double timber_saved_m2 = 0;  // soffit that needs no timber
};
/// Blocks, course by course from each springing, that would stand on the course below without any
/// seat (view 1 on the courses up to theirs). Ends in each arm with the first that needs one.
[[nodiscard]] std::vector<SelfHeld> self_held(const Brief& brief, const Assembly& assembly);

}  // namespace skewback
