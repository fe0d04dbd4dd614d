#include "strength/plate.hpp"

#include <Eigen/Cholesky>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr int kAcross = 12;  // functions
constexpr int kGauss = 24;   // exact for all their products

struct GaussRule {
  std::vector<double> at, weight;  // on -1 to 1
};

const GaussRule& gauss() {
  static const GaussRule rule = [] {
    GaussRule out;
    for (int i = 0; i < kGauss; ++i) {
      double x = std::cos(kPi * (i + 0.75) / (kGauss + 0.5)), slope = 1;
      for (int round = 0; round < 50; ++round) {
        double p0 = 1, p1 = x;
        for (int n = 2; n <= kGauss; ++n) {
          const double p2 = ((2 * n - 1) * x * p1 - (n - 1) * p0) / n;
          p0 = p1;
          p1 = p2;
        }
        slope = kGauss * (x * p1 - p0) / (x * x - 1);
        x -= p1 / slope;
      }
      out.at.push_back(x);
      out.weight.push_back(2 / ((1 - x * x) * slope * slope));
    }
    return out;
  }();
  return rule;
}

/// Legendre polynomials and their first and second derivatives, as columns.
Eigen::MatrixXd legendre(int count, double s) {
  Eigen::MatrixXd P(count, 3);
  for (int n = 0; n < count; ++n) {
    if (n == 0) {
      P.row(0) << 1, 0, 0;
    } else if (n == 1) {
      P.row(1) << s, 1, 0;
    } else {
      P(n, 0) = ((2 * n - 1) * s * P(n - 1, 0) - (n - 1) * P(n - 2, 0)) / n;
      P(n, 1) = P(n - 2, 1) + (2 * n - 1) * P(n - 1, 0);
      P(n, 2) = P(n - 2, 2) + (2 * n - 1) * P(n - 1, 1);
    }
  }
  return P;
}

}  // namespace

/// (1 - s^2) or its square times P_i(s), s = 2 x / span.
Plate::Values Plate::across(double x) const {
  const double a = 2 / shape_.span_m, s = a * x, u = 1 - s * s;
  const Eigen::MatrixXd P = legendre(kAcross, s);
  const double b = clamped_ ? u * u : u, b1 = clamped_ ? -4 * s * u : -2 * s,
               b2 = clamped_ ? 12 * s * s - 4 : -2;
  return {b * P.col(0), a * (b1 * P.col(0) + b * P.col(1)),
          a * a * (b2 * P.col(0) + 2 * b1 * P.col(1) + b * P.col(2))};
}

Plate::Values Plate::along(double y) const {
  const double a = 2 / shape_.length_m;
  const Eigen::MatrixXd P = legendre(shape_.along, a * y - 1);
  return {P.col(0), a * P.col(1), a * a * P.col(2)};
}

Plate::Plate(const PlateShape& shape)
    : shape_(shape), clamped_(!shape.left.has_value() && !shape.right.has_value()) {
  using Eigen::MatrixXd;
  MatrixXd x00 = MatrixXd::Zero(kAcross, kAcross), x11 = x00, x22 = x00, x20 = x00;
  const int n = shape.along;
  MatrixXd y00 = MatrixXd::Zero(n, n), y11 = y00, y22 = y00, y20 = y00;
  const GaussRule& rule = gauss();
  for (std::size_t i = 0; i < rule.at.size(); ++i) {
    const double wx = rule.weight[i] * shape.span_m / 2, wy = rule.weight[i] * shape.length_m / 2;
    const Values X = across(rule.at[i] * shape.span_m / 2),
                 Y = along((rule.at[i] + 1) * shape.length_m / 2);
    x00 += wx * X.f * X.f.transpose();
    x11 += wx * X.d1 * X.d1.transpose();
    x22 += wx * X.d2 * X.d2.transpose();
    x20 += wx * X.d2 * X.f.transpose();
    y00 += wy * Y.f * Y.f.transpose();
    y11 += wy * Y.d1 * Y.d1.transpose();
    y22 += wy * Y.d2 * Y.d2.transpose();
    y20 += wy * Y.d2 * Y.f.transpose();
  }
  if (!clamped_) {
    const auto edge = [&](double x, const std::optional<double>& turning) {
      const Values X = across(x);
      // one side clamped, the other not: so stiff that it makes no difference
      x22 += turning.value_or(1e6) / shape.span_m * X.d1 * X.d1.transpose();
    };
    edge(-shape.span_m / 2, shape.left);
    edge(shape.span_m / 2, shape.right);
  }
  const double nu = shape.poisson;
  MatrixXd K(kAcross * n, kAcross * n);
  for (int j = 0; j < n; ++j) {
    for (int l = 0; l < n; ++l) {
      K.block(j * kAcross, l * kAcross, kAcross, kAcross) =
          x22 * y00(j, l) + x00 * y22(j, l) + nu * (x20 * y20(l, j) + x20.transpose() * y20(j, l)) +
          2 * (1 - nu) * x11 * y11(j, l);
    }
  }
  factor_ = K.llt().matrixL();
  shares_ = Eigen::VectorXd::Zero(K.rows());
}

void Plate::load(const PlatePatch& patch) {
  const double x0 = std::max(patch.low.x(), -shape_.span_m / 2),
               x1 = std::min(patch.high.x(), shape_.span_m / 2), y0 = std::max(patch.low.y(), 0.0),
               y1 = std::min(patch.high.y(), shape_.length_m);
  Eigen::VectorXd X = Eigen::VectorXd::Zero(kAcross), Y = Eigen::VectorXd::Zero(shape_.along);
  const GaussRule& rule = gauss();
  for (std::size_t i = 0; i < rule.at.size(); ++i) {
    const double s = (rule.at[i] + 1) / 2;
    X += rule.weight[i] / 2 * std::max(x1 - x0, 0.0) * across(x0 + s * (x1 - x0)).f;
    Y += rule.weight[i] / 2 * std::max(y1 - y0, 0.0) * along(y0 + s * (y1 - y0)).f;
  }
  Eigen::VectorXd force(kAcross * shape_.along);
  for (int j = 0; j < shape_.along; ++j)
    force.segment(j * kAcross, kAcross) = patch.q_pa * Y[j] * X;
  factor_.triangularView<Eigen::Lower>().solveInPlace(force);
  factor_.transpose().triangularView<Eigen::Upper>().solveInPlace(force);
  shares_ = force;
}

PlateBending Plate::bending(const Vec2& p) const {
  const Values X = across(p.x()), Y = along(p.y());
  double w_xx = 0, w_yy = 0;
  for (int j = 0; j < shape_.along; ++j) {
    const auto a = shares_.segment(j * kAcross, kAcross);
    w_xx += Y.f[j] * a.dot(X.d2);
    w_yy += Y.d2[j] * a.dot(X.f);
  }
  const double nu = shape_.poisson;
  return {-(w_xx + nu * w_yy), -(w_yy + nu * w_xx)};
}

double Plate::deflection(const Vec2& p) const {
  const Values X = across(p.x()), Y = along(p.y());
  double w = 0;
  for (int j = 0; j < shape_.along; ++j)
    w += Y.f[j] * shares_.segment(j * kAcross, kAcross).dot(X.f);
  return w;
}

}  // namespace skewback
