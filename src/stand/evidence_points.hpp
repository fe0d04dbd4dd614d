#pragma once
// Points of contact that many files of evidence share, written once (docs/evidence.md).

#include <array>
#include <map>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

class EvidencePoints {
 public:
  /// Place of the point in the list; a new one goes to its end. Equal in every bit, or another.
  int index_of(const Vec3& p);
  [[nodiscard]] bool empty() const { return all_.empty(); }
  /// As JSON: a list of [x, y, z], m, world.
  [[nodiscard]] std::string json() const;

 private:
  std::map<std::array<double, 3>, int> index_;
  std::vector<Vec3> all_;
};

}  // namespace skewback
