#include "access/walk.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "access/parts.hpp"

namespace skewback {
namespace access {
namespace {

constexpr double kInward = 0.02;   // m
constexpr double kAcross = 0.01;   // m between looks across the walk
constexpr double kUpstand = 0.08;  // m up between two looks: a parapet

struct Spot {
  Vec3 p;
  Vec2 along;
};

/// Distance from p along a plan direction to the nearest edge of the plan or of an opening; 0: p is
/// outside.
double to_edge(const Plan& plan, const Vec2& p, const Vec2& along) {
  if (!contains(Region{plan.outline, plan.openings}, p)) return 0;
  double least = 1e300;
  const auto look = [&](const Polygon& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i] - p, b = ring[(i + 1) % ring.size()] - p;
      const Vec2 across(-along.y(), along.x());
      const double sa = a.dot(across), sb = b.dot(across);
      if ((sa > 0) == (sb > 0)) continue;
      const double t = (a + (sa / (sa - sb)) * (b - a)).dot(along);
      if (t > 0) least = std::min(least, t);
    }
  };
  look(plan.outline);
  for (const Polygon& opening : plan.openings) look(opening);
  return least < 1e299 ? least : 0;
}

/// Taken by a carried parapet, to its middle: its thickness is not in the brief.
double parapet_takes_m(const Brief& brief, int support) {
  const Parapet& parapet = brief.parapet;
  if (support >= 0 && parapet.works_on(support)) return 0;
  return parapet.weight_n_per_m > 0 ? parapet.inset_m : 0;
}

/// How far from p the tops go on without an upstand.
double to_upstand(const BackHeight& back, const Vec2& p, const Vec2& along, double most_m) {
  std::optional<double> last;
  for (double d = 0; d < most_m; d += kAcross) {
    const auto top = back.at(p + d * along);
    if (!top) continue;
    if (!last || top->z - *last <= kUpstand) {
      last = top->z;
      continue;
    }
    double before = d - kAcross, after = d;
    for (int i = 0; i < 10; ++i) {
      const double middle = (before + after) / 2;
      const auto there = back.at(p + middle * along);
      (there && there->z - *last > kUpstand ? after : before) = middle;
    }
    return before;
  }
  return most_m;
}

/// Clear of parapets, to the right and to the left. At its ends the walk lies on the outline:
/// looked at a little inward.
std::array<double, 2> clear_sides(const Brief& brief, const BackHeight& back, const Spot& spot,
                                  double takes_m, double inward_m) {
  const Vec2 p = spot.p.head<2>() + inward_m * spot.along, left(-spot.along.y(), spot.along.x());
  std::array<double, 2> clear{};
  for (const std::size_t i : {0U, 1U}) {
    const Vec2 side = i == 0 ? Vec2(-left) : left;
    clear[i] = to_upstand(back, p, side, std::max(0.0, to_edge(brief.plan, p, side) - takes_m));
  }
  return clear;
}

/// Every kStation, and every corner of the path; the ends too.
std::vector<std::pair<double, Spot>> spots_on(const std::vector<Vec3>& path) {
  std::vector<std::pair<double, Spot>> out;
  double done = 0;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const Vec3 d = path[i + 1] - path[i];
    const double length = d.head<2>().norm();
    if (length <= 0) continue;
    const int pieces = std::max(1, static_cast<int>(std::ceil(length / kStation - 1e-9)));
    for (int k = out.empty() ? 0 : 1; k <= pieces; ++k) {
      const double t = static_cast<double>(k) / pieces;
      out.push_back({done + t * length, {path[i] + t * d, d.head<2>() / length}});
    }
    done += length;
  }
  return out;
}

double cross_fall_at(const BackHeight& back, const Spot& spot, double z, double width) {
  if (width <= 0) return 0;
  const Vec2 side(-spot.along.y(), spot.along.x());
  double most = 0;
  for (const double share : {-0.5, -0.25, 0.25, 0.5}) {
    const auto top = back.at(spot.p.head<2>() + share * width * side);
    if (top) most = std::max(most, std::abs(top->z - z) / std::abs(share * width));
  }
  return most;
}

void across_joints(WalkLine& line, const std::vector<bool>& seen, double& hole_m) {
  const std::size_t n = line.stations.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (seen[i]) continue;
    std::size_t before = i, after = i;
    while (before > 0 && !seen[before]) --before;
    while (after + 1 < n && !seen[after]) ++after;
    auto& stations = line.stations;
    hole_m = std::max(hole_m, stations[after].along_m - stations[before].along_m - 2 * kStation);
    if (!seen[before] && !seen[after]) continue;
    if (!seen[before]) stations[i].back_m = stations[after].back_m;
    if (!seen[after]) stations[i].back_m = stations[before].back_m;
    if (!seen[before] || !seen[after]) continue;
    const double t = (stations[i].along_m - stations[before].along_m) /
                     (stations[after].along_m - stations[before].along_m);
    stations[i].back_m =
        stations[before].back_m + t * (stations[after].back_m - stations[before].back_m);
  }
}

/// Where along a -> b the tops stop (`from_a`) or begin to be those of `block`, with the top there.
std::pair<double, BackHeight::Top> edge_of(const BackHeight& back, const Vec3& a, const Vec3& b,
                                           bool from_a, BackHeight::Top top) {
  double on = from_a ? 0 : 1, off = 1 - on;
  for (int i = 0; i < 24; ++i) {
    const double middle = (on + off) / 2;
    const auto there = back.at((a + middle * (b - a)).head<2>());
    if (there && there->block == top.block) {
      on = middle;
      top = *there;
    } else {
      off = middle;
    }
  }
  return {on, top};
}

/// Tops are planes: both are carried on to the middle of the joint between them.
void find_uneven(const BackHeight& back, Leg& leg) {
  struct Seen {
    double along;
    Vec3 p;
    BackHeight::Top top;
  };
  std::optional<Seen> last;
  for (const auto& [along, spot] : spots_on(leg.path)) {
    const auto top = back.at(spot.p.head<2>());
    if (!top) continue;
    if (last && last->top.block != top->block) {
      const auto [s, a] = edge_of(back, last->p, spot.p, true, last->top);
      const auto [t, b] = edge_of(back, last->p, spot.p, false, *top);
      const double run = (t - s) * (along - last->along);
      const double jump = b.z - a.z - run * (a.slope + b.slope).dot(spot.along) / 2;
      if (std::abs(jump) > kStepMost)
        leg.uneven.push_back({last->along + (s + t) / 2 * (along - last->along), jump, run});
    }
    last = Seen{along, spot.p, *top};
  }
}

/// A fall at one station alone is the rim of something, not a fall.
void keep_lasting_falls(std::vector<WalkStation>& stations) {
  std::vector<double> raw;
  for (const WalkStation& station : stations) raw.push_back(station.cross_fall);
  for (std::size_t i = 0; i < raw.size(); ++i) {
    const double beside = std::max(i > 0 ? raw[i - 1] : 0.0, i + 1 < raw.size() ? raw[i + 1] : 0.0);
    stations[i].cross_fall = std::min(raw[i], beside);
  }
}

void take_heights(const Brief& brief, const BackHeight& back, Leg& leg) {
  WalkLine& line = leg.line;
  std::vector<bool> seen;
  std::vector<Spot> spots;
  std::vector<double> even;  // width that is clear to both sides alike
  const auto all_spots = spots_on(leg.path);
  const double length_m = all_spots.back().first;
  for (const auto& [along, spot] : all_spots) {
    const auto top = back.at(spot.p.head<2>());
    WalkStation station;
    station.along_m = along;
    station.point = spot.p;
    station.back_m = top ? top->z : 0;
    station.block = top ? top->block : -1;
    const double inward = along < kInward ? kInward : along > length_m - kInward ? -kInward : 0;
    const auto clear = clear_sides(brief, back, spot, parapet_takes_m(brief, line.support), inward);
    station.clear_width_m = clear[0] + clear[1];
    even.push_back(2 * std::min(clear[0], clear[1]) - kAcross);
    seen.push_back(top.has_value());
    spots.push_back(spot);
    line.stations.push_back(station);
  }
  across_joints(line, seen, leg.hole_m);
  const double walked = walked_width_m(brief, line);
  for (std::size_t i = 0; i < line.stations.size(); ++i) {
    WalkStation& station = line.stations[i];
    const double width = std::min(walked, even[i]);
    station.cross_fall = seen[i] ? cross_fall_at(back, spots[i], station.back_m, width) : 0;
    if (!line.drawn) station.point.z() = station.back_m + deck_thickness_m(brief);
  }
  keep_lasting_falls(line.stations);
  find_uneven(back, leg);
}

void sum_up(WalkLine& line) {
  const Profile walk = profile_of(line);
  const Steepest most = steepest(walk);
  line.gradient_max = std::abs(most.gradient);
  line.gradient_at_m = most.at_m;
  line.length_m = walk.length_m();
  const auto [low, high] = std::ranges::minmax(walk.z_m);
  line.rise_m = high - low;
}

}  // namespace

bool is_carried(const Walkway& walkway) {
  return walkway.width_m > 0 && (walkway.weight_pa > 0 || !walkway.surface.empty()) &&
         walkway.fill_density < kFillLeast;
}

double walked_width_m(const Brief& brief, const WalkLine& line) {
  if (brief.walkway.width_m > 0) return brief.walkway.width_m;
  double least = 1e300;
  for (const WalkStation& station : line.stations)
    if (station.clear_width_m > 0) least = std::min(least, station.clear_width_m);
  return least < 1e299 ? least : 0;
}

std::vector<Leg> walk_legs(const Brief& brief, const BackHeight& back) {
  std::vector<Leg> legs = plan_legs(brief);
  for (Leg& leg : legs) {
    take_heights(brief, back, leg);
    sum_up(leg.line);
  }
  return legs;
}

Profile profile_of(const WalkLine& line) {
  Profile walk;
  for (const WalkStation& station : line.stations) {
    walk.s_m.push_back(station.along_m);
    walk.z_m.push_back(station.point.z());
  }
  return walk;
}

Profile joined(const WalkLine& first, const WalkLine& second) {
  Profile walk = profile_of(first);
  const Profile down = profile_of(second);
  const double all = walk.s_m.back() + down.s_m.back();
  for (std::size_t i = down.s_m.size() - 1; i-- > 0;) {
    walk.s_m.push_back(all - down.s_m[i]);
    walk.z_m.push_back(down.z_m[i]);
  }
  return walk;
}

WalkStation station_at(const WalkLine& line, double along_m) {
  const auto after = std::ranges::find_if(
      line.stations, [&](const WalkStation& s) { return s.along_m >= along_m; });
  if (after == line.stations.begin()) return line.stations.front();
  if (after == line.stations.end()) return line.stations.back();
  const WalkStation &a = *(after - 1), &b = *after;
  const double t = (along_m - a.along_m) / (b.along_m - a.along_m);
  WalkStation station = t < 0.5 ? a : b;
  station.along_m = along_m;
  station.point = a.point + t * (b.point - a.point);
  station.back_m = a.back_m + t * (b.back_m - a.back_m);
  return station;
}

}  // namespace access

double deck_thickness_m(const Brief& brief) {
  if (!access::is_carried(brief.walkway)) return 0;
  const Sticks timber = access::size_sticks(brief);
  return timber.board_m + timber.bearer_depth_m + access::kPost;
}

}  // namespace skewback
