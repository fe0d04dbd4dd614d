#include "ground/shoes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "ground/reactions.hpp"
#include "ground/threads.hpp"

namespace skewback {
namespace {

constexpr double kPlateYield = 235e6, kBolt = 800e6;
constexpr double kSteelOnMortar = 0.2;
constexpr int kFewest = 4;
constexpr double kGrout = 0.010;  // m

/// Joints between the ground block of a support and the bridge.
std::vector<int> springing_joints(const Assembly& assembly, int ground) {
  std::vector<int> out;
  for (int j = 0; j < static_cast<int>(assembly.joints.size()); ++j) {
    const Joint& joint = assembly.joints[j];
    if (joint.a != ground && joint.b != ground) continue;
    if (assembly.blocks[joint.a].fixed && assembly.blocks[joint.b].fixed) continue;
    out.push_back(j);
  }
  return out;
}

double next_plate(double thickness) {
  constexpr std::array<double, 7> series = {0.012, 0.015, 0.020, 0.025, 0.030, 0.040, 0.050};
  for (const double t : series)
    if (t >= thickness) return t;
  return std::ceil(thickness * 100) / 100;
}

struct Bed {
  double slope_rad = 0;
  Vec2 size_m = Vec2::Zero();  // along the springing line, up the bed
};

Bed bed_of(const Assembly& assembly, const std::vector<int>& joints, const Support& line) {
  Bed bed;
  const Vec3 normal = assembly.joints[joints.front()].frame.z;
  bed.slope_rad = std::acos(std::min(1.0, std::abs(normal.z())));
  const Vec2 run = (line.b - line.a).normalized();
  const Vec3 along(run.x(), run.y(), 0), up = normal.cross(along).normalized();
  Vec2 low = Vec2::Constant(HUGE_VAL), high = -low;
  for (const int j : joints) {
    for (const Region& region : assembly.joints[j].contact) {
      for (const Vec2& p : region.outer) {
        const Vec3 q = assembly.joints[j].frame.to_world(p);
        const Vec2 at(q.dot(along), q.dot(up));
        low = low.cwiseMin(at);
        high = high.cwiseMax(at);
      }
    }
  }
  bed.size_m = high - low;
  return bed;
}

void add_bed_forces(const Assembly& assembly, const std::vector<CaseProof>& proofs, double factor,
                    const std::vector<int>& joints, int ground, std::vector<BedForce>& out) {
  const Vec3 normal = assembly.joints[joints.front()].frame.z;
  for (const CaseProof& proof : proofs) {
    if (!proof.pads || !proof.pads->found) continue;
    BedForce force{.case_id = proof.id, .factor = factor};
    Vec3 sum = Vec3::Zero();
    for (const ContactForce& c : proof.pads->forces.contacts) {
      if (std::ranges::find(joints, c.joint) == joints.end()) continue;
      sum += assembly.joints[c.joint].a == ground ? c.force : Vec3(-c.force);
    }
    for (const int j : joints)
      force.peak_pa = std::max(force.peak_pa, proof.pads->joints[j].peak_pa);
    force.normal_n = std::abs(sum.dot(normal));
    force.shear_n = (sum - sum.dot(normal) * normal).norm();
    out.push_back(force);
  }
}

double tie_pull(const std::vector<Tie>& laid, const std::vector<TieForce>& ties, int support) {
  double most = 0;
  for (std::size_t t = 0; t < laid.size() && t < ties.size(); ++t) {
    if (laid[t].from == support || laid[t].to == support)
      most = std::max(most, ties[t].governing_n * laid[t].rods);
  }
  return most;
}

}  // namespace

double bolt_shear(double stress_area_m2, double ultimate_pa, double gamma_m2) {
  return 0.6 * ultimate_pa * stress_area_m2 / gamma_m2;
}

double plate_thickness(double overhang_m, double pressure_pa, double yield_pa) {
  return overhang_m * std::sqrt(3 * pressure_pa / yield_pa);
}

Shoe size_shoe(const Brief& brief, const std::string& id, double slope_rad, const Vec2& bed_m,
               const std::vector<BedForce>& forces) {
  Shoe shoe;
  shoe.id = id;
  shoe.slope_deg = slope_rad * 180 / std::numbers::pi;
  shoe.plate_along_m = bed_m.x() + 2 * kPlateEdge;
  shoe.plate_across_m = bed_m.y() + 2 * kPlateEdge;
  shoe.levelling_m = brief.required.footing_tolerance_m + kGrout;
  double most = -HUGE_VAL;
  for (const BedForce& f : forces) {
    shoe.pressure_pa = std::max(shoe.pressure_pa, f.factor * f.peak_pa);
    const double left = f.factor * f.shear_n - kSteelOnMortar * f.normal_n;
    if (left <= most) continue;
    most = left;
    shoe.governing = f.case_id;
    shoe.normal_n = f.normal_n;
    shoe.shear_n = f.factor * f.shear_n;
    shoe.shear_left_n = std::max(0.0, left);
  }
  shoe.plate_thickness_m = next_plate(plate_thickness(kPlateEdge, shoe.pressure_pa, kPlateYield));
  // the first size of which four do; else as many of the largest here as it takes
  for (const Thread& thread : threads()) {
    if (thread.diameter_m > 0.0301) break;
    const double each = bolt_shear(thread.stress_area_m2(), kBolt, brief.factors.steel_thread);
    shoe.bolt = thread.name;
    shoe.bolts = std::max(kFewest, static_cast<int>(std::ceil(shoe.shear_left_n / each)));
    if (shoe.bolts == kFewest) break;
  }
  return shoe;
}

std::vector<Shoe> size_shoes(const Brief& brief, const Assembly& assembly,
                             const std::vector<CaseProof>& patterns,
                             const std::vector<CaseProof>& factored, const std::vector<Tie>& laid,
                             const std::vector<TieForce>& ties) {
  std::vector<Shoe> out;
  const std::vector<int> ground = ground_blocks(brief, assembly);
  for (int s = 0; s < static_cast<int>(ground.size()); ++s) {
    if (ground[s] < 0) continue;
    const std::vector<int> joints = springing_joints(assembly, ground[s]);
    if (joints.empty()) continue;
    std::vector<BedForce> forces;
    add_bed_forces(assembly, patterns, brief.ground.tie_factor, joints, ground[s], forces);
    add_bed_forces(assembly, factored, 1, joints, ground[s], forces);
    if (forces.empty()) continue;
    const Bed bed = bed_of(assembly, joints, brief.plan.supports[s]);
    Shoe shoe = size_shoe(brief, brief.plan.supports[s].id, bed.slope_rad, bed.size_m, forces);
    shoe.tie_n = tie_pull(laid, ties, s);
    out.push_back(std::move(shoe));
  }
  return out;
}

Vec2 bed_reach(const Brief& brief, const Assembly& assembly, int support) {
  const Support& line = brief.plan.supports[support];
  const Vec2 along = (line.b - line.a).normalized(), out(along.y(), -along.x());
  const int ground = ground_blocks(brief, assembly)[support];
  Vec2 reach = Vec2::Zero();
  if (ground < 0) return reach;
  for (const int j : springing_joints(assembly, ground)) {
    for (const Region& region : assembly.joints[j].contact) {
      for (const Vec2& p : region.outer) {
        const Vec2 q = assembly.joints[j].frame.to_world(p).head<2>();
        const double d = (q - line.a).dot(out);
        reach.x() = std::max(reach.x(), -d);
        reach.y() = std::max(reach.y(), d);
      }
    }
  }
  return reach;
}

}  // namespace skewback
