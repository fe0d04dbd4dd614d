#pragma once
// In which order walkway, fill and parapets are laid. Private to erect/.

#include <vector>

#include "erect/erect.hpp"

namespace skewback {

/// As uneven as it may come: leg after leg, one side before the other, walkway (with its fill)
/// first, then parapets; what lies on keys by itself.
[[nodiscard]] std::vector<LayingStep> laying_by_sides(const Brief& brief, const Assembly& assembly);

/// Walkway in the order of its parts: a step ends with a panel, treads, a flight or a landing, and
/// brings the frames laid before it. It brings what the brief has the walkway weigh (and its fill)
/// over that part, not the timber's own estimate, so that the whole is what was proved. Parapets as
/// by sides. As by sides where there are no parts.
[[nodiscard]] std::vector<LayingStep> laying_by_parts(const Brief& brief, const Assembly& assembly,
                                                      const AccessReport* access);

}  // namespace skewback
