#pragma once
// Memory that has been freed, given back to the system.

#include <cstdlib>  // says whether the C library is glibc

#if defined(__GLIBC__)
#include <malloc.h>
#endif

namespace skewback {

/// Small pieces freed here and there stay with the process unless asked for: worth it before
/// something large is made. Milliseconds. Does nothing where the C library has no way to.
inline void give_back_freed_memory() {
#if defined(__GLIBC__)
  malloc_trim(0);
#endif
}

}  // namespace skewback
