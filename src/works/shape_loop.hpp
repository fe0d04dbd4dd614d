#pragma once
// Private to works/: form and body, with the body's own weight in the form.

#include "works/works.hpp"

namespace skewback {

/// Round after round until thrust, weight and shape agree; times in the dossier. `form_alone`: a
/// form to which no body can be given is no fault; it weighs what its depths say, and there is no
/// body.
[[nodiscard]] std::optional<Faults> find_shape(const Brief& brief, Dossier& dossier,
                                               const Progress& progress, bool form_alone = false);

/// The same from the forces of an earlier form, with so many steps of fit; the body is only sized.
/// False, and the dossier as it was, where that gives no form.
[[nodiscard]] bool follow_shape(const Brief& brief, const Form& before, int steps, Dossier& dossier,
                                const Progress& progress);

}  // namespace skewback
