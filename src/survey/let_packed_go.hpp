#pragma once

#include "survey/survey.hpp"

namespace skewback {

/// View 3 of the bridge as packed, as `options.third_view` asks: joined to its proofs and to the
/// rows of the table that are told of them. Touches nothing else of `found` but its seconds.
void let_packed_go(const RefitInput& input, const StandOptions& options, const Progress& progress,
                   Refit& found);

}  // namespace skewback
