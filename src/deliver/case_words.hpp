#pragma once
// A load case as people are told of it.

#include <string>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

inline constexpr const char* kWorstCase = "worst";  // id of the case with Dossier::worst_pattern

/// "half (weight, people on half of it)"; the id alone where no note says more.
[[nodiscard]] std::string case_words(const Dossier& dossier, const std::string& id);

}  // namespace skewback::deliver
