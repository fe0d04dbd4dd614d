#include "form/shape_fit.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

namespace skewback {
namespace {

// A small net of 4 x 3 meshes held on two sides, all forces different.
struct Small {
  Net net;
  std::vector<double> load;
  ShapeWish wish;
};

Small small_net() {
  Small s;
  const int rows = 5, columns = 4;
  for (int i = 0; i < rows; ++i)
    for (int j = 0; j < columns; ++j) {
      s.net.points.emplace_back(i, 0.8 * j, 0);
      s.net.fixed.push_back(i == 0 || i == rows - 1);
      s.load.push_back(1 + 0.1 * ((3 * i + j) % 5));
      const int here = i * columns + j;
      if (i + 1 < rows)
        s.net.edges.push_back({here, here + columns, 2.0 + 0.2 * ((i + 2 * j) % 3)});
      if (j + 1 < columns && i > 0 && i + 1 < rows)
        s.net.edges.push_back({here, here + 1, 0.1 + 0.05 * ((i + j) % 3)});
    }
  const Eigen::Index n = Eigen::Index(s.net.points.size());
  s.wish.level.resize(1, n);
  s.wish.level.insert(0, 8) = 1;
  s.wish.level.insert(0, 9) = -1;
  for (const Vec3& p : s.net.points) {
    Eigen::Matrix2d weight;
    weight << 0.7, 0.1, 0.2, 0.5;
    s.wish.place.push_back({{p.x() + 0.05, p.y() - 0.02 * p.x()}, weight});
  }
  s.wish.crown = {9, 10};
  s.wish.crown_z = 1.1;
  s.wish.floor_q.assign(s.net.edges.size(), 0.02);
  s.wish.unit_q.assign(s.net.edges.size(), 0.7);
  return s;
}

// As small_net with every other wish: one that is felt of each kind of limit, and one that is not.
Small with_all_wishes() {
  Small s = small_net();
  s.wish.spots.push_back({{5, 9, 6}, {0.2, 0.5, 0.3}, {1.4, 1.1, 0.6}, {0.3, -0.2}, 2.0, false});
  s.wish.spots.push_back({{9, 13, 10}, {0.3, 0.3, 0.4}, {2.2, 1.2, 0.1}, {0.1, 0.4}, 1.5, true});
  s.wish.spots.push_back({{9, 13, 10}, {0.3, 0.3, 0.4}, {2.2, 1.2, 90}, {0.1, 0.4}, 1.5, true});
  s.wish.between.push_back({9, 8, 10, 0.4, {0.6, 0.8}, 1.7});
  s.wish.between.push_back({6, 2, 10, 0.6, {-0.28, 0.96}, 0.9});
  s.wish.within.push_back({8, {1.5, -0.1}, {0.6, 0.8}, 0.05, 3.0});
  s.wish.within.push_back({8, {1.5, -0.1}, {0.6, 0.8}, 5.0, 3.0});
  ThrustWish thrust{{}, 2.0, 0.4};
  for (int k = 0; k < int(s.net.edges.size()); ++k)
    for (int end : {s.net.edges[k].a, s.net.edges[k].b})
      if (end < 4) thrust.edges.emplace_back(k, end);
  s.wish.thrusts = {thrust, thrust};
  s.wish.thrusts[1].most_n = 1e6;
  s.wish.even = {{0, 3, 0.5, 0.2}, {4, 7, 0.3, 0.9}, {5, 5, 0.4, 0}};
  s.wish.keep = 0.3;
  s.wish.first.assign(s.net.edges.size(), 0.1);
  return s;
}

// Relative to the largest slope. Independent: central differences of the misfit itself.
double gradient_error(const Small& s) {
  const Misfit here = misfit(s.net, s.load, s.wish);
  const double h = 1e-5;
  double worst = 0;
  for (std::size_t k = 0; k < s.net.edges.size(); ++k) {
    Net up = s.net, down = s.net;
    const double floor = s.wish.floor_q[k], above = s.net.edges[k].q - floor;
    up.edges[k].q = floor + above * std::exp(h);
    down.edges[k].q = floor + above * std::exp(-h);
    const double slope =
        (misfit(up, s.load, s.wish).value - misfit(down, s.load, s.wish).value) / (2 * h);
    worst = std::max(worst, std::abs(slope - here.gradient[Eigen::Index(k)]));
  }
  const double largest = here.gradient.lpNorm<Eigen::Infinity>();
  EXPECT_GT(largest, 0);
  return worst / largest;
}

TEST(ShapeFit, AdjointGradientMeetsCentralDifferences) {
  EXPECT_LT(gradient_error(with_all_wishes()), 1e-7);
}

// Each kind of wish by itself, so that no larger one hides it: the crown is where it is wanted.
TEST(ShapeFit, AdjointGradientOfEachWishMeetsCentralDifferences) {
  const Small all = with_all_wishes();
  Small none = all;
  for (PlaceWish& place : none.wish.place) place.weight.setZero();
  none.wish.level_weight = 0;
  none.wish.between.clear();
  none.wish.spots.clear();
  none.wish.within.clear();
  none.wish.thrusts.clear();
  none.wish.even.clear();
  none.wish.keep = 0;
  const auto points = equilibrium(all.net, as_forces(all.load));
  ASSERT_TRUE(points.ok());
  none.wish.crown_z = mean_height(*points, none.wish.crown);
  const std::vector<std::pair<const char*, std::function<void(ShapeWish&)>>> kinds = {
      {"place", [&](ShapeWish& w) { w.place = all.wish.place; }},
      {"level", [&](ShapeWish& w) { w.level_weight = all.wish.level_weight; }},
      {"between", [&](ShapeWish& w) { w.between = all.wish.between; }},
      {"height", [&](ShapeWish& w) { w.spots = {all.wish.spots[0]}; }},
      {"stay under",
       [&](ShapeWish& w) {
         w.spots = {all.wish.spots[1], all.wish.spots[2]};
       }},
      {"within", [&](ShapeWish& w) { w.within = all.wish.within; }},
      {"thrust", [&](ShapeWish& w) { w.thrusts = all.wish.thrusts; }},
      {"even", [&](ShapeWish& w) { w.even = all.wish.even; }},
      {"keep", [&](ShapeWish& w) { w.keep = all.wish.keep; }},
      {"crown", [&](ShapeWish& w) { w.crown_z += 0.2; }}};
  for (const auto& [name, put] : kinds) {
    Small one = none;
    put(one.wish);
    EXPECT_LT(gradient_error(one), 1e-7) << name;
  }
}

TEST(ShapeFit, ComesNearerAndStaysInCompression) {
  const Small s = small_net();
  const auto none = fit_shape(s.net, s.load, s.wish, {.steps_max = 0}),
             fit = fit_shape(s.net, s.load, s.wish, {.steps_max = 20});
  ASSERT_TRUE(none.ok() && fit.ok());
  EXPECT_LT(misfit(fit->net, s.load, s.wish).value, 0.5 * misfit(none->net, s.load, s.wish).value);
  EXPECT_NEAR(mean_height(fit->net.points, s.wish.crown), 1.1, 1e-12);
  for (const NetEdge& e : fit->net.edges) EXPECT_GT(e.q, 0);
}

}  // namespace
}  // namespace skewback
