#include "solve/kernels.hpp"

namespace skewback {

namespace {

constexpr int kColumnsAtOnce = 2;
#include "solve/kernels_cholesky.inl"

}  // namespace

extern const Kernels* const kKernelsPlain;
static const Kernels kTable{"plain", factorise, solve, multiply, multiply_transposed};
const Kernels* const kKernelsPlain = &kTable;

}  // namespace skewback
