#include "works/shape_advice.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "brief/outline.hpp"
#include "works/shape_loop.hpp"

namespace skewback {
namespace {

constexpr double kTried[] = {0.02, 0.05, 0.1, 0.2};  // m

std::string text(const char* format, double a, double b) {
  char buffer[160];
  std::snprintf(buffer, sizeof buffer, format, a, b);
  return buffer;
}

/// How far free edges lie from where they are drawn.
double furthest_edge(const Brief& brief, const Form& form) {
  double most = 0;
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    const int edge = form.free_edge_of[v];
    if (edge < 0 || static_cast<std::size_t>(edge) >= brief.plan.free_edges.size()) continue;
    const std::vector<Vec2>& line = brief.plan.free_edges[static_cast<std::size_t>(edge)].line;
    double least = HUGE_VAL;
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      least =
          std::min(least, distance_to_segment(form.vertices[v].head<2>(), line[i], line[i + 1]));
    most = std::max(most, least);
  }
  return most;
}

}  // namespace

std::string edge_distance_advice(const Brief& brief, const Faults& faults,
                                 const Progress& progress) {
  const bool crosses = std::ranges::any_of(faults, [](const Fault& f) { return f.key == "body"; });
  if (!crosses || brief.form.edge_distance_m > 0) return {};
  for (const double distance : kTried) {
    Brief trial = brief;
    trial.form.edge_distance_m = distance;
    Dossier found;
    if (find_shape(trial, found, progress)) continue;
    return text(
        "form.edge_distance = \"%.0f mm\": tried, it stays apart, its free edges up to %.0f mm off "
        "the lines drawn; or ",
        1000 * distance, 1000 * furthest_edge(brief, *found.form));
  }
  return text("(a form.edge_distance from %.0f to %.0f mm was tried and does not help) ",
              1000 * kTried[0], 1000 * kTried[std::size(kTried) - 1]);
}

}  // namespace skewback
