#include "cut/cut.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "cut/arm_planes.hpp"
#include "cut/key.hpp"
#include "cut/slice.hpp"

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;  // m
constexpr double kSetIn = 3e-8;  // m: rounding in plane booleans never puts a corner outside a face
constexpr double kLeastContact = 1e-5;  // m2; less is a sliver, not a bed

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::string numbered(const std::string& stem, int i) {
  char text[16];
  std::snprintf(text, sizeof text, "-%02d", i);
  return stem + text;
}

Pad pad_of(const JointRequest& request, const Regions& contact) {
  // Gent and Lindley 1959: E_c = 3 G (1 + 2 S^2), S = loaded over free area (from memory)
  double rim = 0;
  const auto add = [&](const Polygon& p) {
    for (std::size_t i = 0; i < p.size(); ++i) rim += (p[(i + 1) % p.size()] - p[i]).norm();
  };
  for (const Region& r : contact) {
    add(r.outer);
    for (const Polygon& hole : r.holes) add(hole);
  }
  const double t = request.pad_thickness_m, G = request.pad_shear_modulus_pa;
  const double S = area(contact) / std::max(rim * t, 1e-12);
  return {t, 3 * G * (1 + 2 * S * S) / t, G / t};
}

/// The joint between blocks a and b about a mid-plane whose normal points from a into b; none if
/// they do not face each other there.
std::optional<Joint> joint_between(const JointRequest& request, const Assembly& assembly, int a,
                                   int b, const Plane& mid) {
  const double half = request.pad_thickness_m / 2;
  const Frame frame = frame_on(mid);
  const Regions shared = intersect(
      faces_in_plane(assembly.blocks[at(a)].solid, frame_on(mid.moved(-half)), 1, kOnPlane),
      faces_in_plane(assembly.blocks[at(b)].solid, frame_on(mid.moved(half)), -1, kOnPlane));
  const Regions contact = offset(shared, -kSetIn);
  if (area(contact) < kLeastContact) return std::nullopt;
  Joint joint;
  joint.a = a;
  joint.b = b;
  const Vec2 centre = centroid(contact);
  joint.frame = frame;
  joint.frame.origin = frame.to_world(centre);
  joint.contact = contact;
  for (Region& r : joint.contact) {
    for (Vec2& p : r.outer) p -= centre;
    for (Polygon& hole : r.holes) {
      for (Vec2& p : hole) p -= centre;
    }
  }
  joint.friction = request.friction;
  if (request.pad_thickness_m > 0) joint.pad = pad_of(request, contact);
  return joint;
}

/// A footing behind the springing bed: wider than it by ground.footing_width, but only a little
/// above it.
Block ground_block(const Brief& brief, const Body& body, int support) {
  constexpr double kAbove = 0.1;  // m past the bed's upper rim
  const Plane bed = body.springing[at(support)].moved(-brief.joints.pad_thickness_m / 2);
  const Frame frame = frame_on(bed);
  const Regions face = faces_in_plane(body.outer, frame, -1, kOnPlane);
  double top = -1e9;
  for (const Region& r : face) {
    for (const Vec2& p : r.outer) top = std::max(top, p.y());
  }
  Polygon footprint;
  for (const Region& r : offset(face, brief.ground.footing_width_m))
    footprint = convex_hull(r.outer);
  for (Vec2& p : footprint) p.y() = std::min(p.y(), top + kAbove);
  footprint = convex_hull(footprint);
  Block block;
  block.id = "ground-" + brief.plan.supports[at(support)].id;
  block.solid = prism(frame, footprint, -brief.ground.footing_depth_m, 0);
  block.density = brief.material.density;
  block.fixed = true;
  block.place.arm = support;
  return block;
}

/// Shortest and longest way from one bed to the other, over the corners of both.
void measure_flow_lines(Block& block, const Plane& low, const Plane& high, double half_pad) {
  const Vec3 way = (low.normal + high.normal).normalized();
  double least = 1e9, most = 0;
  for (const auto& [from, to, sign] :
       {std::tuple{low.moved(half_pad), high.moved(-half_pad), 1},
        std::tuple{high.moved(-half_pad), low.moved(half_pad), -1}}) {
    for (const Region& r : faces_in_plane(block.solid, frame_on(from), -sign, kOnPlane)) {
      for (const Vec2& p : r.outer) {
        const double length =
            std::abs(to.distance(frame_on(from).to_world(p)) / to.normal.dot(way));
        least = std::min(least, length);
        most = std::max(most, length);
      }
    }
  }
  block.place.phi_length_min_m = least;
  block.place.phi_length_max_m = most;
}

struct Pieces {
  std::vector<ArmCuts> cuts;
  std::vector<ArmPieces> arms;
  KeyPieces key;
};

Result<Pieces> cut_solids(const Brief& brief, const Body& body, const std::vector<int>& extra,
                          const Progress& progress) {
  Pieces out;
  Result<std::vector<ArmCuts>> cuts = joint_planes(brief, body, extra);
  if (!cuts) return cuts.faults();
  out.cuts = std::move(cuts).value();
  const double half = brief.joints.pad_thickness_m / 2;
  std::vector<Result<ArmPieces>> sliced(out.cuts.size(), Result<ArmPieces>(ArmPieces{}));
  for_each_index(out.cuts.size(), [&](std::size_t k) {
    Result<Solid> arm = clip(body.outer, out.cuts[k].planes.back().moved(half));
    sliced[k] = arm ? slice_arm(body.section, *arm, out.cuts[k], 2 * half, progress)
                    : Result<ArmPieces>(arm.faults());
  });
  Solid key = body.outer;
  for (std::size_t k = 0; k < sliced.size(); ++k) {
    if (!sliced[k]) return sliced[k].faults();
    out.arms.push_back(std::move(sliced[k]).value());
    Result<Solid> rest = clip(key, out.cuts[k].planes.back().moved(half).opposite());
    if (!rest) return rest.faults();
    key = std::move(rest).value();
  }
  Result<KeyPieces> parts = divide_key(brief, body, key, out.cuts);
  if (!parts) return parts.faults();
  out.key = std::move(parts).value();
  return out;
}

/// Courses that turned out over the mass limit, per arm.
std::vector<int> too_heavy(const Pieces& pieces, double density, double limit) {
  std::vector<int> count(pieces.arms.size(), 0);
  for (std::size_t k = 0; k < pieces.arms.size(); ++k) {
    for (const Solid& block : pieces.arms[k].blocks) {
      if (mass_properties(block).volume * density > limit) ++count[k];
    }
  }
  return count;
}

void add_blocks(const Brief& brief, const Body& body, Pieces& pieces, Cut& cut) {
  const double half = brief.joints.pad_thickness_m / 2;
  int courses = 0;
  for (std::size_t k = 0; k < pieces.arms.size(); ++k) {
    cut.assembly.blocks.push_back(ground_block(brief, body, static_cast<int>(k)));
  }
  for (std::size_t k = 0; k < pieces.arms.size(); ++k) {
    const ArmCuts& cuts = pieces.cuts[k];
    for (std::size_t i = 0; i < pieces.arms[k].blocks.size(); ++i) {
      Block block;
      block.id = numbered(brief.plan.supports[k].id, static_cast<int>(i) + 1);
      block.solid = std::move(pieces.arms[k].blocks[i]);
      block.density = body.density;
      block.place = {static_cast<int>(k),
                     static_cast<int>(i) + 1,
                     1,
                     (cuts.phi_m[i] + cuts.phi_m[i + 1]) / 2,
                     0,
                     0};
      measure_flow_lines(block, cuts.planes[i], cuts.planes[i + 1], half);
      cut.assembly.blocks.push_back(std::move(block));
    }
    courses = std::max(courses, static_cast<int>(cuts.planes.size()) - 1);
  }
  double top = 0;
  for (const ArmCuts& cuts : pieces.cuts) top = std::max(top, cuts.phi_m.back());
  for (std::size_t p = 0; p < pieces.key.parts.size(); ++p) {
    Block block;
    block.id = pieces.key.parts.size() == 1 ? "key" : "key-" + std::to_string(p + 1);
    block.solid = std::move(pieces.key.parts[p]);
    block.density = body.density;
    block.place = {-1, courses + 1, static_cast<int>(p) + 1, top, 0, 0};
    if (pieces.cuts.size() == 2 &&
        pieces.key.parts.size() == 1) {  // two beds, like any other block
      measure_flow_lines(block, pieces.cuts[0].planes.back(),
                         pieces.cuts[1].planes.back().opposite(), half);
    }
    cut.assembly.blocks.push_back(std::move(block));
  }
}

void add_joints(const Brief& brief, Pieces& pieces, Cut& cut) {
  const int supports = static_cast<int>(pieces.arms.size()),
            parts = static_cast<int>(pieces.key.parts.size());
  const int first_key = static_cast<int>(cut.assembly.blocks.size()) - parts;
  const auto add = [&](int a, int b, const Plane& plane, Solid pad) {
    std::optional<Joint> joint = joint_between(brief.joints, cut.assembly, a, b, plane);
    if (!joint) return false;
    cut.assembly.joints.push_back(std::move(*joint));
    cut.pads.push_back(std::move(pad));
    return true;
  };
  int block = supports;
  for (int k = 0; k < supports; ++k) {
    const ArmCuts& cuts = pieces.cuts[at(k)];
    const int courses = static_cast<int>(cuts.planes.size()) - 1;
    for (int i = 0; i < courses; ++i, ++block) {
      add(i == 0 ? k : block - 1, block, cuts.planes[at(i)],
          std::move(pieces.arms[at(k)].pads[at(i)]));
    }
    // the last pad of the arm may lie under several parts of the key; it is one pad all the same
    Solid pad = std::move(pieces.arms[at(k)].pads[at(courses)]);
    for (int p = 0; p < parts; ++p) {
      if (add(block - 1, first_key + p, cuts.planes.back(), pad)) pad = {};
    }
  }
  for (KeyPieces::Joint& joint : pieces.key.joints) {
    add(first_key + joint.a, first_key + joint.b, joint.plane, std::move(joint.pad));
  }
}

void add_report(const Brief& brief, const Body& body, const Pieces& pieces, Cut& cut) {
  CutReport& report = cut.report;
  report.designed_volume_m3 = body.outer_volume_m3;
  report.leaf_least_m = body.section.hollow ? 1e9 : 0;
  for (const ArmPieces& arm : pieces.arms) {
    report.designed_volume_m3 -= arm.tube_volume_m3;
    if (body.section.hollow) report.leaf_least_m = std::min(report.leaf_least_m, arm.leaf_least_m);
  }
  report.watertight = true;
  for (const Block& block : cut.assembly.blocks) {
    report.watertight = report.watertight && closed(block.solid);
    if (block.fixed) continue;
    report.blocks_volume_m3 += block.mass.volume;
    const double mass = concrete_mass_kg(block);
    if (mass > brief.blocks.mass_max_kg) {
      char text[160];
      std::snprintf(text, sizeof text, "%s weighs %.0f kg, over the limit of %.0f kg",
                    block.id.c_str(), mass, brief.blocks.mass_max_kg);
      report.remarks.emplace_back(text);
    }
  }
  for (const Solid& pad : cut.pads) report.pads_volume_m3 += mass_properties(pad).volume;
  report.pads_volume_m3 += pieces.key.core_volume_m3;
  report.volume_error_rel =
      std::abs(report.blocks_volume_m3 + report.pads_volume_m3 - report.designed_volume_m3) /
      report.designed_volume_m3;
  if (!pieces.key.remark.empty()) report.remarks.push_back(pieces.key.remark);
}

}  // namespace

double solid_share(const Body& body) {
  if (!body.section.hollow) return 1;
  double whole = 0, concrete = 0;
  for (const ArmField& arm : arm_fields(body.form)) {
    constexpr int kSlices = 12;
    for (int i = 0; i < kSlices; ++i) {
      const Level level = level_at(body, arm, arm.border_phi_m * (i + 0.5) / kSlices);
      const double volume = level.width_m * level.depth_m * arm.border_phi_m / kSlices;
      whole += volume;
      concrete += volume * solid_fraction(body.section, level.depth_m, level.width_m);
    }
    for (const int t :
         arm.triangles) {  // beyond the last level that runs from edge to edge: the key
      const auto& tri = body.form.triangles[at(t)];
      double phi = 0, depth = 0;
      for (int v : tri) {
        phi += arm.phi[at(v)] / 3;
        depth += body.depth_m[at(v)] / 3;
      }
      if (phi < arm.border_phi_m) continue;
      const Vec3 &a = body.form.vertices[at(tri[0])], &b = body.form.vertices[at(tri[1])],
                 &c = body.form.vertices[at(tri[2])];
      const double volume = (b - a).cross(c - a).norm() / 2 * depth;
      whole += volume;
      concrete += volume;
    }
  }
  return concrete / whole;
}

Result<Cut> cut_blocks(const Brief& brief, const Body& body, const Progress& progress) {
  std::vector<int> extra(body.form.arms.size(), 0);
  Result<Pieces> pieces = cut_solids(brief, body, extra, progress);
  for (int tries = 0; pieces && tries < 6 && brief.blocks.count == 0; ++tries) {
    const std::vector<int> heavy = too_heavy(*pieces, body.density, brief.blocks.mass_max_kg);
    if (std::all_of(heavy.begin(), heavy.end(), [](int h) { return h == 0; })) break;
    for (std::size_t k = 0; k < extra.size(); ++k) extra[k] += heavy[k] > 0 ? 1 : 0;
    pieces = cut_solids(brief, body, extra, progress);
  }
  if (!pieces) return pieces.faults();
  Cut cut;
  add_blocks(brief, body, pieces.value(), cut);
  measure(cut.assembly);
  add_joints(brief, pieces.value(), cut);
  add_report(brief, body, *pieces, cut);
  return cut;
}

}  // namespace skewback
