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
#include <vector>

namespace skewback {

struct Figure {
  std::optional<double> number;
  std::string text;  // where it is no number: "stands", "yes"; empty: nothing there
};

[[nodiscard]] Figure find_figure(const nlohmann::ordered_json& summary, const std::string& path);

/// What a summary may have at its top, of whatever run.
[[nodiscard]] const std::vector<std::string>& summary_parts();

/// What is wrong with a path, in words; empty if nothing is. It begins with one of summary_parts.
[[nodiscard]] std::string path_fault(const std::string& path);

}  // namespace skewback
