#include <cmath>

#include "motion/touch.hpp"
#if defined(__x86_64__) && defined(__GNUC__)
#include <immintrin.h>
#endif

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#pragma GCC target("avx2")  // after all headers: nothing of theirs may be compiled for it
#define SKEWBACK_WIDTH 4
#endif

namespace skewback::motion {

extern const TouchKernel* const kTouchAvx2;
#ifdef SKEWBACK_WIDTH
namespace {

#include "motion/kernel.inl"

constexpr TouchKernel kTable{"avx2", touch_points<false>, touch_points<true>};

}  // namespace
const TouchKernel* const kTouchAvx2 = &kTable;
#else
const TouchKernel* const kTouchAvx2 = nullptr;
#endif

}  // namespace skewback::motion
