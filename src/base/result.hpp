#pragma once
// A value, or the reasons why there is none.

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace skewback {

/// One thing that is wrong with what the user gave, or one reason why a stage has no answer.
/// Parts that do not apply stay empty (line and column 0).
struct Fault {
  std::string file{};
  int line = 0;
  int column = 0;
  std::string key{};    // "plan.outline[3]", or the stage and place: "form: free edge yard-orchard"
  std::string found{};  // what was there
  std::string expected{};  // what would have been accepted
  std::string change{};    // the least change that mends it
};

/// "brief.toml:12:8: section.leaf: found "45"; expected a length with a unit, such as "45 mm"".
[[nodiscard]] std::string describe(const Fault& fault);

using Faults = std::vector<Fault>;

/// Holds either a T or at least one Fault, never both.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : value_(std::move(value)) {}  // NOLINT: implicit by design
  Result(Faults faults) : faults_(std::move(faults)) { assert(!faults_.empty()); }  // NOLINT
  Result(Fault fault) : faults_{std::move(fault)} {}                                // NOLINT

  [[nodiscard]] bool ok() const { return value_.has_value(); }
  explicit operator bool() const { return ok(); }
  [[nodiscard]] const T& value() const& {
    assert(ok());
    return *value_;
  }
  [[nodiscard]] T& value() & {
    assert(ok());
    return *value_;
  }
  [[nodiscard]] T&& value() && {
    assert(ok());
    return *std::move(value_);
  }
  const T* operator->() const { return &value(); }
  const T& operator*() const& { return value(); }
  [[nodiscard]] const Faults& faults() const { return faults_; }

 private:
  std::optional<T> value_;
  Faults faults_;
};

}  // namespace skewback
