#include "form/force_picture.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "form/sample_plans.hpp"

namespace skewback {
namespace {

// n x n squares of unit side, q = 1, rim held, as one support on the left of x = 0 would: the
// picture is the net turned a quarter, square for square (its struts all have force 1).
Form square_net(int n) {
  Form form;
  const auto id = [n](int i, int j) { return j * (n + 1) + i; };
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i <= n; ++i) {
      form.vertices.emplace_back(i, j, 0);
      const bool rim = i == 0 || j == 0 || i == n || j == n;
      form.support_of.push_back(rim ? 0 : -1);
      form.free_edge_of.push_back(-1);
    }
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i <= n; ++i) {
      if (i < n && j > 0 && j < n) form.edges.push_back({id(i, j), id(i + 1, j), 1.0, -1});
      if (j < n && i > 0 && i < n) form.edges.push_back({id(i, j), id(i, j + 1), 1.0, -1});
    }
  form.thrust_max_n = 4.0 * (n - 1);
  return form;
}

TEST(ForcePicture, OfASquareNetIsASquareNet) {
  const int n = 5;
  const ForcePicture picture = force_picture(square_net(n), 1);
  EXPECT_LT(picture.closure_n, 1e-13);
  // every face of the net has a corner at a free node: n x n of them
  EXPECT_EQ(picture.points.size(), std::size_t(n * n));
  Vec2 low = picture.points[0], high = low;
  for (const Vec2& p : picture.points) low = low.cwiseMin(p), high = high.cwiseMax(p);
  // n squares side by side have n - 1 struts between them, each of force 1
  EXPECT_NEAR(high.x() - low.x(), n - 1, 1e-13);
  EXPECT_NEAR(high.y() - low.y(), n - 1, 1e-13);
}

TEST(ForcePicture, TellsWhereForcesDoNotBalance) {
  Form form = square_net(4);
  const auto inside = [&](const NetEdge& e) {
    return form.support_of[std::size_t(e.a)] < 0 && form.support_of[std::size_t(e.b)] < 0;
  };
  std::find_if(form.edges.begin(), form.edges.end(), inside)->q += 0.25;
  // some line misses its force, by all of the quarter or by a part of it
  const ForcePicture picture = force_picture(form, 1);
  EXPECT_GT(picture.closure_n, 0.05);
  EXPECT_LE(picture.closure_n, 0.25 + 1e-12);
}

class PictureOf : public testing::TestWithParam<Brief (*)()> {};
INSTANTIATE_TEST_SUITE_P(Plans, PictureOf,
                         testing::Values(&sample::drovers_hop, &sample::wren_leat, &sample::canopy,
                                         &sample::six_legs));

TEST_P(PictureOf, ClosesAndEndsAtTheSupportsInTheirThrust) {
  const Brief brief = GetParam()();
  const Form form = find_form(brief).value();
  const int supports = int(brief.plan.supports.size());
  const ForcePicture picture = force_picture(form, supports);
  EXPECT_LT(picture.closure_rel, 1e-9);
  for (int k = 0; k < supports; ++k) {
    Vec2 thrust = Vec2::Zero();
    for (std::size_t v = 0; v < form.vertices.size(); ++v)
      if (form.support_of[v] == k) thrust += form.reaction_n[v].head<2>();
    const auto [before, after] = picture.supports[std::size_t(k)];
    const Vec2 drawn = picture.points[std::size_t(after)] - picture.points[std::size_t(before)];
    EXPECT_LT((drawn - thrust).norm(), 1e-9 * form.thrust_max_n)
        << drawn.transpose() << " against " << thrust.transpose() << " N at support " << k;
  }
}

}  // namespace
}  // namespace skewback
