#pragma once
// Schedules of blocks and joints: RFC 4180, one header row, units in the names of the columns.

#include <string>
#include <vector>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

/// Quoted where RFC 4180 asks for it; lines end in CR LF.
[[nodiscard]] std::string csv_line(const std::vector<std::string>& fields);

/// `dossier.cut` must be there.
[[nodiscard]] std::string blocks_csv(const Dossier& dossier);
[[nodiscard]] std::string joints_csv(const Dossier& dossier);

}  // namespace skewback::deliver
