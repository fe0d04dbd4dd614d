#include "centring/soffits.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"

namespace skewback {
namespace {

/// x and y where an upright plane cuts the outline of a face, in pairs: between the two of a pair
/// it lies in the face.
std::vector<Vec2> cuts(const SoffitFace& face, const Frame& frame) {
  std::vector<Vec2> points;
  const std::size_t n = face.corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3 p = frame.to_local(face.corners[i]), q = frame.to_local(face.corners[(i + 1) % n]);
    if ((p.z() >= 0) == (q.z() >= 0)) continue;
    const double t = p.z() / (p.z() - q.z());
    points.push_back((p + t * (q - p)).head<2>());
  }
  std::ranges::sort(points, {}, [](const Vec2& p) { return p.x(); });
  return points;
}

constexpr double kSame = 2e-3;  // m; spans of a block nearer than this are one

}  // namespace

Soffits soffits(const Assembly& assembly) {
  Soffits all(assembly.blocks.size());
  for_each_index(all.size(), [&](std::size_t i) {
    if (!assembly.blocks[i].fixed) all[i] = soffit(assembly, static_cast<int>(i));
  });
  return all;
}

Frame upright(const PlanLine& line) {
  return {{line.at.x(), line.at.y(), 0},
          {line.along.x(), line.along.y(), 0},
          Vec3::UnitZ(),
          {line.along.y(), -line.along.x(), 0}};
}

std::vector<Span> spans_over(const Soffits& all, const PlanLine& line) {
  const Frame frame = upright(line);
  std::vector<Span> spans;
  for (std::size_t b = 0; b < all.size(); ++b) {
    std::vector<Span> own;
    for (const SoffitFace& face : all[b]) {
      const auto points = cuts(face, frame);
      for (std::size_t i = 0; i + 1 < points.size(); i += 2) {
        own.push_back({static_cast<int>(b), points[i].x(), points[i + 1].x()});
      }
    }
    std::ranges::sort(own, {}, &Span::from);
    std::vector<Span> merged;
    for (const Span& span : own) {
      if (!merged.empty() && span.from <= merged.back().to + kSame) {
        merged.back().to = std::max(merged.back().to, span.to);
      } else {
        merged.push_back(span);
      }
    }
    spans.insert(spans.end(), merged.begin(), merged.end());
  }
  std::ranges::stable_sort(spans, {}, &Span::from);
  return spans;
}

std::vector<Span> spans_near(const Soffits& all, const PlanLine& line, double width) {
  std::vector<Span> spans;
  for (const double side : {-0.5, 0.0, 0.5}) {
    const Vec2 off = side * width * Vec2(-line.along.y(), line.along.x());
    const auto beside = spans_over(all, {line.at + off, line.along});
    spans.insert(spans.end(), beside.begin(), beside.end());
  }
  std::ranges::stable_sort(spans, {}, &Span::from);
  return spans;
}

std::vector<SoffitPoint> soffit_at(const std::vector<SoffitFace>& faces, const PlanLine& line,
                                   double x) {
  const Frame frame = upright(line);
  std::vector<SoffitPoint> found;
  for (const SoffitFace& face : faces) {
    const auto points = cuts(face, frame);
    for (std::size_t i = 0; i + 1 < points.size(); i += 2) {
      const Vec2 &a = points[i], &b = points[i + 1];
      if (x < a.x() || x > b.x() || b.x() - a.x() < 1e-12) continue;
      found.push_back({a.y() + (x - a.x()) / (b.x() - a.x()) * (b.y() - a.y()), face.normal});
    }
  }
  return found;
}

}  // namespace skewback
