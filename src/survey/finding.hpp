#pragma once
// What the survey found, in words. Private to survey/.

#include "survey/survey.hpp"

namespace skewback {

/// "footing orchard is 14 mm low; footing towpath is 17 mm out and turned 0.40 degrees". Motions
/// under 1 mm and 0.05 degrees are left out. `motion` per support, designed to measured.
[[nodiscard]] std::string footings_in_words(const Brief& brief, const std::vector<Rigid>& motion);

/// Whether the key goes in and what packs it. Reads misfits, packers and as_built of `found`.
[[nodiscard]] std::string closing_in_words(const Refit& found, double packer_max_m);

}  // namespace skewback
