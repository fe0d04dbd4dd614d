#pragma once

namespace skewback {

inline constexpr double kGravity =
    9.81;  // m/s2, the value used by the handbooks quoted in the tests
inline constexpr double kPi = 3.14159265358979323846;

}  // namespace skewback
