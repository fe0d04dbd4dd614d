#include <cmath>

#include "motion/touch.hpp"
#if defined(__x86_64__) && defined(__GNUC__)
#include <immintrin.h>
#endif

#if defined(__x86_64__) && defined(__GNUC__)
#define SKEWBACK_WIDTH 2
#else
#define SKEWBACK_WIDTH 1
#endif

namespace skewback::motion {

extern const TouchKernel* const kTouchPlain;
namespace {

#include "motion/kernel.inl"

constexpr TouchKernel kTable{"plain", touch_points<false>, touch_points<true>};

}  // namespace
const TouchKernel* const kTouchPlain = &kTable;

}  // namespace skewback::motion
