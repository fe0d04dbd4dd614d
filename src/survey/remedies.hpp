#pragma once
// The ways of putting it right, tried one after the other. Private to survey/.

#include "survey/footings.hpp"
#include "survey/survey.hpp"

namespace skewback {

struct Remedy {
  RemedyTrial trial;
  Rigid axes;              // drawn to those the bridge is built on
  bool springers = false;  // may be made anew
  bool thinnest = false;   // least thickness, whatever its places
  bool filled = false;     // every gap that the stock fills, not only those over the slack
  bool pads = false;       // other ones over whole beds before packers
  AsMade made;             // about the axes; springers made anew and pads are in `as_laid`
  AsMade as_laid;
  Stack stack;
  Packed packed;
  std::vector<SmallMove> laid;  // pads uncompressed
  std::optional<FeetSet> feet;
};

/// `made`: beds and pads as made; footings are filled in. In order of ease: packers alone, other
/// pads and packers, the bridge shifted in plan and level, shifted and turned, and all but the pads
/// with springers made anew, which is tried only where none of them goes in. Packers on the fewest
/// places; where that is not the least thickness, packers alone are tried with that too, and, where
/// they go in, in every gap that the stock fills.
[[nodiscard]] std::vector<Remedy> try_remedies(const RefitInput& input, const StackModel& model,
                                               const FootingsFound& found, const AsMade& made);
/// Of the remedies (without the thinnest and the filled) the first that goes in; a shift before it
/// if that takes less than half the packers, with which changes of pads count. Where none does, the
/// one that is nearest to it.
[[nodiscard]] std::size_t choose(const std::vector<Remedy>& remedies,
                                 const PackingRequest& packing);

/// Those that go in and are judged before `chosen` is taken, where it is not shown to stand: the
/// other pads, then the thinnest packers, then every gap filled.
[[nodiscard]] std::vector<std::size_t> instead(const std::vector<Remedy>& remedies,
                                               std::size_t chosen);

}  // namespace skewback
