#include "brief/by_key.hpp"
#include "brief/text.hpp"
#include "brief/values.hpp"

namespace skewback {
namespace {

const Units& units() {
  static const Units all;
  return all;
}

std::string as_toml(const std::string& text) { return "\"" + text + "\""; }

// Read from the same structs that the reader fills, as TOML.
std::string default_toml(const Key& key) {
  if (key.required || !key.instead.empty()) return "";
  Draft blank;
  if (const Heading* list = find_heading(section_of(key.path));
      list != nullptr && list->resize != nullptr)
    list->resize(blank, 1);
  const Slot slot = key.slot(blank, 0);
  if (const auto* real = std::get_if<double*>(&slot)) {
    if (!key.range.holds(**real)) return "";
    const std::string text = value_text(**real, key, units());
    return key.unit.empty() ? text : as_toml(text);
  }
  if (const auto* whole = std::get_if<int*>(&slot))
    return key.range.holds(**whole) ? std::to_string(**whole) : "";
  if (const auto* flag = std::get_if<bool*>(&slot)) return **flag ? "true" : "false";
  if (const auto* text = std::get_if<std::string*>(&slot))
    return (*text)->empty() ? std::string{} : as_toml(**text);
  return "";
}

}  // namespace

const std::vector<ListedKey>& listed_keys() {
  static const std::vector<ListedKey> all = [] {
    std::vector<ListedKey> list;
    for (const Key& key : keys()) list.push_back({key.path, default_toml(key), key.required});
    return list;
  }();
  return all;
}

std::optional<double> in_si(const std::string& quantity, const std::string& unit) {
  const Result<double> value = units().read(quantity, unit);
  return value ? std::optional(*value) : std::nullopt;
}

}  // namespace skewback
