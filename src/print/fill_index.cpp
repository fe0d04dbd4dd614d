#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

#include "print/fill_parts.hpp"

namespace skewback::filling {
namespace {

constexpr double kCell = 0.03;  // m
constexpr double kNear = 1e-6;  // m

}  // namespace

double perimeter(const Polygon& outline) {
  double sum = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    sum += (outline[(i + 1) % outline.size()] - outline[i]).norm();
  }
  return sum;
}

std::string millimetres(double length_m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f mm", length_m * 1e3);
  return text;
}

std::string at(const Vec2& p) {
  char text[64];
  std::snprintf(text, sizeof text, "at (%.3f, %.3f)", p.x(), p.y());
  return text;
}

void SegmentIndex::add(const Polygon& outline, int owner) {
  for (std::size_t i = 0; i < outline.size(); ++i) {
    segments_.push_back(
        {outline[i], outline[(i + 1) % outline.size()], owner, static_cast<int>(i)});
  }
}

void SegmentIndex::build() {
  if (segments_.empty()) return;
  low_ = segments_.front().a;
  Vec2 high = low_;
  for (const Segment& s : segments_) {
    low_ = low_.cwiseMin(s.a).cwiseMin(s.b);
    high = high.cwiseMax(s.a).cwiseMax(s.b);
  }
  nx_ = static_cast<int>((high.x() - low_.x()) / kCell) + 1;
  ny_ = static_cast<int>((high.y() - low_.y()) / kCell) + 1;
  first_.assign(static_cast<std::size_t>(nx_ * ny_) + 1, 0);
  const auto cells = [&](const Segment& s, const auto& each) {
    const Vec2 from = (s.a.cwiseMin(s.b) - low_) / kCell, to = (s.a.cwiseMax(s.b) - low_) / kCell;
    for (int y = static_cast<int>(from.y()); y <= static_cast<int>(to.y()); ++y) {
      for (int x = static_cast<int>(from.x()); x <= static_cast<int>(to.x()); ++x) {
        each(static_cast<std::size_t>(y * nx_ + x));
      }
    }
  };
  for (const Segment& s : segments_) cells(s, [&](std::size_t c) { ++first_[c + 1]; });
  for (std::size_t c = 1; c < first_.size(); ++c) first_[c] += first_[c - 1];
  items_.assign(static_cast<std::size_t>(first_.back()), 0);
  std::vector<int> fill(first_.begin(), first_.end() - 1);
  for (std::size_t i = 0; i < segments_.size(); ++i) {
    cells(segments_[i], [&](std::size_t c) {
      items_[static_cast<std::size_t>(fill[c]++)] = static_cast<int>(i);
    });
  }
}

template <class Visit>
void SegmentIndex::visit(const Vec2& low, const Vec2& high, const Visit& each) const {
  if (segments_.empty()) return;
  const auto cell = [](double v, int n) {
    return static_cast<int>(std::clamp(std::floor(v / kCell), 0.0, static_cast<double>(n - 1)));
  };
  const int x1 = cell(high.x() - low_.x(), nx_), y1 = cell(high.y() - low_.y(), ny_);
  for (int y = cell(low.y() - low_.y(), ny_); y <= y1; ++y) {
    for (int x = cell(low.x() - low_.x(), nx_); x <= x1; ++x) {
      const auto c = static_cast<std::size_t>(y * nx_ + x);
      for (int k = first_[c]; k < first_[c + 1]; ++k) {
        each(segments_[static_cast<std::size_t>(items_[static_cast<std::size_t>(k)])]);
      }
    }
  }
}

std::optional<Hit> SegmentIndex::first_hit(const Vec2& p, const Vec2& direction,
                                           double reach_m) const {
  const Vec2 end = p + reach_m * direction;
  std::optional<Hit> best;
  visit(p.cwiseMin(end), p.cwiseMax(end), [&](const Segment& s) {
    const Vec2 d = s.b - s.a;
    const double across = cross(direction, d);
    if (std::abs(across) < 1e-15) return;
    const double t = cross(s.a - p, d) / across, u = cross(s.a - p, direction) / across;
    if (t < kNear || t > (best ? best->distance_m : reach_m) || u < 0 || u > 1) return;
    best = Hit{t, s.owner, s.number, u};
  });
  return best;
}

std::vector<Hit> SegmentIndex::crossings(const Vec2& a, const Vec2& b) const {
  std::vector<Hit> hits;
  const Vec2 e = b - a;
  visit(a.cwiseMin(b), a.cwiseMax(b), [&](const Segment& s) {
    const Vec2 d = s.b - s.a;
    const double across = cross(e, d);
    if (std::abs(across) < 1e-18) return;
    const double t = cross(s.a - a, d) / across, u = cross(s.a - a, e) / across;
    if (t <= 0 || t >= 1 || u < 0 || u > 1) return;
    hits.push_back({t * e.norm(), s.owner, s.number, u});
  });
  return hits;
}

double SegmentIndex::clearance(const Vec2& p, double reach_m) const {
  double least = reach_m;
  const Vec2 reach(reach_m, reach_m);
  visit(p - reach, p + reach, [&](const Segment& s) {
    if (s.owner < 0) least = std::min(least, off_segment(p, s.a, s.b));
  });
  return least;
}

}  // namespace skewback::filling
