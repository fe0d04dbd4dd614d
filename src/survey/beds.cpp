#include "survey/beds.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr double kClear = 0.02;  // m: a corner mark stays off the arris

struct Side {
  std::string name;
  int order = 2;  // near 0, far 1, others 2
};

Vec3 middle_of(const Joint& joint) { return joint.frame.to_world(centroid(joint.contact)); }

/// Whether the other arm's block lies ahead on the flow, not beside it, and nothing of its own arm
/// does: where arms meet head on.
bool ahead(const Assembly& assembly, int block, const Joint& joint) {
  constexpr double kAlong = 0.7;
  const Block& self = assembly.blocks[block];
  const Vec3 out = joint.a == block ? joint.frame.z : Vec3(-joint.frame.z);
  bool along = false;
  for (const Joint& other : assembly.joints) {
    if (other.a != block && other.b != block) continue;
    const Block& beyond = assembly.blocks[other.a == block ? other.b : other.a];
    const bool own = beyond.place.arm == self.place.arm;
    const bool below = beyond.fixed || lower(beyond.place, self.place);
    if (!below && (beyond.place.arm < 0 || (own && beyond.place.course > self.place.course)))
      return false;
    if (below)
      along = along || out.dot((self.mass.centroid - middle_of(other)).normalized()) > kAlong;
  }
  return along;
}

/// Empty name: a head joint.
Side side_of(const Assembly& assembly, int block, const Joint& joint) {
  const Block& self = assembly.blocks[block];
  const Block& beyond = assembly.blocks[joint.a == block ? joint.b : joint.a];
  if (self.place.arm < 0 || self.place.course < 1) return {beyond.id, 2};
  if (beyond.fixed || lower(beyond.place, self.place)) return {"near", 0};
  if (beyond.place.arm < 0) return {"far", 1};
  if (beyond.place.arm == self.place.arm) {
    if (beyond.place.course == self.place.course) return {};
    return {"far", 1};
  }
  return ahead(assembly, block, joint) ? Side{"far", 1} : Side{};
}

bool one_plane(const Bed& bed, const Joint& joint, double stand_off) {
  constexpr double kTurn = 1e-4, kOff = 1e-4;
  return bed.frame.z.cross(joint.frame.z).norm() < kTurn && stand_off == bed.stand_off_m &&
         std::abs(bed.frame.to_local(middle_of(joint)).z()) < kOff;
}

Regions seen_in(const Joint& joint, const Frame& frame) {
  const auto flat = [&](Polygon polygon) {
    for (Vec2& p : polygon) p = frame.to_local(joint.frame.to_world(p)).head<2>();
    return polygon;
  };
  Regions out;
  for (const Region& region : joint.contact) {
    Region seen{flat(region.outer), {}};
    for (const Polygon& hole : region.holes) seen.holes.push_back(flat(hole));
    if (area(seen.outer) < 0) {  // the frames' z axes are opposite
      std::ranges::reverse(seen.outer);
      for (Polygon& hole : seen.holes) std::ranges::reverse(hole);
    }
    out.push_back(seen);
  }
  return out;
}

/// Of several beds on one side the largest keeps the side's name.
void name_smaller_ones(const Assembly& assembly, int block, std::vector<Bed>& beds) {
  for (const char* side : {"near", "far"}) {
    const Bed* largest = nullptr;
    for (const Bed& bed : beds)
      if (bed.name == side && (!largest || area(bed.contact) > area(largest->contact)))
        largest = &bed;
    for (Bed& bed : beds) {
      if (bed.name != side || &bed == largest) continue;
      const Joint& joint = assembly.joints[bed.joints[0]];
      bed.name = assembly.blocks[joint.a == block ? joint.b : joint.a].id;
    }
  }
  for (std::size_t i = 0; i < beds.size(); ++i) {  // two planes against one block
    int same = 1;
    for (std::size_t j = i + 1; j < beds.size(); ++j)
      if (beds[j].name == beds[i].name) beds[j].name += "-" + std::to_string(++same);
  }
}

Vec2 nearest_in(const Regions& regions, const Vec2& p) {
  for (const Region& region : regions)
    if (contains(region, p)) return p;
  Vec2 best = p;
  double least = std::numeric_limits<double>::infinity();
  const auto try_edges = [&](const Polygon& polygon) {
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Vec2 &a = polygon[i], run = polygon[(i + 1) % polygon.size()] - a;
      const double s =
          run.squaredNorm() > 0 ? std::clamp((p - a).dot(run) / run.squaredNorm(), 0.0, 1.0) : 0;
      const Vec2 q = a + s * run;
      if ((q - p).norm() >= least) continue;
      least = (q - p).norm();
      best = q;
    }
  };
  for (const Region& region : regions) {
    try_edges(region.outer);
    for (const Polygon& hole : region.holes) try_edges(hole);
  }
  return best;
}

}  // namespace

std::vector<Bed> beds_of(const Assembly& assembly, int block) {
  std::vector<std::pair<int, Bed>> found;
  for (int j = 0; j < static_cast<int>(assembly.joints.size()); ++j) {
    const Joint& joint = assembly.joints[j];
    if (joint.a != block && joint.b != block) continue;
    const Side side = side_of(assembly, block, joint);
    if (side.name.empty()) continue;
    const double stand_off = joint.pad ? joint.pad->thickness_m / 2 : 0;
    auto at = std::ranges::find_if(found, [&](const auto& bed) {
      return bed.first == side.order && one_plane(bed.second, joint, stand_off);
    });
    if (at == found.end()) {
      found.push_back({side.order,
                       {.name = side.name,
                        .joints = {},
                        .frame = joint.frame,
                        .side = joint.a == block ? -1.0 : 1.0,
                        .contact = {},
                        .stand_off_m = stand_off}});
      at = found.end() - 1;
    }
    at->second.joints.push_back(j);
    for (const Region& region : seen_in(joint, at->second.frame))
      at->second.contact.push_back(region);
  }
  std::ranges::stable_sort(found, {}, [](const auto& bed) { return bed.first; });
  std::vector<Bed> beds;
  for (auto& [order, bed] : found) {
    bed.middle = centroid(bed.contact);
    beds.push_back(std::move(bed));
  }
  name_smaller_ones(assembly, block, beds);
  return beds;
}

std::array<Vec2, 4> extreme_points(const Regions& regions) {
  Vec2 low = Vec2::Constant(std::numeric_limits<double>::infinity()), high = -low;
  for (const Region& region : regions) {
    for (const Vec2& p : region.outer) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  }
  const Vec2 size = (high - low).cwiseMax(1e-12);
  const std::array<Vec2, 4> ways = {Vec2(-1, -1), Vec2(1, -1), Vec2(1, 1), Vec2(-1, 1)};
  std::array<Vec2, 4> out;
  for (int k = 0; k < 4; ++k) {
    double most = -std::numeric_limits<double>::infinity();
    for (const Region& region : regions) {
      for (const Vec2& p : region.outer) {
        const double reach = ways[k].dot((p - low).cwiseQuotient(size));
        if (reach <= most + 1e-9) continue;
        most = reach;
        out[k] = p;
      }
    }
  }
  return out;
}

std::array<Vec2, 5> bed_places(const Bed& bed) {
  const std::array<Vec2, 4> wanted = extreme_points(bed.contact);
  const auto spread = [](const std::array<Vec2, 4>& p) {
    return std::abs(area(Polygon(p.begin(), p.end())));
  };
  // Parts of a bed that meet in head joints are one face, but for the pad between them.
  std::array<Vec2, 4> corners = wanted;
  Regions clear = bed.contact;
  for (const double inset : {kClear, kClear / 2, kClear / 4}) {
    clear = offset(bed.contact, -inset);
    if (clear.empty()) continue;
    for (int k = 0; k < 4; ++k) corners[k] = nearest_in(clear, wanted[k]);
    if (spread(corners) > spread(wanted) / 2) break;
  }
  if (clear.empty()) clear = bed.contact;
  return {corners[0], corners[1], corners[2], corners[3], nearest_in(clear, bed.middle)};
}

}  // namespace skewback
