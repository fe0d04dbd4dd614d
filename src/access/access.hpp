#pragma once
// Can everybody walk over it, and what are the parts of the walkway? Metres, newtons, kilograms;
// gradients are rise over run in plan. Limits are those of brief.access, each with its source (ADA
// 2010, chapter 4; ISO 21542 and EN 17210 from memory). Theory: docs/theory/access.md.

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

struct WalkStation {
  double along_m = 0;         // in plan, from the support's end of the line
  Vec3 point = Vec3::Zero();  // walking surface
  double back_m = 0;          // height of the blocks' tops there
  int block = -1;             // whose top it is; -1: none (a joint, or beyond the blocks)
  double cross_fall = 0;      // of the blocks' tops over the width walked, rise over run
  double clear_width_m = 0;   // between parapets
};

/// One leg of the walk, from a support to the meeting (to the top where there is no meeting), or
/// from the middle of a spine to one of its ends.
struct WalkLine {
  std::string name;    // "yard to meeting"
  int support = -1;    // -1: the line starts at none
  int line = -1;       // of brief.walkway.lines; -1: defaulted
  bool drawn = false;  // heights are those of brief.walkway.surface, else of the blocks
  double rise_m = 0;   // highest less lowest
  double length_m = 0;
  double gradient_max = 0;            // over any 0.6 m
  double gradient_at_m = 0;           // where that stretch begins
  std::vector<WalkStation> stations;  // every 50 mm and at every corner of a drawn surface
};

/// What of the finding on the room between the blocks and a drawn surface; found < 0: that lies in
/// the blocks.
inline constexpr char kDeckRoom[] = "room for the deck";

struct AccessFinding {
  std::string what;  // "gradient", "ramp run", "landing", "cross fall", "step", "width", ...
  std::string line;  // name of the leg, or of two legs joined; empty: all of it
  double along_m = 0;
  Vec3 at = Vec3::Zero();
  double found = 0, limit = 0;
  std::string unit;    // "", "m"
  std::string source;  // of the limit
  bool complies = false;
  std::string remedy;  // in words, with a number; empty if it complies
};

enum class PartKind { kFrame, kPanel, kTreads, kStairFlight, kLanding };
[[nodiscard]] const char* word(PartKind kind);  // "frame", "panel", "treads on the slope", ...

/// Timber, each a part that goes on by itself. Sizes of its sticks: access/parts.hpp.
struct WalkPart {
  std::string id;  // "yard-F3"
  PartKind kind = PartKind::kFrame;
  std::string line;             // leg it belongs to
  double from_m = 0, to_m = 0;  // along the leg
  double length_m = 0;          // along the slope; of a frame its height
  double width_m = 0;
  double gradient = 0;
  double weight_kg = 0;
  std::vector<std::string> blocks;  // it stands on; of a panel, those of its two frames
  int order = 0;                    // of laying, from 1
  std::string note;
};

/// The timber of panels, landings and frames: boards across on bearers along on frames with posts,
/// each the least of its series that carries people and the concentrated load. Rules:
/// access/sticks.hpp.
struct StickUse {
  double utilisation = 0;  // over 1: none of the series does
  std::string what;        // "bending, concentrated load"
};
struct Sticks {
  int bearers = 2, posts = 2;
  double board_m = 0, bearer_width_m = 0, bearer_depth_m = 0;
  StickUse board, bearer, cap;
  double sag_m = 0, sag_limit_m = 0;  // of a bearer, characteristic load
};

struct AccessReport {
  double gradient_max = 0;
  bool complies = false;
  std::vector<WalkLine> lines;
  std::vector<AccessFinding> findings;  // those that do not comply first
  std::vector<WalkPart> parts;          // in the order of laying; none without a carried walkway
  std::optional<Sticks> sticks;         // none without a carried walkway
  double parts_kg = 0, brief_kg = 0;    // all parts; brief.walkway.weight over the surface
  double one_sided_kg = 0;  // while laying: most that one leg ever carries more than another
  std::vector<std::string> remarks;
};

/// Of boards, bearers and sills, over the blocks; 0 where people walk on the blocks or on fill.
[[nodiscard]] double deck_thickness_m(const Brief& brief);

/// The blocks' tops must be there: an assembly with no block under a line is remarked on, and the
/// report does not comply.
[[nodiscard]] AccessReport judge_access(const Brief& brief, const Assembly& assembly);

}  // namespace skewback
