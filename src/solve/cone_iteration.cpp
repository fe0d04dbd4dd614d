#include "solve/cone_iteration.hpp"

#include <algorithm>
#include <cmath>

#include "solve/cone_newton.hpp"

namespace skewback {

namespace {

constexpr double kStepBack = 0.99;    // share of the way to the boundary
constexpr double kHoped = 0.2;        // added to a step by corrections
constexpr int kCorrections = 3;       // most of them; each for one solution with the same factor
constexpr double kLong = 0.95;        // a step that needs none
constexpr double kWorthMore = 0.03;   // what the last must have added for one more
constexpr double kWorse = 0.7;        // of the step before: a correction to be taken back,
constexpr int kTakeBackFrom = 50000;  // contacts: where an iteration costs more than a solution
constexpr double kReach = 0.3;        // beyond the step, where products are looked at
constexpr double kLow = 0.1, kHigh = 10;  // of the target: where products may be there
constexpr double kShort = 0.1;            // a step that asks for centring instead
constexpr double kEnough = 0.03;          // of the tolerance, for equations of the direction
constexpr int kIdleMost = 6;              // iterations without progress
constexpr double kNear = 3;               // times the tolerance
constexpr int kIdleWhenNear = 2;          // the same that near

double largest(const AlignedArray& a) {
  double most = 0;
  for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(a[i]));
  return most;
}

void write(const AlignedArray& from, double factor, AlignedArray& to) {
  if (to.size() != from.size()) to = AlignedArray(from.size());
  for (std::size_t i = 0; i < from.size(); ++i) to[i] = factor * from[i];
}

struct Distances {  // relative, from an optimum, a certificate and a ray
  double optimum = 0, certificate = 0, ray = 0;
};

/// What residuals are worth counts as `tolerance` where it is options.worth.
Distances distances(const ConeMeasures& m, double tau, double b_most, const ConeOptions& options) {
  constexpr double kFar = std::numeric_limits<double>::infinity();
  Distances d;
  d.optimum = std::max(
      {std::max(m.primal, m.upper) / tau / (1 + b_most), m.dual / tau / 2,
       std::abs(m.cost - m.dual_cost) / tau / (1 + std::abs(m.cost / tau)),
       m.worth / (tau * tau) / (1 + std::abs(m.cost / tau)) * options.tolerance / options.worth});
  d.certificate = m.dual_cost > 0 ? (m.dual + tau) / m.dual_cost : kFar;
  d.ray = m.cost < 0 ? (std::max(m.primal, m.upper) + tau * b_most) / -m.cost : kFar;
  return d;
}

void keep(const ConeNewton& newton, double divide_by, ConeAnswer& out) {
  write(newton.x(), 1 / divide_by, out.x);
  write(newton.y(), 1 / divide_by, out.y);
  out.scalars = (newton.scalars() / divide_by).matrix();
}

}  // namespace

ConeAnswer iterate(const ConeData& data, std::shared_ptr<const BlockPattern> pattern,
                   const ConeOptions& options, const Kernels& kernels, bool corrected) {
  ConeNewton newton(data, std::move(pattern), kernels);
  newton.enough = kEnough * options.tolerance;
  constexpr double kFar = std::numeric_limits<double>::infinity();
  ConeAnswer out, proof;  // nearest to an optimum; to a certificate or a ray
  out.worst = proof.worst = kFar;
  const double b_most = largest(data.b);
  double nearest = kFar;  // to a certificate or a ray
  int idle = 0;
  const auto give_up = [&](const char* reason) -> ConeAnswer&& {
    out.reason = reason;
    proof.iterations = out.iterations;
    const bool proven = proof.worst <= options.acceptable && out.worst > options.acceptable;
    return std::move(proven ? proof : out);
  };
  for (;; ++out.iterations) {
    const ConeMeasures m = newton.residuals();
    const Distances d = distances(m, newton.tau, b_most, options);
    if (std::isnan(d.optimum)) return give_up("numbers overflowed");
    const double to_proof = std::min(d.certificate, d.ray);
    idle = d.optimum < out.worst || to_proof < nearest ? 0 : idle + 1;
    nearest = std::min(nearest, to_proof);
    if (d.optimum < out.worst) {
      out.worst = d.optimum;
      keep(newton, newton.tau, out);
    }
    if (to_proof < proof.worst && to_proof <= options.acceptable) {
      const bool falls = d.certificate <= d.ray;
      proof.worst = to_proof;
      proof.status = falls ? SolveStatus::kInfeasible : SolveStatus::kUnbounded;
      keep(newton, falls ? m.dual_cost : -m.cost, proof);
    }
    if (d.optimum <= options.tolerance) {
      out.status = SolveStatus::kOptimal;
      return out;
    }
    if (to_proof <= options.tolerance) {
      proof.iterations = out.iterations;
      return proof;
    }
    const bool near = std::min(out.worst, proof.worst) <= kNear * options.tolerance;
    if (idle > (near ? kIdleWhenNear : kIdleMost)) return give_up("no progress");
    if (out.iterations == options.max_iterations) return give_up("iteration limit");

    if (!newton.prepare()) return give_up("the normal matrix could not be factorised");
    const double affine = newton.affine();
    const double centring = std::pow(std::max(0.0, 1 - affine - (corrected ? kHoped : 0)), 3);
    const double target = centring * m.products;
    double step = newton.centre(target, 1 - centring), before = 0;
    for (int i = 0; corrected && i < kCorrections && step < kLong && step > before + kWorthMore;
         ++i) {
      before = step;
      step = newton.correct(std::min(1.0, step + kReach), target, 1 - centring, kLow * target,
                            kHigh * target);
    }
    if (data.contacts > kTakeBackFrom && step < kWorse * before) {
      step = newton.without_correction(target, 1 - centring);
    }
    if (step < kShort) step = newton.centre_plainly(0.8 * m.products, 0.2);
    if (!(step > 0)) return give_up("no direction");
    newton.advance(kStepBack * step);
  }
}

}  // namespace skewback
