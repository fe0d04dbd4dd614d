// A sharp path rounded.
#include <algorithm>
#include <cmath>

#include "print/fill_parts.hpp"

namespace skewback::filling {
namespace {

constexpr double kChord = 4e-4;  // m: chords of an arc stay this near to it
constexpr double kFold = 2.2;    // rad; a sharper turn is a fold, which stays

Polygon apart(const Polygon& path, double least) {
  Polygon out;
  for (const Vec2& q : path) {
    if (out.empty() || (q - out.back()).norm() > least) out.push_back(q);
  }
  while (out.size() > 3 && (out.front() - out.back()).norm() < least) out.pop_back();
  return out;
}

/// Small loops of a few segments are cut off where the path crosses itself.
Polygon without_loops(Polygon p) {
  constexpr std::size_t kSegments = 8;
  constexpr double kLoop = 0.02;  // m: a longer one is no slip of the drawing
  for (std::size_t i = 0; i < p.size(); ++i) {
    double way = 0;
    for (std::size_t more = 2; more < kSegments && more + 3 < p.size() && way < kLoop; ++more) {
      const std::size_t n = p.size();
      const Vec2 a = p[i], b = p[(i + 1) % n], c = p[(i + more) % n], d = p[(i + more + 1) % n];
      way += (c - p[(i + more - 1) % n]).norm();
      const double across = cross(b - a, d - c);
      if (std::abs(across) < 1e-18) continue;
      const double t = cross(c - a, d - c) / across, u = cross(c - a, b - a) / across;
      if (t < 0 || t > 1 || u < 0 || u > 1) continue;
      Polygon kept;
      for (std::size_t k = 0; k < n; ++k) {
        const std::size_t after = (k + n - i) % n;  // places after i
        if (after == 1) kept.push_back(a + t * (b - a));
        if (after == 0 || after > more) kept.push_back(p[k]);
      }
      p = std::move(kept);
      break;
    }
  }
  return p;
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
      const double first = turn(in, step), second = turn(step, out);
      if (length > least || std::abs(first) < kTurn || std::abs(second) < kTurn) continue;
      if (std::abs(first + second) > kFold) continue;
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

/// A slight bend that leaves the corner beside it no room is dropped, where that moves the path
/// little.
Polygon with_room(Polygon p, double radius) {
  constexpr double kSlight = 0.4, kMoves = 0.0015;  // rad, m
  const auto angle = [&](std::size_t i) {
    const std::size_t n = p.size();
    return std::abs(turn(p[i] - p[(i + n - 1) % n], p[(i + 1) % n] - p[i]));
  };
  for (int pass = 0; pass < 3; ++pass) {
    for (std::size_t i = 0; i < p.size() && p.size() > 4; ++i) {
      const double here = angle(i);
      if (here > kSlight) continue;
      for (const std::size_t other : {i + 1, i + p.size() - 1}) {
        const std::size_t n = p.size(), k = other % n;
        const double there = angle(k);
        const double wanted = radius * std::tan(std::min(there, 3.0) / 2);
        if (there < 2 * here || (p[k] - p[i]).norm() > wanted) continue;
        const Vec2 a = p[(i + n - 1) % n], chord = p[(i + 1) % n] - a;
        if (std::abs(cross(chord, p[i] - a)) > kMoves * chord.norm()) continue;
        p.erase(p.begin() + static_cast<std::ptrdiff_t>(i));
        --i;
        break;
      }
    }
  }
  return p;
}

double angle_at(const Polygon& p, std::size_t i) {
  const std::size_t n = p.size();
  return std::abs(turn(p[i] - p[(i + n - 1) % n], p[(i + 1) % n] - p[i]));
}

double wanted_at(const Polygon& p, double radius_m, std::size_t i) {
  const double angle = angle_at(p, i);
  return angle > 0.03 ? radius_m * std::tan(std::min(angle, 3.0) / 2) : 0;
}

/// From a corner to where its arc begins and ends; what two corners want of a stretch that is too
/// short for both is shared out.
double tangent_at(const Polygon& p, double radius_m, std::size_t i) {
  const std::size_t n = p.size();
  const double wanted = wanted_at(p, radius_m, i);
  double tangent = wanted;
  for (const std::size_t j : {(i + n - 1) % n, (i + 1) % n}) {
    const double length = (p[j] - p[i]).norm(), sum = wanted + wanted_at(p, radius_m, j);
    if (sum > length) tangent = std::min(tangent, length / sum * wanted);
  }
  return tangent;
}

std::vector<double> tangents_of(const Polygon& p, double radius_m) {
  std::vector<double> out;
  for (std::size_t i = 0; i < p.size(); ++i) out.push_back(tangent_at(p, radius_m, i));
  return out;
}

/// Whether the path would turn sharply back without corner k: two corners are a fold.
bool sharpens(const Polygon& p, std::size_t k) {
  constexpr double kSharp = 1.9;  // rad
  const std::size_t n = p.size();
  const Vec2 &before = p[(k + n - 2) % n], &a = p[(k + n - 1) % n], &b = p[(k + 1) % n],
             &after = p[(k + 2) % n];
  return std::abs(turn(a - before, b - a)) > kSharp || std::abs(turn(b - a, after - b)) > kSharp;
}

/// Takes out the corner next to a turn far too tight that moves the path least; false if there is
/// none, or none that moves it little.
bool drop_cramped(Polygon& p, const std::vector<double>& tangents, double radius_m,
                  double moves_m) {
  constexpr double kBend = 0.3, kTight = 0.8;  // rad, of the radius
  const std::size_t n = p.size();
  if (n <= 6) return false;
  std::size_t best = n;
  double least = moves_m;
  for (std::size_t i = 0; i < n; ++i) {
    const double angle = angle_at(p, i);
    if (angle < kBend || angle > kFold || tangents[i] / std::tan(angle / 2) > kTight * radius_m)
      continue;
    for (const std::size_t k : {i, (i + 1) % n, (i + n - 1) % n}) {
      const Vec2 a = p[(k + n - 1) % n], chord = p[(k + 1) % n] - a;
      const double moves = std::abs(cross(chord, p[k] - a)) / std::max(chord.norm(), 1e-9);
      if (moves < least && !sharpens(p, k)) least = moves, best = k;
    }
  }
  if (best == n) return false;
  p.erase(p.begin() + static_cast<std::ptrdiff_t>(best));
  return true;
}

/// A stretch too short for the turns at its two ends: both retreat along the path, which makes a
/// step slanting and the end of a wedge wider. Worst turn first; no corner retreats by more than
/// `moves_m` in all.
void make_room(Polygon& p, std::vector<double>& tangents, double radius_m, double moves_m) {
  constexpr double kBend = 0.3, kTight = 0.801, kStep = 2.5e-4;  // rad, of the radius, m
  constexpr int kPasses = 300;
  const std::size_t n = p.size();
  std::vector<double> moved(n, 0), radius(n);
  const auto measure = [&](std::size_t i) {
    const double angle = angle_at(p, i);
    const bool counts = angle >= kBend && angle <= kFold;
    radius[i] = counts ? tangents[i] / std::tan(angle / 2) : std::numeric_limits<double>::max();
  };
  const auto retreat = [&](std::size_t i, std::size_t towards) {
    const Vec2 way = p[towards] - p[i];
    if (way.norm() < 4 * kStep || moved[i] + kStep > moves_m) return false;
    p[i] += kStep / way.norm() * way;
    moved[i] += kStep;
    return true;
  };
  for (std::size_t i = 0; i < n; ++i) measure(i);
  for (int pass = 0; pass < kPasses; ++pass) {
    const auto worst = static_cast<std::size_t>(std::ranges::min_element(radius) - radius.begin());
    if (radius[worst] >= kTight * radius_m) return;
    const std::size_t before = (worst + n - 1) % n, after = (worst + 1) % n;
    const bool back = (p[worst] - p[before]).norm() < (p[after] - p[worst]).norm();
    const std::size_t a = back ? before : worst, b = back ? worst : after;
    const bool first = retreat(a, (a + n - 1) % n), second = retreat(b, (b + 1) % n);
    if (!first && !second) return;
    for (std::size_t k = n - 2; k < n + 4; ++k) {
      const std::size_t i = (a + k) % n;
      tangents[i] = tangent_at(p, radius_m, i);
      measure(i);
    }
  }
}

void arc(const Vec2& corner, const Vec2& in, const Vec2& out, double tangent, Polygon& path) {
  const double angle = turn(in, out), radius = tangent / std::tan(std::abs(angle) / 2);
  const Vec2 from = corner - tangent * in;
  const Vec2 centre = from + (angle > 0 ? radius : -radius) * left_of(in);
  const double step = 2 * std::acos(std::max(0.0, 1 - kChord / std::max(radius, kChord)));
  const int n = steps_in(std::abs(angle), step);
  for (int k = 0; k <= n; ++k) {
    path.push_back(centre + Eigen::Rotation2Dd(angle * k / n) * (from - centre));
  }
}

}  // namespace

Polygon rounded(const Polygon& path, double radius_m, const Moves& moves,
                std::vector<Bend>& bends) {
  constexpr double kBend = 0.3;  // rad
  Polygon p = with_room(without_jogs(without_loops(apart(simplified(path, 1e-4), 5e-4)), radius_m),
                        radius_m);
  if (p.size() < 3) return {};
  std::vector<double> tangents = tangents_of(p, radius_m);
  for (int pass = 0; pass < 20 && drop_cramped(p, tangents, radius_m, moves.dropped_m); ++pass)
    tangents = tangents_of(p, radius_m);
  if (moves.retreat_m > 0) make_room(p, tangents, radius_m, moves.retreat_m);
  const std::size_t n = p.size();
  Polygon out;
  for (std::size_t i = 0; i < n; ++i) {
    const double tangent = tangents[i];
    const double angle = std::abs(turn(p[i] - p[(i + n - 1) % n], p[(i + 1) % n] - p[i]));
    if (angle > kBend) bends.push_back({p[i], tangent / std::tan(angle / 2), angle > kFold});
    if (tangent < 2e-4) {
      out.push_back(p[i]);
      continue;
    }
    arc(p[i], (p[i] - p[(i + n - 1) % n]).normalized(), (p[(i + 1) % n] - p[i]).normalized(),
        tangent, out);
  }
  return without_loops(apart(out, 1e-5));
}

}  // namespace skewback::filling
