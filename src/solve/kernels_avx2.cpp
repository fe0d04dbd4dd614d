#include "solve/kernels.hpp"

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#pragma GCC target("avx2,fma")  // after all headers: nothing of theirs may be compiled for it
#define SKEWBACK_KERNELS 1
#endif

namespace skewback {

#ifdef SKEWBACK_KERNELS
namespace {

constexpr int kColumnsAtOnce = 6;
#include "solve/kernels_cholesky.inl"
#include "solve/kernels_lu.inl"
#include "solve/kernels_products.inl"
//
#include "solve/kernels_cone.inl"
#include "solve/kernels_lanes.inl"

}  // namespace

extern const Kernels* const kKernelsAvx2;
static constexpr const char* kName = "avx2";
#include "solve/kernels_table.inl"
const Kernels* const kKernelsAvx2 = &kTable;
#else
extern const Kernels* const kKernelsAvx2;
const Kernels* const kKernelsAvx2 = nullptr;
#endif

}  // namespace skewback
