#include "vary/figure.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>

#include "brief/text.hpp"

namespace skewback {
namespace {

using Json = nlohmann::ordered_json;

Figure value_of(const Json& node) {
  if (node.is_boolean()) return {{}, node.get<bool>() ? "yes" : "no"};
  if (node.is_number()) {
    const double v = node.get<double>();
    return std::isfinite(v) ? Figure{v, ""} : Figure{};
  }
  if (node.is_string()) return {{}, node.get<std::string>()};
  return {};
}

Figure along(const Json& node, const std::string& path);

Figure fold(const Json& list, const std::string& how, const std::string& rest) {
  if (how == "count") return {static_cast<double>(list.size()), ""};
  std::optional<double> out;
  for (const Json& member : list) {
    const std::optional<double> v = along(member, rest).number;
    if (!v) continue;
    out = !out             ? *v
          : how == "least" ? std::min(*out, *v)
          : how == "most"  ? std::max(*out, *v)
                           : *out + *v;
  }
  return {out, ""};
}

bool is_number(const std::string& text) {
  return !text.empty() && std::all_of(text.begin(), text.end(),
                                      [](unsigned char c) { return std::isdigit(c) != 0; });
}

Figure in_list(const Json& list, const std::string& choice, const std::string& rest) {
  if (choice == "least" || choice == "most" || choice == "sum" || choice == "count")
    return fold(list, choice, rest);
  if (is_number(choice) && choice.size() < 9) {
    const std::size_t number = std::stoul(choice);
    return number < 1 || number > list.size() ? Figure{} : along(list[number - 1], rest);
  }
  for (const Json& member : list)
    for (const char* name : {"id", "name"})
      if (member.is_object() && member.contains(name) && member[name] == choice)
        return along(member, rest);
  return {};
}

Figure along(const Json& node, const std::string& path) {
  if (path.empty()) return value_of(node);
  const std::string head = path[0] == '.' ? path.substr(1) : path;
  const std::size_t end = std::min(head.find_first_of(".["), head.size());
  if (path[0] == '[') {
    const std::size_t close = path.find(']');
    if (!node.is_array() || close == std::string::npos) return {};
    return in_list(node, path.substr(1, close - 1), path.substr(close + 1));
  }
  const auto found = node.is_object() ? node.find(head.substr(0, end)) : node.end();
  return found == node.end() ? Figure{} : along(*found, head.substr(end));
}

Figure worst_verdict(const Json& summary) {
  static constexpr const char* kWorstFirst[] = {"falls", "undecided", "stands"};
  if (!summary.contains("stand")) return {};
  const Json& cases = summary["stand"]["cases"];
  for (const char* verdict : kWorstFirst)
    for (const Json& one : cases)
      if (one["verdict"] == verdict) return {{}, verdict};
  return {};
}

}  // namespace

Figure find_figure(const Json& summary, const std::string& path) {
  if (path == "stand.verdict") return worst_verdict(summary);
  return along(summary, path == "stand.load_factor" ? "stand.cases[least].load_factor" : path);
}

std::string path_fault(const std::string& path) {
  if (path.empty()) return "an empty path";
  bool open = false, name = false;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const char c = path[i];
    if (c == '[') {
      if (open || i == 0) return "a bracket that opens nothing";
      open = true;
      name = false;
    } else if (c == ']') {
      if (!open || !name) return "a bracket with nothing in it";
      open = false;
    } else if (c == '.' && !open) {
      if (i == 0 || i + 1 == path.size() || path[i + 1] == '.' || path[i + 1] == '[')
        return "a dot with no name beside it";
    } else {
      if (i > 0 && path[i - 1] == ']') return "a name right behind a bracket";
      name = true;
    }
  }
  if (open) return "a bracket that is not closed";
  const std::string first = path.substr(0, path.find_first_of(".["));
  const auto& parts = summary_parts();
  if (std::ranges::find(parts, first) != parts.end()) return "";
  const std::string near = nearest_word(first, parts);
  return "a summary has no part " + first + (near.empty() ? "" : "; did you mean " + near + "?");
}

const std::vector<std::string>& summary_parts() {
  static const std::vector<std::string> kParts = {
      "ok",         "name",   "form",  "body",       "cut",      "required", "scope",   "stand",
      "strength",   "ground", "print", "access",     "centring", "erect",    "lifting", "transport",
      "tolerances", "survey", "scans", "quantities", "service",  "timings_s"};
  return kParts;
}

}  // namespace skewback
