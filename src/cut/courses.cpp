#include "cut/courses.hpp"

#include <algorithm>
#include <limits>

#include "base/parallel.hpp"
#include "cut/connected.hpp"
#include "geometry/plane_cut.hpp"

namespace skewback {
namespace {

double volume(const Solid& solid) { return mass_properties(solid).volume; }

/// The connected piece of a surface that has the vertex nearest to the springing: a joint's plane
/// may also pass through another leg.
Solid piece_at_springing(const Solid& solid, const Plane& plane) {
  Solid best;
  double least = std::numeric_limits<double>::max();
  for (Solid& piece : connected(solid)) {
    double here = std::numeric_limits<double>::max();
    for (const Vec3& p : piece.vertices) here = std::min(here, (p - plane.point).norm());
    if (here >= least) continue;
    least = here;
    best = std::move(piece);
  }
  return best;
}

Fault failed(const ArmCuts& arm, std::size_t plane, Fault fault) {
  fault.key = "cut: arm " + arm.name + ", joint " + std::to_string(plane);
  fault.change = "another blocks.length, or a gentler curve of the free edges";
  return fault;
}

Fault empty_course() {
  return {.found = "a course with nothing in it", .expected = "planes that do not meet inside"};
}

/// A solid divided by the slab about a plane; without a pad the slab is empty.
struct Divided {
  Solid behind, slab, ahead;
};
Result<Divided> divide(const Solid& solid, const Plane& plane, double pad, bool plainly) {
  Result<std::pair<Solid, Solid>> parts = parted(solid, plane.moved(-pad / 2), plainly);
  if (!parts) return parts.faults();
  auto [behind, ahead] = std::move(parts).value();
  if (pad <= 0) return Divided{std::move(behind), {}, std::move(ahead)};
  Result<std::pair<Solid, Solid>> rest = parted(ahead, plane.moved(pad / 2), plainly);
  if (!rest) return rest.faults();
  auto [slab, beyond] = std::move(rest).value();
  return Divided{std::move(behind), std::move(slab), std::move(beyond)};
}

Result<Solid> behind_of(const Solid& solid, const Plane& plane, bool plainly) {
  if (plainly)
    if (auto parts = split_plainly(solid, plane)) return std::move(parts->first);
  return clip(solid, plane);
}

Course course_between(const ArmCuts& cuts, std::size_t i, Solid solid) {
  Course c;
  c.arm = cuts.support;
  c.number = static_cast<int>(i) + 1;
  c.crown = i >= cuts.trunk;
  c.low = cuts.planes[i];
  c.phi_m = cuts.phi_m[i];
  if (i + 1 < cuts.planes.size()) {
    c.high = cuts.planes[i + 1];
    c.phi_m = (cuts.phi_m[i] + cuts.phi_m[i + 1]) / 2;
  }
  c.solid = std::move(solid);
  return c;
}

/// The trunk from its last joint down to the springing; `trunk` ends half a pad ahead of that
/// joint and half a pad behind the springing.
Result<Taken> slice_trunk(Solid trunk, const ArmCuts& cuts, double pad, bool plainly,
                          const Progress& progress) {
  Taken out;
  // never cut where it ends already: coplanar faces are poison to booleans
  const auto take = [&](std::size_t joint, double offset) -> Result<Solid> {
    Result<std::pair<Solid, Solid>> parts =
        parted(trunk, cuts.planes[joint].moved(offset), plainly);
    if (!parts) return failed(cuts, joint, parts.faults().front());
    auto [behind, ahead] = std::move(parts).value();
    trunk = std::move(behind);
    return std::move(ahead);
  };
  for (std::size_t i = cuts.trunk; i >= 1; --i) {
    progress.checkpoint(
        "cut", 0.1 + 0.7 * static_cast<double>(cuts.trunk - i) / static_cast<double>(cuts.trunk));
    if (pad > 0) {
      const Result<Solid> slab = take(i, -pad / 2);
      if (!slab) return slab.faults();
      out.slab_volume_m3 += volume(*slab);
    }
    Solid course;
    if (pad <= 0 && i == 1) {
      course = std::move(trunk);
    } else {
      Result<Solid> taken = take(i - 1, pad / 2);
      if (!taken) return taken.faults();
      course = std::move(taken).value();
    }
    if (course.faces.empty()) return failed(cuts, i, empty_course());
    out.courses.push_back(course_between(cuts, i - 1, std::move(course)));
  }
  if (pad > 0) out.slab_volume_m3 += volume(trunk);
  std::reverse(out.courses.begin(), out.courses.end());
  return out;
}

Result<Solid> clip_all(Solid solid, const std::vector<Plane>& planes, bool plainly) {
  for (const Plane& plane : planes) {
    Result<Solid> next = behind_of(solid, plane, plainly);
    if (!next) return next;
    solid = std::move(next).value();
  }
  return solid;
}

std::vector<Plane> opposite(std::vector<Plane> planes) {
  for (Plane& plane : planes) plane = plane.opposite();
  return planes;
}

/// The part of the crown that belongs to one arm, in courses up to the key or the eye.
Result<Taken> slice_sector(const Solid& crown, const JointPlanes& planes, std::size_t k, double pad,
                           bool plainly) {
  const std::size_t n = planes.arms.size();
  const ArmCuts& cuts = planes.arms[k];
  Result<Solid> sector = clip_all(
      crown,
      {planes.walls[(k + n - 1) % n].moved(pad / 2).opposite(), planes.walls[k].moved(-pad / 2)},
      plainly);
  if (!sector) return failed(cuts, cuts.trunk, sector.faults().front());
  Taken out;
  Solid rest = std::move(sector).value();
  for (std::size_t i = cuts.trunk; i + 1 < cuts.planes.size(); ++i) {
    Result<Divided> parts = divide(rest, cuts.planes[i + 1], pad, plainly);
    if (!parts) return failed(cuts, i + 1, parts.faults().front());
    Divided divided = std::move(parts).value();
    if (divided.behind.faces.empty()) return failed(cuts, i + 1, empty_course());
    out.courses.push_back(course_between(cuts, i, std::move(divided.behind)));
    out.slab_volume_m3 += pad > 0 ? volume(divided.slab) : 0;
    rest = std::move(divided.ahead);
  }
  if (planes.eye || planes.hub) {
    Course last = course_between(cuts, cuts.planes.size() - 1, std::move(rest));
    last.beds = false;
    out.courses.push_back(std::move(last));
  }
  return out;
}

/// The crown within a pad's thickness of wall k, outward from the hub of a divided key.
std::vector<Plane> slab_to_hub(const JointPlanes& planes, std::size_t k, double pad) {
  const Plane& wall = planes.walls[k];
  Vec3 outward = wall.normal.cross(Vec3::UnitZ()).normalized();
  const Vec3 hub(planes.hub->x(), planes.hub->y(), 0);
  // away from the bed of the arm that the wall bounds
  if (outward.dot(planes.arms[k].planes[0].point - hub) < 0) outward = -outward;
  return {wall.moved(pad / 2), wall.moved(-pad / 2).opposite(), Plane{hub, outward}.opposite()};
}

/// The pads along all walls that meet at the hub, what they share counted once.
Result<double> slabs_to_hub(const Solid& crown, const JointPlanes& planes, double pad,
                            bool plainly) {
  const std::size_t n = planes.walls.size();
  double sum = 0;
  for (std::size_t some = 1; some < (std::size_t{1} << n); ++some) {  // inclusion and exclusion
    std::vector<Plane> sides;
    int count = 0;
    for (std::size_t k = 0; k < n; ++k) {
      if ((some >> k & 1) == 0) continue;
      ++count;
      for (const Plane& side : slab_to_hub(planes, k, pad)) sides.push_back(side);
    }
    const Result<Solid> shared = clip_all(crown, sides, plainly);
    if (!shared) return shared.faults();
    sum += (count % 2 == 1 ? 1 : -1) * volume(*shared);
  }
  return sum;
}

/// The pad along the wall between arm k and the next, from the free edge to the key or the eye.
Result<double> wall_slab(const Solid& crown, const JointPlanes& planes, std::size_t k, double pad,
                         bool plainly) {
  const Plane& wall = planes.walls[k];
  Result<Solid> slab =
      clip_all(crown, {wall.moved(pad / 2), wall.moved(-pad / 2).opposite()}, plainly);
  if (!slab) return slab.faults();
  if (planes.eye) {
    // the wall's plane runs on beyond the eye
    const Vec3 outward = wall.normal.cross(Vec3::UnitZ()).normalized();
    Result<Solid> half = behind_of(
        *slab, Plane{Vec3(planes.middle.x(), planes.middle.y(), 0), outward}.opposite(), plainly);
    if (!half) return half.faults();
    return volume(*half);
  }
  const std::size_t next = (k + 1) % planes.arms.size();
  const Plane a = planes.arms[k].planes.back().moved(pad / 2),
              b = planes.arms[next].planes.back().moved(pad / 2);
  Result<Solid> before = behind_of(*slab, a, plainly),
                beyond = clip_all(*slab, {a.opposite(), b}, plainly);
  if (!before) return before.faults();
  if (!beyond) return beyond.faults();
  return volume(*before) + volume(*beyond);
}

Result<Taken> take_crown(const Solid& crown, const JointPlanes& planes, double pad, bool plainly) {
  const std::size_t n = planes.arms.size();
  std::vector<Result<Taken>> sectors(n, Result<Taken>(Taken{}));
  for_each_index(n,
                 [&](std::size_t k) { sectors[k] = slice_sector(crown, planes, k, pad, plainly); });
  Taken out;
  for (std::size_t k = 0; k < n; ++k) {
    if (!sectors[k]) return sectors[k].faults();
    for (Course& c : sectors[k].value().courses) out.courses.push_back(std::move(c));
    out.slab_volume_m3 += sectors[k]->slab_volume_m3;
    if (pad <= 0 || planes.hub) continue;
    const Result<double> slab = wall_slab(crown, planes, k, pad, plainly);
    if (!slab) return failed(planes.arms[k], planes.arms[k].trunk, slab.faults().front());
    out.slab_volume_m3 += *slab;
  }
  if (planes.hub && pad > 0) {
    const Result<double> slabs = slabs_to_hub(crown, planes, pad, plainly);
    if (!slabs) return failed(planes.arms[0], planes.arms[0].trunk, slabs.faults().front());
    out.slab_volume_m3 += *slabs;
  }
  if (planes.eye || planes.hub) return out;
  Course key;
  key.beds = false;
  std::vector<Plane> sides;
  for (const ArmCuts& cuts : planes.arms)
    sides.push_back(cuts.planes.back().moved(pad / 2).opposite());
  Result<Solid> solid = clip_all(crown, sides, plainly);
  if (!solid) return failed(planes.arms[0], planes.arms[0].planes.size(), solid.faults().front());
  key.solid = std::move(solid).value();
  out.courses.push_back(std::move(key));
  return out;
}

}  // namespace

Result<std::pair<Solid, Solid>> parted(const Solid& solid, const Plane& plane, bool plainly) {
  if (plainly)
    if (auto parts = split_plainly(solid, plane)) return std::move(*parts);
  return split(solid, plane);
}

Result<Taken> take_apart(const Body& body, const JointPlanes& planes, double pad_m, bool plainly,
                         const Progress& progress) {
  const std::size_t n = planes.arms.size();
  std::vector<Result<Taken>> trunks(n, Result<Taken>(Taken{}));
  for_each_index(n, [&](std::size_t k) {
    const ArmCuts& cuts = planes.arms[k];
    Result<Solid> trunk = behind_of(body.outer, cuts.planes[cuts.trunk].moved(pad_m / 2), plainly);
    trunks[k] = trunk ? slice_trunk(piece_at_springing(*trunk, cuts.planes[0]), cuts, pad_m,
                                    plainly, progress)
                      : Result<Taken>(trunk.faults());
  });
  std::vector<Plane> ends;
  for (const ArmCuts& cuts : planes.arms) ends.push_back(cuts.planes[cuts.trunk].moved(pad_m / 2));
  Result<Solid> crown = planes.by_legs ? ahead_of_all(body.outer, ends, true)
                                       : clip_all(body.outer, opposite(ends), plainly);
  if (!crown) return crown.faults();
  Taken rings;
  if (planes.crown) {
    Result<Taken> taken = take_crown(*crown, planes, pad_m, plainly);
    if (!taken) return taken.faults();
    rings = std::move(taken).value();
  } else {
    Course key;
    key.solid = std::move(crown).value();
    key.beds = n == 2;
    key.low = planes.arms[0].planes.back();
    if (n == 2) key.high = planes.arms[1].planes.back().opposite();
    rings.courses.push_back(std::move(key));
  }
  Taken out;
  out.slab_volume_m3 = rings.slab_volume_m3;
  auto ring = std::make_move_iterator(rings.courses.begin());
  const auto end = std::make_move_iterator(rings.courses.end());
  double top = 0;
  int most = 0;
  for (std::size_t k = 0; k < n; ++k) {
    if (!trunks[k]) return trunks[k].faults();
    out.slab_volume_m3 += trunks[k]->slab_volume_m3;
    for (Course& c : trunks[k].value().courses) out.courses.push_back(std::move(c));
    for (; ring != end && ring.base()->arm == static_cast<int>(k); ++ring)
      out.courses.push_back(*ring);
    top = std::max(top, planes.arms[k].phi_m.back());
    most = std::max(most, out.courses.back().number);
  }
  for (; ring != end; ++ring) {  // the key
    out.courses.push_back(*ring);
    out.courses.back().number = most + 1;
    out.courses.back().phi_m = top;
    out.courses.back().crown = true;
  }
  return out;
}

}  // namespace skewback
