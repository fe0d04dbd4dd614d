#pragma once
// Private to solve/: a linear program rewritten for the interior point.

#include <vector>

#include "solve/solve.hpp"

namespace skewback {

/// minimise c'x  subject to  A x = b,  0 <= x <= upper (infinite allowed).
/// Free variables become a difference of two; a column with many entries is split into copies that
/// follow each other by link rows, so that it does not fill A A'.
struct StandardForm {
  SparseMatrix A;
  VectorX b, c, upper;

  struct Origin {  // x_original[variable] += sign * x[column]
    Eigen::Index variable = 0;
    double sign = 1;
  };
  std::vector<Origin> origin;  // per column; variable -1 for the copies of a split column
  VectorX shift;               // added to the original variables
};

[[nodiscard]] StandardForm standard_form(const LinearProgram& program);
[[nodiscard]] VectorX original_x(const StandardForm& form, const VectorX& x);

}  // namespace skewback
