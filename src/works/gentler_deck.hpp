#pragma once
// What a gentler deck costs: the bridge designed anew for several rises and three ways to carry the
// deck. Theory: docs/theory/access.md.

#include "deliver/gentler.hpp"
#include "works/works.hpp"

namespace skewback {

struct GentlerOptions {
  std::vector<double> rise_shares{0.5, 0.675, 0.85, 1.0, 1.2};  // of form.rise_m; each > 0
  int jobs = 0;                                                 // threads; 0: all cores
  bool depth = true;  // look for the depth that each variant needs: the slowest part
};

/// Each variant runs form to ground. Frames and ramps are designed over the blocks of the deck on
/// the back of the same rise. A variant without a structure is a row that says why. Fault: no
/// walkway to carry. Interrupted passes through.
[[nodiscard]] Result<GentlerStudy> study_gentler_deck(const Brief& brief,
                                                      const GentlerOptions& options,
                                                      const Progress& progress);

}  // namespace skewback
