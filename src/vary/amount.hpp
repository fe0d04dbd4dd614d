#pragma once
// "1.4 m" as a number and a unit, both as written. Private to vary/.

#include <optional>
#include <string>

namespace skewback {

struct Amount {
  double value = 0;
  std::string unit;  // empty: a bare number
};
/// None: no number comes first, or it is not finite.
[[nodiscard]] std::optional<Amount> split_amount(const std::string& text);

/// Shortest decimal that stands for the value to 12 figures: 1.3, not 1.2999999999999998.
[[nodiscard]] std::string plain(double value);

/// Shortest decimal that reads back as the same number.
[[nodiscard]] std::string exact(double value);

}  // namespace skewback
