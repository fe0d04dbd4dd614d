#include "vary/over_file.hpp"

#include <algorithm>

#include "brief/text.hpp"
#include "brief/values.hpp"

namespace skewback {

void OverFile::fault(const toml::node* at, const std::string& key, const std::string& found,
                     const std::string& expected, const std::string& change) {
  Fault fault{file_.string(), 0, 0, key, found, expected, change};
  if (at != nullptr) {
    const Spot spot = spot_of(at->source());
    fault.line = spot.line;
    fault.column = spot.column;
  }
  faults_.push_back(fault);
}

void OverFile::unknown(const toml::table& table, const std::string& section,
                       const std::vector<std::string>& known) {
  for (auto&& [name, node] : table) {
    const std::string word(name.str());
    if (std::find(known.begin(), known.end(), word) != known.end()) continue;
    std::string all;
    for (const std::string& k : known) all += (all.empty() ? "one of " : ", ") + k;
    const std::string near = nearest_word(word, known);
    fault(&node, (section.empty() ? "" : section + ".") + printable(word), "an unknown key", all,
          near.empty() ? "take it out" : "did you mean \"" + near + "\"?");
  }
}

void OverFile::text(const toml::table& table, const std::string& section, const std::string& key,
                    std::string& out, const std::vector<std::string>& choices) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return;
  std::string all;
  for (const std::string& c : choices) all += (all.empty() ? "one of \"" : ", \"") + c + "\"";
  const auto given = node->value_exact<std::string>();
  if (!given ||
      (!choices.empty() && std::find(choices.begin(), choices.end(), *given) == choices.end())) {
    const std::string near = given ? nearest_word(*given, choices) : "";
    return fault(node, section + "." + key, given ? in_quotes(*given) : describe_node(*node),
                 choices.empty() ? "a text in quotes" : all,
                 near.empty() ? "" : "did you mean \"" + near + "\"?");
  }
  out = *given;
}

void OverFile::whole(const toml::table& table, const std::string& section, const std::string& key,
                     std::int64_t low, std::int64_t high, std::int64_t& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return;
  const auto given = node->value_exact<std::int64_t>();
  if (!given || *given < low || *given > high)
    return fault(node, section + "." + key, describe_node(*node),
                 "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
  out = *given;
}

void OverFile::flag(const toml::table& table, const std::string& section, const std::string& key,
                    bool& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return;
  const auto given = node->value_exact<bool>();
  if (!given) return fault(node, section + "." + key, describe_node(*node), "true or false");
  out = *given;
}

void OverFile::texts(const toml::table& table, const std::string& section, const std::string& key,
                     std::vector<std::string>& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return;
  const toml::array* list = node->as_array();
  if (list == nullptr || list->empty() || !list->is_homogeneous(toml::node_type::string))
    return fault(node, section + "." + key, describe_node(*node),
                 "a list of texts, such as [\"body.mass_kg\"]");
  out.clear();
  for (const toml::node& member : *list) out.push_back(*member.value_exact<std::string>());
}

}  // namespace skewback
