#include "deliver/levels.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace skewback::deliver {
namespace {

void cross(const std::array<Vec2, 3>& corner, const std::array<double, 3>& phi, double level,
           std::vector<std::pair<Vec2, Vec2>>& pieces) {
  std::vector<Vec2> ends;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3;
    if ((phi[i] < level) == (phi[j] < level)) continue;
    const double t = (level - phi[i]) / (phi[j] - phi[i]);
    ends.emplace_back((1 - t) * corner[i] + t * corner[j]);
  }
  if (ends.size() == 2) pieces.emplace_back(ends[0], ends[1]);
}

}  // namespace

std::vector<LevelLine> level_lines(const Form& form, double step_m) {
  std::map<std::pair<int, int>, LevelLine> lines;
  const std::size_t n = std::min(form.phi.size(), form.triangles.size());
  for (std::size_t t = 0; t < n && t < form.arm.size(); ++t) {
    std::array<Vec2, 3> corner;
    for (std::size_t i = 0; i < 3; ++i) {
      corner[i] = form.vertices[static_cast<std::size_t>(form.triangles[t][i])].head<2>();
    }
    const auto [low, high] = std::minmax_element(form.phi[t].begin(), form.phi[t].end());
    if (!std::isfinite(*low) || !std::isfinite(*high)) continue;
    const int first = std::max(1, static_cast<int>(std::ceil(*low / step_m)));
    for (int k = first; k * step_m <= *high; ++k) {
      LevelLine& line = lines[{form.arm[t], k}];
      line.arm = form.arm[t];
      line.level_m = k * step_m;
      cross(corner, form.phi[t], k * step_m, line.pieces);
    }
  }
  std::vector<LevelLine> out;
  for (auto& [key, line] : lines) {
    if (!line.pieces.empty()) out.push_back(std::move(line));
  }
  return out;
}

}  // namespace skewback::deliver
