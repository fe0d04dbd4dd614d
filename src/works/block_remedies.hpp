#pragma once
// Private to works/: what would make blocks strong enough that are not.

#include "works/works.hpp"

namespace skewback {

/// Form to pads of a brief and the checks of its blocks, in all cases; no proofs.
[[nodiscard]] Result<Dossier> blocks_under_pads(const Brief& brief, const Progress& progress);

struct BlockTrial {
  std::string change;      // in words
  Brief brief;             // with it
  double worst = 0;        // greatest utilisation of any check of any block
  std::string where;       // block and check of it
  double mass_max_kg = 0;  // concrete of the heaviest block, as blocks.mass_max is
  int blocks = 0;
  std::string reason;  // why there is no `worst`
  [[nodiscard]] bool too_heavy() const { return mass_max_kg > brief.blocks.mass_max_kg * 1.001; }
  [[nodiscard]] bool passes() const { return reason.empty() && worst <= 1 && !too_heavy(); }
};

/// Changes in order of ease, the first that passes last; none where the blocks of `dossier` are
/// strong enough or not checked. Skins and webs as proposed, pads where they can be enough, head
/// joints, then thicker leaves with and without them, no thicker than the printer's beads allow.
/// Each is tried in the cases that govern some check now; what passes in those, in all.
[[nodiscard]] std::vector<BlockTrial> try_block_remedies(const Dossier& dossier,
                                                         const Progress& progress);

/// In words; empty without trials.
[[nodiscard]] std::string remedies_in_words(const Dossier& dossier,
                                            const std::vector<BlockTrial>& trials);

}  // namespace skewback
