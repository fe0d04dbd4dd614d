#pragma once
// The price of a gentler deck: one row for each rise and way to carry the deck, and the files made
// of them. The study itself: works/gentler_deck.hpp.

#include <optional>
#include <string>
#include <vector>

#include "access/deck.hpp"
#include "deliver/drawings.hpp"

namespace skewback {

struct GentlerRow {
  DeckKind kind = DeckKind::kBack;
  double rise_m = 0;    // asked for
  std::string failed;   // why there is no structure; all below is empty then
  double gradient = 0;  // of the deck over the blocks, steepest 0.6 m
  bool gradient_met = false, step_free = false;
  double steps_m = 0;     // height climbed by steps at a springing, the highest
  double approach_m = 0;  // all ramps beyond the springings
  double frame_kg = 0, frame_kg_per_m2 = 0;
  double timber_kg = 0;  // of the walkway, approaches too
  double thrust_n = 0;   // of the form under dead load, largest support
  // of the state the ties are sized by; where the footings cannot hold the pads' own it is another,
  // so that rows do not compare
  double footing_thrust_n = 0;
  double tie_steel_kg = 0;
  // by where the thrust lies, no strength: the least share of every joint's depth that holds all
  // patterns, and that share of the brief's deepest section; none: not held, or not sought
  std::optional<double> depth_share, depth_needed_m;
  std::size_t blocks = 0;
  double concrete_kg = 0;
  double carbon_kg = 0;         // CO2e, A1 to A3; concrete, ties, pads, timber
  std::optional<double> money;  // concrete, ties, pads, walkway; none: no rates in the brief
  std::optional<double> live_factor;
  bool live_at_least = false;  // every case reaches loads.cap
  bool stands = false;         // every case
  bool holds = false;          // stands, and live factor, friction and joint stress as required
  std::string why_not;         // the first that does not hold
};

struct GentlerStudy {
  std::string title, currency;
  double gradient_limit = 0;
  std::vector<GentlerRow> rows;  // by rise, then by kind
  std::vector<std::string> remarks;
};

namespace deliver {

/// Thrust, and carbon or money, against the gradient. Filled: meets the gradient without steps,
/// and holds.
[[nodiscard]] Sheet gentler_sheet(const GentlerStudy& study, const SheetSize& size);
[[nodiscard]] std::string gentler_csv(const GentlerStudy& study);
[[nodiscard]] std::string gentler_json(const GentlerStudy& study);

}  // namespace deliver
}  // namespace skewback
