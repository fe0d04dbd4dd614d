#pragma once
// Private to lodge/: where things stand in a TOML text.

#include <toml++/toml.h>

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace skewback::lodge {

struct Step {  // one part of a key: a name, or the number of a member (from 1)
  std::string name;
  std::size_t number = 0;  // 0: a name
};
/// "plan.support[2].level"; names are letters, figures, '-', '_'. None if it is not such a key.
[[nodiscard]] std::optional<std::vector<Step>> steps_of(const std::string& key);

/// What stands there; null if nothing does.
[[nodiscard]] const toml::node* find_node(const toml::table& root, const std::vector<Step>& steps);

/// Half-open, in bytes.
struct Span {
  std::size_t begin = 0, end = 0;
};
/// Lines of a text, for positions counted in lines and characters.
class Lines {
 public:
  explicit Lines(const std::string& text);
  [[nodiscard]] std::size_t offset(const toml::source_position& at) const;
  [[nodiscard]] Span span(const toml::source_region& region) const;
  [[nodiscard]] std::size_t line_start(std::size_t offset) const;
  [[nodiscard]] std::size_t line_end(std::size_t offset) const;  // after its line feed, if any

 private:
  const std::string& text_;
  std::vector<std::size_t> starts_;
};

/// True if the table has a header of its own: [a.b], or [[a.b]] for a member of a list. One that is
/// only part of another's name, or of a key with dots, has none.
[[nodiscard]] bool has_header(const std::string& text, const Lines& lines, const toml::table& table,
                              const std::vector<Step>& steps);

/// One value alone, as may stand right of "key =".
[[nodiscard]] bool is_value(const std::string& text);
/// Equal in type and value, all the way down.
[[nodiscard]] bool same(const toml::node& a, const toml::node& b);

}  // namespace skewback::lodge
