#pragma once
// What the cutting machine is given: a DXF and an SVG of each sheet, in millimetres, full size.
// Layers: CUT_OUTER, CUT_INNER, ENGRAVE, SHEET (its edge) and NOTES; neither of the last two is
// cut.

#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "deliver/dxf.hpp"
#include "deliver/files.hpp"
#include "deliver/sheet.hpp"

namespace skewback::deliver {

/// A part as it is cut, m on the sheet: for a laser grown by half its kerf, holes shrunk; for a
/// router as it is to be, since the machine keeps its bit beside the line.
[[nodiscard]] Regions cut_lines(const CentringRequest& ask, const SheetPart& part,
                                const NestedPart& nested);
/// Its marks as lines, m on the sheet. Words stay clear of edges where they can, smaller and moved
/// if need be, and read from the face that lies up: of a part turned over that is its frame's back.
[[nodiscard]] std::vector<std::vector<Vec2>> engraved(const SheetPart& part,
                                                      const NestedPart& nested);

[[nodiscard]] DxfDrawing cut_sheet_dxf(const Brief& brief, const Centring& centring,
                                       std::size_t sheet);
[[nodiscard]] Sheet cut_sheet_drawing(const Brief& brief, const Centring& centring,
                                      std::size_t sheet);

/// What a person at the machine must know: sheet, thickness, unit, cutter.
[[nodiscard]] std::vector<std::string> cut_sheet_notes(const Brief& brief, const Centring& centring,
                                                       std::size_t sheet);

/// centring/sheet-N.dxf and .svg of every sheet.
[[nodiscard]] std::vector<OutputFile> cut_sheet_files(const Brief& brief, const Centring& centring);

}  // namespace skewback::deliver
