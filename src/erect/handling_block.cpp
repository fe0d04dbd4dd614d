#include "erect/handling_block.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

/// The longer principal axis of the solid seen in plan; of a round one, east.
Vec3 long_axis(const Block& block) {
  // the inertia about z splits into the integrals of x2 and y2; products carry a minus
  const Mat3& i = block.mass.inertia;
  const double all = i.trace() / 2;
  Eigen::Matrix2d spread;
  spread << all - i(0, 0), -i(0, 1), -i(0, 1), all - i(1, 1);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(spread);
  Vec2 axis = solver.eigenvectors().col(1);
  if (solver.eigenvalues()[1] < 1.0001 * solver.eigenvalues()[0]) axis = Vec2::UnitX();
  if (axis.x() < -1e-9 || (std::abs(axis.x()) <= 1e-9 && axis.y() < 0)) axis = -axis;
  return {axis.x(), axis.y(), 0};
}

/// The face of a joint that looks most along `way`, moved by half a pad onto the block; none looks
/// within 45 degrees of it.
std::optional<Plane> face_along(const Assembly& assembly, int block, const Vec3& way) {
  std::optional<Plane> found;
  double most = std::sqrt(0.5);
  for (const Joint& joint : assembly.joints) {
    if (joint.a != block && joint.b != block) continue;
    const Vec3 out = joint.a == block ? joint.frame.z : Vec3(-joint.frame.z);
    if (out.dot(way) <= most) continue;
    most = out.dot(way);
    const double half = joint.pad ? joint.pad->thickness_m / 2 : 0;
    found = Plane{joint.frame.origin - half * out, out};
  }
  return found;
}

void find_layers(const Assembly& assembly, HandlingBlock& out) {
  const BlockPrint& print = *out.print;
  if (print.way != PrintWay::kBedToBed && print.way != PrintWay::kFlat) return;
  const Solid& solid = assembly.blocks[out.block].solid;
  const Vec3 up = print.to_table.R.row(2);
  const Reach reach = reach_along(solid, up);
  out.first_layer = {out.centre + (reach.from - out.centre.dot(up)) * up, up};
  out.last_layer = {out.centre + (reach.to - out.centre.dot(up)) * up, up};
  if (print.way == PrintWay::kBedToBed) {
    // the bed on the table may lie on a stand, so that it is not square to `up`
    if (const auto low = face_along(assembly, out.block, -up)) out.first_layer = low->opposite();
    if (const auto high = face_along(assembly, out.block, up)) out.last_layer = *high;
  }
  out.layers = (out.first_layer.normal + out.last_layer.normal).normalized();
}

}  // namespace

HandlingBlock handling_block(const Assembly& assembly, int block, const PrintSet* print) {
  const Block& b = assembly.blocks[block];
  HandlingBlock out;
  out.block = block;
  out.centre = b.mass.centroid;
  out.density = b.density;
  out.mass_kg = concrete_mass_kg(b);
  out.across = long_axis(b);
  out.along = Vec3::UnitZ().cross(out.across);
  if (print != nullptr) {
    const auto it = std::ranges::find(print->blocks, block, &BlockPrint::block);
    if (it != print->blocks.end()) out.print = &*it;
  }
  if (out.print != nullptr) find_layers(assembly, out);
  out.soffit = soffit(assembly, block);
  Vec3 mean = Vec3::Zero();
  for (const SoffitFace& face : out.soffit) mean += face.area * face.normal;
  if (mean.norm() > 0) out.soffit_normal = mean.normalized();
  out.low = out.high = b.solid.vertices.front();
  for (const Vec3& v : b.solid.vertices) {
    out.low = out.low.cwiseMin(v);
    out.high = out.high.cwiseMax(v);
  }
  return out;
}

Reach reach_along(const Solid& solid, const Vec3& way) {
  Reach reach{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
  for (const Vec3& v : solid.vertices) {
    reach.from = std::min(reach.from, v.dot(way));
    reach.to = std::max(reach.to, v.dot(way));
  }
  return reach;
}

std::optional<std::array<Vec3, 2>> lies_at(const Solid& solid, const Vec3& across, const Vec3& up,
                                           double place) {
  const std::vector<BeamCut> cuts = beam_cuts(solid, across, {place});
  if (cuts.empty()) return std::nullopt;
  const Vec3 along = up.cross(across);
  Reach reach{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
  double low = std::numeric_limits<double>::max();
  for (const Vec2& p : cuts[0].corners) low = std::min(low, cuts[0].frame.to_world(p).dot(up));
  for (const Vec2& p : cuts[0].corners) {
    const Vec3 corner = cuts[0].frame.to_world(p);
    if (corner.dot(up) > low + kPacked_m) continue;
    reach.from = std::min(reach.from, corner.dot(along));
    reach.to = std::max(reach.to, corner.dot(along));
  }
  const auto point = [&](double side) { return Vec3(place * across + side * along + low * up); };
  return std::array<Vec3, 2>{point(reach.from), point(reach.to)};
}

std::optional<std::vector<HandlingForce>> carried_at(const std::vector<Vec3>& points,
                                                     const Vec3& centre, const Vec3& up,
                                                     double weight_n) {
  std::vector<HandlingForce> forces;
  for (const Vec3& p : points) forces.push_back({p, up});
  const Balanced sizes = balance(forces, centre, -weight_n * up);
  if (sizes.residual > 1e-6) return std::nullopt;
  for (std::size_t i = 0; i < forces.size(); ++i) {
    if (sizes.size[i] <= 0) return std::nullopt;
    forces[i].force *= sizes.size[i];
  }
  return forces;
}

double lying_area_m2(const Solid& solid, const Rigid& to_table, double tol_m) {
  const Solid on_table = moved(solid, to_table);
  const double low = reach_along(on_table, Vec3::UnitZ()).from;
  return area(faces_in_plane(on_table, {{0, 0, low}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()},
                             -1, tol_m));
}

}  // namespace skewback
