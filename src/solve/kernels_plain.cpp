#include "solve/kernels.hpp"

namespace skewback {

namespace {

constexpr int kColumnsAtOnce = 2;
#include "solve/kernels_cholesky.inl"
#include "solve/kernels_lu.inl"
#include "solve/kernels_products.inl"
//
#include "solve/kernels_cone.inl"
#include "solve/kernels_lanes.inl"

}  // namespace

extern const Kernels* const kKernelsPlain;
static constexpr const char* kName = "plain";
#include "solve/kernels_table.inl"
const Kernels* const kKernelsPlain = &kTable;

}  // namespace skewback
