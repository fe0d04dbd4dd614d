#pragma once
// Load cases: weight, people on the walking surface by pattern, and what the codes combine with
// them. Formulas: loads/actions.hpp. Theory: docs/theory/loads.md.

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"
#include "loads/actions.hpp"

namespace skewback {

/// Adds to each block the walkway and parapets it carries.
void add_carried(const Brief& brief, Assembly& assembly);

enum class CaseKind {
  kPattern,      // weight and people at characteristic value: a load factor is sought
  kCombination,  // factors already on: it must stand at load factor 1
};
enum class ActionKind { kPeople, kOther, kWarmth };  // whose partial factor it has
struct ActionPart {                                  // a variable action in a combination
  std::string action;                                // id of a pattern or of one of `actions`
  ActionKind kind = ActionKind::kPeople;
  double psi = 1;  // psi_0, where it does not lead
};
struct CaseNote {
  std::string id;  // of the case
  CaseKind kind = CaseKind::kPattern;
  std::string words;                          // "1.35 weight, 1.35 people everywhere"
  double dead_factor = 1, live_factor = 1;    // on weight; on the leading variable action
  std::vector<ActionPart> parts = {};         // the first leads
  std::vector<double> variable_factors = {};  // per part, as they are on the case
};
struct LoadSet {
  std::vector<LoadCase> cases;
  std::vector<CaseNote> notes;    // one per case, in order
  std::vector<LoadCase> actions;  // those of the combinations at characteristic value, each with
                                  // the weight as it is; patterns are in `cases`
  std::vector<std::string> left_out;  // asked for by the brief and in no case, in words, with why
};

/// dead first; people: full, by arms, halves across and along, middles and ends, patches on the
/// move, chequers (docs/theory/loads.md); then the combinations of EN 1990, 6.4.3.2, equation 6.10
/// or 6.10a/b, with the brief's factors: heavy dead load, pushes along the deck and on the rails,
/// wind, snow, vehicle.
/// `deck_m`: boards, bearers and sills over the extrados, where the brief does not draw the walking
/// surface: pushes and rails stand that much higher.
[[nodiscard]] LoadSet load_cases(const Brief& brief, const Assembly& assembly, double deck_m = 0);

/// The brief's partial factor on a kind of action.
[[nodiscard]] double partial_factor(const Factors& factors, ActionKind kind);
[[nodiscard]] inline WeightFactors weight_factors(const Factors& f) {
  return {f.dead_high, f.dead_low, f.xi};
}
[[nodiscard]] inline bool by_a_and_b(const Factors& f) { return f.expression == "6.10a/b"; }

/// Cases of one kind, in order.
[[nodiscard]] std::vector<std::size_t> of_kind(const LoadSet& set, CaseKind kind);

/// People on every part of the walking surface, as cells that may be loaded or not: squares of
/// about `side_m`, cut along the blocks they stand on. Their sum is the case "full".
[[nodiscard]] std::vector<LiveForce> people_cells(const Brief& brief, const Assembly& assembly,
                                                  double side_m);

/// Along which people are taken to walk: the brief's lines; where it has no walkway, and people
/// stand anywhere, those it would have.
[[nodiscard]] std::vector<std::vector<Vec2>> walking_lines(const Brief& brief);

/// The walking surface: strips along the walking lines, or the whole plan if there is no walkway;
/// less the openings.
[[nodiscard]] Regions walking_surface(const Brief& brief);

/// Pressure p (Pa, downward) over part of the walking surface as one force on each block it stands
/// on, at the centroid of the loaded area; its sum is p times the loaded area.
[[nodiscard]] std::vector<LiveForce> pressure_on_blocks(const Assembly& assembly,
                                                        const Regions& where, double p);

}  // namespace skewback
