#pragma once
// Questions that several checks ask of a draft.

#include <string>
#include <vector>

#include "brief/draft.hpp"

namespace skewback {

inline constexpr double kOn = 1e-3;  // m: nearer than this is the same place

/// Nearer than 1 mm; two points that are 1 mm apart as written are not, however they round.
[[nodiscard]] inline bool too_near(const Vec2& a, const Vec2& b) {
  constexpr double kHair = 1e-9;  // m
  return (a - b).norm() < kOn - kHair;
}

/// At least three corners, none twice, no side that crosses another, some area. (plan.cpp)
bool check_polygon(const Polygon& polygon, const std::string& key, Draft& draft);

/// At least two points, no two in a row nearer than 1 mm in plan. (walkway.cpp)
bool check_line(const std::vector<Vec2>& line, const std::string& key, Draft& draft);

[[nodiscard]] std::vector<Vec2> in_plan(const std::vector<Vec3>& line);

/// Whether the settled plan has something there: inside the outline and in no opening; or no
/// farther than `beside_m` from it.
[[nodiscard]] bool on_plan(const Plan& plan, const Vec2& p, double beside_m);

/// In the settled plan; -1: none is called so. (checks.cpp)
[[nodiscard]] int support_index(const Draft& draft, const std::string& id);
/// True also where `key` was not read or is no name: that has its own fault.
bool check_support_name(Draft& draft, const std::string& key, const std::string& id);

}  // namespace skewback
