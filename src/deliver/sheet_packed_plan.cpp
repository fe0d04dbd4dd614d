#include <algorithm>
#include <cmath>

#include "deliver/centring_sheets.hpp"
#include "deliver/paper.hpp"
#include "deliver/survey_sheets.hpp"

namespace skewback::deliver {
namespace {

constexpr double kHead = 7, kFoot = 10;
constexpr Colour kPlain{242, 242, 238}, kEdge{170, 170, 166}, kPackedJoint{213, 94, 0};

double thickest_in(const Packed& packed, int joint) {
  double most = 0;
  for (const Packer& packer : packed.packers)
    if (packer.joint == joint) most = std::max(most, packer.thickness_m());
  return most;
}

/// The bed from above: its longest way across.
std::array<Vec2, 2> trace(const Joint& joint) {
  Extent bed;
  for (const Region& region : joint.contact)
    for (const Vec2& p : region.outer) bed.add(p);
  if (bed.empty()) bed.add(Vec2::Zero());
  const Vec2 middle = (bed.low + bed.high) / 2, half = (bed.high - bed.low) / 2;
  const bool along_x = half.x() >= half.y() || std::abs(joint.frame.z.z()) < 0.7;
  const Vec2 reach = along_x ? Vec2(half.x(), 0) : Vec2(0, half.y());
  return {joint.frame.to_world(Vec2(middle - reach)).head<2>(),
          joint.frame.to_world(Vec2(middle + reach)).head<2>()};
}

}  // namespace

Sheet packed_plan(const Brief& brief, const Assembly& assembly, const Refit& refit,
                  const std::vector<Regions>& plan, const SheetSize& size) {
  Extent extent;
  for (std::size_t i = 0; i < plan.size() && i < assembly.blocks.size(); ++i)
    if (!assembly.blocks[i].fixed)
      for (const Region& region : plan[i])
        for (const Vec2& p : region.outer) extent.add(p);
  for (const Support& s : brief.plan.supports) {
    extent.add(s.a);
    extent.add(s.b);
  }
  Sheet sheet{size.width_mm, size.height_mm, "Joints that take packers", {}};
  if (extent.empty()) return sheet;
  const SheetMap map =
      fit(extent, {2, kHead}, {size.width_mm - 4, size.height_mm - kHead - kFoot - 4});
  sheet.height_mm = std::min(size.height_mm, extent.size().y() * map.mm_per_m + kHead + kFoot + 8);
  const SheetMap placed =
      fit(extent, {2, kHead}, {size.width_mm - 4, sheet.height_mm - kHead - kFoot - 4});
  for (std::size_t i = 0; i < plan.size() && i < assembly.blocks.size(); ++i)
    if (!assembly.blocks[i].fixed) sheet.regions(placed(plan[i]), {kPlain, kEdge, 0.12});
  for (const Support& s : brief.plan.supports)
    sheet.line(placed(s.a), placed(s.b), {std::nullopt, kBlack, 0.5});
  Labels labels;
  const std::vector<int> joints = packed_joints(refit.packed);
  for (const int j : joints) {
    const auto [a, b] = trace(assembly.joints[static_cast<std::size_t>(j)]);
    sheet.line(placed(a), placed(b), {std::nullopt, kPackedJoint, 0.8});
    labels.block_line(placed(a), placed(b), 0.4);
  }
  for (const int j : joints) {
    const auto [a, b] = trace(assembly.joints[static_cast<std::size_t>(j)]);
    const std::string thickest = mm_words(thickest_in(refit.packed, j));
    for (const double share : {0.5, 0.3, 0.7, 0.0, 1.0})
      if (labels.put(sheet, placed(Vec2(a + share * (b - a))), thickest, 2.6, 1.8, kPackedJoint))
        break;
  }
  std::vector<int> beside;  // names of the blocks that lie at these joints
  for (const int j : joints) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
    beside.insert(beside.end(), {joint.a, joint.b});
  }
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed || std::ranges::find(beside, static_cast<int>(i)) == beside.end()) continue;
    labels.put(sheet, placed(Vec2(block.mass.centroid.head<2>())), block.id, 1.8, 0.3);
  }
  for (const Support& s : brief.plan.supports)
    labels.put(sheet, placed(Vec2((s.a + s.b) / 2)), s.id, 2.6, 4);
  const double low = sheet.height_mm - 3;
  sheet.line({4, 2.2}, {10, 2.2}, {std::nullopt, kPackedJoint, 0.8});
  sheet.words({12, 3}, "joint that takes packers; number: the thickest place in it, mm", 2.2);
  add_scale_bar(sheet, placed, {4, low - 1.2});
  return sheet;
}

}  // namespace skewback::deliver
