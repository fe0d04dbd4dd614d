#pragma once
// Three ways to carry a deck over a back that is too steep, as profiles that a brief can draw.

#include <string>
#include <vector>

#include "access/access.hpp"

namespace skewback {

enum class DeckKind {
  kBack,    // follows the blocks
  kFrames,  // gentler, on frames over the haunches; three steps at most down to the bank
  kRamps,   // no steeper than access.gradient_max, with ramps beyond the springings to the bank
};
[[nodiscard]] const char* word(DeckKind kind);  // "on the back", "frames", "ramps"

struct DeckLine {
  std::string name;         // of the leg
  double gradient_max = 0;  // of the deck over the blocks
  double end_height_m = 0;  // at the springing, over where the deck on the back would end
  double approach_m = 0;    // ramp and landings beyond the springing, in plan
  int approach_runs = 0;
  int steps = 0;      // at the springing
  double step_m = 0;  // each
};

struct Deck {
  DeckKind kind = DeckKind::kBack;
  double gradient_max = 0;
  bool step_free = true;
  std::vector<DeckLine> lines;
  std::vector<std::vector<Vec3>> surface;  // for brief.walkway.surface; empty: the back
  double frame_density = 0;    // kg/m3 between back and surface, for brief.walkway.fill_density
  double frame_kg = 0;         // over the blocks
  double frame_kg_per_m2 = 0;  // mean over the deck
  double approach_m = 0, approach_m2 = 0;  // all ramps beyond the springings, landings counted
  double approach_kg = 0;                  // of timber on frames; on the ground, not on the arch
};

/// For the blocks of `assembly`, which carry a deck on their back. A landing of access.landing_m
/// lies level over the meeting (frames, ramps). The bank is where the deck on the back ends.
[[nodiscard]] Deck design_deck(const Brief& brief, const Assembly& assembly, DeckKind kind);

/// The brief with that deck: its surface, and its frames as a light fill.
[[nodiscard]] Brief with_deck(const Brief& brief, const Deck& deck);

}  // namespace skewback
