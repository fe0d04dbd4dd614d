#include "lodge/toml_places.hpp"

#include <algorithm>
#include <cctype>

namespace skewback::lodge {
namespace {

constexpr std::size_t kLongestKey = 200;
constexpr std::size_t kMostMembers = 100000;

bool bare(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_';
}

// "[2]" from `at` on, which is moved past it; 0 if it is not that.
std::size_t read_number(const std::string& key, std::size_t& at) {
  std::size_t number = 0;
  for (++at; at < key.size() && std::isdigit(static_cast<unsigned char>(key[at])) != 0; ++at) {
    number = number * 10 + static_cast<std::size_t>(key[at] - '0');
    if (number > kMostMembers) return 0;
  }
  if (at >= key.size() || key[at] != ']') return 0;
  ++at;
  return number;
}

std::size_t names_in(const std::vector<Step>& steps) {
  return static_cast<std::size_t>(
      std::count_if(steps.begin(), steps.end(), [](const Step& s) { return s.number == 0; }));
}

}  // namespace

std::optional<std::vector<Step>> steps_of(const std::string& key) {
  if (key.empty() || key.size() > kLongestKey) return {};
  std::vector<Step> steps;
  for (std::size_t at = 0; at < key.size();) {
    std::string name;
    while (at < key.size() && bare(key[at])) name += key[at++];
    if (name.empty()) return {};
    steps.push_back({std::move(name)});
    while (at < key.size() && key[at] == '[') {
      const std::size_t number = read_number(key, at);
      if (number == 0) return {};
      steps.push_back({"", number});
    }
    if (at == key.size()) break;
    if (key[at] != '.' || ++at == key.size()) return {};
  }
  return steps;
}

const toml::node* find_node(const toml::table& root, const std::vector<Step>& steps) {
  const toml::node* node = &root;
  for (const Step& step : steps) {
    if (node == nullptr) return nullptr;
    if (step.number == 0) {
      const toml::table* table = node->as_table();
      node = table != nullptr ? table->get(step.name) : nullptr;
    } else {
      const toml::array* array = node->as_array();
      node = array != nullptr ? array->get(step.number - 1) : nullptr;
    }
  }
  return node;
}

Lines::Lines(const std::string& text) : text_(text), starts_{0} {
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n') starts_.push_back(i + 1);
}

std::size_t Lines::offset(const toml::source_position& at) const {
  if (at.line == 0 || at.line > starts_.size()) return text_.size();
  std::size_t i = starts_[at.line - 1];
  for (auto left = at.column; left > 1 && i < text_.size(); --left) {
    ++i;  // on to the next character of UTF-8
    while (i < text_.size() && (static_cast<unsigned char>(text_[i]) & 0xC0) == 0x80) ++i;
  }
  return i;
}

Span Lines::span(const toml::source_region& region) const {
  return {offset(region.begin), offset(region.end)};
}

std::size_t Lines::line_start(std::size_t offset) const {
  return *(std::upper_bound(starts_.begin(), starts_.end(), offset) - 1);
}

std::size_t Lines::line_end(std::size_t offset) const {
  const auto next = std::upper_bound(starts_.begin(), starts_.end(), offset);
  return next == starts_.end() ? text_.size() : *next;
}

bool has_header(const std::string& text, const Lines& lines, const toml::table& table,
                const std::vector<Step>& steps) {
  if (steps.empty() || table.is_inline()) return false;
  const Span span = lines.span(table.source());
  if (span.begin >= span.end || text[span.begin] != '[') return false;
  try {
    const toml::table header = toml::parse(text.substr(span.begin, span.end - span.begin));
    std::size_t depth = 0;
    for (const toml::node* node = &header;;) {
      if (const toml::array* list = node->as_array()) node = list->get(0);
      const toml::table* inner = node != nullptr ? node->as_table() : nullptr;
      if (inner == nullptr || inner->empty()) break;
      node = &inner->begin()->second;
      ++depth;
    }
    return depth == names_in(steps);
  } catch (const toml::parse_error&) {
    return false;
  }
}

bool is_value(const std::string& text) {
  const std::string lead = "v = ";
  const std::string line = lead + text;
  try {
    const toml::table table = toml::parse(line);
    if (table.size() != 1 || table.get("v") == nullptr) return false;
    const Lines lines(line);
    const Span span = lines.span(table.get("v")->source());
    return span.begin == lead.size() && span.end == line.size();
  } catch (const toml::parse_error&) {
    return false;
  }
}

bool same(const toml::node& a, const toml::node& b) {
  if (a.type() != b.type()) return false;
  if (const toml::table* x = a.as_table()) {
    const toml::table& y = *b.as_table();
    return x->size() == y.size() && std::all_of(x->begin(), x->end(), [&](const auto& entry) {
             const toml::node* other = y.get(entry.first.str());
             return other != nullptr && same(entry.second, *other);
           });
  }
  if (const toml::array* x = a.as_array()) {
    const toml::array& y = *b.as_array();
    return x->size() == y.size() &&
           std::equal(x->begin(), x->end(), y.begin(),
                      [](const toml::node& p, const toml::node& q) { return same(p, q); });
  }
  return toml::array{a} == toml::array{b};
}

}  // namespace skewback::lodge
