#include "solve/cone_newton.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

namespace {

/// In place of the zero on the diagonal of a row that nothing but dense columns touch.
constexpr double kRegularise = 1e-13;  // of every diagonal entry; refinement takes it out
constexpr double kUntouched = 1e-6;
constexpr double kLoose =
    1e-3;  // of the residual of rows: as closely as a direction need take it out
/// Where contacts start: x = kAhead, z = 1 / kAhead. Both fall short of their last values with the
/// products; those of a reduced cost that is not met weigh more.
constexpr double kAhead = 10;

}  // namespace

ConeNewton::ConeNewton(const ConeData& data, std::shared_ptr<const BlockPattern> pattern,
                       const Kernels& kernels)
    : data_(data),
      kernels_(kernels),
      factor_(std::move(pattern), kernels, true),
      directions_(static_cast<std::size_t>(data.packs()) * 12 * kLanes),
      k_(data, factor_.pattern(), kernels.cone, directions_.data()) {
  const auto lanes = static_cast<std::size_t>(data.packs() * kLanes);
  const auto rows = static_cast<std::size_t>(factor_.pattern().nodes) * kBlockRows;
  for (AlignedArray* a :
       {&x_, &z_, &point_, &lambda_, &dual_, &shift_, &lean_, &more_, &more_before_, &fixed_x_}) {
    *a = AlignedArray(3 * lanes);
  }
  for (AlignedArray* a : {&w_, &v_, &beta_, &upper_}) *a = AlignedArray(lanes);
  if (data.bounds > 0) {
    for (AlignedArray* a : {&wv_, &more_wv_, &more_wv_before_, &dw_, &dv_})
      *a = AlignedArray(lanes);
  }
  // without bounds all of these stay zero: one array serves
  const auto bound = [&](AlignedArray& a) { return data.bounds > 0 ? a.data() : upper_.data(); };
  D_ = AlignedArray(kDiagonal * lanes);
  for (AlignedArray* a : {&y_, &primal_, &left_, &aim_, &fixed_.y, &moving_.y, &correction_.y}) {
    *a = AlignedArray(rows);
  }
  static_assert(12 * kLanes >= kTightSize);
  const std::span<double> directions(directions_.data(), directions_.size());
  const auto part = [&](std::size_t i) { return directions.subspan(i * 3 * lanes, 3 * lanes); };
  fixed_.x = {fixed_x_.data(), fixed_x_.size()};
  moving_.x = part(0);
  correction_.x = part(1);  // dz is made after the last correction
  state_ = {x_.data(),        z_.data(),      w_.data(),  v_.data(),    point_.data(),
            beta_.data(),     lambda_.data(), D_.data(),  dual_.data(), upper_.data(),
            shift_.data(),    lean_.data(),   bound(wv_), more_.data(), bound(more_wv_),
            moving_.x.data(), part(1).data(), bound(dw_), bound(dv_),   part(2).data(),
            part(3).data()};

  const auto n = static_cast<Eigen::Index>(data.scalars.size());
  for (Array* a : {&s_.x, &s_.z, &s_.w}) *a = Array::Ones(n);
  for (Array* a : {&s_.v,           &s_.cost,         &s_.most,
                   &s_.bounded,     &s_.free,         &s_.dual,
                   &s_.upper,       &s_.lean,         &s_.shift,
                   &s_.aim,         &s_.wv,           &s_.more,
                   &s_.more_wv,     &s_.dx,           &s_.dz,
                   &s_.dw,          &s_.dv,           &s_.weight,
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
    const double ahead = data.mask[i] > 0 ? kAhead : 1.0;
    x_[first] = beta_[i] = ahead;
    z_[first] = 1 / ahead;
    point_[first] = lambda_[first] = w_[i] = 1;
    if (data.bounded[i] > 0) {
      w_[i] = std::max(1.0, data.most[i] - ahead);
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
void ConeNewton::images(std::span<const double> x, const Array& scalars, double sign,
                        AlignedArray& rows) {
  k_.gather(x.data(), sign, rows.data());
  for (Eigen::Index i = 0; i < scalars.size(); ++i) {
    add_column(static_cast<std::size_t>(i), sign * scalars[i], rows.data());
  }
}

ConeMeasures ConeNewton::residuals() {
  all(primal_) = tau * all(data_.b);
  images({x_.data(), x_.size()}, s_.x, -1, primal_);
  const ConeSums sums = k_.residuals(state_, y_.data(), tau);
  for (Eigen::Index i = 0; i < s_.x.size(); ++i) {
    s_.dual[i] =
        s_.cost[i] * tau - dot_column(static_cast<std::size_t>(i), y_.data()) - s_.z[i] + s_.v[i];
  }
  s_.upper = s_.bounded * (s_.most * tau - s_.x - s_.w);
  ConeMeasures m;
  m.primal = primal_most_ = largest(primal_);
  m.upper = sums.upper_worst;
  m.dual = sums.dual_worst;
  if (s_.x.size() > 0) {
    m.upper = std::max(m.upper, s_.upper.abs().maxCoeff());
    m.dual = std::max(m.dual, s_.dual.abs().maxCoeff());
  }
  m.worth = sums.worth + (all(primal_) * all(y_)).abs().sum() + (s_.dual * s_.x).abs().sum() +
            (s_.upper * s_.v).abs().sum();
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
  factor_.clear_placed();
  k_.assemble(D_.data(), factor_.placed());
  const auto block_at = [&](int k) {
    return factor_.placed() + static_cast<std::size_t>(k) * kTightSize;
  };
  for (std::size_t i = 0; i < data_.scalars.size(); ++i) {
    const ConeScalar& scalar = data_.scalars[i];
    if (scalar.b < 0) continue;
    const double d = 1 / s_.weight[static_cast<Eigen::Index>(i)];
    const auto add = [&](int block, const std::array<double, 6>& left,
                         const std::array<double, 6>& right) {
      double* to = block_at(block);
      for (std::size_t c = 0; c < 6; ++c) {
        for (std::size_t r = 0; r < 6; ++r) to[c * kTightRows + r] += left[r] * (d * right[c]);
      }
    };
    add(scalar.block_bb, scalar.on_b, scalar.on_b);
    if (scalar.a < 0) continue;
    add(scalar.block_aa, scalar.on_a, scalar.on_a);
    add(scalar.block_ba, scalar.on_b, scalar.on_a);
  }
  const BlockPattern& pattern = factor_.pattern();
  for (int j = 0; j < pattern.nodes; ++j) {
    const int diagonal = pattern.start[static_cast<std::size_t>(j)];
    double* block = block_at(pattern.in_panel[static_cast<std::size_t>(diagonal)]);
    for (int r = 0; r < 6; ++r) {
      if (!data_.touched[static_cast<std::size_t>(j * kBlockRows + r)]) {
        block[r * kTightRows + r] = kUntouched;
      }
    }
  }
}

/// Right-hand sides of the part of the direction that goes with tau, and what bounds add to the
/// slope of the gap equation.
double ConeNewton::aim_tau() {
  // Near an optimum x1 = x / tau + fixed: what is beyond x / tau has small right-hand sides, so
  // that no great numbers cancel. Not where tau vanishes, on the way to a certificate or a ray.
  near_ = tau >= kappa;
  const Array pull = s_.v / s_.w;
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
  return bounds;
}

bool ConeNewton::prepare() {
  k_.weigh(state_);
  s_.weight = (s_.free > 0).select(0.0, s_.z / s_.x) + s_.v / s_.w;

  bool done = false;
  for (double shift = kRegularise; !done && shift < 1e-7; shift *= 100) {
    assemble();
    done = factor_.factorise_placed(shift) < 0;
  }
  if (!done) return false;

  std::vector<double*> sides;
  for (std::size_t i = 0; i < dense_.size(); ++i) {
    all(solved_[i]) = all(data_.scalars[dense_[i]].dense);
    sides.push_back(solved_[i].data());
  }
  const double bounds = aim_tau();
  load(aim_, lean_, s_.lean, fixed_);
  aim_affine();
  load(primal_, shift_, s_.shift, moving_);
  sides.push_back(fixed_.y.data());
  sides.push_back(moving_.y.data());
  factor_.solve_all(sides);

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

  finish(aim_, lean_, s_.lean, 2, fixed_);
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
/// rows are S^-1 of what they should be without P.
void ConeNewton::put_dense(AlignedArray& rows, const Array& hs, Array& scalars) {
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

/// x = D (A'y + h) and the like for scalars, such that A x = rows: the right-hand side for S.
void ConeNewton::load(const AlignedArray& rows, const AlignedArray& h, const Array& hs, Part& out) {
  all(out.y) = all(rows);
  k_.gather_scaled(D_.data(), h.data(), -1, out.y.data());
  for (std::size_t i = 0; i < data_.scalars.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    if (data_.scalars[i].b >= 0) add_column(i, -hs[at] / s_.weight[at], out.y.data());
  }
}

/// The rest, once S is solved; refined on that equation.
void ConeNewton::finish(const AlignedArray& rows, const AlignedArray& h, const Array& hs,
                        int rounds, Part& out) {
  put_dense(out.y, hs, out.scalars);
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
    if (round == rounds || now <= std::max(enough * std::min(1.0, tau), kLoose * primal_most_)) {
      break;
    }
    Array e = Array::Zero(hs.size());
    for (const std::size_t i : dense_) {
      const auto at = static_cast<Eigen::Index>(i);
      e[at] = hs[at] + dot_column(i, out.y.data()) - s_.weight[at] * out.scalars[at];
    }
    all(correction_.y) = all(left_);
    factor_.solve(correction_.y.data());
    put_dense(correction_.y, e, correction_.scalars);
    k_.spread(D_.data(), correction_.y.data(), nullptr, correction_.x.data());
    spread_sparse(correction_.y, false, correction_.scalars);
    all(out.y) += all(correction_.y);
    all(out.x) += all(correction_.x);
    out.scalars += correction_.scalars;
    before = now;
  }
}

}  // namespace skewback
