#pragma once
// For tests only: the remedies tried on a straight row whose footings were found so.

#include "survey/remedies.hpp"
#include "survey/sample_row.hpp"

namespace skewback::sample {

inline FootingsFound two_footings(const StraightRow& row) {
  FootingsFound found;
  found.marks = springing_marks(row.brief);
  found.footings.resize(2);
  return found;
}

inline std::vector<Remedy> tried_on(const StraightRow& row, const StackModel& model,
                                    const FootingsFound& found) {
  RefitInput in;
  in.brief = &row.brief;
  in.assembly = &row.assembly;
  return try_remedies(in, model, found, as_drawn(row.assembly, 2));
}

}  // namespace skewback::sample
