// The width of wall that each piece of a path stands for.
#include <algorithm>
#include <array>
#include <cmath>

#include "print/fill_parts.hpp"

namespace skewback::filling {
namespace {

constexpr int kWall = -1;

/// Points along a path no farther apart than `piece`, the corners among them.
Polygon pieces_of(const Polygon& path, double piece) {
  Polygon out;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const Vec2 d = path[(i + 1) % path.size()] - path[i];
    const int n = steps_in(d.norm(), piece);
    for (int k = 0; k < n; ++k) out.push_back(path[i] + static_cast<double>(k) / n * d);
  }
  return out;
}

/// Middles of the pieces of all paths on a grid.
class Middles {
 public:
  Middles(std::vector<Vec2> points, double cell) : points_(std::move(points)), cell_(cell) {
    low_ = points_.front();
    Vec2 high = low_;
    for (const Vec2& p : points_) low_ = low_.cwiseMin(p), high = high.cwiseMax(p);
    nx_ = static_cast<int>((high.x() - low_.x()) / cell_) + 1;
    ny_ = static_cast<int>((high.y() - low_.y()) / cell_) + 1;
    first_.assign(static_cast<std::size_t>(nx_ * ny_) + 1, 0);
    for (const Vec2& p : points_) ++first_[cell_of(p) + 1];
    for (std::size_t c = 1; c < first_.size(); ++c) first_[c] += first_[c - 1];
    items_.resize(points_.size());
    std::vector<int> fill(first_.begin(), first_.end() - 1);
    for (std::size_t i = 0; i < points_.size(); ++i) {
      items_[static_cast<std::size_t>(fill[cell_of(points_[i])]++)] = static_cast<int>(i);
    }
  }
  template <class Visit>
  void near(const Vec2& p, const Visit& each) const {
    const auto cx = static_cast<int>((p.x() - low_.x()) / cell_),
               cy = static_cast<int>((p.y() - low_.y()) / cell_);
    for (int y = std::max(0, cy - 1); y <= std::min(ny_ - 1, cy + 1); ++y) {
      for (int x = std::max(0, cx - 1); x <= std::min(nx_ - 1, cx + 1); ++x) {
        const auto c = static_cast<std::size_t>(y * nx_ + x);
        for (int k = first_[c]; k < first_[c + 1]; ++k) {
          const auto i = static_cast<std::size_t>(items_[static_cast<std::size_t>(k)]);
          each(i, points_[i]);
        }
      }
    }
  }

 private:
  [[nodiscard]] std::size_t cell_of(const Vec2& p) const {
    return static_cast<std::size_t>(static_cast<int>((p.y() - low_.y()) / cell_) * nx_ +
                                    static_cast<int>((p.x() - low_.x()) / cell_));
  }
  std::vector<Vec2> points_;
  std::vector<int> first_, items_;
  Vec2 low_;
  double cell_;
  int nx_ = 0, ny_ = 0;
};

/// Spreads area along a closed path so that shares do not jump; the sum stays.
void smooth(Pieces& pieces, double spread_m) {
  const std::size_t n = pieces.size();
  std::vector<double> given(n, 0);
  for (std::size_t i = 0; i < n; ++i) {
    std::vector<std::pair<std::size_t, double>> takers{{i, pieces[i].length_m}};
    double all = pieces[i].length_m;
    for (const bool forward : {true, false}) {
      double way = pieces[i].length_m / 2;
      std::size_t k = i;
      for (std::size_t guard = 0; guard < n; ++guard) {
        k = forward ? (k + 1) % n : (k + n - 1) % n;
        const double part = 1 - (way + pieces[k].length_m / 2) / spread_m;
        if (part <= 0 || k == i) break;
        takers.emplace_back(k, part * pieces[k].length_m);
        all += takers.back().second;
        way += pieces[k].length_m;
      }
    }
    const double area = pieces[i].share_m * pieces[i].length_m;
    for (const auto& [k, weight] : takers) given[k] += area * weight / all;
  }
  for (std::size_t i = 0; i < n; ++i) pieces[i].share_m = given[i] / pieces[i].length_m;
}

/// What a piece may not take without standing out of the outline goes to the nearest ones along the
/// path that have room; what none takes is left out.
void pour_over(Pieces& pieces, double within_m) {
  const std::size_t n = pieces.size();
  const auto room = [&](std::size_t k) {
    return std::max(0.0, (pieces[k].most_m - pieces[k].share_m) * pieces[k].length_m);
  };
  for (std::size_t i = 0; i < n; ++i) {
    double left = (pieces[i].share_m - pieces[i].most_m) * pieces[i].length_m;
    if (left <= 0) continue;
    pieces[i].share_m = pieces[i].most_m;
    std::array<std::size_t, 2> at{i, i};
    std::array<double, 2> way{0, 0};
    for (std::size_t guard = 0; guard < n && left > 1e-12; ++guard) {
      const std::size_t side = way[0] <= way[1] ? 0 : 1;
      if (way[side] > within_m) break;
      std::size_t& k = at[side];
      k = side == 0 ? (k + 1) % n : (k + n - 1) % n;
      way[side] += pieces[k].length_m;
      const double given = std::min(left, room(k));
      if (pieces[k].length_m > 0) pieces[k].share_m += given / pieces[k].length_m;
      left -= given;
    }
  }
}

/// Width of wall nearest to the piece from p to q on one side of it: to the wall, or half way to
/// the next bead, the radius of the largest circle that touches the path here and nowhere else.
double half_share(const Vec2& middle, std::size_t number, const Vec2& normal, double reach,
                  const SegmentIndex& walls, const Middles& middles) {
  const auto hit = walls.first_hit(middle, normal, reach);
  double h = hit ? hit->distance_m : reach;
  middles.near(middle, [&](std::size_t k, const Vec2& other) {
    const Vec2 d = other - middle;
    const double off = d.dot(normal);
    if (k != number && off > 1e-9 && d.squaredNorm() < 2 * h * off) h = d.squaredNorm() / (2 * off);
  });
  return h;
}

}  // namespace

std::vector<Pieces> shares(const Region& section, const std::vector<Polygon>& paths,
                           const FillLimits& limits) {
  constexpr double kPiece = 0.008, kSpread = 0.02, kPour = 0.25;  // m
  SegmentIndex walls;
  walls.add(section.outer, kWall);
  for (const Polygon& hole : section.holes) walls.add(hole, kWall);
  walls.build();
  SegmentIndex outline;
  outline.add(section.outer, kWall);
  outline.build();
  const double reach = 1.5 * limits.bead_max_m;  // a bead's half never reaches farther
  std::vector<Pieces> out;
  std::vector<Vec2> middles;
  for (const Polygon& path : paths) {
    const Polygon points = pieces_of(path, kPiece);
    Pieces pieces;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Vec2 next = points[(i + 1) % points.size()];
      double off = reach;  // of the outline
      for (const Vec2& p : {points[i], Vec2((points[i] + next) / 2), next})
        off = std::min(off, outline.clearance(p, reach));
      const double most = std::max(2 * (off + limits.proud_m), limits.bead_min_m);
      pieces.push_back({points[i], (next - points[i]).norm(), 0, most});
      middles.push_back((points[i] + next) / 2);
    }
    out.push_back(std::move(pieces));
  }
  if (middles.empty()) return out;
  const Middles grid(middles, 2 * reach);
  std::size_t number = 0;
  for (Pieces& pieces : out) {
    const std::size_t n = pieces.size();
    for (std::size_t i = 0; i < n; ++i, ++number) {
      const Vec2 p = pieces[i].p, q = pieces[(i + 1) % n].p, along = (q - p).normalized();
      const Vec2 before = p - pieces[(i + n - 1) % n].p, after = pieces[(i + 2) % n].p - q;
      const double bend = (turn(before, along) + turn(along, after)) / 2 / (q - p).norm();
      for (const double side : {1.0, -1.0}) {
        const double h = half_share((p + q) / 2, number, side * left_of(along), reach, walls, grid);
        pieces[i].share_m += std::max(0.0, h * (1 - side * bend * h / 2));
      }
    }
    smooth(pieces, kSpread);
    pour_over(pieces, kPour);
  }
  return out;
}

}  // namespace skewback::filling
