#pragma once
// Private to works/: how little and how much each springing may push, whatever the joints do.

#include "works/works.hpp"

namespace skewback {

/// Adds Groundworks::thrusts: every springing under the weight and under people everywhere.
void find_thrust_ranges(Dossier& dossier, const Progress& progress);

}  // namespace skewback
