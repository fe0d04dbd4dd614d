#pragma once
// Everything under asbuilt/ of the output folder but the assembly and its evidence: tables for
// other programs, work sheets for the foreman.

#include "deliver/files.hpp"
#include "deliver/survey_sheets.hpp"

namespace skewback::deliver {

/// packers.csv, other-pads.csv, feet.csv, residuals.csv, blocks.csv, blocks-in-place.csv,
/// joints.csv, marks.csv (where the key goes in), work-sheets.pdf, footings.svg, packers.svg,
/// springer-NAME.svg under asbuilt/: those that have something in them. `order`: as
/// placing_order(), may be empty; `plan`: outlines of all blocks from above, or none; `centring`
/// null: none. `not_passed`: why the bridge as built does not pass, said on every work sheet;
/// empty: it does. `lifts` null: not planned.
[[nodiscard]] std::vector<OutputFile> survey_files(const Brief& brief, const Assembly& assembly,
                                                   const Centring* centring, const Refit& refit,
                                                   const std::vector<int>& order,
                                                   const std::vector<Regions>& plan,
                                                   const std::string& not_passed = "",
                                                   const LiftPlan* lifts = nullptr);

/// `plan` where it has every block; else their outlines from above.
[[nodiscard]] std::vector<Regions> plan_of(const Assembly& assembly,
                                           const std::vector<Regions>& plan);

/// A joint a row; "sheets_mm" is the stock, "5 + 3", "pad_mm" all of the pad with them.
[[nodiscard]] std::string other_pads_csv(const Assembly& assembly, const Packed& packed);
/// A packer a row, with its number on the work sheet; "packers_mm" is the stock, "5 + 3".
[[nodiscard]] std::string packers_csv(const Assembly& assembly, const std::vector<int>& order,
                                      const Packed& packed);
/// Every foot, those that stay as drawn too; posts where `centring` has them.
[[nodiscard]] std::string feet_set_csv(const Centring* centring, const FeetSet& feet);
[[nodiscard]] std::string residuals_csv(const Brief& brief, const Refit& refit);
[[nodiscard]] std::string measured_blocks_csv(const Assembly& assembly,
                                              const MeasuredBlocks& measured);

[[nodiscard]] std::string blocks_in_place_csv(const std::vector<BlockInPlace>& blocks);
/// Every joint: gap beyond its pad and step at its corners (1 to 4 as those of beds), before
/// packers fill them.
[[nodiscard]] std::string packed_joints_csv(const Assembly& assembly, const Packed& packed);
/// marks_as_packed in the columns of setting-out/marks.csv; of a survey on axes of its own in
/// those.
[[nodiscard]] std::string packed_marks_csv(const Brief& brief, const Assembly& assembly,
                                           const Centring* centring, const Refit& refit,
                                           const std::string& not_passed);

/// Length of a foot's post, as drawn.
[[nodiscard]] std::optional<double> post_length_m(const Centring& centring,
                                                  const std::string& foot);

}  // namespace skewback::deliver
