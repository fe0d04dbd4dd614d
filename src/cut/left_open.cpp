// Joints too small for a pad, between blocks that others hold.

#include <algorithm>
#include <cstdio>
#include <vector>

#include "cut/pieces.hpp"

namespace skewback {
namespace {

constexpr double kSmallShare = 0.1;  // of the median contact; ours, no source
constexpr double kNarrow = 0.02;     // m; no pad is laid on less
constexpr double kOpposite = -0.5;   // cosine between the normals of two joints that press a block

}  // namespace

double small_contact_m2(const Assembly& assembly) {
  std::vector<double> areas;
  for (const Joint& joint : assembly.joints) areas.push_back(area(joint.contact));
  if (areas.empty()) return 0;
  std::ranges::sort(areas);
  return kSmallShare * areas[areas.size() / 2];
}

void leave_small_open(Assembly& assembly, CutReport& report) {
  const double small = small_contact_m2(assembly);
  std::vector<std::vector<Vec3>> pressed(assembly.blocks.size());  // by sound joints, from where
  for (const Joint& joint : assembly.joints) {
    if (area(joint.contact) < small) continue;
    pressed[static_cast<std::size_t>(joint.a)].push_back(joint.frame.z);
    pressed[static_cast<std::size_t>(joint.b)].push_back(-joint.frame.z);
  }
  const auto held = [&](int block) {
    const std::vector<Vec3>& from = pressed[static_cast<std::size_t>(block)];
    for (const Vec3& n : from)
      for (const Vec3& m : from)
        if (n.dot(m) < kOpposite) return true;
    return false;
  };
  const auto open = [&](const Joint& joint) {
    return joint.pad && area(joint.contact) < small &&
           offset(joint.contact, -kNarrow / 2).empty() && held(joint.a) && held(joint.b);
  };
  const Joint* least = nullptr;
  int count = 0;
  for (const Joint& joint : assembly.joints) {
    if (!open(joint)) continue;
    ++count;
    if (least == nullptr || area(joint.contact) < area(least->contact)) least = &joint;
  }
  if (least == nullptr) return;
  char text[240];
  std::snprintf(text, sizeof text,
                "between %s and %s the joint is left open, without a pad: they would touch over a "
                "strip of %.1f cm2, narrower than %.0f mm",
                assembly.blocks[static_cast<std::size_t>(least->a)].id.c_str(),
                assembly.blocks[static_cast<std::size_t>(least->b)].id.c_str(),
                1e4 * area(least->contact), 1e3 * kNarrow);
  report.remarks.emplace_back(text);
  if (count > 1) report.remarks.back() += "; " + std::to_string(count - 1) + " more like it";
  std::erase_if(assembly.joints, open);
}

}  // namespace skewback
