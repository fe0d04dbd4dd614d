#pragma once
// What is engraved on parts. Private to the folder.

#include <string>

#include "centring/rib_draft.hpp"

namespace skewback {

/// Words about a place, in the part's own x and y, if they lie within its outline there; moved up
/// or down a little where they do not; else left out. True if they were put.
bool mark_words(SheetPart& part, const std::string& words, const Vec2& middle, double height_m);

/// The part's name, joints of the blocks, what goes into its slots, its feet, and which way it
/// points.
void mark_piece(const CentringDraft& draft, const RibDraft& rib, double from, double to,
                SheetPart& part);

}  // namespace skewback
