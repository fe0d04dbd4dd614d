#include "solve/kernels.hpp"

namespace skewback {

extern const Kernels* const kKernelsAvx512;
extern const Kernels* const kKernelsAvx2;
extern const Kernels* const kKernelsPlain;

const Kernels* kernels_named(std::string_view name) {
  if (name == "plain") return kKernelsPlain;
#if defined(__x86_64__) && defined(__GNUC__)
  if (name == "avx512" && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("avx512bw")) {
    return kKernelsAvx512;
  }
  if (name == "avx2" && __builtin_cpu_supports("avx2")) return kKernelsAvx2;
#endif
  return nullptr;
}

const Kernels& best_kernels() {
  static const Kernels& best = [] {
    for (const char* name : {"avx512", "avx2"}) {
      if (const Kernels* kernels = kernels_named(name)) return *kernels;
    }
    return *kKernelsPlain;
  }();
  return best;
}

}  // namespace skewback
