#include "deliver/remark.hpp"

#include <algorithm>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr std::size_t kLong = 400;  // letters; shorter ones stay in one piece
constexpr std::size_t kLeast = 8;   // names of a list worth taking apart

struct Item {
  std::string name, note;
};

/// Reads "name" or "name (note)" at `at`, which then stands behind it.
std::optional<Item> read_item(const std::string& text, std::size_t& at) {
  const std::size_t end = std::min(text.find_first_of(" ,.;", at), text.size());
  if (end == at) return {};
  Item item{text.substr(at, end - at), ""};
  at = end;
  if (text.compare(at, 2, " (") != 0) return item;
  const std::size_t close = text.find(')', at);
  if (close == std::string::npos) return {};
  item.note = text.substr(at + 2, close - at - 2);
  at = close + 1;
  return item;
}

struct Numbered {
  std::string before;
  int number = -1;  // -1: does not end in one
};

Numbered numbered(const std::string& name) {
  std::size_t at = name.size();
  while (at > 0 && name[at - 1] >= '0' && name[at - 1] <= '9') --at;
  const std::size_t digits = name.size() - at;
  if (digits == 0 || digits > 6) return {name, -1};
  return {name.substr(0, at), std::stoi(name.substr(at))};
}

/// "R10-2" as (R, 10), (-, 2): so that R2 comes before R10.
std::vector<std::pair<std::string, int>> in_parts(const std::string& name) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  std::vector<std::pair<std::string, int>> out;
  for (std::size_t at = 0; at < name.size();) {
    std::size_t number = at;
    while (number < name.size() && !digit(name[number])) ++number;
    std::size_t end = number;
    while (end < name.size() && digit(name[end])) ++end;
    const bool read = end > number && end - number <= 6;
    out.emplace_back(name.substr(at, (read ? number : end) - at),
                     read ? std::stoi(name.substr(number, end - number)) : -1);
    at = end;
  }
  return out;
}

}  // namespace

std::optional<ListRemark> list_remark(const std::string& text) {
  const std::size_t colon = text.find(": ");
  if (colon == std::string::npos) return {};
  ListRemark out;
  out.lead = text.substr(0, colon);
  std::size_t at = colon + 2;
  while (true) {
    const std::optional<Item> item = read_item(text, at);
    if (!item) return {};
    auto group = std::ranges::find(out.groups, item->note, &ListRemark::Group::note);
    if (group == out.groups.end()) group = out.groups.insert(out.groups.end(), {item->note, {}});
    group->names.push_back(item->name);
    ++out.count;
    if (text.compare(at, 2, ", ") != 0) break;
    at += 2;
  }
  if (out.count < kLeast) return {};
  if (at < text.size() && text[at] != '.' && text[at] != ';') return {};
  out.tail = text.substr(at);
  return out;
}

std::vector<std::string> in_runs(std::vector<std::string> names) {
  std::ranges::stable_sort(names, {}, in_parts);
  std::vector<std::string> out;
  for (std::size_t from = 0; from < names.size();) {
    std::size_t to = from + 1;
    const auto follows = [&](std::size_t k) {
      const Numbered last = numbered(names[k - 1]), next = numbered(names[k]);
      return last.number >= 0 && next.before == last.before && next.number == last.number + 1;
    };
    while (to < names.size() && follows(to)) ++to;
    if (to - from < 3) to = from + 1;
    out.push_back(to - from == 1 ? names[from] : names[from] + " to " + names[to - 1]);
    from = to;
  }
  return out;
}

void add_remark(Pages& pages, const std::string& text) {
  const std::optional<ListRemark> list =
      text.size() > kLong ? list_remark(text) : std::optional<ListRemark>{};
  if (!list) {
    pages.bullet(text);
    return;
  }
  const bool one = list->groups.size() == 1 && list->groups[0].note.empty();
  pages.bullet(list->lead + ", " + std::to_string(list->count) + ":" +
               (one ? " " + joined(in_runs(list->groups[0].names), ", ") : " see the table") +
               list->tail);
  if (one) return;
  std::vector<Row> rows;
  for (const ListRemark::Group& group : list->groups)
    rows.push_back({{joined(in_runs(group.names), ", "), group.note}, {}});
  pages.table({{"which", 1.6}, {"note", 3}}, rows);
}

}  // namespace skewback::deliver
