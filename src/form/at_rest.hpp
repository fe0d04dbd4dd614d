#pragma once
// For tests: every joint of the net at rest, all edges pressed.

#include <gtest/gtest.h>

#include "form/form.hpp"

namespace skewback {

/// Residuals within 1e-10 of the whole load; the reactions carry it.
inline void expect_at_rest(const Form& form) {
  std::vector<Vec3> sum(form.vertices.size());
  double load = 0;
  Vec3 reaction = Vec3::Zero();
  for (std::size_t i = 0; i < sum.size(); ++i) {
    sum[i] = Vec3(0, 0, -form.load_n[i]) + form.reaction_n[i];
    load += form.load_n[i];
    reaction += form.reaction_n[i];
  }
  for (const NetEdge& e : form.edges) {
    ASSERT_GT(e.q, 0);
    const Vec3 push = e.q * (form.vertices[e.a] - form.vertices[e.b]);
    sum[e.a] += push;
    sum[e.b] -= push;
  }
  for (const Vec3& r : sum) ASSERT_LE(r.norm(), 1e-10 * load);
  EXPECT_LE((reaction - Vec3(0, 0, load)).norm(), 1e-9 * load);
}

}  // namespace skewback
