#include "brief/toml_file.hpp"

#include <algorithm>

#include "brief/text.hpp"
#include "brief/values.hpp"

namespace skewback {

std::string one_of(const std::vector<std::string>& words) {
  constexpr std::size_t kShown = 8;
  std::string all;
  for (std::size_t i = 0; i < std::min(words.size(), kShown); ++i)
    all += (i == 0 ? "one of " : ", ") + words[i];
  return all + (words.size() > kShown ? ", ..." : "");
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& words) {
  const std::string near = nearest_word(word, words);
  return near.empty() ? "" : "did you mean \"" + near + "\"?";
}

void TomlFile::fault(const toml::node* at, const std::string& key, const std::string& found,
                     const std::string& expected, const std::string& change) {
  Fault fault{file_.string(), 0, 0, key, found, expected, change};
  if (at != nullptr) {
    const Spot spot = spot_of(at->source());
    fault.line = spot.line;
    fault.column = spot.column;
  }
  add(std::move(fault));
}

void TomlFile::unknown(const toml::table& table, const std::string& section,
                       const std::vector<std::string>& known) {
  for (auto&& [name, node] : table) {
    const std::string word(name.str());
    if (std::ranges::find(known, word) != known.end()) continue;
    const std::string change = did_you_mean(word, known);
    const Spot spot = spot_of(name.source());
    add({file_.string(), spot.line, spot.column,
         (section.empty() ? "" : section + ".") + printable(word), "an unknown key", one_of(known),
         change.empty() ? "take it out" : change});
  }
}

bool TomlFile::whole(const toml::table& table, const std::string& section, const std::string& key,
                     std::int64_t low, std::int64_t high, std::int64_t& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return false;
  const auto given = node->value_exact<std::int64_t>();
  if (given && *given >= low && *given <= high) {
    out = *given;
    return true;
  }
  fault(node, section + "." + key, describe_node(*node),
        "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
  return false;
}

bool TomlFile::text(const toml::table& table, const std::string& section, const std::string& key,
                    std::string& out, const std::vector<std::string>& choices) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return false;
  const auto given = node->value_exact<std::string>();
  const bool known =
      given && (choices.empty() || std::ranges::find(choices, *given) != choices.end());
  if (known) {
    out = *given;
    return true;
  }
  fault(node, section + "." + key, given ? in_quotes(*given) : describe_node(*node),
        choices.empty() ? "a text in quotes" : one_of(choices),
        given ? did_you_mean(*given, choices) : "");
  return false;
}

bool TomlFile::flag(const toml::table& table, const std::string& section, const std::string& key,
                    bool& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return false;
  const auto given = node->value_exact<bool>();
  if (!given) fault(node, section + "." + key, describe_node(*node), "true or false");
  if (given) out = *given;
  return given.has_value();
}

bool TomlFile::texts(const toml::table& table, const std::string& section, const std::string& key,
                     std::vector<std::string>& out) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return false;
  const toml::array* list = node->as_array();
  if (list == nullptr || list->empty() || !list->is_homogeneous(toml::node_type::string)) {
    fault(node, section + "." + key, describe_node(*node),
          "a list of texts, such as [\"body.mass_kg\"]");
    return false;
  }
  out.clear();
  for (const toml::node& member : *list) out.push_back(*member.value_exact<std::string>());
  return true;
}

}  // namespace skewback
