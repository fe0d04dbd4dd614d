#include <toml++/toml.h>

#include <algorithm>
#include <set>
#include <sstream>

#include "brief/by_key.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

constexpr std::size_t kShown = 90;  // letters of a value

std::string text_of(const toml::node& node);

std::string list_text(const toml::array& list) {
  std::string text = "[";
  for (const toml::node& member : list) text += (text.size() > 1 ? ", " : "") + text_of(member);
  return text + "]";
}
std::string table_text(const toml::table& table) {
  std::string text;
  for (const auto& [key, node] : table)
    text += (text.empty() ? "" : ", ") + std::string(key.str()) + " " + text_of(node);
  return text;
}
// As a person would say it: no quotes.
std::string text_of(const toml::node& node) {
  if (const auto* s = node.as_string()) return s->get();
  if (const auto* list = node.as_array()) return list_text(*list);
  if (const auto* table = node.as_table()) return "{" + table_text(*table) + "}";
  std::ostringstream out;
  node.visit([&](const auto& value) {
    if constexpr (toml::is_value<decltype(value)>) out << value;
  });
  return out.str();
}
std::string shortened(std::string text) {
  if (text.size() <= kShown) return text;
  std::size_t end = kShown;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  return text.substr(0, end) + "\u2026";
}

struct KeyDifference {
  std::size_t line = 0;  // where it stands in the newer text; gone ones come after
  bool gone = false;
  std::string key, says;
};

class Walk {
 public:
  std::vector<KeyDifference> found;

  void tables(const toml::table& before, const toml::table& now, const std::string& path) {
    for (const auto& [key, node] : now) nodes(before.get(key.str()), &node, below(path, key.str()));
    for (const auto& [key, node] : before)
      if (!now.contains(key.str())) nodes(&node, nullptr, below(path, key.str()));
  }

 private:
  static std::string below(const std::string& path, std::string_view key) {
    return path.empty() ? std::string(key) : path + "." + std::string(key);
  }
  static std::string member(const std::string& path, std::size_t index) {
    return path + "[" + std::to_string(index + 1) + "]";
  }
  static bool all_tables(const toml::array* list) {
    return list == nullptr || (!list->empty() && list->is_homogeneous<toml::table>());
  }
  static bool all_lists(const toml::array& list) {
    return !list.empty() && list.is_homogeneous<toml::array>();
  }

  void nodes(const toml::node* before, const toml::node* now, const std::string& path) {
    const auto* table_was = before != nullptr ? before->as_table() : nullptr;
    const auto* table_is = now != nullptr ? now->as_table() : nullptr;
    if ((table_was || !before) && (table_is || !now)) {
      static const toml::table none;
      tables(table_was ? *table_was : none, table_is ? *table_is : none, path);
      return;
    }
    const auto* list_was = before != nullptr ? before->as_array() : nullptr;
    const auto* list_is = now != nullptr ? now->as_array() : nullptr;
    if ((list_was || !before) && (list_is || !now) && all_tables(list_was) && all_tables(list_is)) {
      static const toml::array none;
      members(list_was ? *list_was : none, list_is ? *list_is : none, path);
      return;
    }
    if (list_was && list_is && list_was->size() == list_is->size() && all_lists(*list_was) &&
        all_lists(*list_is)) {
      for (std::size_t i = 0; i < list_is->size(); ++i)
        nodes(list_was->get(i), list_is->get(i), member(path, i));
      return;
    }
    leaf(before, now, path);
  }

  // Members with ids are the same where their ids are; else where their numbers are.
  void members(const toml::array& before, const toml::array& now, const std::string& path) {
    const auto names = [](const toml::array& list) {
      std::vector<std::string> ids;
      for (const toml::node& node : list) {
        const auto id = (*node.as_table())["id"].value<std::string>();
        ids.push_back(id ? "id " + *id : std::to_string(ids.size()));
      }
      return ids;
    };
    for (const Pair& pair : paired(names(before), names(now))) {
      if (pair.before && pair.now) {
        nodes(before.get(*pair.before), now.get(*pair.now), member(path, *pair.now));
        continue;
      }
      const std::size_t at = pair.now ? *pair.now : *pair.before;
      const toml::node& node = *(pair.now ? now : before).get(at);
      const std::string key = member(path, at);
      found.push_back({line_of(node), !pair.now, key,
                       key + (pair.now ? " is new: " : " is gone, it was: ") +
                           shortened(table_text(*node.as_table()))});
    }
  }

  static std::size_t line_of(const toml::node& node) { return node.source().begin.line; }

  static bool same(const toml::node& a, const toml::node& b, const std::string& key) {
    const std::string was = text_of(a), is = text_of(b);
    if (was == is) return true;
    const auto x = a.value<double>(), y = b.value<double>();
    if (x && y) return *x == *y;
    const auto facts = a.is_string() && b.is_string() ? key_facts(key) : std::nullopt;
    if (!facts || facts->unit.empty()) return false;
    const auto p = read_quantity(was, facts->unit), q = read_quantity(is, facts->unit);
    return p.ok() && q.ok() && *p == *q;
  }

  void leaf(const toml::node* before, const toml::node* now, const std::string& key) {
    if (before != nullptr && now != nullptr) {
      if (same(*before, *now, key)) return;
      found.push_back(
          {line_of(*now), false, key,
           key + " is " + shortened(text_of(*now)) + ", it was " + shortened(text_of(*before))});
    } else if (now != nullptr) {
      found.push_back({line_of(*now), false, key,
                       key + " is given: " + shortened(text_of(*now)) + ", it was left out"});
    } else {
      found.push_back({line_of(*before), true, key,
                       key + " is left out, it was " + shortened(text_of(*before))});
    }
  }
};

std::optional<toml::table> parsed(const std::string& text) {
  try {
    return toml::parse(text);
  } catch (const toml::parse_error&) {
    return {};  // an assembly that came by itself has no brief
  }
}

}  // namespace

std::vector<Change> key_changes(const Dossier& before, const Dossier& now) {
  const auto a = parsed(before.brief.text), b = parsed(now.brief.text);
  if (!a || !b) return {};
  Walk walk;
  walk.tables(*a, *b, "");
  std::stable_sort(walk.found.begin(), walk.found.end(),
                   [](const KeyDifference& x, const KeyDifference& y) {
                     return std::tuple(x.gone, x.line, x.key) < std::tuple(y.gone, y.line, y.key);
                   });
  std::vector<Change> list;
  for (const KeyDifference& d : walk.found)
    list.push_back({"brief", d.says, d.gone ? "none" : "key", d.gone ? "" : d.key, {}, "drawn"});
  return list;
}

}  // namespace skewback::lodge
