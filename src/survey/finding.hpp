#pragma once
// What the survey found, in words. Private to survey/.

#include "survey/survey.hpp"

namespace skewback {

/// "footing orchard is 14 mm low; footing towpath is 17 mm outward and turned 0.40 degrees
/// counter-clockwise". Motions
/// under 1 mm and 0.05 degrees are left out. `motion` per support, designed to measured.
[[nodiscard]] std::string footings_in_words(const Brief& brief, const std::vector<Rigid>& motion);

/// Whether the key goes in, by which remedy, and with what packers; where it does not, why. Reads
/// stack, packed, trials and key_goes_in of `found`.
[[nodiscard]] std::string closing_in_words(const Refit& found);

/// "; the crown then lies 13 mm lower than drawn"; empty where it does not.
[[nodiscard]] std::string crown_in_words(const Refit& found);

/// What must be measured again before anything is cut: doubtful marks first.
[[nodiscard]] std::vector<std::string> measure_again(const Assembly& assembly, const Refit& found,
                                                     const std::vector<std::string>& doubtful);

}  // namespace skewback
