#pragma once
// Independent work spread over cores; results land by index, so order never depends on timing.

#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <cstddef>

namespace skewback {

/// Calls body(i) once for each i in [0, n), on as many threads as allowed. The first exception
/// thrown by a body is rethrown here.
template <class Body>
void for_each_index(std::size_t n, Body body) {
  tbb::parallel_for(
      std::size_t{0}, n, [&](std::size_t i) { body(i); }, tbb::simple_partitioner{});
}

/// While alive, limits for_each_index to `jobs` threads.
class JobLimit {
 public:
  explicit JobLimit(int jobs)
      : control_(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(jobs)) {}

 private:
  tbb::global_control control_;
};

}  // namespace skewback
