#pragma once
// Private to assembly/: typed access to JSON that gathers faults instead of stopping at the first.

#include <initializer_list>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "geometry/geometry.hpp"

namespace skewback {

/// A value and the way to it. Lives on the stack of whoever descends, so paths cost nothing
/// unless a fault is written.
struct Cursor {
  const nlohmann::json* value = nullptr;
  const Cursor* parent = nullptr;
  std::string_view name;  // of a member
  std::size_t index = 0;  // of an element, where there is no name

  [[nodiscard]] std::string path() const;  // "blocks[3].faces[0]"
  [[nodiscard]] Cursor element(std::size_t i) const { return {&(*value)[i], this, {}, i}; }
  /// None if the member is not there.
  [[nodiscard]] std::optional<Cursor> member(std::string_view key) const;
  [[nodiscard]] std::size_t size() const { return value->size(); }
};

class Fields {
 public:
  explicit Fields(std::string file) : file_(std::move(file)) {}

  void fault(const Cursor& at, std::string found, std::string expected);
  [[nodiscard]] bool clean() const { return faults_.empty(); }
  [[nodiscard]] std::size_t count() const { return faults_.size(); }
  /// Adds words in brackets to the faults from the one counted `from` on.
  void add_where(std::size_t from, const std::string& words);
  [[nodiscard]] Faults take() { return std::move(faults_); }

  /// True if it is an object; every key outside `known` is a fault.
  bool object(const Cursor& at, std::initializer_list<std::string_view> known);
  bool array(const Cursor& at, std::size_t least = 0);
  /// The member, or a fault that it is missing.
  std::optional<Cursor> required(const Cursor& at, std::string_view key);

  // Each gives none after a fault.
  std::optional<double> number(const Cursor& at);
  std::optional<double> number_above(const Cursor& at, double low, bool or_equal);
  std::optional<int> integer(const Cursor& at);
  std::optional<bool> boolean(const Cursor& at);
  std::optional<std::string> text(const Cursor& at);  // not empty
  std::optional<Vec3> vec3(const Cursor& at);
  std::optional<std::vector<Vec3>> points(const Cursor& at, std::size_t least);

 private:
  std::string file_;
  Faults faults_;
};

/// Text as JSON: faults for a syntax error (with line and column), a key given twice in one object,
/// a number too large for a double. `file`: as the faults name it.
[[nodiscard]] Result<nlohmann::json> parse_json(const std::string& file, const std::string& text);
/// The same of a file; also faults for a missing one and for a directory.
[[nodiscard]] Result<nlohmann::json> load_json(const std::string& file);

}  // namespace skewback
