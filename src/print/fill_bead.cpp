// A sharp path rounded, and the width of wall that each piece of it stands for.
#include <algorithm>
#include <cmath>

#include "print/fill_parts.hpp"

namespace skewback {
namespace {

constexpr double kChord = 4e-4;  // m: chords of an arc stay this near to it
constexpr int kWall = -1;

Polygon apart(const Polygon& path, double least) {
  Polygon out;
  for (const Vec2& q : path) {
    if (out.empty() || (q - out.back()).norm() > least) out.push_back(q);
  }
  while (out.size() > 3 && (out.front() - out.back()).norm() < least) out.pop_back();
  return out;
}

/// Two sharp turns close together become one, where the lines before and after them meet, or half
/// way between them.
Polygon without_jogs(Polygon p, double least) {
  constexpr double kTurn = 0.2;  // rad
  for (int pass = 0; pass < 3; ++pass) {
    for (std::size_t i = 0; i < p.size() && p.size() > 4; ++i) {
      const std::size_t n = p.size(), j = (i + 1) % n, h = (i + n - 1) % n, k = (i + 2) % n;
      const Vec2 in = p[i] - p[h], step = p[j] - p[i], out = p[k] - p[j];
      const double length = step.norm();
      if (length > least || std::abs(turn(in, step)) < kTurn || std::abs(turn(step, out)) < kTurn) {
        continue;
      }
      const double across = cross(in.normalized(), out.normalized());
      Vec2 one = (p[i] + p[j]) / 2;
      if (std::abs(across) > 0.2) {
        const Vec2 meet = p[i] + cross(step, out) / cross(in, out) * in;
        if ((meet - one).norm() < 2 * length) one = meet;
      }
      p[i] = one;
      p.erase(p.begin() + static_cast<std::ptrdiff_t>(j));
    }
  }
  return p;
}

/// What of each segment the rounding of its two ends may use, start and end, m.
std::vector<std::array<double, 2>> room(const Polygon& p, const std::vector<double>& wanted) {
  std::vector<std::array<double, 2>> out(p.size());
  for (std::size_t i = 0; i < p.size(); ++i) {
    const std::size_t j = (i + 1) % p.size();
    const double length = (p[j] - p[i]).norm(), sum = wanted[i] + wanted[j];
    const double part = sum > length ? length / sum : 1.0;
    out[i] = {part * wanted[i], part * wanted[j]};
  }
  return out;
}

void arc(const Vec2& corner, const Vec2& in, const Vec2& out, double tangent, Polygon& path) {
  const double angle = turn(in, out), radius = tangent / std::tan(std::abs(angle) / 2);
  const Vec2 from = corner - tangent * in;
  const Vec2 centre = from + (angle > 0 ? radius : -radius) * left_of(in);
  const double step = 2 * std::acos(std::max(0.0, 1 - kChord / std::max(radius, kChord)));
  const int n = std::max(1, static_cast<int>(std::ceil(std::abs(angle) / step)));
  for (int k = 0; k <= n; ++k) {
    path.push_back(centre + Eigen::Rotation2Dd(angle * k / n) * (from - centre));
  }
}

/// Points along a path no farther apart than `piece`, the corners among them.
Polygon pieces_of(const Polygon& path, double piece) {
  Polygon out;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const Vec2 d = path[(i + 1) % path.size()] - path[i];
    const int n = std::max(1, static_cast<int>(std::ceil(d.norm() / piece)));
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

}  // namespace

Polygon rounded(const Polygon& path, double radius_m) {
  const Polygon p = without_jogs(apart(simplified(path, 1e-4), 5e-4), radius_m / 2);
  if (p.size() < 3) return {};
  const std::size_t n = p.size();
  std::vector<double> wanted(n, 0);
  for (std::size_t i = 0; i < n; ++i) {
    const double angle = std::abs(turn(p[i] - p[(i + n - 1) % n], p[(i + 1) % n] - p[i]));
    if (angle > 0.03) wanted[i] = radius_m * std::tan(std::min(angle, 3.0) / 2);
  }
  const auto rooms = room(p, wanted);
  Polygon out;
  for (std::size_t i = 0; i < n; ++i) {
    const double tangent = std::min(rooms[(i + n - 1) % n][1], rooms[i][0]);
    if (tangent < 2e-4) {
      out.push_back(p[i]);
      continue;
    }
    arc(p[i], (p[i] - p[(i + n - 1) % n]).normalized(), (p[(i + 1) % n] - p[i]).normalized(),
        tangent, out);
  }
  return apart(out, 1e-5);
}

std::vector<Pieces> shares(const Region& section, const std::vector<Polygon>& paths,
                           const FillLimits& limits) {
  constexpr double kPiece = 0.008;
  SegmentIndex walls;
  walls.add(section.outer, kWall);
  for (const Polygon& hole : section.holes) walls.add(hole, kWall);
  walls.build();
  std::vector<Pieces> out;
  std::vector<Vec2> middles;
  for (const Polygon& path : paths) {
    const Polygon points = pieces_of(path, kPiece);
    Pieces pieces;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Vec2 next = points[(i + 1) % points.size()];
      pieces.push_back({points[i], (next - points[i]).norm(), 0});
      middles.push_back((points[i] + next) / 2);
    }
    out.push_back(std::move(pieces));
  }
  if (middles.empty()) return out;
  const double reach = 1.5 * limits.bead_max_m;  // a bead's half never reaches farther
  const Middles grid(middles, 2 * reach);
  std::size_t number = 0;
  for (Pieces& pieces : out) {
    const std::size_t n = pieces.size();
    std::vector<double> raw(n);
    for (std::size_t i = 0; i < n; ++i, ++number) {
      const Vec2 p = pieces[i].p, q = pieces[(i + 1) % n].p, m = (p + q) / 2;
      const Vec2 along = (q - p).normalized();
      const Vec2 before = p - pieces[(i + n - 1) % n].p, after = pieces[(i + 2) % n].p - q;
      const double bend = (turn(before, along) / 2 + turn(along, after) / 2) / (q - p).norm();
      double sum = 0;
      for (const double side : {1.0, -1.0}) {
        const Vec2 normal = side * left_of(along);
        const auto hit = walls.first_hit(m, normal, reach);
        double h = hit ? hit->distance_m : reach;
        // half way to the next bead: the largest circle that touches the path here and nowhere else
        grid.near(m, [&](std::size_t k, const Vec2& other) {
          const Vec2 d = other - m;
          const double off = d.dot(normal);
          if (k != number && off > 1e-9 && d.squaredNorm() < 2 * h * off) {
            h = d.squaredNorm() / (2 * off);
          }
        });
        sum += std::max(0.0, h * (1 - side * bend * h / 2));
      }
      raw[i] = sum;
    }
    for (std::size_t i = 0; i < n; ++i) pieces[i].share_m = raw[i];
    smooth(pieces, 0.02);
  }
  return out;
}

}  // namespace skewback
