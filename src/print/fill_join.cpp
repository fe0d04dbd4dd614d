// Loops that run side by side are cut open and their ends joined crosswise, along a tree, so that
// one closed path is left. Of the places where two loops may be joined the foot of a web is liked
// best (the leaf runs on, the web is folded under it), then what lies lowest.
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "print/fill_lines.hpp"

namespace skewback::filling {
namespace {

constexpr int kWall = -1;
constexpr double kPiece = 0.012;     // m: places are tried so far apart
constexpr double kLongest = 3;       // of a link, greatest widths of a bead
constexpr double kStraightOn = 1.1;  // rad: a path that turns less runs on

/// Loops that may be joined, and where, best first.
struct Choice {
  double rank;
  std::vector<Joining> places;
};

class Joiner {
 public:
  Joiner(const Region& section, const std::vector<Polygon>& loops, const FillLimits& limits)
      : limits_(limits) {
    for (const Polygon& loop : loops) lines_.push_back(line_of(loop));
    walls_.add(section.outer, kWall);
    for (const Polygon& hole : section.holes) walls_.add(hole, kWall);
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      walls_.add(lines_[i].points, static_cast<int>(i));
    }
    walls_.build();
  }

  Paths run();

 private:
  [[nodiscard]] std::vector<Joining> places(const Run& run) const;
  void place(const Run& run, double a_at, double a_way, double b_at, double b_way, bool corners,
             std::vector<Joining>& out) const;
  [[nodiscard]] double to_corner(const Line& line, double s, double way) const;
  [[nodiscard]] double inward(const Line& line, double s, double way, const Vec2& p, const Vec2& q,
                              double depth) const;
  [[nodiscard]] bool free(const Joining& joint, bool roomy) const;
  [[nodiscard]] bool clear(const Joining& joint, const Vec2& p, const Vec2& q, bool roomy) const;
  bool join(const std::vector<Joining>& places, bool roomy);
  int join_all(const std::vector<Choice>& choices);
  [[nodiscard]] std::vector<Joining> nearest() const;
  [[nodiscard]] bool overlaps(int loop, const Cut& cut) const;

  const FillLimits& limits_;
  std::vector<Line> lines_;
  SegmentIndex walls_;
  std::vector<std::vector<Cut>> cuts_;
  std::vector<Joining> joints_;
  std::vector<int> group_;  // of loops that hang together
};

/// The corner by which a loop leaves a run that ends at s; s if it has none there.
double Joiner::to_corner(const Line& line, double s, double way) const {
  std::vector<std::pair<double, double>> corners;  // outward from the run's end; angle
  for (std::size_t k = 0; k < line.points.size(); ++k) {
    double out = line.wrap(-way * (line.start[k] - s));
    if (out > line.length / 2) out -= line.length;
    const double angle = line.turn_at(k);
    if (out > -0.015 && out < 0.04 && std::abs(angle) > 0.4) corners.emplace_back(out, angle);
  }
  if (corners.empty()) return s;
  std::sort(corners.begin(), corners.end());
  double out = corners.front().first;
  for (const auto& [next, angle] : corners) {  // a corner that is cut off is two
    if (angle * corners.front().second < 0 || next - out > 0.025) break;
    out = next;
  }
  return s - way * out;
}

/// Where along the loop its distance from line pq comes to `depth`; at the next corner if that is
/// near, for the path would have to turn twice within a bead.
double Joiner::inward(const Line& line, double s, double way, const Vec2& p, const Vec2& q,
                      double depth) const {
  const Vec2 normal = left_of((q - p).normalized());
  double before = 0, in = 0.15;
  for (double d = 0.001; d < 0.15; d += 0.001) {
    const double off = std::abs((line.at(s + way * d) - p).dot(normal));
    if (off >= depth) {
      in = d - 0.001 * (off - depth) / std::max(1e-9, off - before);
      break;
    }
    before = off;
  }
  double corner = limits_.bead_m / 2;
  for (std::size_t k = 0; k < line.points.size(); ++k) {
    const double ahead = line.wrap(way * (line.start[k] - s)) - in;
    if (ahead > 0 && ahead < corner && std::abs(line.turn_at(k)) > 0.4) corner = ahead;
  }
  return s + way * (in + (corner < limits_.bead_m / 2 ? corner : 0));
}

/// Part of a round end of this radius that reaches `into` over a straight line.
double round_end_m2(double radius_m, double into_m) {
  const double h = std::clamp(into_m, 0.0, radius_m);
  return radius_m * radius_m * std::acos(1 - h / radius_m) -
         (radius_m - h) * std::sqrt(h * (2 * radius_m - h));
}

void Joiner::place(const Run& run, double a_at, double a_way, double b_at, double b_way,
                   bool corners, std::vector<Joining>& out) const {
  const Line &la = lines_[static_cast<std::size_t>(run.a)],
             &lb = lines_[static_cast<std::size_t>(run.b)];
  const double a_outer = corners ? to_corner(la, a_at, a_way) : a_at;
  const double b_outer = corners ? to_corner(lb, b_at, b_way) : b_at;
  const Vec2 p = la.at(a_outer), q = lb.at(b_outer);
  if ((q - p).norm() < 1e-4 || (q - p).norm() > kLongest * limits_.bead_max_m) return;
  const double in_from = 0.01;
  const Vec2 a_in = la.at(a_outer + a_way * in_from) - la.at(a_outer),
             b_in = lb.at(b_outer + b_way * in_from) - lb.at(b_outer);
  const Vec2 a_out = la.at(a_outer - a_way * in_from) - la.at(a_outer),
             b_out = lb.at(b_outer - b_way * in_from) - lb.at(b_outer);
  // wall beyond the link, whole; half of what lies to the next path
  Vec2 beyond = left_of((q - p).normalized());
  if (beyond.dot(a_in + b_in) > 0) beyond = -beyond;
  const auto hit = walls_.first_hit((p + q) / 2, beyond, limits_.bead_max_m);
  double outside = run.gap_m / 2, into = 0;
  if (hit && hit->owner == kWall) outside = hit->distance_m, into = limits_.overlap_m;
  const double depth = std::min(std::min(outside, limits_.bead_max_m / 2) + run.gap_m / 2 - into,
                                std::min(la.length, lb.length) / 5);
  const Joining joint{run.a,   run.b,
                      a_outer, inward(la, a_outer, a_way, p, q, depth),
                      b_outer, inward(lb, b_outer, b_way, p, q, depth),
                      0,       into > 0 ? round_end_m2(run.gap_m, into) : 0};
  const bool straight =
      std::abs(turn(-a_out, q - p)) < kStraightOn && std::abs(turn(q - p, b_out)) < kStraightOn;
  const Vec2 middle = (p + q) / 2;
  out.push_back(joint);
  out.back().cost = (straight && !run.closed ? 0 : 10) + middle.y() + 0.2 * middle.x();
}

/// Places where the two loops of a run could be joined, best first.
std::vector<Joining> Joiner::places(const Run& run) const {
  std::vector<Joining> out;
  const Line& line = lines_[static_cast<std::size_t>(run.a)];
  const double length = run.a_to - run.a_from;
  const double b_way = run.b_to < run.b_from ? -1 : 1;
  if (!run.closed) {
    place(run, run.a_from, 1, run.b_from, b_way, true, out);
    place(run, run.a_to, -1, run.b_to, -b_way, true, out);
  }
  const auto inside = [&](double s) {  // s counted from the run's start
    const Vec2 p = line.at(run.a_from + s);
    const Vec2 along = line.direction(line.segment(line.wrap(run.a_from + s + 1e-6)));
    const Line& other = lines_[static_cast<std::size_t>(run.b)];
    for (const double side : {1.0, -1.0}) {
      const auto hit = walls_.first_hit(p, side * left_of(along), 2 * limits_.bead_max_m);
      if (!hit || hit->owner != run.b) continue;
      place(run, run.a_from + s, 1, other.place(*hit), b_way, false, out);
    }
  };
  for (std::size_t k = 0; k < line.points.size(); ++k) {
    if (std::abs(line.turn_at(k)) < 0.4) continue;
    const double s = line.wrap(line.start[k] - run.a_from);
    for (const double more : {0.0, 1.5, 3.0, 5.0}) {
      const double d = s + more * run.gap_m;
      if (d + run.gap_m < length || run.closed) inside(d);
    }
  }
  const int n = std::clamp(static_cast<int>(length / 0.02), 4, 40);
  for (int k = 0; k < n; ++k) inside((k + 0.5) / n * length);
  std::stable_sort(out.begin(), out.end(),
                   [](const Joining& x, const Joining& y) { return x.cost < y.cost; });
  return out;
}

bool Joiner::overlaps(int loop, const Cut& cut) const {
  const double length = lines_[static_cast<std::size_t>(loop)].length;
  if (cut.high - cut.low > 0.7 * length) return true;
  for (const Cut& other : cuts_[static_cast<std::size_t>(loop)]) {
    for (const double turn : {-length, 0.0, length}) {
      if (cut.low + turn < other.high - 1e-5 && other.low < cut.high + turn - 1e-5) return true;
    }
  }
  return false;
}

/// A link may cross no wall and no loop, but for what is cut out of the two it joins; with `roomy`
/// it keeps off the walls as well.
bool Joiner::clear(const Joining& joint, const Vec2& p, const Vec2& q, bool roomy) const {
  const Vec2 d = (q - p).normalized() * 2e-4;
  if ((q - p).norm() < 5e-4) return true;
  for (const Hit& hit : walls_.crossings(p + d, q - d)) {
    if (hit.owner == kWall) return false;
    const Line& line = lines_[static_cast<std::size_t>(hit.owner)];
    const double s = line.place(hit);
    const auto within = [&](double outer, double inner) {
      const Cut cut = cut_of(line, outer, inner, 0);
      return line.wrap(s - cut.low + 1e-4) < cut.high - cut.low + 2e-4;
    };
    if (hit.owner == joint.a && within(joint.a_outer, joint.a_inner)) continue;
    if (hit.owner == joint.b && within(joint.b_outer, joint.b_inner)) continue;
    return false;
  }
  if (!roomy) return true;
  const double ends = std::min(walls_.clearance(p, 0.05), walls_.clearance(q, 0.05));
  for (const double part : {0.25, 0.5, 0.75}) {
    if (walls_.clearance(p + part * (q - p), 0.05) < 0.6 * ends) return false;
  }
  return true;
}

bool Joiner::free(const Joining& joint, bool roomy) const {
  const Line &la = lines_[static_cast<std::size_t>(joint.a)],
             &lb = lines_[static_cast<std::size_t>(joint.b)];
  if (overlaps(joint.a, cut_of(la, joint.a_outer, joint.a_inner, 0))) return false;
  if (overlaps(joint.b, cut_of(lb, joint.b_outer, joint.b_inner, 0))) return false;
  const Vec2 p = la.at(joint.a_outer), q = lb.at(joint.b_outer), r = la.at(joint.a_inner),
             s = lb.at(joint.b_inner);
  if ((r - s).norm() > kLongest * limits_.bead_max_m) return false;
  if (cross(q - p, r - p) * cross(q - p, s - p) <= 0) return false;  // links cross
  for (const Joining& other : joints_) {
    const Line &oa = lines_[static_cast<std::size_t>(other.a)],
               &ob = lines_[static_cast<std::size_t>(other.b)];
    const std::array<std::pair<Vec2, Vec2>, 2> theirs{
        {{oa.at(other.a_outer), ob.at(other.b_outer)},
         {oa.at(other.a_inner), ob.at(other.b_inner)}}};
    for (const auto& [u, v] : theirs) {
      for (const auto& [m, n] : {std::pair{p, q}, std::pair{r, s}}) {
        const double e = 1e-10;
        if (cross(v - u, m - u) * cross(v - u, n - u) < -e * e &&
            cross(n - m, u - m) * cross(n - m, v - m) < -e * e) {
          return false;
        }
      }
    }
  }
  return clear(joint, p, q, roomy) && clear(joint, r, s, roomy);
}

/// Cuts two loops at the best place that is free, unless they hang together already.
bool Joiner::join(const std::vector<Joining>& places, bool roomy) {
  const auto a = static_cast<std::size_t>(places.front().a),
             b = static_cast<std::size_t>(places.front().b);
  if (group_[a] == group_[b]) return false;
  const auto joint =
      std::find_if(places.begin(), places.end(), [&](const Joining& j) { return free(j, roomy); });
  if (joint == places.end()) return false;
  const int number = static_cast<int>(joints_.size());
  cuts_[a].push_back(cut_of(lines_[a], joint->a_outer, joint->a_inner, number));
  cuts_[b].push_back(cut_of(lines_[b], joint->b_outer, joint->b_inner, number));
  joints_.push_back(*joint);
  const int from = group_[b], to = group_[a];
  for (int& g : group_) g = g == from ? to : g;
  return true;
}

/// Where loops that do not hang together come nearest to one another, nearest first.
std::vector<Joining> Joiner::nearest() const {
  std::vector<std::pair<double, Joining>> found;
  for (std::size_t a = 0; a < lines_.size(); ++a) {
    for (std::size_t b = 0; b < lines_.size(); ++b) {
      if (group_[a] == group_[b] || lines_[a].length > lines_[b].length) continue;
      const Line &la = lines_[a], &lb = lines_[b];
      for (double s = 0; s < la.length; s += kPiece) {
        const Vec2 p = la.at(s);
        double least = kLongest * limits_.bead_max_m, across = -1;
        for (std::size_t k = 0; k < lb.points.size(); ++k) {
          const Vec2 d = lb.direction(k);
          const double length = (lb.points[(k + 1) % lb.points.size()] - lb.points[k]).norm();
          const double t = std::clamp((p - lb.points[k]).dot(d), 0.0, length);
          const double far = (lb.points[k] + t * d - p).norm();
          if (far < least) least = far, across = lb.start[k] + t;
        }
        if (across < 0) continue;
        const bool along =
            la.direction(la.segment(la.wrap(s))).dot(lb.direction(lb.segment(lb.wrap(across)))) > 0;
        const Run run{
            static_cast<int>(a), static_cast<int>(b), s, s, across, across, limits_.bead_m, true};
        std::vector<Joining> here;
        place(run, s, 1, across, along ? 1 : -1, false, here);
        place(run, s, -1, across, along ? -1 : 1, false, here);
        for (const Joining& joint : here) found.emplace_back(least, joint);
      }
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  std::vector<Joining> out;
  for (const auto& [far, joint] : found) out.push_back(joint);
  return out;
}

/// Joins what can be joined, in the order given; how many groups are left.
int Joiner::join_all(const std::vector<Choice>& choices) {
  cuts_.assign(lines_.size(), {});
  joints_.clear();
  group_.resize(lines_.size());
  std::iota(group_.begin(), group_.end(), 0);
  int groups = static_cast<int>(lines_.size());
  for (const bool roomy : {true, false}) {
    for (const Choice& choice : choices) {
      if (join(choice.places, roomy)) --groups;
    }
  }
  if (groups > 1) {
    for (const Joining& joint : nearest()) {
      if (join({joint}, false)) --groups;
    }
  }
  return groups;
}

Paths Joiner::run() {
  std::vector<Choice> choices;
  for (const Run& run : runs_between(lines_, walls_, limits_)) {
    std::vector<Joining> places = this->places(run);
    if (places.empty()) continue;
    // feet of webs before folds, long runs before short ones
    const double rank = (places.front().cost < 5 ? 0 : 100) - (run.a_to - run.a_from);
    choices.push_back({rank, std::move(places)});
  }
  std::stable_sort(choices.begin(), choices.end(),
                   [](const Choice& x, const Choice& y) { return x.rank < y.rank; });
  int groups = join_all(choices);
  if (groups > 1) {  // a long run may have taken the only place of a short one
    std::reverse(choices.begin(), choices.end());
    const int other = join_all(choices);
    if (other >= groups) {
      std::reverse(choices.begin(), choices.end());
      join_all(choices);
    }
    groups = std::min(groups, other);
  }
  double overlap_m2 = 0;
  for (const Joining& joint : joints_) overlap_m2 += joint.overlap_m2;
  return {trace(lines_, cuts_, joints_), groups - 1, overlap_m2};
}

}  // namespace

Paths join_loops(const Region& section, const std::vector<Polygon>& loops,
                 const FillLimits& limits) {
  if (loops.empty()) return {};
  // an order that does not hang on how the section was cut
  std::vector<std::pair<double, const Polygon*>> order;
  for (const Polygon& loop : loops) {
    const Vec2 c = centroid({loop, {}});
    order.emplace_back(c.x() + 0.37 * c.y(), &loop);
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  std::vector<Polygon> sorted;
  for (const auto& [key, loop] : order) sorted.push_back(*loop);
  return Joiner(section, sorted, limits).run();
}

}  // namespace skewback::filling
