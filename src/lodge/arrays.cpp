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

Json matrix_json(const Rigid& rigid) {
  Json rows = Json::array();
  for (int i = 0; i < 3; ++i)
    rows.push_back({rigid.R(i, 0), rigid.R(i, 1), rigid.R(i, 2), rigid.t[i]});
  rows.push_back({0.0, 0.0, 0.0, 1.0});
  return rows;
}

}  // namespace skewback::lodge
