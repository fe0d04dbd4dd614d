#include <cmath>

#include "motion/touch.hpp"
#if defined(__x86_64__) && defined(__GNUC__)
#include <immintrin.h>
#endif

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#pragma GCC target("avx512f,avx512dq,avx512vl,avx512bw")  // after all headers: nothing of theirs
                                                          // may be compiled for it
#define SKEWBACK_WIDTH 8
#endif

namespace skewback::motion {

extern const TouchKernel* const kTouchAvx512;
#ifdef SKEWBACK_WIDTH
namespace {

#include "motion/kernel.inl"

constexpr TouchKernel kTable{"avx512", touch_points<false>, touch_points<true>};

}  // namespace
const TouchKernel* const kTouchAvx512 = &kTable;
#else
const TouchKernel* const kTouchAvx512 = nullptr;
#endif

}  // namespace skewback::motion
