#pragma once
// Figures side by side that must not read alike where they differ: found and allowed, now and
// before.

#include <functional>
#include <string>

namespace skewback::deliver {

/// A value with so many decimals more than it usually has; zeros at the end of those left out.
using Writing = std::function<std::string(double value, int more)>;
/// `decimals` of value * scale, and what comes behind: " MPa".
[[nodiscard]] Writing decimals(int decimals, const std::string& behind = "", double scale = 1);

struct TwoFigures {
  std::string first, second;
};
/// Both as usual; where that reads alike and they are not, with as many decimals more as tell them
/// apart, six at most. Read alike still: they differ by less than that.
[[nodiscard]] TwoFigures told_apart(double first, double second, const Writing& write);

/// "1.82, before 1.67"; "1.82, as before" where they differ by less than a part in two thousand.
[[nodiscard]] std::string now_and_before(double now, double before, const Writing& write);

/// A share of what is allowed: "87 %", "100.3 %". "100 %" is one, never a little over or under it.
[[nodiscard]] std::string percent_used(double share, int decimals = 0);

}  // namespace skewback::deliver
