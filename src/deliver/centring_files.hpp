#pragma once
// Everything under centring/ of the output folder.

#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "deliver/files.hpp"

namespace skewback::deliver {

/// centring/sheet-N.dxf and .svg, setting-out.svg, ribs-N.svg, sheets.svg, parts.csv, feet.csv,
/// fixings.csv, timber.csv and timber-N.svg where it has sawn timber; none at all without parts.
/// `plan`: outlines of all blocks of the assembly from above, or none.
[[nodiscard]] std::vector<OutputFile> centring_files(const Brief& brief, const Assembly& assembly,
                                                     const Centring& centring,
                                                     const std::vector<Regions>& plan);

/// Parts cut from sheets, then sawn timber. Length along x of a part's frame and width across it
/// are those of its box; those of a stick its length and greater side. Of a brace the heights of
/// its bolts over the lower ends of their posts.
[[nodiscard]] std::string centring_parts_csv(const Brief& brief, const Centring& centring);
[[nodiscard]] std::string centring_feet_csv(const Centring& centring);
/// "sideways", "down", "sideways and down", or nothing.
[[nodiscard]] std::string foot_held(const CentringFoot& foot);

}  // namespace skewback::deliver
