#include <nlohmann/json.hpp>

#include "vary/journal.hpp"

namespace skewback {
namespace {

using Json = nlohmann::ordered_json;

Json json_of(const Figure& figure) {
  if (figure.number) return *figure.number;
  return figure.text.empty() ? Json(nullptr) : Json(figure.text);
}

Figure figure_of(const Json& node) {
  if (node.is_null()) return {};
  if (node.is_string()) return {{}, node.get<std::string>()};
  return {node.get<double>(), ""};
}

}  // namespace

std::string to_line(const RunFound& found) {
  Json rows = Json::array();
  for (const auto& row : found.rows) {
    Json cells = Json::array();
    for (const Figure& figure : row) cells.push_back(json_of(figure));
    rows.push_back(std::move(cells));
  }
  const Json line = {{"run", found.run},         {"values", found.values},   {"rows", rows},
                     {"verdict", found.verdict}, {"failing", found.failing}, {"exit", found.exit},
                     {"note", found.note},       {"seconds", found.seconds}};
  return line.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::optional<RunFound> from_line(const std::string& line) {
  try {
    const Json node = Json::parse(line);
    RunFound found;
    found.run = node.at("run").get<std::uint64_t>();
    found.values = node.at("values").get<std::vector<std::string>>();
    for (const Json& cells : node.at("rows")) {
      std::vector<Figure>& row = found.rows.emplace_back();
      for (const Json& cell : cells) row.push_back(figure_of(cell));
    }
    found.verdict = node.at("verdict").get<std::string>();
    found.failing = node.at("failing").get<std::vector<std::string>>();
    found.exit = node.at("exit").get<int>();
    found.note = node.at("note").get<std::string>();
    found.seconds = node.at("seconds").get<double>();
    return found;
  } catch (const Json::exception&) {
    return {};
  }
}

}  // namespace skewback
