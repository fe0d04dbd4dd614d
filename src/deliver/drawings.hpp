#pragma once
// The drawings, each for a sheet of at most the given size: what is not needed is left off. Parts
// whose stage was not run are left out.

#include "deliver/elevations.hpp"
#include "deliver/sheet.hpp"

namespace skewback::deliver {

struct SheetSize {
  double width_mm = 420, height_mm = 297;  // A3, lying
};

/// From above: blocks with their names, joints, supports, ties, walking lines, levels of phi.
[[nodiscard]] Sheet plan_sheet(const Dossier& dossier, const Outlines& outlines,
                               const SheetSize& size);
/// Only what the form found: levels of phi, flow, free edges as drawn and as found.
[[nodiscard]] Sheet form_sheet(const Dossier& dossier, const SheetSize& size);

/// One view square to each arm (one for both arms of a two-legged bridge).
[[nodiscard]] Sheet elevation_sheet(const Dossier& dossier, const Outlines& outlines,
                                    const SheetSize& size);
/// The same views with the resultant across each joint under dead load.
[[nodiscard]] Sheet thrust_sheet(const Dossier& dossier, const Outlines& outlines,
                                 const SheetSize& size);

/// Horizontal forces on the node of the form nearest the meeting, head to tail.
[[nodiscard]] Sheet force_polygon_sheet(const Dossier& dossier, const SheetSize& size);

/// Across every course of each arm, all cases: where the thrust lies in the depth, and how great.
[[nodiscard]] Sheet envelope_sheet(const Dossier& dossier, const SheetSize& size);

/// How far each footing may move in plan, as a star at each support; up and down in words.
[[nodiscard]] Sheet reach_sheet(const Dossier& dossier, const SheetSize& size);

/// The case to worry about most that has a mechanism: that of its fall, or of its limit load.
struct MechanismShown {
  const CaseProof* proof = nullptr;
  const Mechanism* mechanism = nullptr;
};
[[nodiscard]] std::optional<MechanismShown> mechanism_to_show(const Dossier& dossier);
/// It, drawn on the elevations: blocks moved, hinges as wedges with their angle.
[[nodiscard]] Sheet mechanism_sheet(const Dossier& dossier, const Outlines& outlines,
                                    const SheetSize& size);

/// Which colour is which arm; one line.
[[nodiscard]] Sheet colour_sheet(const Dossier& dossier, double width_mm);

/// How many blocks weigh how much.
[[nodiscard]] Sheet mass_sheet(const Dossier& dossier, const SheetSize& size);

}  // namespace skewback::deliver
