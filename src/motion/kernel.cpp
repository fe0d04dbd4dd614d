#include <string_view>

#include "motion/touch.hpp"

namespace skewback::motion {

extern const TouchKernel* const kTouchAvx512;
extern const TouchKernel* const kTouchAvx2;
extern const TouchKernel* const kTouchPlain;

const TouchKernel* touch_kernel_named(const char* named) {
  const std::string_view name = named;
  if (name == "plain") return kTouchPlain;
#if defined(__x86_64__) && defined(__GNUC__)
  if (name == "avx512" && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("avx512bw"))
    return kTouchAvx512;
  if (name == "avx2" && __builtin_cpu_supports("avx2")) return kTouchAvx2;
#endif
  return nullptr;
}

const TouchKernel& best_touch_kernel() {
  static const TouchKernel& best = [] {
    for (const char* name : {"avx512", "avx2"})
      if (const TouchKernel* kernel = touch_kernel_named(name)) return *kernel;
    return *kTouchPlain;
  }();
  return best;
}

}  // namespace skewback::motion
