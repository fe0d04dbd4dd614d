#pragma once
// Least squares with x >= 0. Private to ground/.

#include <Eigen/Core>

namespace skewback {

/// min |A x - b| subject to x >= 0 (Lawson and Hanson 1974, chapter 23). Dense and small.
[[nodiscard]] Eigen::VectorXd nnls(const Eigen::MatrixXd& A, const Eigen::VectorXd& b);

}  // namespace skewback
