#include <algorithm>
#include <cmath>
#include <limits>

#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

constexpr int kPlanes = 40, kTries = 36;
constexpr double kInside_m = 0.005;  // from an edge, where the block's top over it is looked up

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

Vec3 top_over(const Solid& solid, const HandlingBlock& block, const Vec3& edge, double inward) {
  const Vec3 p = edge + inward * block.along;
  const std::optional<Reach> chord = upright_chord(solid, p.head<2>());
  return {edge.x(), edge.y(), chord ? std::max(chord->to, edge.z() + 1e-3) : block.high.z()};
}

std::optional<SlingLine> line_at(const Solid& solid, const HandlingBlock& block, double off) {
  const auto ends = soffit_chord(block, off);
  if (!ends || (ends->second - ends->first).norm() < 4 * kInside_m) return std::nullopt;
  return SlingLine{off,
                   ends->first,
                   ends->second,
                   top_over(solid, block, ends->first, kInside_m),
                   top_over(solid, block, ends->second, -kInside_m),
                   Vec3::Zero()};
}

/// Hook straight over the centre of gravity, so high that no leg leans more than it may.
void hang(const LiftRequest& request, const HandlingBlock& block, Slinging& s) {
  const double most = request.spreader
                          ? request.sling_angle_rad
                          : std::min(request.sling_angle_rad, std::atan(kSlingFriction));
  const auto level = [&](double lean_m, double from_z) {
    return most > 0 ? from_z + lean_m / std::tan(most) : from_z;
  };
  const bool pairs = request.legs > 2;
  double z = block.high.z() + kHookClear_m;
  for (SlingLine& line : s.lines) {
    const double across = request.spreader ? 0 : std::abs(line.off_m);
    for (const Vec3& top : {line.back_top, line.front_top}) {
      const double along = pairs ? std::abs((top - block.centre).dot(block.along)) : 0;
      z = std::max(z, level(std::hypot(across, along),
                            pairs ? top.z() : std::max(line.back.z(), line.front.z())));
    }
  }
  s.hook = {block.centre.x(), block.centre.y(), z};
  for (SlingLine& line : s.lines)
    line.head = request.spreader ? Vec3(s.hook + line.off_m * block.across) : s.hook;
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
    if (pairs) {
      const Vec3 up = (top - low).normalized();
      s.forces.push_back({low, pull * up});
      s.forces.push_back({top, pull * (ways[i].force - up)});
    } else {
      s.forces.push_back({low, pull * ways[i].force});
    }
  }
  for (std::size_t i = 0; i < s.lines.size(); ++i) {
    const SlingLine& line = s.lines[i];
    const double part =
        (std::max(pulls.size[2 * i], 0.0) + std::max(pulls.size[2 * i + 1], 0.0)) / 2;
    const Vec3 under = (line.front - line.back).normalized();
    s.squeeze.push_back({line.back, part * under});
    s.squeeze.push_back({line.front, -part * under});
  }
}

std::vector<Vec3> leg_ends(const LiftRequest& request, const HandlingBlock& block,
                           const SlingLine& line) {
  if (request.legs > 2) return {line.back_top, line.front_top};
  // of a loop: under the block, in the upright plane of its centre of gravity
  const double a = (line.back - block.centre).dot(block.along),
               b = (line.front - block.centre).dot(block.along);
  const double t = std::clamp(-a / (b - a), 0.0, 1.0);
  return {line.back + t * (line.front - line.back)};
}

/// The tilt with equal legs: the head lies square over the middle of where they bear, as far as the
/// longest leg reaches, and comes to hang over the centre of gravity.
void measure_legs(const LiftRequest& request, const HandlingBlock& block, Slinging& s) {
  std::vector<Vec3> ends;
  double longest = 0;
  for (const SlingLine& line : s.lines) {
    for (const Vec3& end : leg_ends(request, block, line)) {
      s.leg_lengths_m.push_back((line.head - end).norm());
      longest = std::max(longest, s.leg_lengths_m.back());
      ends.push_back(end);
    }
  }
  Vec3 middle = Vec3::Zero();
  for (const Vec3& end : ends) middle += end / static_cast<double>(ends.size());
  const Vec3 chord = ends.back() - ends.front();
  Vec3 square = ends.size() > 2 ? Vec3((ends[2] - ends[0]).cross(ends[1] - ends[0]))
                                : Vec3(Vec3::UnitZ() - chord.z() * chord / chord.squaredNorm());
  if (square.z() < 0) square = -square;
  square.normalize();
  double half = 0;
  for (const Vec3& end : ends) half = std::max(half, (end - middle).norm());
  const double rise = std::sqrt(std::max(longest * longest - half * half, 0.0));
  const Vec3 up = request.spreader ? square  // the beam stays level, and what hangs from it
                                   : Vec3(middle + rise * square - block.centre).normalized();
  s.tilt_rad = std::acos(std::clamp(up.z(), -1.0, 1.0));
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
                              const HandlingBlock& block) {
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
  std::optional<Slinging> best;
  double least = std::numeric_limits<double>::max();
  for (int i = 0; i < kTries; ++i) {
    const double off = room * (0.3 + 0.7 * i / (kTries - 1));
    const auto left = line_at(solid, block, -off), right = line_at(solid, block, off);
    if (!left || !right) continue;
    Slinging s = slung(request, block, {*left, *right});
    const double tension =
        beam_tension(cuts, block.density / block.mass_kg, -Vec3::UnitZ(), s.forces).greatest_pa;
    // one that does not straddle the centre of gravity only where none does
    if (best && (best->straddles && !s.straddles)) continue;
    if (best && best->straddles == s.straddles && tension >= least) continue;
    least = tension;
    best = std::move(s);
  }
  if (!best) return best;
  const Vec3& n = block.soffit_normal;
  best->slope_rad = std::abs(std::atan2(n.dot(block.along), -n.z()));
  best->cross_slope_rad = std::abs(std::atan2(n.dot(block.across), -n.z()));
  measure_legs(request, block, *best);
  return best;
}

}  // namespace skewback
