#pragma once
// What `vary --over` varies, from its file. Private to vary/.

#include <string>

#include "brief/toml_file.hpp"
#include "vary/plan.hpp"

namespace skewback {

/// One [[vary]] table; `shown` names it in faults: "vary[2]". (over_vary.cpp)
[[nodiscard]] Varied read_varied(const toml::table& table, const std::string& shown, How how,
                                 TomlFile& over);

}  // namespace skewback
