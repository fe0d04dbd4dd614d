#include <algorithm>
#include <cmath>

#include "solve/cone_newton.hpp"

namespace skewback {

/// What the bounds and scalars add to the right-hand sides of a direction.
void ConeNewton::pull_in(double keep, ConeAims& aims) {
  const Array pull = (s_.wv - keep * s_.v * s_.upper) / s_.w;
  s_.shift = (s_.free > 0).select(0.0, s_.aim / s_.x) - pull - keep * s_.dual;
  aims.wished += (s_.aim + s_.wv + s_.upper * pull).sum();
  aims.most_p += (s_.most * pull).sum();
}

/// The direction that keeps 1 - keep of the residuals, of moving_. Returns the longest step.
double ConeNewton::direction(double keep, double target_tau, const ConeAims& aims) {
  // The gap equation; near an optimum divided by what x, y and tau already satisfy.
  if (near_) {
    dtau_ = (keep * products_ * degree_ + aims.wished + target_tau + dot_residuals(moving_) -
             (all(primal_) * all(moving_.y)).sum()) /
            tau / slope_;
  } else {
    dtau_ = (keep * gap_ + dot_costs(moving_) - (all(data_.b) * all(moving_.y)).sum() +
             aims.most_p + target_tau / tau) /
            slope_;
  }
  const double growth = near_ ? dtau_ / tau : 0.0, rest = near_ ? 0.0 : dtau_;
  dkappa_ = (target_tau - kappa * dtau_) / tau;
  all(moving_.x) += dtau_ * all(fixed_.x);
  all(moving_.y) += dtau_ * all(fixed_.y);
  moving_.scalars += dtau_ * fixed_.scalars;

  double rate = k_.direct(state_, moving_.y.data(), growth, rest, dtau_, keep);
  const double whole = keep + growth;
  const Array dw = whole * s_.upper + rest * s_.most - moving_.scalars;
  const Array dv = s_.bounded * (s_.wv - s_.v * dw) / s_.w;
  s_.dw = s_.bounded * (dw + growth * s_.w);
  s_.dv = dv - growth * s_.v;
  s_.dx = moving_.scalars + growth * s_.x;
  for (Eigen::Index i = 0; i < s_.dx.size(); ++i) {
    if (s_.free[i] > 0) continue;
    s_.dz[i] = whole * s_.dual[i] + rest * s_.cost[i] -
               dot_column(static_cast<std::size_t>(i), moving_.y.data()) + growth * s_.z[i] +
               dv[i] - 2 * growth * s_.v[i];
    rate = std::max({rate, -s_.dx[i] / s_.x[i], -s_.dz[i] / s_.z[i]});
    if (s_.bounded[i] > 0) rate = std::max({rate, -s_.dw[i] / s_.w[i], -s_.dv[i] / s_.v[i]});
  }
  all(moving_.y) += growth * all(y_);
  rate = std::max({rate, -dtau_ / tau, -dkappa_ / kappa});
  if (!std::isfinite(dtau_) || !all(moving_.y).allFinite() || !all(moving_.x).allFinite()) return 0;
  return 1 / std::max(1.0, rate);
}

void ConeNewton::aim_affine() {
  affine_aims_ = k_.aim_affine(state_);
  s_.aim = -s_.x * s_.z;
  s_.wv = -s_.bounded * s_.w * s_.v;
  pull_in(1, affine_aims_);
}

double ConeNewton::affine() {
  finish(primal_, shift_, s_.shift, 0, moving_);
  return direction(1, -tau * kappa, affine_aims_);
}

double ConeNewton::towards(double target, double keep, double share) {
  ConeAims aims = k_.aim_centre(state_, target, keep, share);
  s_.aim = (1 - s_.free) * (target - s_.x * s_.z + share * s_.more);
  s_.wv = s_.bounded * (target - s_.w * s_.v + share * s_.more_wv);
  pull_in(keep, aims);
  all(aim_) = keep * all(primal_);
  load(aim_, shift_, s_.shift, moving_);
  factor_.solve(moving_.y.data());
  finish(aim_, shift_, s_.shift, 2, moving_);
  return direction(keep, target - tau * kappa + share * more_tau_, aims);
}

double ConeNewton::centre(double target, double keep) {
  k_.second_order(state_);
  s_.more = -s_.dx * s_.dz;
  s_.more_wv = -s_.dw * s_.dv;
  more_tau_ = -dtau_ * dkappa_;
  return towards(target, keep, 1);
}

double ConeNewton::centre_plainly(double target, double keep) { return towards(target, keep, 0); }

double ConeNewton::correct(double step, double target, double keep, double low, double high) {
  all(more_before_) = all(more_);
  all(more_wv_before_) = all(more_wv_);
  s_.more_before = s_.more;
  s_.more_wv_before = s_.more_wv;
  more_tau_before_ = more_tau_;
  k_.correct(state_, step, low, high);
  const auto back = [&](double product) {
    return std::clamp(std::clamp(product, low, high) - product, -high, high);
  };
  const auto all_back = [&](const Array& a, const Array& da, const Array& b, const Array& db) {
    return Array(((a + step * da) * (b + step * db)).unaryExpr(back));
  };
  s_.more += all_back(s_.x, s_.dx, s_.z, s_.dz);
  s_.more_wv += all_back(s_.w, s_.dw, s_.v, s_.dv);
  more_tau_ += back((tau + step * dtau_) * (kappa + step * dkappa_));
  return towards(target, keep, 1);
}

double ConeNewton::without_correction(double target, double keep) {
  all(more_) = all(more_before_);
  all(more_wv_) = all(more_wv_before_);
  s_.more = s_.more_before;
  s_.more_wv = s_.more_wv_before;
  more_tau_ = more_tau_before_;
  return towards(target, keep, 1);
}

void ConeNewton::advance(double step) {
  k_.advance(state_, step);
  all(y_) += step * all(moving_.y);
  s_.x += step * s_.dx;
  s_.z += step * s_.dz;
  s_.w += step * s_.dw;
  s_.v += step * s_.dv;
  tau += step * dtau_;
  kappa += step * dkappa_;
}

}  // namespace skewback
