#include "erect/handling_beam.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "strength/section.hpp"

namespace skewback {

std::vector<double> even_places(const Solid& solid, const Vec3& along, int count) {
  double low = std::numeric_limits<double>::max(), high = -low;
  for (const Vec3& v : solid.vertices) {
    low = std::min(low, v.dot(along));
    high = std::max(high, v.dot(along));
  }
  std::vector<double> places;
  for (int i = 0; i < count; ++i) places.push_back(low + (high - low) * (i + 0.5) / count);
  return places;
}

namespace {

void add_cut(const Solid& solid, const Plane& plane, std::vector<BeamCut>& cuts) {
  BeamCut cut;
  cut.frame = frame_on(plane);
  const Regions section = slice(solid, cut.frame);
  if (area(section) < 1e-6) return;
  const PartInFront part = part_in_front(solid, plane);
  cut.volume = part.volume;
  cut.moment = part.moment;
  cut.solver.compute(moments(section));
  for (const Region& region : section)
    cut.corners.insert(cut.corners.end(), region.outer.begin(), region.outer.end());
  cuts.push_back(std::move(cut));
}

}  // namespace

std::vector<BeamCut> beam_cuts(const Solid& solid, const Vec3& along,
                               const std::vector<double>& places) {
  std::vector<BeamCut> cuts;
  const Vec3& some = solid.vertices.front();
  for (const double place : places)
    add_cut(solid, {some + (place - some.dot(along)) * along, along}, cuts);
  return cuts;
}

std::vector<BeamCut> layer_cuts(const Solid& solid, const Plane& low, const Plane& high,
                                const Vec3& centre, int count) {
  std::vector<BeamCut> cuts;
  for (int i = 0; i < count; ++i) {
    const double t = (i + 0.5) / count;
    const Vec3 normal = (1 - t) * low.normal + t * high.normal;
    const double level = (1 - t) * low.normal.dot(low.point) + t * high.normal.dot(high.point);
    const Vec3 point = centre + (level - normal.dot(centre)) / normal.squaredNorm() * normal;
    add_cut(solid, {point, normal.normalized()}, cuts);
  }
  return cuts;
}

namespace {

constexpr double kInThePlane = 1e-6;  // m: such a force counts as just before the cut, and as just
                                      // behind it

void add_tension(const BeamCut& cut, double density, const Vec3& pull,
                 const std::vector<HandlingForce>& forces, double from, BeamTension& worst) {
  Vec3 force = density * cut.volume * pull, moment = density * cut.moment.cross(pull);
  for (const HandlingForce& f : forces) {
    const Vec3 arm = f.at - cut.frame.origin;
    if (arm.dot(cut.frame.z) <= from) continue;
    force += f.force;
    moment += arm.cross(f.force);
  }
  // compression pushes the part in front along z, and balances it
  const Vec3 load(-force.dot(cut.frame.z), moment.dot(cut.frame.y), -moment.dot(cut.frame.x));
  const Vec3 plane = cut.solver.solve(load);
  for (const Vec2& p : cut.corners) {
    const double tension = -(plane[0] + plane.tail<2>().dot(p));
    if (tension > worst.greatest_pa) worst = {tension, cut.frame.to_world(p)};
  }
}

}  // namespace

BeamTension beam_tension(const std::vector<BeamCut>& cuts, double density, const Vec3& pull,
                         const std::vector<HandlingForce>& forces) {
  BeamTension worst;
  for (const BeamCut& cut : cuts) {
    for (const double from : {kInThePlane, -kInThePlane})
      add_tension(cut, density, pull, forces, from, worst);
  }
  return worst;
}

Balanced balance(const std::vector<HandlingForce>& directions, const Vec3& at, const Vec3& force) {
  const auto n = static_cast<Eigen::Index>(directions.size());
  Eigen::MatrixXd a(6, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const HandlingForce& d = directions[static_cast<std::size_t>(i)];
    a.col(i).head<3>() = d.force;
    a.col(i).tail<3>() = (d.at - at).cross(d.force);
  }
  Eigen::VectorXd load = Eigen::VectorXd::Zero(6);
  load.head<3>() = -force;
  const Eigen::VectorXd size = a.completeOrthogonalDecomposition().solve(load);
  const double scale = std::max(force.norm(), 1e-12);
  return {{size.data(), size.data() + n}, (a * size - load).norm() / scale};
}

}  // namespace skewback
