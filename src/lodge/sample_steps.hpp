#pragma once
// For tests only: a programme that places one block of the small arch a step.

#include "deliver/sample_dossier.hpp"

namespace skewback::sample {

/// v1, v2, ... in order; every step stands.
inline Programme steps_placing(int count) {
  Programme programme;
  for (int step = 1; step <= count; ++step) {
    Stage stage;
    stage.step = step;
    stage.what = "place";
    stage.words = "v" + std::to_string(step);
    stage.blocks = {stage.words};
    stage.proof.verdict = Verdict::kStands;
    programme.stages.push_back(stage);
  }
  return programme;
}

}  // namespace skewback::sample
