#include <algorithm>
#include <cmath>
#include <limits>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

constexpr int kPlanes = 40, kTries = 36;
constexpr double kInside_m = 0.005;  // shorter lengths of sling on a block are none

/// Ends of the soffit on the upright plane at `off` along `across` from the centre of gravity.
std::optional<std::pair<Vec3, Vec3>> soffit_chord(const HandlingBlock& block, double off) {
  std::optional<std::pair<Vec3, Vec3>> ends;
  const auto height = [&](const Vec3& p) { return (p - block.centre).dot(block.across) - off; };
  for (const SoffitFace& face : block.soffit) {
    for (std::size_t i = 0; i < face.corners.size(); ++i) {
      const Vec3 &p = face.corners[i], &q = face.corners[(i + 1) % face.corners.size()];
      const double hp = height(p), hq = height(q);
      if ((hp >= 0) == (hq >= 0)) continue;
      const Vec3 on = p + hp / (hp - hq) * (q - p);
      if (!ends) ends = {on, on};
      if (on.dot(block.along) < ends->first.dot(block.along)) ends->first = on;
      if (on.dot(block.along) > ends->second.dot(block.along)) ends->second = on;
    }
  }
  return ends;
}

/// Corners of the block on that plane, from the centre of gravity: along, up.
std::vector<Vec2> outline_at(const Solid& solid, const HandlingBlock& block, double off) {
  const Frame frame{block.centre + off * block.across, block.along, Vec3::UnitZ(),
                    block.along.cross(Vec3::UnitZ())};
  std::vector<Vec2> points;
  for (const Region& region : slice(solid, frame)) {
    for (const Vec2& p : region.outer) points.push_back(p);
  }
  return convex_hull(points);
}

/// Where a string from `head` to that side of the outline touches it.
Vec2 touched(const std::vector<Vec2>& outline, const Vec2& head, bool front) {
  return *std::ranges::max_element(outline, {}, [&](const Vec2& p) {
    return (front ? 1 : -1) * (p.x() - head.x()) / (head.y() - p.y());
  });
}

std::optional<SlingLine> line_at(const Solid& solid, const HandlingBlock& block, double off) {
  const auto ends = soffit_chord(block, off);
  if (!ends || (ends->second - ends->first).norm() < 4 * kInside_m) return std::nullopt;
  SlingLine line{off, ends->first, ends->second, ends->first, ends->second, Vec3::Zero(), {}};
  line.outline = outline_at(solid, block, off);
  if (line.outline.size() < 3) return std::nullopt;
  return line;
}

/// The upper ends of the parts that lie on the block, with the head where it is.
void touch(const HandlingBlock& block, SlingLine& line) {
  const Vec3 from = block.centre + line.off_m * block.across;
  const Vec2 head((line.head - from).dot(block.along), line.head.z() - from.z());
  for (const bool front : {false, true}) {
    const Vec2 p = touched(line.outline, head, front);
    const Vec3 top = from + p.x() * block.along + p.y() * Vec3::UnitZ();
    Vec3& end = front ? line.front_top : line.back_top;
    const Vec3& low = front ? line.front : line.back;
    end = top.z() > low.z() + kInside_m ? top : low;
  }
}

/// Hook straight over the centre of gravity, so high that no leg leans more than it may.
void hang(const LiftRequest& request, const HandlingBlock& block, Slinging& s) {
  const double most = request.spreader
                          ? request.sling_angle_rad
                          : std::min(request.sling_angle_rad, std::atan(kSlingFriction));
  const bool pairs = request.legs > 2;
  double z = block.high.z() + kHookClear_m;
  for (const SlingLine& line : s.lines) {
    const double across = request.spreader ? 0 : std::abs(line.off_m);
    for (const Vec3& low : {line.back, line.front}) {
      const double along = pairs ? std::abs((low - block.centre).dot(block.along)) : 0;
      if (most > 0)
        z = std::max(
            z, (pairs ? block.high.z() : low.z()) + std::hypot(across, along) / std::tan(most));
    }
  }
  s.hook = {block.centre.x(), block.centre.y(), z};
  for (SlingLine& line : s.lines) {
    line.head = request.spreader ? Vec3(s.hook + line.off_m * block.across) : s.hook;
    if (pairs) touch(block, line);
  }
  if (request.spreader && request.sling_angle_rad > 0)
    s.hook.z() += s.lines[1].off_m / std::tan(request.sling_angle_rad);
}

/// Pulls in the parts for a weight of 1 N, and what they do to the block.
void pull(const LiftRequest& request, const HandlingBlock& block, Slinging& s) {
  const bool pairs = request.legs > 2;
  std::vector<HandlingForce> ways;
  for (const SlingLine& line : s.lines) {
    for (const bool front : {false, true}) {
      const Vec3 low = front ? line.front : line.back;
      const Vec3 top = front ? line.front_top : line.back_top;
      Vec3 way = line.head - (pairs ? top : low);
      if (!pairs) way -= way.dot(block.along) * block.along;  // both parts go up to a ring
      ways.push_back({pairs ? top : low, way.normalized()});
    }
  }
  const Balanced pulls = balance(ways, block.centre, -Vec3::UnitZ());
  s.straddles = pulls.residual < 1e-6;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const SlingLine& line = s.lines[i / 2];
    const Vec3 low = i % 2 == 1 ? line.front : line.back;
    const Vec3 top = i % 2 == 1 ? line.front_top : line.back_top;
    const double pull = pulls.size[i];
    s.straddles = s.straddles && pull > 0;
    s.part_n = std::max(s.part_n, pull);
    s.angle_rad = std::max(s.angle_rad, std::acos(std::clamp(ways[i].force.z(), -1.0, 1.0)));
    if (pairs && top != low) {
      const Vec3 up = (top - low).normalized();
      s.forces.push_back({low, pull * up});
      s.forces.push_back({top, pull * (ways[i].force - up)});
    } else {
      s.forces.push_back({low, pull * ways[i].force});
    }
  }
  for (std::size_t i = 0; i < s.lines.size(); ++i) {
    const SlingLine& line = s.lines[i];
    const double back = std::max(pulls.size[2 * i], 0.0);
    const double front = std::max(pulls.size[2 * i + 1], 0.0), part = (back + front) / 2;
    s.leg_n = std::max(s.leg_n, pairs ? std::max(back, front) : back + front);
    const Vec3 under = (line.front - line.back).normalized();
    s.squeeze.push_back({line.back, part * under});
    s.squeeze.push_back({line.front, -part * under});
  }
}

/// From head to soffit edge round the block, block turned by `turn_rad` about its centre of
/// gravity.
double part_length(const HandlingBlock& block, const SlingLine& line, bool front, double turn_rad) {
  const Eigen::Rotation2Dd turn(turn_rad);
  std::vector<Vec2> outline;
  for (const Vec2& p : line.outline) outline.push_back(turn * p);
  const Vec3 from = block.centre + line.off_m * block.across;
  const auto flat = [&](const Vec3& p) {
    return Vec2((p - from).dot(block.along), p.z() - from.z());
  };
  const Vec2 low = turn * flat(front ? line.front : line.back), head = flat(line.head);
  const Vec2 top = touched(outline, head, front);
  const double lean = (line.head - from).dot(block.across);
  return std::hypot((head - top).norm(), lean) + (top - low).norm();
}

/// With both parts of each sling of one length it hangs turned so far from where it stands.
double turned_on_pairs(const HandlingBlock& block, const std::vector<SlingLine>& lines) {
  const auto longer = [&](double turn) {
    double sum = 0;
    for (const SlingLine& line : lines)
      sum += part_length(block, line, true, turn) - part_length(block, line, false, turn);
    return sum;
  };
  double low = -kPi / 3, high = kPi / 3;
  const double sign = longer(low) > 0 ? 1 : -1;
  for (int i = 0; i < 50; ++i) {
    const double middle = (low + high) / 2;
    (sign * longer(middle) > 0 ? low : high) = middle;
  }
  return (low + high) / 2;
}

/// With legs of one length on both lines, seen along the slings: the head lies square over the
/// middle between them and comes to hang over the centre of gravity; a beam stays level.
double turned_on_lines(const LiftRequest& request, const HandlingBlock& block,
                       const std::vector<SlingLine>& lines) {
  std::vector<Vec2> ends;
  double longest = 0;
  for (const SlingLine& line : lines) {
    const Vec3 end = (line.back + line.front) / 2;
    ends.emplace_back((end - block.centre).dot(block.across), end.z() - block.centre.z());
    longest = std::max(longest, (line.head - end).norm());
  }
  const Vec2 chord = ends[1] - ends[0], middle = (ends[0] + ends[1]) / 2;
  if (request.spreader) return std::atan2(chord.y(), chord.x());
  const double rise = std::sqrt(std::max(longest * longest - chord.squaredNorm() / 4, 0.0));
  const Vec2 head = middle + rise * Vec2(-chord.y(), chord.x()).normalized();
  return std::atan2(-head.x(), head.y());
}

void measure_legs(const LiftRequest& request, const HandlingBlock& block, Slinging& s) {
  const bool pairs = request.legs > 2;
  for (const SlingLine& line : s.lines) {
    if (pairs) {
      for (const bool front : {false, true})
        s.leg_lengths_m.push_back(part_length(block, line, front, 0));
    } else {
      // of a loop: to under the block, in the upright plane of its centre of gravity
      const double a = (line.back - block.centre).dot(block.along),
                   b = (line.front - block.centre).dot(block.along);
      const double t = std::clamp(-a / (b - a), 0.0, 1.0);
      const Vec3 under = line.back + t * (line.front - line.back);
      s.leg_lengths_m.push_back((line.head - under).norm());
    }
  }
  s.tilt_rad = std::hypot(turned_on_lines(request, block, s.lines),
                          pairs ? turned_on_pairs(block, s.lines) : 0);
}

Slinging slung(const LiftRequest& request, const HandlingBlock& block,
               std::vector<SlingLine> lines) {
  Slinging s;
  s.lines = std::move(lines);
  hang(request, block, s);
  pull(request, block, s);
  return s;
}

}  // namespace

int counted_legs(const LiftRequest& request) {
  return request.spreader && request.legs > 2 ? 4 : 2;
}

std::optional<Slinging> sling(const LiftRequest& request, const Solid& solid,
                              const HandlingBlock& block, const std::vector<PlanBar>& bars,
                              double enough_pa) {
  double low = 0, high = 0;
  for (const SoffitFace& face : block.soffit) {
    for (const Vec3& corner : face.corners) {
      low = std::min(low, (corner - block.centre).dot(block.across));
      high = std::max(high, (corner - block.centre).dot(block.across));
    }
  }
  const double room = std::min(-low, high) - request.sling_width_m / 2;
  if (room <= 0) return std::nullopt;
  const std::vector<BeamCut> cuts =
      beam_cuts(solid, block.across, even_places(solid, block.across, kPlanes));
  struct Tried {
    Slinging slinging;
    double tension = 0;
    int over = 0;
  };
  std::vector<Tried> tried;
  for (int i = 0; i < kTries; ++i) {
    const double off = room * (0.3 + 0.7 * i / (kTries - 1));
    const auto left = line_at(solid, block, -off), right = line_at(solid, block, off);
    if (!left || !right) continue;
    Slinging s = slung(request, block, {*left, *right});
    const double tension =
        beam_tension(cuts, block.density / block.mass_kg, -Vec3::UnitZ(), s.forces).greatest_pa;
    const int over = lines_over(s.lines, request.sling_width_m, bars);
    tried.push_back({std::move(s), tension, over});
  }
  if (tried.empty()) return std::nullopt;
  // one that does not straddle the centre of gravity only where none does
  if (std::ranges::any_of(tried, [](const Tried& t) { return t.slinging.straddles; }))
    std::erase_if(tried, [](const Tried& t) { return !t.slinging.straddles; });
  const double least = std::ranges::min(tried, {}, &Tried::tension).tension;
  const double farthest = room - request.sling_width_m;  // nearer to its end a sling may slip off
  std::erase_if(tried, [&](const Tried& t) {
    const bool may = t.slinging.lines[1].off_m <= farthest && t.tension <= enough_pa;
    return t.tension > least && !may;
  });
  std::optional<Slinging> best = std::ranges::min_element(tried, {}, [](const Tried& t) {
                                   return std::pair(t.over, t.tension);
                                 })->slinging;
  const Vec3& n = block.soffit_normal;
  best->slope_rad = std::abs(std::atan2(n.dot(block.along), -n.z()));
  best->cross_slope_rad = std::abs(std::atan2(n.dot(block.across), -n.z()));
  measure_legs(request, block, *best);
  return best;
}

}  // namespace skewback
