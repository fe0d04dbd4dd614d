#include <algorithm>
#include <cmath>
#include <limits>

#include "centring/rib_draft.hpp"
#include "centring/rib_top.hpp"

namespace skewback {
namespace {

constexpr double kClear = 0.03;      // m, to ground blocks and to the springing
constexpr double kShallowest = 0.1;  // m, of a rib at its end
constexpr double kShortest = 0.5;    // m, of a rib

/// In the middle of the sheet and on both its faces.
Regions ground_in(const Assembly& assembly, const PlanLine& line, double thickness) {
  Regions all;
  for (const Block& block : assembly.blocks) {
    if (!block.fixed) continue;
    for (const double side : {-0.5, 0.0, 0.5}) {
      Frame frame = upright(line);
      frame.origin += side * thickness * frame.z;
      for (Region& region : offset(slice(block.solid, frame), kClear)) {
        all.push_back(std::move(region));
      }
    }
  }
  return all;
}

/// The stretch in which the top stands high enough over the ground and what is built on it.
Span deep_enough(const Edge& top, const Regions& ground, double floor) {
  constexpr double kStride = 0.005;
  const auto shallow = [&](double x) {
    return height(top, x) - std::max(floor, ground_at(ground, x).value_or(floor)) < kShallowest;
  };
  Span span{-1, top.front().x(), top.back().x()};
  while (span.from < span.to && shallow(span.from)) span.from += kStride;
  while (span.to > span.from && shallow(span.to)) span.to -= kStride;
  return span;
}

}  // namespace

std::optional<double> ground_at(const Regions& ground, double x) {
  std::optional<double> high;
  for (const Region& region : ground) {
    const Polygon& p = region.outer;
    for (std::size_t i = 0; i < p.size(); ++i) {
      const Vec2 &a = p[i], &b = p[(i + 1) % p.size()];
      if ((a.x() <= x) == (b.x() <= x)) continue;
      const double y = a.y() + (x - a.x()) / (b.x() - a.x()) * (b.y() - a.y());
      high = std::max(high.value_or(y), y);
    }
  }
  return high;
}

Span foot_stretch(const CentringRequest& request, const RibDraft& rib) {
  const double in = std::min(foot_to_end_m(request), rib.run.length / 2);
  const auto bare = [&](double x) {
    const auto y = ground_at(rib.ground, x);
    return !y || *y <= request.ground_level_m;
  };
  constexpr double kStride = 0.01;
  const double half = request.post_m / 2;
  Span span{-1, in, rib.run.length - in};
  while (span.from < span.to && !bare(span.from - half)) span.from += kStride;
  while (span.to > span.from && !bare(span.to + half)) span.to -= kStride;
  return span;
}

std::vector<RibDraft> ribs_with_tops(const Brief& brief, const Assembly& assembly,
                                     const Soffits& all, const std::vector<RibLine>& lines) {
  const CentringRequest& request = brief.centring;
  const double lower = request.seats == "laggings" ? request.lagging_thickness_m : 0;
  const double floor = request.ground_level_m + foot_room_m(request);
  std::vector<RibDraft> ribs;
  for (const RibLine& line : lines) {
    RibDraft draft;
    draft.run = line;
    // clear of the springing where no ground block is drawn
    if (!line.bridging) {
      draft.run.line.at = draft.run.line.point(kClear);
      draft.run.length -= (brief.plan.supports.size() == 2 ? 2 : 1) * kClear;
    }
    const Edge top =
        top_edge(all, draft.run.line, 0, draft.run.length, request.sheet_thickness_m, lower);
    if (top.empty()) continue;
    const Span deep =
        deep_enough(top, ground_in(assembly, draft.run.line, request.sheet_thickness_m), floor);
    if (deep.to - deep.from < kShortest) continue;
    draft.run.line.at = draft.run.line.point(deep.from);
    draft.run.length = deep.to - deep.from;
    draft.ground = ground_in(assembly, draft.run.line, request.sheet_thickness_m);
    for (const Vec2& p : between(top, deep.from, deep.to)) {
      draft.rib.top.emplace_back(p.x() - deep.from, p.y());
    }
    draft.rib.id = "R" + std::to_string(ribs.size() + 1);
    draft.rib.place = upright(draft.run.line);
    for (Span span : spans_over(all, draft.run.line)) {
      span.from = std::max(span.from, 0.0);
      span.to = std::min(span.to, draft.run.length);
      if (span.to > span.from) draft.spans.push_back(span);
    }
    ribs.push_back(std::move(draft));
  }
  return ribs;
}

}  // namespace skewback
