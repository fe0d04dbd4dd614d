#include <Eigen/SVD>
#include <cassert>

#include "survey/survey.hpp"

namespace skewback {
namespace {

using Points = Eigen::Matrix3Xd;

Points columns(const std::vector<Vec3>& points) {
  Points out(3, static_cast<int>(points.size()));
  for (int i = 0; i < out.cols(); ++i) out.col(i) = points[i];
  return out;
}

bool on_a_line(const Points& centred) {
  const Eigen::JacobiSVD<Points> svd(centred);
  return svd.singularValues()[1] <= 1e-9 * svd.singularValues()[0];
}

void add_residuals(const std::vector<Vec3>& designed, const std::vector<Vec3>& measured,
                   RigidFit& fit) {
  double squares = 0;
  for (std::size_t i = 0; i < designed.size(); ++i) {
    const double off = (measured[i] - fit.X(designed[i])).norm();
    squares += off * off;
    if (fit.worst < 0 || off > fit.worst_m) {
      fit.worst = static_cast<int>(i);
      fit.worst_m = off;
    }
  }
  if (!designed.empty()) fit.rms_m = std::sqrt(squares / static_cast<double>(designed.size()));
}

}  // namespace

RigidFit fit_rigid(const std::vector<Vec3>& designed, const std::vector<Vec3>& measured) {
  assert(designed.size() == measured.size());
  RigidFit fit;
  if (designed.empty()) {
    fit.reason = "no points";
    return fit;
  }
  const Points x = columns(designed), y = columns(measured);
  const Vec3 from = x.rowwise().mean(), to = y.rowwise().mean();
  const Points x0 = x.colwise() - from, y0 = y.colwise() - to;
  if (designed.size() < 3) {
    fit.reason = "fewer than three points leave a turn undetermined";
  } else if (on_a_line(x0) || on_a_line(y0)) {
    fit.reason = "the points lie on one line, a turn about it is undetermined";
  } else {
    const Eigen::JacobiSVD<Mat3> svd(Mat3(y0 * x0.transpose()),
                                     Eigen::ComputeFullU | Eigen::ComputeFullV);
    const Mat3 &U = svd.matrixU(), &V = svd.matrixV();
    const double hand = U.determinant() * V.determinant() < 0 ? -1 : 1;
    fit.X.R = U * Vec3(1, 1, hand).asDiagonal() * V.transpose();
    fit.determined = true;
  }
  fit.X.t = to - fit.X.R * from;
  add_residuals(designed, measured, fit);
  return fit;
}

}  // namespace skewback
