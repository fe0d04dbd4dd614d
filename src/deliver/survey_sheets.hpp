#pragma once
// Drawings of the bridge as it was found, and work sheets of what puts it right.

#include "brief/brief.hpp"
#include "deliver/drawings.hpp"
#include "deliver/picture.hpp"
#include "erect/lifting.hpp"
#include "survey/survey.hpp"

namespace skewback::deliver {

/// Springings from above as drawn and as found, moves 100 x; levels in words.
[[nodiscard]] Sheet footings_sheet(const Brief& brief, const Refit& refit, const SheetSize& size);

struct MarkFound {
  std::string name, support;
  Vec3 drawn = Vec3::Zero(), found = Vec3::Zero(), residual_m = Vec3::Zero();  // bridge axes
  bool outlier = false;
};
/// Every mark that the fits of the footings rest on: found = X(drawn) + residual.
[[nodiscard]] std::vector<MarkFound> marks_found(const Brief& brief, const Refit& refit);

// ---- packers -----------------------------------------------------------------------------------

/// How a bed is looked at: from the block already laid, along the flow, +y of the joint up.
struct BedView {
  int joint = -1, laid = -1, comes = -1;
  bool mirrored = false;  // x of the joint runs to the left
  Extent bed;             // of the contact, joint's frame
  [[nodiscard]] double from_left_m(double along_m) const;
};
/// `order`: per block, as placing_order(); empty: by phi, keys last.
[[nodiscard]] BedView bed_view(const Assembly& assembly, const std::vector<int>& order, int joint);

/// Packers of one joint as they are numbered on its sheet: lower edge first, each from the left.
struct NumberedPacker {
  int number = 0;
  const Packer* packer = nullptr;
  double from_left_m = 0;
};
[[nodiscard]] std::vector<NumberedPacker> numbered(const BedView& view, const Packed& packed);

struct StockNeed {
  double thickness_m = 0;
  int used = 0, to_have = 0;  // with a tenth more, rounded up
};
[[nodiscard]] std::vector<StockNeed> stock_needed(const Packed& packed);  // thickest first
[[nodiscard]] std::vector<int> packed_joints(const Packed& packed);       // ascending

/// All blocks from above, the joints that take packers thick and with the thickest gap in mm.
[[nodiscard]] Sheet packed_plan(const Brief& brief, const Assembly& assembly, const Refit& refit,
                                const std::vector<Regions>& plan, const SheetSize& size);
/// A4: what to have on site and which joints; then each bed with its packers, a line for the gap
/// as measured and a box to tick, and which packers a sling of `lifts` (null: not planned) has to
/// be drawn out past. None without packers.
[[nodiscard]] std::vector<Sheet> packer_sheets(const Brief& brief, const Assembly& assembly,
                                               const std::vector<int>& order, const Refit& refit,
                                               const std::vector<Regions>& plan,
                                               const LiftPlan* lifts = nullptr);

// ---- feet, springers, scans --------------------------------------------------------------------

/// Seats to be packed or planed in the order in which ribs are drawn, each rib from its beginning.
[[nodiscard]] std::vector<SeatGap> gaps_along_ribs(const Centring& centring, const FeetSet& feet);

/// Those to be set otherwise than drawn or from where they were measured: is_set.
[[nodiscard]] std::vector<const FootSetting*> feet_to_set(const FeetSet& feet);
/// Of those the ones whose post is cut or packed.
[[nodiscard]] std::vector<const FootSetting*> feet_to_cut(const FeetSet& feet);
/// A4: feet set by their wedges or jacks alone in a table, the others each with its post; then
/// seats that stay open. None where nothing is to be done. Levels are the site's, or the survey's
/// own where it is on other axes: `datum` as in Refit.
[[nodiscard]] std::vector<Sheet> foot_sheets(const Brief& brief, const Centring& centring,
                                             const FeetSet& feet, const Rigid& datum);

/// Per springer made anew its near bed, the move of each corner in mm along the flow.
[[nodiscard]] std::vector<Sheet> springer_sheets(const Brief& brief, const Assembly& assembly,
                                                 const Refit& refit);

/// A scanned surface in colours of its distance from where it is to be: blue inside, red outside,
/// full at `most_m` either way.
[[nodiscard]] Image scan_picture(const std::vector<Vec3>& vertices,
                                 const std::vector<double>& distance_m,
                                 const std::vector<std::array<int, 3>>& triangles, double most_m,
                                 int width);
[[nodiscard]] Colour scan_colour(double distance_m, double most_m);
/// The colours and what they mean; a strip to stand below the picture.
[[nodiscard]] Sheet scan_scale(double most_m, double width_mm);

}  // namespace skewback::deliver
