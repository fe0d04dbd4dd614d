#pragma once
// Private to works/: form and body, with the body's own weight in the form.

#include "works/works.hpp"

namespace skewback {

/// Round after round until thrust, weight and shape agree; times in the dossier.
[[nodiscard]] std::optional<Faults> find_shape(const Brief& brief, Dossier& dossier,
                                               const Progress& progress);

}  // namespace skewback
