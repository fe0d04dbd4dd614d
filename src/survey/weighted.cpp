#include "survey/weighted.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/SVD>
#include <cmath>
#include <numbers>

namespace skewback {
namespace {

using Mat6 = Eigen::Matrix<double, 6, 6>;
using Row6 = Eigen::Matrix<double, 3, 6>;

double weight(const PointPairs& pairs, std::size_t i) {
  return 1 / (pairs.accuracy_m[i] * pairs.accuracy_m[i]);
}

struct Centred {
  Vec3 from = Vec3::Zero(), to = Vec3::Zero();
  Mat3 cross = Mat3::Zero(), spread = Mat3::Zero(), spread_measured = Mat3::Zero();
  int used = 0;
};

Centred centred(const PointPairs& pairs, const std::vector<char>& used) {
  Centred out;
  double sum = 0;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (!used[i]) continue;
    const double w = weight(pairs, i);
    out.from += w * pairs.designed[i];
    out.to += w * pairs.measured[i];
    sum += w;
    ++out.used;
  }
  if (out.used == 0) return out;
  out.from /= sum;
  out.to /= sum;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (!used[i]) continue;
    const double w = weight(pairs, i);
    const Vec3 x = pairs.designed[i] - out.from, y = pairs.measured[i] - out.to;
    out.cross += w * y * x.transpose();
    out.spread += w * x * x.transpose();
    out.spread_measured += w * y * y.transpose();
  }
  return out;
}

double off_line(const Mat3& spread) {
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(spread);
  return std::sqrt(std::max(0.0, eigen.eigenvalues()[0] + eigen.eigenvalues()[1]));
}

/// Movement of a measured point with the shift and the small turn about the centre.
Row6 jacobian(const Vec3& arm) {
  Row6 J;
  J.leftCols<3>().setIdentity();
  J.rightCols<3>() << 0, arm.z(), -arm.y(), -arm.z(), 0, arm.x(), arm.y(), -arm.x(), 0;
  return J;
}

struct Normal {
  Vec3 about = Vec3::Zero();
  Mat6 inverse = Mat6::Zero();
};
Normal normal_equations(const PointPairs& pairs, const std::vector<char>& used, const Rigid& X) {
  Normal out;
  out.about = X(centred(pairs, used).from);
  Mat6 N = Mat6::Zero();
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (!used[i]) continue;
    const Row6 J = jacobian(X(pairs.designed[i]) - out.about);
    N += weight(pairs, i) * J.transpose() * J;
  }
  out.inverse = N.ldlt().solve(Mat6::Identity());
  return out;
}

Mat3 least_turn(const Mat3& cross) {
  const Eigen::JacobiSVD<Mat3> svd(cross, Eigen::ComputeFullU | Eigen::ComputeFullV);
  return Eigen::Quaterniond::FromTwoVectors(svd.matrixV().col(0), svd.matrixU().col(0))
      .toRotationMatrix();
}

}  // namespace

WeightedFit weighted_fit(const PointPairs& pairs, const std::vector<char>& used, Hand hand) {
  WeightedFit fit;
  const Centred c = centred(pairs, used);
  fit.used = c.used;
  if (c.used == 0) return fit;
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(c.spread);
  fit.along = eigen.eigenvectors().col(2);
  fit.off_line = off_line(c.spread);
  fit.off_plane = std::sqrt(std::max(0.0, eigen.eigenvalues()[0]));
  const bool line = std::min(fit.off_line, off_line(c.spread_measured)) <=
                    std::max(kSpread, 1e-9 * std::sqrt(eigen.eigenvalues()[2]));
  fit.determined = c.used >= 3 && !line;
  if (fit.determined) {
    const Eigen::JacobiSVD<Mat3> svd(c.cross, Eigen::ComputeFullU | Eigen::ComputeFullV);
    double sign = svd.matrixU().determinant() * svd.matrixV().determinant() < 0 ? -1 : 1;
    if (hand == Hand::kMirror) sign = -sign;
    fit.X.R = svd.matrixU() * Vec3(1, 1, sign).asDiagonal() * svd.matrixV().transpose();
    const Vec3& s = svd.singularValues();
    fit.scale = (s[0] + s[1] + sign * s[2]) / c.spread.trace();
  } else if (c.used >= 2 && c.cross.norm() > 0) {
    fit.X.R = least_turn(c.cross);
  }
  fit.X.t = c.to - fit.X.R * c.from;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (!used[i]) continue;
    fit.squares += weight(pairs, i) * (pairs.measured[i] - fit.X(pairs.designed[i])).squaredNorm();
  }
  return fit;
}

std::vector<PointTest> point_tests(const PointPairs& pairs, const std::vector<char>& used,
                                   const Rigid& X) {
  constexpr double kHeld = 1e-6;  // share of the accuracy's variance left: that way nothing checks
  const Normal normal = normal_equations(pairs, used, X);
  std::vector<PointTest> out(pairs.size());
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    if (!used[i]) continue;
    const double variance = pairs.accuracy_m[i] * pairs.accuracy_m[i];
    const Row6 J = jacobian(X(pairs.designed[i]) - normal.about);
    const Mat3 Q = variance * Mat3::Identity() - J * normal.inverse * J.transpose();
    const Eigen::SelfAdjointEigenSolver<Mat3> eigen(Q);
    const Vec3 r = eigen.eigenvectors().transpose() * (pairs.measured[i] - X(pairs.designed[i]));
    for (int k = 0; k < 3; ++k) {
      if (eigen.eigenvalues()[k] <= kHeld * variance) continue;
      out[i].squares += r[k] * r[k] / eigen.eigenvalues()[k];
      ++out[i].rank;
    }
  }
  return out;
}

double turn_deviation(const PointPairs& pairs, const std::vector<char>& used, const Rigid& X) {
  const Mat3 turn = normal_equations(pairs, used, X).inverse.bottomRightCorner<3, 3>();
  return std::sqrt(Eigen::SelfAdjointEigenSolver<Mat3>(turn).eigenvalues()[2]);
}

double as_deviations(double squares, int freedom) {
  if (freedom <= 0 || squares <= 0) return 0;
  if (freedom > 3) {
    const double v = 2.0 / (9.0 * freedom);
    return (std::cbrt(squares / freedom) - (1 - v)) / std::sqrt(v);
  }
  const double root = std::sqrt(squares);
  if (freedom == 1) return root;
  // Survival functions of chi-square with 2 and 3 degrees of freedom.
  const double bell = std::exp(-squares / 2);
  const double rare = freedom == 2 ? bell
                                   : std::erfc(root / std::numbers::sqrt2) +
                                         std::sqrt(2 / std::numbers::pi) * root * bell;
  if (rare < 1e-280) return root;
  double low = 0, high = root;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (std::erfc(middle / std::numbers::sqrt2) > rare ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace skewback
