#pragma once
// Blocks compared with scans: in the report, in summary.json, and as files under asbuilt/.

#include <nlohmann/json.hpp>

#include "deliver/deliver.hpp"
#include "deliver/files.hpp"
#include "deliver/pages.hpp"

namespace skewback::deliver {

/// `dossier.cut` must be there where there are scans.
void add_scans(Pages& pages, const Dossier& dossier);
[[nodiscard]] nlohmann::ordered_json scans_json(const Dossier& dossier);

/// Per scan scan-BLOCK.png and scan-BLOCK.ply (as laid on the block; each vertex with its distance
/// and colour); and scans.csv with the worst places of all.
[[nodiscard]] std::vector<OutputFile> scan_files(const Dossier& dossier);

/// Full colour: the distance that 95 % keep within, or half a millimetre.
[[nodiscard]] double scan_colours_most_m(const ComparedScan& scan);

}  // namespace skewback::deliver
