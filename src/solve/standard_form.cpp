#include "solve/standard_form.hpp"

#include <cmath>

namespace skewback {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kNoBound = 1e300;
constexpr int kManyEntries = 48;  // a column longer than this is split
constexpr int kPieceEntries = 12;

struct Builder {
  StandardForm form;
  std::vector<Eigen::Triplet<double>> entries;
  std::vector<double> c, upper;
  Eigen::Index rows = 0;

  Eigen::Index add(double cost, double limit, StandardForm::Origin origin) {
    c.push_back(cost);
    upper.push_back(limit);
    form.origin.push_back(origin);
    return static_cast<Eigen::Index>(c.size()) - 1;
  }

  void add_column(const SparseMatrix& A, Eigen::Index j, double sign, double cost, double limit) {
    Eigen::Index column = add(sign * cost, limit, {j, sign});
    const bool split = A.innerVector(j).nonZeros() > kManyEntries;
    int held = 0;
    for (SparseMatrix::InnerIterator it(A, j); it; ++it) {
      if (split && held == kPieceEntries) {
        const Eigen::Index next = add(0, limit, {-1, sign});
        entries.emplace_back(rows, column, 1.0);
        entries.emplace_back(rows, next, -1.0);
        ++rows;
        column = next;
        held = 0;
      }
      entries.emplace_back(it.row(), column, sign * it.value());
      ++held;
    }
  }
};

VectorX vector_of(const std::vector<double>& values) {
  return Eigen::Map<const VectorX>(values.data(), static_cast<Eigen::Index>(values.size()));
}

}  // namespace

StandardForm standard_form(const LinearProgram& lp) {
  Builder build;
  build.rows = lp.A.rows();
  VectorX shift = VectorX::Zero(lp.A.cols());
  for (Eigen::Index j = 0; j < lp.A.cols(); ++j) {
    const bool low = lp.lower[j] > -kNoBound, high = lp.upper[j] < kNoBound;
    if (low) {
      shift[j] = lp.lower[j];
      build.add_column(lp.A, j, 1, lp.c[j], high ? lp.upper[j] - lp.lower[j] : kInfinity);
    } else if (high) {
      shift[j] = lp.upper[j];
      build.add_column(lp.A, j, -1, lp.c[j], kInfinity);
    } else {
      build.add_column(lp.A, j, 1, lp.c[j], kInfinity);
      build.add_column(lp.A, j, -1, lp.c[j], kInfinity);
    }
  }
  StandardForm form = std::move(build.form);
  form.c = vector_of(build.c);
  form.upper = vector_of(build.upper);
  form.b = VectorX::Zero(build.rows);
  form.b.head(lp.b.size()) = lp.b - lp.A * shift;
  form.A.resize(build.rows, form.c.size());
  form.A.setFromTriplets(build.entries.begin(), build.entries.end());
  form.shift = shift;
  return form;
}

VectorX original_x(const StandardForm& form, const VectorX& x) {
  VectorX original = form.shift;
  for (std::size_t j = 0; j < form.origin.size(); ++j) {
    const StandardForm::Origin& o = form.origin[j];
    if (o.variable >= 0) original[o.variable] += o.sign * x[static_cast<Eigen::Index>(j)];
  }
  return original;
}

}  // namespace skewback
