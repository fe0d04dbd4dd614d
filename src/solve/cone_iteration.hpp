#pragma once
// Private to solve/: the interior point on a scaled cone program.

#include <memory>

#include "solve/cone_data.hpp"

namespace skewback {

struct ConeAnswer {
  SolveStatus status = SolveStatus::kFailed;
  std::string reason;
  AlignedArray x, y;  // in the layout of the kernels, divided by tau (optimal, failed) or scaled to
  VectorX scalars;    // a dual or primal objective of 1 (certificate, ray)
  double worst = 0;   // largest of the relative measures, in units of the iteration
  int iterations = 0;
};

/// `corrected`: with centrality correctors, which save a quarter to a half of the steps; some
/// programs end only without.
[[nodiscard]] ConeAnswer iterate(const ConeData& data, std::shared_ptr<const BlockPattern> pattern,
                                 const ConeOptions& options, const Kernels& kernels,
                                 bool corrected = true);

}  // namespace skewback
