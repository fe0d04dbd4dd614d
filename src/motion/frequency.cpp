// Largest frequency of all blocks on their closed contacts: K x = w2 M x, by Lanczos' steps, kept
// under the bound that each contact holds its two blocks as if they went against one another.
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "motion/world.hpp"

namespace skewback::motion {
namespace {

using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;
constexpr int kLanczosSteps = 80;
constexpr double kMargin = 1.02;  // they come from below

Mat3 cross(const Vec3& p) {
  Mat3 m;
  m << 0, -p.z(), p.y(), p.z(), 0, -p.x(), -p.y(), p.x(), 0;
  return m;
}

/// Wrench at the touch's origin per movement there, along its own axes.
Mat6 stiffness(const Touch& touch) {
  Mat6 k = Mat6::Zero();
  for (int i = 0; i < touch.points; ++i) {
    const Vec3 p(touch.column(kX)[i], touch.column(kY)[i], touch.column(kZ)[i]);
    Eigen::Matrix<double, 3, 6> at;
    at << Mat3::Identity(), -cross(p);
    const Vec3 springs(touch.column(kKs)[i], touch.column(kKs)[i], touch.column(kKn)[i]);
    k += at.transpose() * springs.asDiagonal() * at;
  }
  return k;
}

/// Movement of the touch's origin along its axes, per movement of the body in its own axes, the
/// body's inertia put into the unknowns.
Mat6 reach(const Body& body, const Mat3& axes, const Vec3& origin) {
  Mat6 t = Mat6::Zero();
  if (!body.free) return t;
  t.topLeftCorner<3, 3>() = axes.transpose() / std::sqrt(body.heft);
  const Mat3 own = body.inertia.cwiseSqrt().cwiseInverse().asDiagonal();
  t.topRightCorner<3, 3>() = -axes.transpose() * cross(origin) * own;
  t.bottomRightCorner<3, 3>() = axes.transpose() * own;
  return t;
}

struct Coupling {
  std::size_t a, b;
  Mat6 aa, ab, bb;
};

/// Couplings, and per body what bounds its own largest frequency: what holds it, twice where the
/// other block moves too. Each touch's springs are taken times its share.
template <class Share>
std::vector<Coupling> couplings_of(const World& world, std::vector<double>& bounds, Share share) {
  std::vector<Mat6> own(world.bodies.size(), Mat6::Zero());
  std::vector<Coupling> couplings;
  for (const Touch& touch : world.touches) {
    if (touch.gone || share(touch) == 0) continue;
    const auto ia = static_cast<std::size_t>(touch.a), ib = static_cast<std::size_t>(touch.b);
    const Body& a = world.bodies[ia];
    const Body& b = world.bodies[ib];
    const Mat6 k = share(touch) * stiffness(touch), ta = reach(a, touch.axes_a, touch.origin_a),
               tb = reach(b, touch.axes_b, touch.origin_b);
    couplings.push_back(
        {ia, ib, ta.transpose() * k * ta, -ta.transpose() * k * tb, tb.transpose() * k * tb});
    const double both = a.free && b.free ? 2 : 1;
    own[ia] += both * couplings.back().aa;
    own[ib] += both * couplings.back().bb;
  }
  bounds.clear();
  for (const Mat6& k : own)
    bounds.push_back(
        Eigen::SelfAdjointEigenSolver<Mat6>(k, Eigen::EigenvaluesOnly).eigenvalues().maxCoeff());
  return couplings;
}

/// Largest eigenvalue by Lanczos' steps, from below (Golub and Van Loan, ch. 10).
double largest_of(const std::vector<Coupling>& couplings, std::size_t bodies) {
  const auto n = static_cast<Eigen::Index>(6 * bodies);
  const int most = static_cast<int>(std::min<Eigen::Index>(kLanczosSteps, n));
  Eigen::VectorXd x(n), before = Eigen::VectorXd::Zero(n), y(n);
  for (Eigen::Index i = 0; i < n; ++i)  // any start that leans on no one shape
    x[i] = std::sin(1.7 * static_cast<double>(i) + 0.3);
  x.normalize();
  std::vector<double> along, beside;
  for (int step = 0; step < most; ++step) {
    y.setZero();
    for (const Coupling& c : couplings) {
      const auto a = static_cast<Eigen::Index>(6 * c.a), b = static_cast<Eigen::Index>(6 * c.b);
      y.segment<6>(a) += c.aa * x.segment<6>(a) + c.ab * x.segment<6>(b);
      y.segment<6>(b) += c.ab.transpose() * x.segment<6>(a) + c.bb * x.segment<6>(b);
    }
    along.push_back(x.dot(y));
    y -= along.back() * x;
    if (!beside.empty()) y -= beside.back() * before;
    const double size = y.norm();
    if (size <= 1e-12 * std::abs(along[0])) break;
    beside.push_back(size);
    before = x;
    x = y / size;
  }
  const auto count = static_cast<Eigen::Index>(along.size());
  Eigen::VectorXd diagonal = Eigen::Map<Eigen::VectorXd>(along.data(), count), off(count - 1);
  for (Eigen::Index i = 0; i + 1 < count; ++i) off[i] = beside[static_cast<std::size_t>(i)];
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> ritz;
  ritz.computeFromTridiagonal(diagonal, off, Eigen::EigenvaluesOnly);
  return ritz.eigenvalues().maxCoeff();
}

double all_of_it(const Touch&) { return 1; }

/// The largest x'K x over x'M x, each touch's springs times its share.
template <class Share>
double largest_rate(const World& world, Share share) {
  std::vector<double> bounds;
  const std::vector<Coupling> couplings = couplings_of(world, bounds, share);
  if (couplings.empty()) return 0;
  const double bound = *std::max_element(bounds.begin(), bounds.end());
  const double found = largest_of(couplings, world.bodies.size());
  const bool alone = std::all_of(couplings.begin(), couplings.end(), [&](const Coupling& c) {
    return !world.bodies[c.a].free || !world.bodies[c.b].free;
  });
  return alone ? bound : std::min(bound, kMargin * found);
}

}  // namespace

void even_out(World& world) {
  constexpr double kShare = 0.5;  // of the blocks keep their own
  std::vector<double> bounds, some;
  (void)couplings_of(world, bounds, all_of_it);
  for (std::size_t i = 0; i < bounds.size(); ++i)
    if (world.bodies[i].free && bounds[i] > 0) some.push_back(bounds[i]);
  if (some.empty()) return;
  const auto middle =
      some.begin() + static_cast<std::ptrdiff_t>(kShare * static_cast<double>(some.size() - 1));
  std::nth_element(some.begin(), middle, some.end());
  for (std::size_t i = 0; i < bounds.size(); ++i) {
    if (!world.bodies[i].free || bounds[i] <= *middle) continue;
    world.bodies[i].heft *= bounds[i] / *middle;
    world.bodies[i].inertia *= bounds[i] / *middle;
  }
}

double longest_step(const World& world) {
  const double largest = largest_rate(world, all_of_it);
  return largest > 0 ? 2 / std::sqrt(largest) : 1e-3;
}

void put_step(World& world) {
  const MotionOptions& o = world.options;
  // settling makes a force that slows its block 1 + `settling` times as large: as stiffer springs
  const double stiffer = o.damping == Damping::kSettling ? 1 + o.settling : 1;
  const double longest = longest_step(world) / std::sqrt(stiffer);
  // dashpots, whose forces are half a step behind: k dt2 / 4 + c dt / 2 < 1, k and c the largest
  const double z =
      largest_rate(world, [](const Touch& touch) { return touch.dash_s; }) * longest / 4;
  // a blow is over in a few steps: half of them, so that its energy is kept to a hundredth
  const double blows = o.damping == Damping::kRocking ? 0.5 : 1;
  world.step_s = blows * o.step_share * longest * (std::sqrt(1 + z * z) - z);
}

}  // namespace skewback::motion
