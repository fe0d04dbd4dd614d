#pragma once
// Quantities with units, read by UDUNITS-2.

#include <memory>
#include <string>

#include "base/result.hpp"

namespace skewback {

/// One unit system, loaded once and kept. Safe to use from several threads (calls take turns: the
/// library's own parser is not reentrant).
class Units {
 public:
  Units();
  ~Units();
  Units(const Units&) = delete;
  Units& operator=(const Units&) = delete;

  /// False when the library's unit database could not be loaded; read() then faults.
  [[nodiscard]] bool loaded() const;

  /// "45 mm" as a number of `si_unit`. Only units that are a pure multiple of the SI unit pass: no
  /// offsets (degC), logarithms or reciprocals. The fault has `found`, `expected` and `change`.
  [[nodiscard]] Result<double> read(const std::string& text, const std::string& si_unit) const;

  /// How many of `si_unit` one `unit` is; 0 if they are not of one dimension.
  [[nodiscard]] double factor(const std::string& unit, const std::string& si_unit) const;

 private:
  struct System;
  std::unique_ptr<System> system_;
};

/// "a length" for "m", "a pressure" for "Pa", ...; the unit itself in quotes when it has no name.
[[nodiscard]] std::string dimension_name(const std::string& si_unit);

/// A quantity one could write for this dimension: "45 mm" for "m".
[[nodiscard]] std::string sample_quantity(const std::string& si_unit);

}  // namespace skewback
