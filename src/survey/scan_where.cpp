#include "survey/scan_where.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/near_surface.hpp"
#include "survey/backs.hpp"
#include "survey/beds.hpp"

namespace skewback {
namespace {

constexpr double kFacing = 0.7;  // cosine to a bed's normal or the back's

struct Span {
  double low = 1e300, high = -1e300;
  void add(double x) {
    low = std::min(low, x);
    high = std::max(high, x);
  }
  /// -1, 0, 1: first, middle, last third.
  [[nodiscard]] int third(double x) const {
    const double share = high > low ? (x - low) / (high - low) : 0.5;
    return share < 1.0 / 3 ? -1 : share > 2.0 / 3 ? 1 : 0;
  }
};

std::string pair_of(const std::string& a, const std::string& b) {
  if (a.empty() && b.empty()) return ", in the middle";
  return ", " + a + (a.empty() || b.empty() ? "" : " ") + b;
}

std::string on_bed(const Assembly& assembly, int block, const Bed& bed, const Vec3& p) {
  const Joint& joint = assembly.joints[static_cast<std::size_t>(bed.joints.front())];
  const int other = joint.a == block ? joint.b : joint.a;
  Span across, up;
  for (const Region& part : bed.contact) {
    for (const Vec2& q : part.outer) {
      across.add(q.x());
      up.add(q.y());
    }
  }
  const Vec3 local = bed.frame.to_local(p);
  // the body is on the side `side` of z; the eye stands on the other and looks along side * z
  const int right = across.third(local.x()) * (bed.side > 0 ? -1 : 1), high = up.third(local.y());
  return "the bed to " + assembly.blocks[static_cast<std::size_t>(other)].id +
         pair_of(high < 0   ? "lower"
                 : high > 0 ? "upper"
                            : "",
                 right < 0   ? "left"
                 : right > 0 ? "right"
                             : "");
}

/// Names of the blocks beyond the beds, near and far; empty where there is none.
struct Ends {
  Vec3 along = Vec3::Zero();  // from near to far
  std::string near, far;
};
Ends ends_of(const Assembly& assembly, int block, const std::vector<Bed>& beds) {
  Ends out;
  for (const Bed& bed : beds) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(bed.joints.front())];
    const std::string& beyond =
        assembly.blocks[static_cast<std::size_t>(joint.a == block ? joint.b : joint.a)].id;
    if (bed.name == "near") {
      out.near = beyond;
      out.along += bed.side * bed.frame.z;
    } else if (bed.name == "far") {
      out.far = beyond;
      out.along -= bed.side * bed.frame.z;
    }
  }
  if (out.along.norm() > 0) out.along.normalize();
  return out;
}

}  // namespace

std::string where_on_block(const Assembly& assembly, int block, const Vec3& p) {
  const Block& of = assembly.blocks[static_cast<std::size_t>(block)];
  const Result<NearSurface> surface = NearSurface::of(of.solid);
  if (!surface) return "the block";
  const OnSurface on = surface->nearest(p);
  const std::vector<Bed> beds = beds_of(assembly, block);
  for (const Bed& bed : beds) {
    const double off = bed.side * bed.frame.to_local(on.at).z() - bed.stand_off_m;
    if (std::abs(off) < 0.002 && -bed.side * bed.frame.z.dot(on.normal) > kFacing)
      return on_bed(assembly, block, bed, p);
  }
  const Ends ends = ends_of(assembly, block, beds);
  const Vec3 up = back_normal(assembly, block);
  const double facing = up.dot(on.normal);
  if (!(ends.along.norm() > 0))
    return facing > kFacing ? "the back" : facing < -kFacing ? "the soffit" : "a side";
  const Vec3 left = up.cross(ends.along);
  Span lengthwise, across;
  for (const Vec3& v : of.solid.vertices) {
    lengthwise.add(v.dot(ends.along));
    across.add(v.dot(left));
  }
  const int l = lengthwise.third(p.dot(ends.along)), c = across.third(p.dot(left));
  const std::string end = l < 0   ? (ends.near.empty() ? "" : "towards " + ends.near)
                          : l > 0 ? (ends.far.empty() ? "" : "towards " + ends.far)
                                  : "";
  if (std::abs(facing) <= kFacing)
    return std::string(left.dot(on.normal) > 0 ? "the left side" : "the right side") +
           (end.empty() ? "" : ", " + end);
  return (facing > 0 ? "the back" : "the soffit") +
         pair_of(end.empty() ? "" : end + (c != 0 ? "," : ""), c > 0   ? "left"
                                                               : c < 0 ? "right"
                                                                       : "");
}

}  // namespace skewback
