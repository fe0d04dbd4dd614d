#pragma once
// Setting out, and the bridge as it was found and put right, in the report.

#include "deliver/elevations.hpp"
#include "deliver/pages.hpp"
#include "deliver/survey_sheets.hpp"
#include "survey/marks.hpp"

namespace skewback::deliver {

void add_setting_out(Pages& pages, const Brief& brief, const Assembly& assembly,
                     const std::vector<Mark>& marks, const std::vector<Regions>& plan,
                     const std::string& note = "");

/// `dossier.refit` must be there; drawings of the blocks only with `dossier.cut`.
void add_survey(Pages& pages, const Dossier& dossier, const Outlines& outlines);

// Its parts; each adds nothing where there is nothing.
void add_footings(Pages& pages, const Dossier& dossier);
void add_before_and_after(Pages& pages, const Dossier& dossier);
void add_trials(Pages& pages, const Refit& refit);
void add_measured_blocks(Pages& pages, const Brief& brief, const Assembly& assembly,
                         const MeasuredBlocks& measured);
void add_blocks_in_place(Pages& pages, const std::vector<BlockInPlace>& blocks);
void add_other_pads(Pages& pages, const Assembly& assembly, const Packed& packed);
void add_packers(Pages& pages, const Brief& brief, const Assembly& assembly, const Refit& refit,
                 const std::vector<Regions>& plan);
void add_feet_set(Pages& pages, const Dossier& dossier);
void add_springers(Pages& pages, const Dossier& dossier, const Assembly& assembly);

}  // namespace skewback::deliver
