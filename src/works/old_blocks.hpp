#pragma once
// Private to works/: the blocks of a bridge that was taken down, in a run for another site.

#include "works/works.hpp"

namespace skewback {

/// What form, body and cut are made from: the old brief, on footings that are cast anew; or,
/// without old blocks, `asked` as it is.
[[nodiscard]] Brief brief_to_cut(const Brief& asked, const OldBlocks& old);

/// Once they are cut: dossier.brief becomes that of the new site (blocks_again), without spares,
/// and dossier.again is filled. Fault: the daybook is of other blocks.
[[nodiscard]] std::optional<Faults> put_on_new_site(Dossier& dossier, const Brief& fresh,
                                                    const OldBlocks& old);

/// The blocks that are still to be made; those that are there count as ground. None: all are there.
[[nodiscard]] std::optional<Assembly> blocks_to_make(const Dossier& dossier);

/// Good blocks of the bridge that was taken down.
[[nodiscard]] UsedBlocks used_blocks(const Dossier& dossier);

/// None where the blocks are the brief's own, or no daybook was read.
[[nodiscard]] std::optional<RequiredCheck> required_blocks_there(const Dossier& dossier);

}  // namespace skewback
