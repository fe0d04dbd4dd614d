#pragma once
// Packers on the fewest places: which edges of the beds are to be opened at all. Private to
// survey/.
//
//   minimise  sum_e places_e y_e   over y in {0, 1}, moves in the packing program, and
//   gap <= slack + most y_e  at both corners of the edge e
//
// The program of a choice that does not do gives by its multipliers a cut that every choice that
// does keeps (Benders 1962, Geoffrion 1972); the least choice that keeps all cuts is the next one
// tried, and what it costs is a bound.

#include "survey/packing_program.hpp"

namespace skewback {

struct Fewest {
  EdgesOpen open;       // per joint: lower, upper edge
  int places = 0;       // on these
  int bound = 0;        // no choice has fewer
  int programs = 0;     // solved
  PackProgram program;  // with the other edges closed
  PackSolution found;   // least thickness of that choice
  [[nodiscard]] bool proven() const { return bound >= places; }
};
/// `first`: the best without a thought for the count; it must hold every limit.
[[nodiscard]] Fewest fewest_edges(const StackModel& model, const AsMade& made,
                                  const PackingRequest& packing, const PackSolution& first,
                                  int most_programs);

/// sum_e share_e y_e >= 1.
struct EdgeCut {
  std::vector<double> share;  // per edge, 0 to 1
};
/// Least cost of a choice that keeps every cut, and one of that cost; never over `most`, and below
/// the least where `nodes` run out (then `choice` is empty). `from`: known to be no more than it.
struct LeastChoice {
  int cost = 0;
  std::optional<std::vector<char>> choice;
};
[[nodiscard]] LeastChoice least_choice(const std::vector<int>& cost,
                                       const std::vector<EdgeCut>& cuts, int from, int most,
                                       long nodes);

}  // namespace skewback
