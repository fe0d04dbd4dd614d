#include "solve/kernels.hpp"

namespace skewback {

namespace {

constexpr int kColumnsAtOnce = 2;
#include "solve/kernels_cholesky.inl"
#include "solve/kernels_products.inl"
//
#include "solve/kernels_cone.inl"

}  // namespace

extern const Kernels* const kKernelsPlain;
static const Kernels kTable{
    "plain",
    factorise,
    solve,
    multiply,
    multiply_transposed,
    {transposed, gather, spread, gather_scaled, assemble, weigh, residuals, aim_tau, aim_affine,
     aim_centre, dot_residuals, dot_costs, direct, advance}};
const Kernels* const kKernelsPlain = &kTable;

}  // namespace skewback
