#include "lodge/arrays.hpp"

namespace skewback::lodge {

Json supports_json(const Plan& plan) {
  Json out = Json::array();
  for (const Support& s : plan.supports) {
    out.push_back({{"name", s.id},
                   {"a", {s.a.x(), s.a.y(), s.level_m}},
                   {"b", {s.b.x(), s.b.y(), s.level_m}}});
  }
  return out;
}

}  // namespace skewback::lodge
