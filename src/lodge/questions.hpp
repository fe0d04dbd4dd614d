#pragma once
// Questions to the bridge as proved last.

#include "lodge/bench.hpp"
#include "lodge/shelf.hpp"

namespace skewback::lodge {

/// Sets bench.ask. One asker is kept for each dossier while it is the newest proved; at most four
/// answers are worked out at a time, more are refused with 429.
void add_questions(Bench& bench, const Source& source);

}  // namespace skewback::lodge
