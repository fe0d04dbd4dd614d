// Where loops run side by side: rays square to each loop, gathered into stretches.
#include <cmath>
#include <map>

#include "print/fill_lines.hpp"

namespace skewback::filling {
namespace {

constexpr int kWall = -1;
constexpr double kPiece = 0.012;  // m: loops are looked at every so often

struct Facing {     // a piece of one loop, and the place of another that it faces
  double from, to;  // on the one
  double across;    // on the other
  double gap_m;
};

using Facings = std::map<std::pair<int, int>, std::vector<Facing>>;

void facing(const std::vector<Line>& lines, const SegmentIndex& index, const FillLimits& limits,
            int a, Facings& out) {
  const Line& line = lines[static_cast<std::size_t>(a)];
  const double reach = 2 * limits.bead_max_m;
  for (std::size_t k = 0; k < line.points.size(); ++k) {
    const double end = k + 1 < line.points.size() ? line.start[k + 1] : line.length;
    const double length = end - line.start[k];
    const int n = steps_in(length, kPiece);
    for (int i = 0; i < n; ++i) {
      const double from = line.start[k] + length * i / n, to = line.start[k] + length * (i + 1) / n;
      const Vec2 middle = line.points[k] + ((from + to) / 2 - line.start[k]) * line.direction(k);
      for (const double side : {1.0, -1.0}) {
        const auto hit = index.first_hit(middle, side * left_of(line.direction(k)), reach);
        if (!hit || hit->owner == kWall || hit->owner == a) continue;
        const Line& other = lines[static_cast<std::size_t>(hit->owner)];
        out[{a, hit->owner}].push_back({from, to, other.place(*hit), hit->distance_m});
      }
    }
  }
}

/// Shortest way along a closed line from one place to another.
double step(const Line& line, double from, double to) {
  const double d = line.wrap(to - from);
  return d > line.length / 2 ? d - line.length : d;
}

/// Pieces in a row that face neighbouring places.
std::vector<Run> rows(const Line& lb, int a, int b, const std::vector<Facing>& pieces) {
  std::vector<Run> found;
  std::vector<int> count;
  for (const Facing& f : pieces) {
    if (!found.empty() && f.from - found.back().a_to < 1.5 * kPiece &&
        std::abs(step(lb, found.back().b_to, f.across)) < 6 * kPiece) {
      Run& run = found.back();
      run.b_to += step(lb, run.b_to, f.across);
      run.a_to = f.to;
      run.gap_m += f.gap_m;
      ++count.back();
    } else {
      found.push_back({a, b, f.from, f.to, f.across, f.across, f.gap_m, false});
      count.push_back(1);
    }
  }
  for (std::size_t i = 0; i < found.size(); ++i) found[i].gap_m /= count[i];
  return found;
}

void runs_of(const std::vector<Line>& lines, int a, int b, const std::vector<Facing>& pieces,
             std::vector<Run>& out) {
  const Line &la = lines[static_cast<std::size_t>(a)], &lb = lines[static_cast<std::size_t>(b)];
  std::vector<Run> found = rows(lb, a, b, pieces);
  if (found.size() > 1 && found.front().a_from < kPiece && found.back().a_to > la.length - kPiece &&
      std::abs(step(lb, found.back().b_to, found.front().b_from)) < 6 * kPiece) {
    Run& last = found.back();  // runs on over the loop's first point
    const Run& first = found.front();
    const double whole = last.a_to - last.a_from + first.a_to - first.a_from;
    last.gap_m =
        (last.gap_m * (last.a_to - last.a_from) + first.gap_m * (first.a_to - first.a_from)) /
        whole;
    last.b_to += step(lb, last.b_to, first.b_from) + first.b_to - first.b_from;
    last.a_to = la.length + first.a_to;
    found.front() = last;
    found.pop_back();
  }
  double faced = 0;
  for (const Facing& f : pieces) faced += f.to - f.from;
  for (Run& run : found) {
    run.closed = faced > 0.85 * la.length;
    if (run.a_to - run.a_from > 0.8 * run.gap_m) out.push_back(run);
  }
}

}  // namespace

Line line_of(const Polygon& loop) {
  Line line;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const double length = (loop[(i + 1) % loop.size()] - loop[i]).norm();
    if (length < 1e-9) continue;
    line.points.push_back(loop[i]);
    line.start.push_back(line.length);
    line.length += length;
  }
  return line;
}

std::vector<Run> runs_between(const std::vector<Line>& lines, const SegmentIndex& index,
                              const FillLimits& limits) {
  Facings facings;
  for (std::size_t a = 0; a < lines.size(); ++a)
    facing(lines, index, limits, static_cast<int>(a), facings);
  std::vector<Run> out;
  for (const auto& [pair, pieces] : facings) {
    const auto [a, b] = pair;
    const double la = lines[static_cast<std::size_t>(a)].length,
                 lb = lines[static_cast<std::size_t>(b)].length;
    // seen from the shorter loop, from the first of two that are much alike
    const bool alike = std::abs(la - lb) < 0.2 * std::max(la, lb);
    if ((alike ? a < b : la < lb) || !facings.contains({b, a})) runs_of(lines, a, b, pieces, out);
  }
  return out;
}

}  // namespace skewback::filling
