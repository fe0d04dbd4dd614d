#include "solve/normal_matrix.hpp"

#include <algorithm>

namespace skewback {

namespace {

bool same_rows(const SparseMatrix& A, Eigen::Index j, Eigen::Index k) {
  const int *start = A.outerIndexPtr(), *row = A.innerIndexPtr();
  return std::equal(row + start[j], row + start[j + 1], row + start[k], row + start[k + 1]);
}

SparseMatrix lower_pattern(const SparseMatrix& A) {
  std::vector<std::vector<int>> rows(static_cast<std::size_t>(A.rows()));
  const int* index = A.innerIndexPtr();
  for (Eigen::Index j = 0; j < A.cols(); ++j) {
    if (j > 0 && same_rows(A, j, j - 1)) continue;  // neighbours often share theirs
    const int end = A.outerIndexPtr()[j + 1];
    for (int p = A.outerIndexPtr()[j]; p < end; ++p) {
      auto& column = rows[static_cast<std::size_t>(index[p])];
      column.insert(column.end(), index + p, index + end);
    }
  }
  std::vector<Eigen::Triplet<double>> entries;
  for (std::size_t k = 0; k < rows.size(); ++k) {
    rows[k].push_back(static_cast<int>(k));
    std::sort(rows[k].begin(), rows[k].end());
    rows[k].erase(std::unique(rows[k].begin(), rows[k].end()), rows[k].end());
    for (const int i : rows[k]) entries.emplace_back(i, static_cast<int>(k), 0.0);
  }
  SparseMatrix S(A.rows(), A.rows());
  S.setFromTriplets(entries.begin(), entries.end());
  S.makeCompressed();
  return S;
}

}  // namespace

NormalMatrix::NormalMatrix(const SparseMatrix& A) : A_(A), S_(lower_pattern(A)) {
  const int *index = A.innerIndexPtr(), *begin = A.outerIndexPtr();
  const int *start = S_.outerIndexPtr(), *row = S_.innerIndexPtr();
  std::size_t products = 0;
  for (Eigen::Index j = 0; j < A.cols(); ++j) {
    const auto n = static_cast<std::size_t>(begin[j + 1] - begin[j]);
    products += n * (n + 1) / 2;
  }
  place_.reserve(products);
  for (Eigen::Index j = 0; j < A.cols(); ++j) {
    if (j > 0 && same_rows(A, j, j - 1)) {
      const auto n = static_cast<std::size_t>(begin[j + 1] - begin[j]);
      const std::size_t from = place_.size() - n * (n + 1) / 2, to = place_.size();
      for (std::size_t i = from; i < to; ++i) place_.push_back(place_[i]);
      continue;
    }
    for (int p = begin[j]; p < begin[j + 1]; ++p) {
      const int k = index[p];
      const int* from = row + start[k];
      for (int q = p; q < begin[j + 1]; ++q) {  // rows of a column ascend: the search only moves on
        from = std::lower_bound(from, row + start[k + 1], index[q]);
        place_.push_back(static_cast<int>(from - row));
      }
    }
  }
  diagonal_.assign(start, start + S_.cols());  // the first entry of each column of a lower triangle
}

const SparseMatrix& NormalMatrix::form(const VectorX& d) {
  double* S = S_.valuePtr();
  std::fill(S, S + S_.nonZeros(), 0.0);
  const double* value = A_.valuePtr();
  const int* place = place_.data();
  for (Eigen::Index j = 0; j < A_.cols(); ++j) {
    const int end = A_.outerIndexPtr()[j + 1];
    for (int p = A_.outerIndexPtr()[j]; p < end; ++p) {
      const double scaled = d[j] * value[p];
      for (int q = p; q < end; ++q) S[*place++] += scaled * value[q];
    }
  }
  return S_;
}

const SparseMatrix& NormalMatrix::shift(double amount) {
  for (const int at : diagonal_) S_.valuePtr()[at] += amount;
  return S_;
}

}  // namespace skewback
