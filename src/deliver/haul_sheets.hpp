#pragma once
// Drawings of lifting and of the lorries. A4 lying where no width is given.

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"
#include "deliver/sheet.hpp"
#include "erect/lifting.hpp"
#include "erect/transport.hpp"

namespace skewback::deliver {

/// Plan: crane, circles of its chart, blocks coloured by their share of what it may lift.
[[nodiscard]] Sheet lift_plan_sheet(const Brief& brief, const Assembly& assembly,
                                    const LiftPlan& plan, double width_mm);
/// One block in its slings, seen along and across them.
[[nodiscard]] Sheet hanging_sheet(const Brief& brief, const Assembly& assembly,
                                  const BlockLift& lift, double width_mm);
/// One lorry from above and from the side, and a list of its loads. `most_mm`: no higher than that,
/// and without the list.
[[nodiscard]] Sheet lorry_sheet(const Brief& brief, const Assembly& assembly,
                                const Transport& transport, std::size_t lorry, double width_mm,
                                const std::optional<double>& most_mm = {});

/// Every pallet and load from above and from the side, all to one scale: blocks, bearers, masses,
/// centre of gravity, when it comes off its lorry. As many to a sheet as go on it; none higher than
/// `height_mm` where one panel fits.
[[nodiscard]] std::vector<Sheet> pallet_sheets(const Brief& brief, const Assembly& assembly,
                                               const Transport& transport, double width_mm,
                                               double height_mm);

/// The lift nearest to a limit of the block or its slings, or beyond one: the one to draw. -1:
/// none.
[[nodiscard]] int hardest_lift(const LiftPlan& plan);

}  // namespace skewback::deliver
