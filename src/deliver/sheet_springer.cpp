#include <algorithm>

#include "deliver/facts.hpp"
#include "deliver/paper.hpp"
#include "deliver/survey_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kWide = 174, kTop = 22, kLow = 26, kMostHigh = 90;
constexpr Colour kBed{236, 236, 232}, kMove{190, 30, 30};

Sheet springer_sheet(const Brief& brief, const Assembly& assembly, int j, const BedError& bed) {
  const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
  const BedView view = bed_view(assembly, {}, j);
  const bool from_a = view.laid == joint.a;
  const std::string& springer = assembly.blocks[static_cast<std::size_t>(view.comes)].id;
  Extent seen;
  seen.add({0, view.bed.low.y()});
  seen.add({view.bed.size().x(), view.bed.high.y()});
  SheetMap map = fit(seen, {20, kTop}, {kWide - 40, kMostHigh});
  const double drawn = seen.size().y() * map.mm_per_m;
  Sheet sheet{kWide, drawn + kTop + kLow, "New springer " + springer, {}};
  map.corner.y() = kTop + view.bed.high.y() * map.mm_per_m;
  sheet.items.emplace_back(Words{{2, 5},
                                 "New springer " + springer + ": its near bed, on " +
                                     assembly.blocks[static_cast<std::size_t>(view.laid)].id,
                                 3.4,
                                 Anchor::kStart,
                                 true});
  sheet.words({2, 10},
              "Seen from the footing along the flow, upper edge up. Numbers: mm by which the bed "
              "moves towards the footing there (the block",
              2.2);
  sheet.words({2, 13.4},
              "grows), below zero away from it (the block gets shorter). All other faces "
              "stay as drawn.",
              2.2);
  for (const Region& region : joint.contact) {
    Polygon ring;
    for (const Vec2& p : region.outer) ring.push_back(map(Vec2(view.from_left_m(p.x()), p.y())));
    sheet.path(ring, true, {kBed, kBlack, 0.3});
  }
  const JointCorners corners = joint_corners(joint);
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const Vec2& c = corners[k];
    // heights run along the joint's z, from a into b
    const double height = bed.height_m + bed.slope.dot(c) + bed.corner_m[k];
    const double grows = from_a ? -height : height;
    const Vec2 at = map(Vec2(view.from_left_m(c.x()), c.y()));
    const bool upper = k >= 2;
    sheet.dot(at, 0.9, {kMove, std::nullopt});
    sheet.items.emplace_back(
        Words{at + Vec2(0, upper ? -2 : 4.6), mm_signed(grows), 3.4, Anchor::kMiddle, true, kMove});
  }
  sheet.words({2, sheet.height_mm - 9},
              brief.title +
                  ". Measure the footing again before the block is made. No substitute "
                  "for a licensed engineer.",
              2.1);
  add_scale_bar(sheet, map, {4, sheet.height_mm - 4});
  return sheet;
}

}  // namespace

std::vector<Sheet> springer_sheets(const Brief& brief, const Assembly& assembly,
                                   const Refit& refit) {
  std::vector<Sheet> sheets;
  const Packed& packed = refit.packed;
  for (std::size_t k = 0; k < packed.springer_joints.size() && k < packed.springer.size(); ++k)
    sheets.push_back(
        springer_sheet(brief, assembly, packed.springer_joints[k], packed.springer[k]));
  return sheets;
}

}  // namespace skewback::deliver
