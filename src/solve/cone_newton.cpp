#include "solve/cone_newton.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

namespace {

using Map = Eigen::Map<Eigen::ArrayXd>;
using ConstMap = Eigen::Map<const Eigen::ArrayXd>;

Map all(AlignedArray& a) { return {a.data(), static_cast<Eigen::Index>(a.size())}; }
ConstMap all(const AlignedArray& a) { return {a.data(), static_cast<Eigen::Index>(a.size())}; }
double largest(const AlignedArray& a) { return a.size() > 0 ? all(a).abs().maxCoeff() : 0.0; }

/// In place of the zero on the diagonal of a row that nothing but dense columns touch.
constexpr double kRegularise = 1e-13;  // of every diagonal entry; refinement takes it out
constexpr double kUntouched = 1e-6;

}  // namespace

ConeNewton::ConeNewton(const ConeData& data, std::shared_ptr<const BlockPattern> pattern,
                       const Kernels& kernels)
    : data_(data),
      kernels_(kernels),
      factor_(std::move(pattern), kernels),
      k_(data, factor_.pattern(), kernels.cone) {
  const auto lanes = static_cast<std::size_t>(data.packs() * kLanes);
  const auto rows = static_cast<std::size_t>(factor_.pattern().nodes) * kBlockRows;
  for (AlignedArray* a : {&x_, &z_, &point_, &lambda_, &dual_, &shift_, &lean_, &dz_, &dxs_, &dzs_,
                          &fixed_.x, &moving_.x, &correction_.x}) {
    *a = AlignedArray(3 * lanes);
  }
  for (AlignedArray* a : {&w_, &v_, &beta_, &upper_, &wv_, &dw_, &dv_}) *a = AlignedArray(lanes);
  D_ = AlignedArray(kDiagonal * lanes);
  for (AlignedArray* a :
       {&y_, &primal_, &work_, &left_, &aim_, &fixed_.y, &moving_.y, &correction_.y}) {
    *a = AlignedArray(rows);
  }
  state_ = {x_.data(),     z_.data(),      w_.data(),   v_.data(),        point_.data(),
            beta_.data(),  lambda_.data(), D_.data(),   dual_.data(),     upper_.data(),
            shift_.data(), lean_.data(),   wv_.data(),  moving_.x.data(), dz_.data(),
            dw_.data(),    dv_.data(),     dxs_.data(), dzs_.data()};

  const auto n = static_cast<Eigen::Index>(data.scalars.size());
  for (Array* a : {&s_.x, &s_.z, &s_.w}) *a = Array::Ones(n);
  for (Array* a : {&s_.v, &s_.cost, &s_.most, &s_.bounded, &s_.free, &s_.dual, &s_.upper, &s_.lean,
                   &s_.shift, &s_.aim, &s_.wv, &s_.dx, &s_.dz, &s_.dw, &s_.dv, &s_.weight,
                   &fixed_.scalars, &moving_.scalars, &correction_.scalars}) {
    *a = Array::Zero(n);
  }
  for (Eigen::Index i = 0; i < n; ++i) {
    const ConeScalar& scalar = data.scalars[static_cast<std::size_t>(i)];
    s_.cost[i] = scalar.cost;
    s_.free[i] = scalar.free ? 1 : 0;
    s_.bounded[i] = scalar.most > 0 ? 1 : 0;
    s_.most[i] = scalar.most;
    if (scalar.b < 0) dense_.push_back(static_cast<std::size_t>(i));
  }
  s_.z -= s_.free;
  s_.x -= s_.free;
  s_.w = (s_.bounded > 0).select((s_.most - 1).max(1.0), 1.0);
  s_.v = s_.bounded / s_.w;
  for (std::size_t i = 0; i < dense_.size(); ++i) solved_.emplace_back(rows);
  small_.resize(static_cast<Eigen::Index>(dense_.size()), static_cast<Eigen::Index>(dense_.size()));

  for (std::size_t i = 0; i < lanes; ++i) {
    const std::size_t first = i / kLanes * 3 * kLanes + i % kLanes;
    x_[first] = z_[first] = point_[first] = lambda_[first] = beta_[i] = w_[i] = 1;
    if (data.bounded[i] > 0) {
      w_[i] = std::max(1.0, data.most[i] - 1);
      v_[i] = 1 / w_[i];
    }
  }
  degree_ = data.contacts + data.bounds + (1 - s_.free).sum() + s_.bounded.sum() + 1;
}

double ConeNewton::dot_column(std::size_t s, const double* y) const {
  const ConeScalar& scalar = data_.scalars[s];
  double sum = 0;
  if (scalar.b < 0) {
    for (std::size_t i = 0; i < scalar.dense.size(); ++i) sum += scalar.dense[i] * y[i];
    return sum;
  }
  for (std::size_t r = 0; r < 6; ++r) sum += scalar.on_b[r] * y[scalar.b * kBlockRows + int(r)];
  if (scalar.a < 0) return sum;
  for (std::size_t r = 0; r < 6; ++r) sum += scalar.on_a[r] * y[scalar.a * kBlockRows + int(r)];
  return sum;
}

void ConeNewton::add_column(std::size_t s, double value, double* rows) const {
  const ConeScalar& scalar = data_.scalars[s];
  if (scalar.b < 0) {
    for (std::size_t i = 0; i < scalar.dense.size(); ++i) rows[i] += value * scalar.dense[i];
    return;
  }
  for (std::size_t r = 0; r < 6; ++r)
    rows[scalar.b * kBlockRows + int(r)] += value * scalar.on_b[r];
  if (scalar.a < 0) return;
  for (std::size_t r = 0; r < 6; ++r)
    rows[scalar.a * kBlockRows + int(r)] += value * scalar.on_a[r];
}

/// rows += sign (A x + columns scalars)
void ConeNewton::images(const AlignedArray& x, const Array& scalars, double sign,
                        AlignedArray& rows) {
  k_.gather(x.data(), sign, rows.data());
  for (Eigen::Index i = 0; i < scalars.size(); ++i) {
    add_column(static_cast<std::size_t>(i), sign * scalars[i], rows.data());
  }
}

ConeMeasures ConeNewton::residuals() {
  all(primal_) = tau * all(data_.b);
  images(x_, s_.x, -1, primal_);
  const ConeSums sums = k_.residuals(state_, y_.data(), tau);
  for (Eigen::Index i = 0; i < s_.x.size(); ++i) {
    s_.dual[i] =
        s_.cost[i] * tau - dot_column(static_cast<std::size_t>(i), y_.data()) - s_.z[i] + s_.v[i];
  }
  s_.upper = s_.bounded * (s_.most * tau - s_.x - s_.w);
  ConeMeasures m;
  m.primal = largest(primal_);
  m.upper = sums.upper_worst;
  m.dual = sums.dual_worst;
  if (s_.x.size() > 0) {
    m.upper = std::max(m.upper, s_.upper.abs().maxCoeff());
    m.dual = std::max(m.dual, s_.dual.abs().maxCoeff());
  }
  m.cost = sums.cost_x + (s_.cost * s_.x).sum();
  m.dual_cost = (all(data_.b) * all(y_)).sum() - sums.most_v - (s_.most * s_.v).sum();

  gap_ = kappa - m.dual_cost + m.cost;
  products_ =
      (sums.products + (s_.x * s_.z).sum() + (s_.bounded * s_.w * s_.v).sum() + tau * kappa) /
      degree_;
  m.products = products_;
  return m;
}

void ConeNewton::assemble() {
  factor_.set_zero();
  k_.assemble(D_.data(), factor_.block(0));
  for (std::size_t i = 0; i < data_.scalars.size(); ++i) {
    const ConeScalar& scalar = data_.scalars[i];
    if (scalar.b < 0) continue;
    const double d = 1 / s_.weight[static_cast<Eigen::Index>(i)];
    const auto add = [&](int block, const std::array<double, 6>& left,
                         const std::array<double, 6>& right) {
      double* to = factor_.block(block);
      for (std::size_t c = 0; c < 6; ++c) {
        for (std::size_t r = 0; r < 6; ++r) to[c * kBlockRows + r] += left[r] * (d * right[c]);
      }
    };
    add(scalar.block_bb, scalar.on_b, scalar.on_b);
    if (scalar.a < 0) continue;
    add(scalar.block_aa, scalar.on_a, scalar.on_a);
    add(scalar.block_ba, scalar.on_b, scalar.on_a);
  }
  const BlockPattern& pattern = factor_.pattern();
  for (int j = 0; j < pattern.nodes; ++j) {
    double* block = factor_.block(pattern.start[static_cast<std::size_t>(j)]);
    for (int r = 0; r < 6; ++r) {
      if (!data_.touched[static_cast<std::size_t>(j * kBlockRows + r)]) {
        block[r * kBlockRows + r] = kUntouched;
      }
    }
  }
}

void ConeNewton::prepare_columns() {
  for (std::size_t i = 0; i < dense_.size(); ++i) {
    all(solved_[i]) = all(data_.scalars[dense_[i]].dense);
    factor_.solve(solved_[i].data());
  }
  // Not made symmetric: S is so ill-conditioned that its inverse is not, and P'dy must be met.
  for (std::size_t i = 0; i < dense_.size(); ++i) {
    const auto r = static_cast<Eigen::Index>(i);
    for (std::size_t j = 0; j < dense_.size(); ++j) {
      small_(r, static_cast<Eigen::Index>(j)) = dot_column(dense_[i], solved_[j].data());
    }
    small_(r, r) += s_.weight[static_cast<Eigen::Index>(dense_[i])];
    if (!(small_(r, r) > 0)) small_(r, r) = 1e-12;  // a free column without entries
  }
  small_factor_.compute(small_);
}

bool ConeNewton::prepare() {
  k_.weigh(state_);
  const Array pull = s_.v / s_.w;
  s_.weight = (s_.free > 0).select(0.0, s_.z / s_.x) + pull;

  assemble();
  bool done = false;
  for (double shift = kRegularise; !done && shift < 1e-7; shift *= 100) {
    done = factor_.factorise(shift) < 0;
  }
  if (!done) return false;
  prepare_columns();

  // Near an optimum x1 = x / tau + fixed: what is beyond x / tau has small right-hand sides, so
  // that no great numbers cancel. Not where tau vanishes, on the way to a certificate or a ray.
  near_ = tau >= kappa;
  double bounds = k_.aim_tau(state_, tau, near_);
  if (near_) {
    bounds += ((2 * s_.v + pull * s_.upper) * s_.upper).sum();
    s_.lean = (2 * s_.v + pull * s_.upper - s_.dual - 2 * s_.z) / tau;
    all(aim_) = all(primal_) / tau;
  } else {
    bounds += (s_.most * s_.most * pull).sum();
    s_.lean = s_.most * pull - s_.cost;
    all(aim_) = all(data_.b);
  }
  solve(aim_, lean_, s_.lean, 2, fixed_);
  if (near_) {
    slope_ = (products_ * degree_ + bounds) / tau + (all(primal_) * all(fixed_.y)).sum() -
             dot_residuals(fixed_);
    slope_ /= tau;
  } else {
    slope_ = (all(data_.b) * all(fixed_.y)).sum() - dot_costs(fixed_) + bounds + kappa / tau;
  }
  return std::isfinite(slope_) && slope_ > 0;
}

double ConeNewton::dot_costs(const Part& part) const {
  return k_.dot_costs(state_, part.x.data()) +
         ((s_.cost + s_.v / s_.w * s_.most) * part.scalars).sum();
}

double ConeNewton::dot_residuals(const Part& part) const {
  return k_.dot_residuals(state_, part.x.data()) +
         ((s_.dual + s_.v / s_.w * s_.upper) * part.scalars).sum();
}

/// S dy + P dxp = rows, P'dy - weight dxp = -hs, for the dense columns P. rows becomes dy.
void ConeNewton::solve_core(AlignedArray& rows, const Array& hs, Array& scalars) {
  factor_.solve(rows.data());
  if (dense_.empty()) return;
  VectorX right(static_cast<Eigen::Index>(dense_.size()));
  for (std::size_t i = 0; i < dense_.size(); ++i) {
    right[static_cast<Eigen::Index>(i)] =
        dot_column(dense_[i], rows.data()) + hs[static_cast<Eigen::Index>(dense_[i])];
  }
  right = small_factor_.solve(right);
  for (std::size_t i = 0; i < dense_.size(); ++i) {
    const double value = right[static_cast<Eigen::Index>(i)];
    scalars[static_cast<Eigen::Index>(dense_[i])] = value;
    all(rows) -= value * all(solved_[i]);
  }
}

/// x = D (A'y + h) and the like for scalars, such that A x = rows; refined on that equation.
void ConeNewton::solve(const AlignedArray& rows, const AlignedArray& h, const Array& hs, int rounds,
                       Part& out) {
  all(out.y) = all(rows);
  k_.gather_scaled(D_.data(), h.data(), -1, out.y.data());
  for (std::size_t i = 0; i < data_.scalars.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    if (data_.scalars[i].b >= 0) add_column(i, -hs[at] / s_.weight[at], out.y.data());
  }
  solve_core(out.y, hs, out.scalars);
  const auto spread_sparse = [&](const AlignedArray& y, bool with_h, Array& scalars) {
    for (std::size_t i = 0; i < data_.scalars.size(); ++i) {
      const auto at = static_cast<Eigen::Index>(i);
      if (data_.scalars[i].b < 0) continue;
      scalars[at] = (dot_column(i, y.data()) + (with_h ? hs[at] : 0.0)) / s_.weight[at];
    }
  };
  k_.spread(D_.data(), out.y.data(), h.data(), out.x.data());
  spread_sparse(out.y, true, out.scalars);

  double before = std::numeric_limits<double>::infinity();
  for (int round = 0;; ++round) {
    all(left_) = all(rows);
    images(out.x, out.scalars, -1, left_);
    const double now = largest(left_);
    if (!(now < before)) {  // the last correction did harm
      if (round > 0) {
        all(out.y) -= all(correction_.y);
        all(out.x) -= all(correction_.x);
        out.scalars -= correction_.scalars;
      }
      break;
    }
    primal_left = now;
    if (round == rounds || now <= enough * std::min(1.0, tau)) break;
    Array e = Array::Zero(hs.size());
    for (const std::size_t i : dense_) {
      const auto at = static_cast<Eigen::Index>(i);
      e[at] = hs[at] + dot_column(i, out.y.data()) - s_.weight[at] * out.scalars[at];
    }
    all(correction_.y) = all(left_);
    solve_core(correction_.y, e, correction_.scalars);
    k_.spread(D_.data(), correction_.y.data(), nullptr, correction_.x.data());
    spread_sparse(correction_.y, false, correction_.scalars);
    all(out.y) += all(correction_.y);
    all(out.x) += all(correction_.x);
    out.scalars += correction_.scalars;
    before = now;
  }
}

/// The direction that keeps 1 - keep of the residuals; shift, wv and aims are set. Returns the
/// longest step.
double ConeNewton::direction(double keep, double target_tau, ConeAims aims, int rounds) {
  all(aim_) = keep * all(primal_);
  const Array pull = (s_.wv - keep * s_.v * s_.upper) / s_.w;
  s_.shift = (s_.free > 0).select(0.0, s_.aim / s_.x) - pull - keep * s_.dual;
  aims.wished += (s_.aim + s_.wv + s_.upper * pull).sum();
  aims.most_p += (s_.most * pull).sum();
  solve(aim_, shift_, s_.shift, rounds, moving_);

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

double ConeNewton::affine() {
  const ConeAims aims = k_.aim_affine(state_);
  s_.aim = -s_.x * s_.z;
  s_.wv = -s_.bounded * s_.w * s_.v;
  return direction(1, -tau * kappa, aims, 0);
}

double ConeNewton::centre(double target, double keep, double second) {
  const ConeAims aims = k_.aim_centre(state_, target, keep, second);
  s_.aim = (1 - s_.free) * (target - s_.x * s_.z - second * s_.dx * s_.dz);
  s_.wv = s_.bounded * (target - s_.w * s_.v - second * s_.dw * s_.dv);
  return direction(keep, target - tau * kappa - second * dtau_ * dkappa_, aims, 2);
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
