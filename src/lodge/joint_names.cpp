#include "lodge/joint_names.hpp"

#include <algorithm>

namespace skewback::lodge {

std::string joint_id(const Assembly& assembly, int joint) {
  if (joint < 0 || static_cast<std::size_t>(joint) >= assembly.joints.size()) return "";
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  const auto id = [&](int b) { return assembly.blocks[static_cast<std::size_t>(b)].id; };
  return j.a < 0 || j.b < 0 ? "" : id(j.a) + "|" + id(j.b);
}

double joint_depth_m(const Joint& joint) {
  double low = 0, high = 0;
  bool first = true;
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer) {
      low = first ? p.y() : std::min(low, p.y());
      high = first ? p.y() : std::max(high, p.y());
      first = false;
    }
  }
  return high - low;
}

}  // namespace skewback::lodge
