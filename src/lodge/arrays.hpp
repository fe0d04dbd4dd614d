#pragma once
// Private to the views: vectors into arrays, and into JSON.

#include <cstdint>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "brief/brief.hpp"

namespace skewback::lodge {

using Json = nlohmann::ordered_json;  // numbers that are not finite are written as null
inline constexpr float kNone = std::numeric_limits<float>::quiet_NaN();

inline void put(std::vector<float>& out, const Vec3& v) {
  for (int i = 0; i < 3; ++i) out.push_back(static_cast<float>(v[i]));
}
inline void put(std::vector<float>& out, const std::optional<Vec3>& v) {
  if (v) return put(out, *v);
  out.insert(out.end(), 3, kNone);
}
inline float number(const std::optional<double>& value) {
  return value ? static_cast<float>(*value) : kNone;
}
inline Json json(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }
inline Json json(const Vec2& v) { return Json::array({v.x(), v.y()}); }
inline Json json(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

/// [{"name", "a", "b"}], the ends of the springing lines.
[[nodiscard]] Json supports_json(const Plan& plan);

}  // namespace skewback::lodge
