#pragma once
// What the daybook must know of a bridge: its blocks, their order, who rests on whom. Kept as the
// file erect/plan.json of a run (format: docs/daybook.md).

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "erect/schedule.hpp"
#include "geometry/geometry.hpp"

namespace skewback {

struct PlannedBlock {
  std::string id;
  double mass_kg = 0;                             // without what it will carry
  int order = 0;                                  // of placing, from 1
  std::vector<std::string> needs;                 // neighbours that are placed before it
  std::vector<std::string> joints;                // all neighbours, the ground too
  std::string up;                                 // how it stands, in words
  std::string made;                               // "printed", "cast", "elsewhere"
  Vec3 centre = Vec3::Zero();                     // of gravity, world, in place
  std::vector<Vec3> slings;                       // as `centre`; empty: no lifting plan
  std::string held_by;                            // as of BlockLift; empty: no lifting plan
  double strap_n = 0;                             // hand tension of a strap that does, if one does
  std::optional<double> wind_m_s;                 // gust up to which it may hang; none: no plan
  double print_s = 0, cure_s = 0, journey_s = 0;  // likely; made elsewhere: of another one
  [[nodiscard]] double lead_s() const { return print_s + cure_s + journey_s; }
};

/// As Breakage, by name.
struct PlannedBreakage {
  std::string place;
  double share = 0, again_s = 0, swap_s = 0;
  bool spare = false;
  double cure_s = 0;     // of again_s, what runs every day
  double journey_s = 0;  // and what comes after it
};

struct DayPlan {
  std::string bridge, title;
  std::string assembly_sha256;       // of the text of assembly.json
  std::vector<PlannedBlock> blocks;  // in the order of placing
  std::optional<Network> network;
  std::vector<PlannedBreakage> breakages;  // of the network
};

/// JSON text, numbers exact, the same every time.
[[nodiscard]] std::string write_plan(const DayPlan& plan);
/// Faults: not a plan, two blocks of one name, a need or an activity that is not there before.
[[nodiscard]] Result<DayPlan> read_plan(const std::string& text, const std::string& file);

[[nodiscard]] const PlannedBlock* find_block(const DayPlan& plan, const std::string& id);
/// All that must be in place before it, directly or not; in the order of placing.
[[nodiscard]] std::vector<std::string> all_needs(const DayPlan& plan, const std::string& block);
/// All that cannot be placed before it, directly or not; in the order of placing.
[[nodiscard]] std::vector<std::string> all_that_need(const DayPlan& plan, const std::string& block);
/// Activities of the network that are of no block: "footings", "striking". Then the daybook's own,
/// of a bridge that is taken down again: "walkway taken up", "centring put back", where there is
/// one in the network.
[[nodiscard]] std::vector<std::string> works_of(const DayPlan& plan);
/// First activity of a kind ("striking") that is of no block; empty: the plan has none.
[[nodiscard]] std::string work_of_kind(const DayPlan& plan, const std::string& kind);
/// Works undo each other: striking and "centring put back", the walkway and "walkway taken up".
/// Empty: nothing undoes it.
[[nodiscard]] std::string undone_by(const DayPlan& plan, const std::string& work);

inline constexpr const char* kCentringBack = "centring put back";
inline constexpr const char* kWalkwayUp = "walkway taken up";  // and the parapets

}  // namespace skewback
