#pragma once
// Private to survey/.

namespace skewback {

/// x of the standard normal distribution with Phi(x) = `chance`, in (0, 1), to about 1 part in
/// 1e16: Wichura 1988, "The percentage points of the normal distribution", algorithm AS 241
/// (PPND16).
[[nodiscard]] double normal_deviate(double chance);

}  // namespace skewback
