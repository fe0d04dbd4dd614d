#include "brief/fill.hpp"

#include <cmath>

namespace skewback {

DrawnOut draw_out(Plan& plan, double share) {
  DrawnOut out;
  if (share == 0) return out;
  plan.outline.clear();
  for (std::size_t k = 0; k < plan.free_edges.size(); ++k) {
    std::vector<Vec2>& line = plan.free_edges[k].line;
    const Vec2 from = line.front(), along = (line.back() - from).normalized();
    const Vec2 square(-along.y(), along.x());
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
      const double move = -share * square.dot(line[i] - from);
      if (std::abs(move) > out.most_m) out = {std::abs(move), line[i], static_cast<int>(k)};
      line[i] += move * square;
    }
    plan.outline.push_back(plan.supports[k].a);
    plan.outline.insert(plan.outline.end(), line.begin(), line.end() - 1);
  }
  return out;
}

}  // namespace skewback
