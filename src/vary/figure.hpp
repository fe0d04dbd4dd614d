#pragma once
// A figure of a run, found in its summary by a path. Private to vary/.
//
// Names are joined by dots: "body.mass_kg". In a list a member is chosen by its number from 1 or
// by its id or name, "required[live_factor].value"; or all are folded into one number:
// [least], [most], [sum], [count]. "stand.load_factor" is short for
// "stand.cases[least].load_factor", "stand.verdict" for the worst verdict of all cases.

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

namespace skewback {

struct Figure {
  std::optional<double> number;
  std::string text;  // where it is no number: "stands", "yes"; empty: nothing there
};

[[nodiscard]] Figure find_figure(const nlohmann::ordered_json& summary, const std::string& path);

/// What is wrong with a path, in words; empty if nothing is.
[[nodiscard]] std::string path_fault(const std::string& path);

}  // namespace skewback
