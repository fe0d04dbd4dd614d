#pragma once
// Private to works/: the loads of a brief on blocks that are cut.

#include "access/access.hpp"
#include "works/works.hpp"

namespace skewback {

/// What each block carries, the cases, their notes and the actions behind them. `dossier.cut` must
/// be there.
inline void put_loads(Dossier& dossier) {
  Assembly& assembly = dossier.cut->assembly;
  add_carried(dossier.brief, assembly);
  LoadSet set = load_cases(dossier.brief, assembly, deck_thickness_m(dossier.brief));
  assembly.cases = std::move(set.cases);
  dossier.notes = std::move(set.notes);
  dossier.actions = std::move(set.actions);
  dossier.loads_left_out = std::move(set.left_out);
}

}  // namespace skewback
