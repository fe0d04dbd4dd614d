#pragma once
// How evenly the fibres of a form lie, for tests.

#include <algorithm>
#include <cmath>

#include "form/form.hpp"
#include "form/mesh.hpp"
#include "form/plan_check.hpp"

namespace skewback::sample {

struct Spacing {
  double least = 1e9;  // of two neighbouring fibres, square to them, by the mean at the station
  int folds = 0;       // corners of quads that do not turn left: none, and no two edges cross
};

/// Stations are the rows of an arm, from one free edge to the centreline.
inline Spacing fibre_spacing(const Brief& brief, const Form& form) {
  const FibreMesh mesh = fibre_mesh(pulled_taut(brief.plan), brief.form.mesh_size_m).value();
  const auto at = [&](int p) -> Vec2 { return form.vertices[p].head<2>(); };
  const auto cross = [](const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); };
  Spacing out;
  for (const Arm& arm : mesh.arms)
    for (const auto* side : {&arm.before, &arm.after}) {
      const auto& fibres = *side;
      const std::size_t last = fibres[0].size() - 1;
      for (std::size_t i = 0; i <= last; ++i) {
        std::vector<double> gaps;
        for (std::size_t j = 0; j + 1 < fibres.size(); ++j) {
          Vec2 way = Vec2::Zero();
          for (const auto& fibre : {fibres[j], fibres[j + 1]})
            way += at(fibre[std::min(last, i + 1)]) - at(fibre[i > 0 ? i - 1 : 0]);
          gaps.push_back(
              std::abs(cross(way.normalized(), at(fibres[j + 1][i]) - at(fibres[j][i]))));
        }
        double mean = 0;
        for (double gap : gaps) mean += gap / double(gaps.size());
        out.least = std::min(out.least, *std::min_element(gaps.begin(), gaps.end()) / mean);
      }
    }
  for (const std::array<int, 4>& q : mesh.quads)
    for (int c = 0; c < 4; ++c)
      if (cross(at(q[(c + 1) % 4]) - at(q[c]), at(q[(c + 3) % 4]) - at(q[c])) <= 0) ++out.folds;
  return out;
}

}  // namespace skewback::sample
