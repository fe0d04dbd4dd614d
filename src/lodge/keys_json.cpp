#include "lodge/keys_json.hpp"

#include <array>
#include <map>

#include "brief/by_key.hpp"
#include "lodge/toml_places.hpp"

namespace skewback::lodge {
namespace {

struct GroupName {
  const char* section;
  const char* name;
};
// In this order; a section of the brief that is not named here comes behind, under its own name.
constexpr std::array kGroups{
    GroupName{"plan", "plan"},
    GroupName{"form", "form"},
    GroupName{"section", "section"},
    GroupName{"material", "material"},
    GroupName{"blocks", "blocks"},
    GroupName{"joints", "joints"},
    GroupName{"loads", "loads"},
    GroupName{"walkway", "walkway"},
    GroupName{"parapet", "parapets"},
    GroupName{"ground", "footings and ties"},
    GroupName{"soil", "soil"},
    GroupName{"factors", "factors"},
    GroupName{"required", "what must be met"},
    GroupName{"strength", "strength of a block"},
    GroupName{"access", "the walk"},
    GroupName{"print", "printing"},
    GroupName{"centring", "centring"},
    GroupName{"erect", "order of work"},
    GroupName{"lifting", "lifting"},
    GroupName{"transport", "transport"},
    GroupName{"spares", "spares"},
    GroupName{"programme", "programme"},
    GroupName{"site", "site"},
    GroupName{"survey", "survey"},
    GroupName{"packing", "packing"},
    GroupName{"tolerances", "tolerances"},
    GroupName{"rates", "prices"},
    GroupName{"carbon", "carbon"},
    GroupName{"bridge", "name"},
};

const char* written_word(KeyFacts::Written written) {
  switch (written) {
    case KeyFacts::Written::kQuantity:
      return "quantity";
    case KeyFacts::Written::kNumber:
      return "number";
    case KeyFacts::Written::kWhole:
      return "whole";
    case KeyFacts::Written::kOther:
      break;
  }
  return "other";
}

class Lister {
 public:
  explicit Lister(const std::string& text)
      : text_(text.rfind("\xEF\xBB\xBF", 0) == 0 ? text.substr(3) : text),
        lines_(text_),
        root_(toml::parse(text_)) {}

  [[nodiscard]] nlohmann::ordered_json groups() {
    for (const ListedKey& key : listed_keys()) list(key);
    nlohmann::ordered_json all = nlohmann::ordered_json::array();
    for (const GroupName& group : kGroups) put(all, group.section, group.name);
    for (const auto& [section, keys] : by_section_) all.push_back(group(section, keys));
    return all;
  }

 private:
  using Keys = nlohmann::ordered_json;

  static Keys group(const std::string& name, const Keys& keys) {
    return {{"name", name}, {"keys", keys}};
  }
  void put(Keys& all, const std::string& section, const std::string& name) {
    const auto found = by_section_.find(section);
    if (found == by_section_.end()) return;
    all.push_back(group(name, found->second));
    by_section_.erase(found);
  }

  void list(const ListedKey& key) {
    const std::size_t many = key.path.find("[].");
    if (many == std::string::npos) return one(key.path, key.default_text);
    const std::string table = key.path.substr(0, many), leaf = key.path.substr(many + 2);
    const toml::node* node = find_node(root_, *steps_of(table));
    const toml::array* array = node != nullptr ? node->as_array() : nullptr;
    for (std::size_t i = 1; array != nullptr && i <= array->size(); ++i)
      one(table + "[" + std::to_string(i) + "]" + leaf, key.default_text);
  }

  void one(const std::string& key, const std::string& otherwise) {
    const toml::node* node = find_node(root_, *steps_of(key));
    const std::optional<KeyFacts> facts = key_facts(key);
    if (!facts) return;
    add(key, *facts, node, otherwise);
    if (node != nullptr && node->is_array()) members(key, *node->as_array());
  }

  void members(const std::string& key, const toml::array& array) {
    for (std::size_t i = 0; i < array.size(); ++i) {
      const toml::node& node = *array.get(i);
      const std::string member = key + "[" + std::to_string(i + 1) + "]";
      if (node.is_array()) {
        members(member, *node.as_array());
      } else if (const auto facts = key_facts(member);
                 facts && facts->written == KeyFacts::Written::kQuantity) {
        add(member, *facts, &node, "");
      }
    }
  }

  void add(const std::string& key, const KeyFacts& facts, const toml::node* node,
           const std::string& otherwise) {
    std::string text = otherwise;
    if (node != nullptr) {
      const Span span = lines_.span(node->source());
      text = text_.substr(span.begin, span.end - span.begin);
    }
    Keys entry{{"key", key},
               {"text", text},
               {"value", value_of(text, facts)},
               {"unit", facts.unit},
               {"meaning", facts.meaning},
               {"written", written_word(facts.written)},
               {"given", node != nullptr}};
    by_section_[key.substr(0, key.find_first_of(".["))].push_back(std::move(entry));
  }

  static Keys value_of(const std::string& text, const KeyFacts& facts) {
    if (facts.written == KeyFacts::Written::kOther || text.empty()) return nullptr;
    try {
      const toml::table table = toml::parse("v = " + text);
      const toml::node& node = *table.get("v");
      if (facts.written == KeyFacts::Written::kQuantity) {
        const std::optional<std::string> quantity = node.value_exact<std::string>();
        const std::optional<double> value = quantity ? in_si(*quantity, facts.unit) : std::nullopt;
        return value ? Keys(*value) : Keys(nullptr);
      }
      if (node.is_integer()) return *node.value<std::int64_t>();
      if (node.is_number()) return *node.value<double>();
    } catch (const toml::parse_error&) {
    }
    return nullptr;
  }

  std::string text_;
  Lines lines_;
  toml::table root_;
  std::map<std::string, Keys> by_section_;
};

}  // namespace

nlohmann::ordered_json key_groups(const std::string& text) { return Lister(text).groups(); }

}  // namespace skewback::lodge
