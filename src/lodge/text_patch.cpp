#include <algorithm>

#include "lodge/desk.hpp"
#include "lodge/toml_places.hpp"

namespace skewback::lodge {
namespace {

using Steps = std::vector<Step>;

// One change to one text. Fills `text`, or `refused` says why not.
class Patch {
 public:
  Patch(const std::string& text, const toml::table& root, const KeyChange& change, Steps steps)
      : text_(text), lines_(text_), root_(root), change_(change), steps_(std::move(steps)) {}

  [[nodiscard]] std::optional<std::string> made() {
    const toml::node* node = find_node(root_, steps_);
    const bool done = change_.text.empty() ? node != nullptr && take_out(*node)
                      : node != nullptr    ? replace(*node)
                                           : add();
    return done ? std::optional(text_) : std::nullopt;
  }
  std::string refused = "there is no such key to take out";

 private:
  bool refuse(const std::string& why) {
    refused = why;
    return false;
  }

  static bool is_value_node(const toml::node& node) {
    if (const toml::table* table = node.as_table()) return table->is_inline();
    const toml::array* array = node.as_array();
    return array == nullptr || array->empty() || !array->get(0)->is_table() ||
           array->get(0)->as_table()->is_inline();
  }

  bool replace(const toml::node& node) {
    if (!is_value_node(node)) return refuse("it is a table: change the keys in it one by one");
    const Span span = lines_.span(node.source());
    text_.replace(span.begin, span.end - span.begin, change_.text);
    return true;
  }

  // --- taking out ---

  bool take_out(const toml::node& node) {
    if (!is_value_node(node)) return refuse("it is a table: take out the keys in it one by one");
    const Steps holder(steps_.begin(), steps_.end() - 1);
    const toml::node* parent = find_node(root_, holder);
    if (steps_.back().number > 0) return take_out_member(*parent->as_array());
    const toml::table& table = *parent->as_table();
    if (table.is_inline()) return refuse("it stands in a table on one line: change that whole");
    return take_out_line(node);
  }

  bool take_out_line(const toml::node& node) {
    const Span span = lines_.span(node.source());
    const std::size_t end = lines_.line_end(span.end);
    std::size_t begin = lines_.line_start(span.begin);
    const std::size_t rest = text_.find_first_not_of(" \t", span.end);
    if (rest != std::string::npos && rest < end && text_[rest] == '#') {
      begin = text_.find_first_not_of(" \t", begin);  // a comment beside it stays
      text_.erase(begin, rest - begin);
    } else {
      text_.erase(begin, end - begin);
    }
    return true;
  }

  bool take_out_member(const toml::array& array) {
    const std::size_t at = steps_.back().number - 1;
    const Span span = lines_.span(array.get(at)->source());
    const std::size_t after = comma_from(span.end, lines_.span(array.source()).end);
    if (after != std::string::npos) {  // its own comma goes with it
      const std::size_t next = text_.find_first_not_of(" \t", after + 1);
      text_.erase(after, (next == std::string::npos ? text_.size() : next) - after);
      text_.erase(span.begin, span.end - span.begin);
    } else if (at > 0) {  // the last one: the comma before it
      const std::size_t before =
          comma_from(lines_.span(array.get(at - 1)->source()).end, span.begin);
      const std::size_t next = text_.find_first_not_of(" \t", before + 1);
      const bool beside = next == span.begin;
      text_.erase(span.begin, span.end - span.begin);
      text_.erase(before, beside ? next - before : 1);
    } else {
      text_.erase(span.begin, span.end - span.begin);
    }
    return true;
  }

  // First comma from `at` on that is in no comment.
  [[nodiscard]] std::size_t comma_from(std::size_t at, std::size_t end) const {
    for (; at < end; ++at) {
      if (text_[at] == '#') at = std::min(text_.find('\n', at), end);
      if (at < end && text_[at] == ',') return at;
    }
    return std::string::npos;
  }

  // --- adding ---

  bool add() {
    if (steps_.back().number > 0) return add_member();
    const Steps holder(steps_.begin(), steps_.end() - 1);
    const toml::node* parent = find_node(root_, holder);
    if (parent == nullptr) return add_table(holder);
    const toml::table* table = parent->as_table();
    if (table == nullptr) return refuse("what it would be part of is no table");
    if (table->is_inline()) return add_inline(*table);
    if (holder.empty() || has_header(text_, lines_, *table, holder))
      return add_line(*table, holder);
    const char first = text_[lines_.span(table->source()).begin];
    if (first != '[') return refuse("its table is written in keys with dots: give it a header");
    return add_table(holder);
  }

  bool add_member() {
    const Steps holder(steps_.begin(), steps_.end() - 1);
    const toml::node* parent = find_node(root_, holder);
    const toml::array* array = parent != nullptr ? parent->as_array() : nullptr;
    if (array == nullptr) return refuse("there is no such list");
    if (!is_value_node(*array)) return refuse("it is a table: give the keys in it one by one");
    if (steps_.back().number != array->size() + 1)
      return refuse("the list has " + std::to_string(array->size()) + " members");
    if (array->empty()) {
      text_.insert(lines_.span(array->source()).begin + 1, change_.text);
    } else {
      text_.insert(lines_.span(array->get(array->size() - 1)->source()).end, ", " + change_.text);
    }
    return true;
  }

  bool add_inline(const toml::table& table) {
    const std::string entry = steps_.back().name + " = " + change_.text;
    std::size_t last = 0;
    for (const auto& [name, node] : table) last = std::max(last, lines_.span(node.source()).end);
    if (table.empty()) {
      text_.insert(lines_.span(table.source()).begin + 1, " " + entry + " ");
    } else {
      text_.insert(last, ", " + entry);
    }
    return true;
  }

  // After the last key that stands under this header itself.
  bool add_line(const toml::table& table, const Steps& holder) {
    std::size_t begin = 0, end = 0;
    own_lines(table, begin, end);
    std::string indent;
    if (end == 0 && !holder.empty()) {
      end = lines_.line_end(lines_.span(table.source()).end - 1);
    } else if (end > 0) {
      const std::size_t from = lines_.line_start(begin);
      indent = text_.substr(from, text_.find_first_not_of(" \t", from) - from);
      end = lines_.line_end(end - 1);
    }
    std::string line = indent + steps_.back().name + " = " + change_.text + feed();
    if (end > 0 && text_[end - 1] != '\n') line = feed() + line;
    text_.insert(end, line);
    return true;
  }

  // Place of the last value under the header; keys with dots are followed down.
  void own_lines(const toml::table& table, std::size_t& begin, std::size_t& end) const {
    for (const auto& [name, node] : table) {
      if (is_value_node(node)) {
        const Span span = lines_.span(node.source());
        if (span.end <= end) continue;
        begin = span.begin;
        end = span.end;
      } else if (const toml::table* inner = node.as_table()) {
        if (text_[lines_.span(inner->source()).begin] != '[') own_lines(*inner, begin, end);
      }
    }
  }

  bool add_table(const Steps& holder) {
    std::string name;
    bool member = false;
    for (std::size_t i = 0; i < holder.size(); ++i) {
      member = holder[i].number > 0;
      if (!member) {
        name += (name.empty() ? "" : ".") + holder[i].name;
        continue;
      }
      const Steps list(holder.begin(), holder.begin() + static_cast<std::ptrdiff_t>(i));
      const toml::node* node = find_node(root_, list);
      const std::size_t size = node != nullptr && node->is_array() ? node->as_array()->size() : 0;
      const bool last = i + 1 == holder.size();
      if (node != nullptr && is_value_node(*node) && size > 0)
        return refuse("the list holds no tables under headers");
      if (holder[i].number != size + (last ? 1 : 0))
        return refuse("there are " + std::to_string(size) + " of [[" + name + "]]");
    }
    std::string block = (member ? "[[" : "[") + name + (member ? "]]" : "]") + feed();
    block += steps_.back().name + " = " + change_.text + feed();
    if (!text_.empty()) block = (text_.back() == '\n' ? "" : feed()) + feed() + block;
    text_ += block;
    return true;
  }

  [[nodiscard]] std::string feed() const {
    const std::size_t first = text_.find('\n');
    return first != std::string::npos && first > 0 && text_[first - 1] == '\r' ? "\r\n" : "\n";
  }

  std::string text_;
  Lines lines_;
  const toml::table& root_;
  const KeyChange& change_;
  Steps steps_;
};

Fault wrong(const std::string& file, const KeyChange& change, const std::string& found,
            const std::string& expected) {
  Fault fault;
  fault.file = file;
  fault.key = change.key;
  fault.found = found;
  fault.expected = expected;
  return fault;
}

Fault not_toml(const std::string& file, const toml::parse_error& error) {
  Fault fault;
  fault.file = file;
  fault.line = static_cast<int>(error.source().begin.line);
  fault.column = static_cast<int>(error.source().begin.column);
  fault.found = std::string(error.description());
  fault.expected = "a text in TOML";
  return fault;
}

// What was asked for is there, or away.
bool as_asked(const std::string& text, const KeyChange& change, const Steps& steps) {
  try {
    const toml::table now = toml::parse(text);
    const toml::node* node = find_node(now, steps);
    if (change.text.empty()) return node == nullptr || steps.back().number > 0;
    const toml::table wanted = toml::parse("v = " + change.text);
    return node != nullptr && same(*node, *wanted.get("v"));
  } catch (const toml::parse_error&) {
    return false;
  }
}

Result<std::string> patch_one(const std::string& text, const KeyChange& change,
                              const std::string& file) {
  std::optional<Steps> steps = steps_of(change.key);
  if (!steps) return wrong(file, change, "no name of a key", "one such as plan.support[2].level");
  if (!change.text.empty() && !is_value(change.text))
    return wrong(file, change, "\"" + change.text.substr(0, 60) + "\"",
                 "one value in TOML, such as \"1.6 m\" in quotes, 3 or [1, 2]");
  try {
    const toml::table root = toml::parse(text);
    Patch patch(text, root, change, *steps);
    std::optional<std::string> made = patch.made();
    if (!made) return wrong(file, change, patch.refused, "a key that can be changed in place");
    if (!as_asked(*made, change, *steps))
      return wrong(file, change, "a place in the text that cannot be changed by itself",
                   "the change made in the file by hand");
    return std::move(*made);
  } catch (const toml::parse_error& error) {
    return not_toml(file, error);
  }
}

}  // namespace

Result<std::string> patch_text(const std::string& text, const std::vector<KeyChange>& changes,
                               const std::string& file) {
  const std::string mark = text.rfind("\xEF\xBB\xBF", 0) == 0 ? text.substr(0, 3) : "";
  std::string now = text.substr(mark.size());
  for (const KeyChange& change : changes) {
    Result<std::string> next = patch_one(now, change, file);
    if (!next) return next.faults();
    now = std::move(next).value();
  }
  return mark + now;
}

}  // namespace skewback::lodge
