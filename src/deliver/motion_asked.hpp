#pragma once
// Answers of motion in time to what was asked, as JSON (format: docs/motion.md).

#include <nlohmann/json.hpp>

#include "motion/collapse.hpp"
#include "motion/ensemble.hpp"
#include "motion/reach.hpp"

namespace skewback::deliver {

struct RaisedCase {
  std::string id;
  Collapse collapse;
};
struct DrawnCase {
  std::string id;
  EnsembleOptions asked;
  Ensemble ensemble;
};
struct FootingsCase {
  std::string id;
  MotionReaches reaches;
};

[[nodiscard]] nlohmann::ordered_json raised_json(const Assembly& assembly,
                                                 const std::vector<RaisedCase>& cases);
[[nodiscard]] nlohmann::ordered_json drawn_json(const Assembly& assembly,
                                                const std::vector<DrawnCase>& cases);
[[nodiscard]] nlohmann::ordered_json footings_json(const Assembly& assembly,
                                                   const std::vector<FootingsCase>& cases);

}  // namespace skewback::deliver
