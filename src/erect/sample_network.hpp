#pragma once
// For tests only: activities of a programme.

#include <string>
#include <utility>
#include <vector>

#include "erect/schedule.hpp"

namespace skewback::sample {

inline Activity activity(const std::string& id, double least_s, double likely_s, double most_s,
                         std::vector<int> after) {
  Activity a;
  a.id = id;
  a.least_s = least_s;
  a.likely_s = likely_s;
  a.most_s = most_s;
  a.after = std::move(after);
  return a;
}

}  // namespace skewback::sample
