#include "body/ease.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/constants.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::vector<std::set<int>> beside(const Form& form) {
  std::vector<std::set<int>> out(form.vertices.size());
  for (const auto& t : form.triangles)
    for (std::size_t i = 0; i < 3; ++i) {
      out[at(t[i])].insert(t[(i + 1) % 3]);
      out[at(t[i])].insert(t[(i + 2) % 3]);
    }
  return out;
}

}  // namespace

void ease_normals(const Form& form, const std::vector<Vec3>& places, double reach_m, int passes,
                  std::vector<Vec3>& normal) {
  std::vector<std::size_t> near;
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    const auto within = [&](const Vec3& p) { return (form.vertices[v] - p).norm() <= reach_m; };
    if (form.support_of[v] < 0 && std::any_of(places.begin(), places.end(), within))
      near.push_back(v);
  }
  const std::vector<std::set<int>> neighbours = beside(form);
  for (int pass = 0; pass < passes; ++pass) {
    std::vector<Vec3> next = normal;
    for (const std::size_t v : near) {
      for (const int other : neighbours[v]) next[v] += normal[at(other)];
      next[v].normalize();
    }
    normal = std::move(next);
  }
}

double largest_turn_deg(const std::vector<Vec3>& a, const std::vector<Vec3>& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    most = std::max(most, std::atan2(a[i].cross(b[i]).norm(), a[i].dot(b[i])));
  return most * 180 / kPi;
}

}  // namespace skewback
