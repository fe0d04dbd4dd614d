#include <algorithm>
#include <cmath>
#include <cstdio>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

/// Straight between its points but over the ground blocks.
Edge over_ground(const Edge& edge, const Regions& ground) {
  if (ground.empty()) return edge;
  constexpr double kStride = 0.01, kBeside = 1e-6;
  const double end = edge.back().x();
  std::vector<double> xs{0, end};
  for (const Vec2& p : edge) xs.push_back(p.x());
  for (int i = 1; i * kStride < end; ++i) xs.push_back(i * kStride);
  for (const Region& region : ground) {
    for (const Vec2& p : region.outer) {
      for (const double x : {p.x() - kBeside, p.x() + kBeside}) {
        if (x > 0 && x < end) xs.push_back(x);
      }
    }
  }
  std::ranges::sort(xs);
  Edge lifted;
  for (const double x : xs) {
    if (!lifted.empty() && x - lifted.back().x() < kBeside / 2) continue;
    const double y = height(edge, x);
    lifted.emplace_back(x, std::max(y, ground_at(ground, x).value_or(y)));
  }
  return without_straight_points(lifted);
}

/// Level over each foot, straight between: nowhere less than the depth under the top, nowhere under
/// the floor.
Edge lower_edge(const RibDraft& rib, double depth, double pad, double floor) {
  const double length = rib.run.length;
  std::vector<double> xs, ys;
  for (const double x : rib.rib.feet) {
    xs.push_back(x);
    double low = 1e9;
    for (int i = -4; i <= 4; ++i) {
      low = std::min(low, under(rib.rib.top, depth, std::clamp(x + pad / 2 * i / 4, 0.0, length)));
    }
    ys.push_back(low);
  }
  // an end that sticks out stays level with its foot unless the soffit falls under it
  const auto lower_end = [&](double from, double to, double y) {
    double low = y;
    for (int i = 0; i <= 20; ++i) {
      low = std::min(low, under(rib.rib.top, depth, from + (to - from) * i / 20));
    }
    return low;
  };
  ys.front() = lower_end(0, xs.front(), ys.front());
  ys.back() = lower_end(xs.back(), length, ys.back());
  for (std::size_t i = 0; i + 1 < xs.size(); ++i) {
    const double from = xs[i] + pad / 2, to = xs[i + 1] - pad / 2;
    double over = 0;
    for (int k = 1; k < 40 && to > from; ++k) {
      const double t = k / 40.0, x = from + (to - from) * t;
      over = std::max(over, ys[i] + t * (ys[i + 1] - ys[i]) - under(rib.rib.top, depth, x));
    }
    ys[i] -= over;
    ys[i + 1] -= over;
  }
  Edge edge{{0, std::max(floor, ys.front())}};
  const auto put = [&](double x, double y) {
    if (x > edge.back().x() + 1e-6 && x < length - 1e-6) edge.emplace_back(x, std::max(floor, y));
  };
  for (std::size_t i = 0; i < xs.size(); ++i) {
    put(xs[i] - pad / 2, ys[i]);
    put(xs[i] + pad / 2, ys[i]);
  }
  edge.emplace_back(length, std::max(floor, ys.back()));
  return edge;
}

void remark_long_bays(CentringDraft& draft) {
  const double most = draft.request().foot_spacing_m;
  char text[240];
  for (const RibDraft& rib : draft.ribs) {
    const auto& feet = rib.rib.feet;
    for (std::size_t i = 1; i < feet.size(); ++i) {
      if (feet[i] - feet[i - 1] <= most + 1e-6) continue;
      std::snprintf(text, sizeof text,
                    "%s spans %.2f m between two feet, more than the %.2f m of the brief: no foot "
                    "may stand there",
                    rib.rib.id.c_str(), feet[i] - feet[i - 1], most);
      draft.out.remarks.emplace_back(text);
    }
    if (feet.empty()) continue;
    const double out = std::max(feet.front(), rib.run.length - feet.back());
    if (out <= most / 2) continue;
    std::snprintf(text, sizeof text, "%s sticks out %.2f m past its last foot", rib.rib.id.c_str(),
                  out);
    draft.out.remarks.emplace_back(text);
  }
}

}  // namespace

void stand_on_feet(CentringDraft& draft) {
  const CentringRequest& request = draft.request();
  FootGround ground(request);
  for (RibDraft& rib : draft.ribs) {
    if (rib.rib.is_cross) continue;
    std::vector<double> crossings;
    for (const Crossing& c : rib.crossings) crossings.push_back(c.x);
    const Span stretch = foot_stretch(request, rib);
    rib.rib.feet = feet_under(request, ground, rib.run.line, stretch.from, stretch.to, crossings);
    for (const double x : rib.rib.feet) ground.take(rib.run.line.point(x));
    if (rib.rib.feet.empty()) continue;
    rib.rib.bottom = over_ground(
        lower_edge(rib, request.rib_depth_m, request.post_m, draft.floor_m()), rib.ground);
  }
  remark_long_bays(draft);
}

}  // namespace skewback
