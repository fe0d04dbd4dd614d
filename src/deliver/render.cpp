#include <algorithm>
#include <cmath>
#include <limits>

#include "deliver/picture.hpp"

namespace skewback::deliver {
namespace {

constexpr int kSamples = 2;        // along each side of a pixel
constexpr int kShadowSize = 2048;  // pixels across the sun's own view
constexpr double kMargin = 0.03;   // of the width, left free all round
constexpr float kFar = -std::numeric_limits<float>::infinity();

// What is nearest at each sample: its distance towards the eye and the facet it belongs to.
struct Buffer {
  int width = 0, height = 0;
  std::vector<float> depth;
  std::vector<int> facet;

  Buffer(int w, int h)
      : width(w),
        height(h),
        depth(static_cast<std::size_t>(w) * static_cast<std::size_t>(h), kFar),
        facet(depth.size(), -1) {}
  [[nodiscard]] std::size_t at(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
           static_cast<std::size_t>(x);
  }
};

struct Raster {  // view metres to samples
  View view;
  Vec2 low = Vec2::Zero();
  double per_m = 1, margin = 0;
  int height = 0;
  [[nodiscard]] Vec3 operator()(const Vec3& p) const {
    const Vec2 q = (view(p) - low) * per_m;
    return {margin + q.x(), height - margin - q.y(), view.depth(p)};
  }
  [[nodiscard]] Vec3 back(double x, double y, double depth) const {
    const Vec2 q = Vec2((x - margin) / per_m, (height - margin - y) / per_m) + low;
    return view.origin + q.x() * view.right + q.y() * view.up + depth * view.towards;
  }
};

Raster raster_for(const std::vector<Facet>& facets, const View& view, int width, double margin) {
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Facet& facet : facets) {
    for (const Vec3& p : facet.triangle.corners) {
      low = low.cwiseMin(view(p));
      high = high.cwiseMax(view(p));
    }
  }
  const Vec2 size = (high - low).cwiseMax(1e-6);
  Raster raster{view, low, 1, margin, 0};
  raster.per_m = (width - 2 * margin) / size.x();
  raster.height = static_cast<int>(std::ceil(size.y() * raster.per_m + 2 * margin));
  raster.height += (kSamples - raster.height % kSamples) % kSamples;
  return raster;
}

void fill(Buffer& buffer, const Raster& raster, const FlatTriangle& triangle, int facet) {
  const Vec3 a = raster(triangle.corners[0]), b = raster(triangle.corners[1]),
             c = raster(triangle.corners[2]);
  const double twice = (b.x() - a.x()) * (c.y() - a.y()) - (c.x() - a.x()) * (b.y() - a.y());
  if (twice == 0) return;
  const auto [x_low, x_high] = std::minmax({a.x(), b.x(), c.x()});
  const auto [y_low, y_high] = std::minmax({a.y(), b.y(), c.y()});
  const int x0 = std::max(0, static_cast<int>(x_low)), y0 = std::max(0, static_cast<int>(y_low));
  const int x1 = std::min(buffer.width - 1, static_cast<int>(x_high));
  const int y1 = std::min(buffer.height - 1, static_cast<int>(y_high));
  for (int y = y0; y <= y1; ++y) {
    for (int x = x0; x <= x1; ++x) {
      const double px = x + 0.5, py = y + 0.5;
      const double wb = ((px - a.x()) * (c.y() - a.y()) - (c.x() - a.x()) * (py - a.y())) / twice;
      const double wc = ((b.x() - a.x()) * (py - a.y()) - (px - a.x()) * (b.y() - a.y())) / twice;
      if (wb < 0 || wc < 0 || wb + wc > 1) continue;
      const auto z = static_cast<float>(a.z() + wb * (b.z() - a.z()) + wc * (c.z() - a.z()));
      const std::size_t at = buffer.at(x, y);
      if (z <= buffer.depth[at]) continue;
      buffer.depth[at] = z;
      buffer.facet[at] = facet;
    }
  }
}

Buffer draw(const std::vector<Facet>& facets, const Raster& raster, int width) {
  Buffer buffer(width, raster.height);
  for (std::size_t i = 0; i < facets.size(); ++i) {
    if (facets[i].triangle.normal.dot(raster.view.towards) <= 0) continue;
    fill(buffer, raster, facets[i].triangle, static_cast<int>(i));
  }
  return buffer;
}

// High, over the left shoulder of the eye.
View sun_view(const View& eye) {
  View sun;
  sun.towards = (0.9 * Vec3::UnitZ() - 0.55 * eye.right + 0.45 * eye.towards).normalized();
  sun.right = Vec3::UnitZ().cross(sun.towards).normalized();
  sun.up = sun.towards.cross(sun.right);
  return sun;
}

// 1 in full sun, 0 in full shade, between at the rim.
double sunlit(const Buffer& shadow, const Raster& sun, const Vec3& p) {
  constexpr double kBias = 0.012;  // m
  const Vec3 q = sun(p);
  int lit = 0, taps = 0;
  for (int dy = -1; dy <= 1; ++dy) {
    for (int dx = -1; dx <= 1; ++dx) {
      const int x = static_cast<int>(q.x()) + dx, y = static_cast<int>(q.y()) + dy;
      if (x < 0 || y < 0 || x >= shadow.width || y >= shadow.height) continue;
      ++taps;
      if (shadow.depth[shadow.at(x, y)] < q.z() + kBias) ++lit;
    }
  }
  return taps == 0 ? 1 : static_cast<double>(lit) / taps;
}

// How dark an edge is drawn at a sample: parts that meet, then faces that meet at an angle.
double edge(const Buffer& buffer, const std::vector<Facet>& facets, int x, int y) {
  constexpr double kBend = 0.9;  // cosine of the angle between faces that shows
  const int mine = buffer.facet[buffer.at(x, y)];
  double dark = 0;
  for (const auto& [dx, dy] : {std::pair(1, 0), {0, 1}, {-1, 0}, {0, -1}}) {
    const int u = x + dx, v = y + dy;
    if (u < 0 || v < 0 || u >= buffer.width || v >= buffer.height) continue;
    const int other = buffer.facet[buffer.at(u, v)];
    if (other == mine) continue;
    if (mine < 0 || other < 0 ||
        facets[static_cast<std::size_t>(mine)].part !=
            facets[static_cast<std::size_t>(other)].part) {
      return 0.75;
    }
    if (facets[static_cast<std::size_t>(mine)].triangle.normal.dot(
            facets[static_cast<std::size_t>(other)].triangle.normal) < kBend) {
      dark = 0.4;
    }
  }
  return dark;
}

struct Scene {
  const std::vector<Facet>* facets;
  Raster eye, sun;
  Buffer seen, shadow;
};

Vec3 sample(const Scene& scene, int x, int y) {
  const std::size_t at = scene.seen.at(x, y);
  const double dark = edge(scene.seen, *scene.facets, x, y);
  const int index = scene.seen.facet[at];
  if (index < 0) return Vec3::Constant(255 * (1 - dark));
  const Facet& facet = (*scene.facets)[static_cast<std::size_t>(index)];
  const Vec3& n = facet.triangle.normal;
  const Vec3 p = scene.eye.back(x + 0.5, y + 0.5, static_cast<double>(scene.seen.depth[at]));
  const double facing = std::max(0.0, n.dot(scene.sun.view.towards));
  const double sun = facing > 0 ? facing * sunlit(scene.shadow, scene.sun, p) : 0;
  const double light = 0.46 + 0.12 * n.z() + 0.08 * n.dot(scene.eye.view.towards) + 0.42 * sun;
  const Vec3 colour(facet.colour.r, facet.colour.g, facet.colour.b);
  return (light * (1 - dark)) * colour;
}

std::uint32_t packed(const Vec3& colour) {
  std::uint32_t out = 0xff;
  for (int i = 0; i < 3; ++i) {
    out = out << 8 | static_cast<std::uint32_t>(std::clamp(std::lround(colour[i]), 0L, 255L));
  }
  return out;
}

}  // namespace

Image render(const std::vector<Facet>& facets, const View& view, int width) {
  if (facets.empty())
    return {width, 1, std::vector<std::uint32_t>(static_cast<std::size_t>(width), 0xffffffff)};
  const int across = width * kSamples;
  const Raster eye = raster_for(facets, view, across, kMargin * across);
  const Raster sun = raster_for(facets, sun_view(view), kShadowSize, 4);
  const Scene scene{&facets, eye, sun, draw(facets, eye, across), draw(facets, sun, kShadowSize)};
  Image image{width, eye.height / kSamples, {}};
  image.rgb.reserve(static_cast<std::size_t>(image.width) * static_cast<std::size_t>(image.height));
  for (int y = 0; y < image.height; ++y) {
    for (int x = 0; x < image.width; ++x) {
      Vec3 sum = Vec3::Zero();
      for (int sy = 0; sy < kSamples; ++sy) {
        for (int sx = 0; sx < kSamples; ++sx) {
          sum += sample(scene, x * kSamples + sx, y * kSamples + sy);
        }
      }
      image.rgb.push_back(packed(sum / (kSamples * kSamples)));
    }
  }
  return image;
}

}  // namespace skewback::deliver
