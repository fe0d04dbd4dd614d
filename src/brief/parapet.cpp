#include <algorithm>

#include "brief/brief.hpp"
#include "brief/meetings.hpp"

namespace skewback {
namespace {

using Line = std::vector<Vec2>;

double length_of(const Line& line) {
  double length = 0;
  for (std::size_t i = 1; i < line.size(); ++i) length += (line[i] - line[i - 1]).norm();
  return length;
}

/// The part of a line between two distances along it.
Line stretch(const Line& line, double from, double to) {
  Line out;
  double along = 0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double step = (line[i] - line[i - 1]).norm();
    const auto at = [&](double s) -> Vec2 {
      return line[i - 1] + (s - along) / std::max(step, 1e-12) * (line[i] - line[i - 1]);
    };
    const double low = std::max(from, along), high = std::min(to, along + step);
    if (low < high) {
      if (out.empty()) out.push_back(at(low));
      out.push_back(at(high));
    }
    along += step;
  }
  return out;
}

}  // namespace

double waist_m(const Plan& plan, int free_edge) {
  const Line& line = plan.free_edges[static_cast<std::size_t>(free_edge)].line;
  if (plan.supports.size() == 2) return length_of(line) / 2;
  // past a spine the arms' edges come together half way
  if (passes_spine(plan, free_edge)) return length_of(line) / 2;
  const auto from =
      static_cast<std::size_t>(plan.free_edges[static_cast<std::size_t>(free_edge)].from);
  const Vec2 middle = meeting_of(plan, from).value_or(centroid(Region{plan.outline, {}}));
  double along = 0, best = 0, least = 1e300;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Vec2 d = line[i] - line[i - 1];
    const double step = d.norm();
    const double t = std::clamp((middle - line[i - 1]).dot(d) / (step * step), 0.0, 1.0);
    const double distance = (line[i - 1] + t * d - middle).norm();
    if (distance < least) least = distance, best = along + t * step;
    along += step;
  }
  return best;
}

std::vector<std::vector<Vec2>> carried_parapets(const Brief& brief) {
  std::vector<Line> out;
  for (std::size_t k = 0; k < brief.plan.free_edges.size(); ++k) {
    const FreeEdge& edge = brief.plan.free_edges[k];
    const bool from = brief.parapet.works_on(edge.from), to = brief.parapet.works_on(edge.to);
    const double waist = waist_m(brief.plan, static_cast<int>(k)), whole = length_of(edge.line);
    if (!from && !to) {
      out.push_back(edge.line);
    } else if (!from) {
      out.push_back(stretch(edge.line, 0, waist));
    } else if (!to) {
      out.push_back(stretch(edge.line, waist, whole));
    }
  }
  return out;
}

}  // namespace skewback
