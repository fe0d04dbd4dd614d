#pragma once
// The works on site, for run_works: centring, order, lifting, transport, spares.

#include "deliver/deliver.hpp"

namespace skewback {

/// Fills centring and self_held, or centring_reason.
void draw_centring(Dossier& dossier, const Progress& progress);

/// Its design under the loads of every stage of the dossier's programme, then its parts on sheets.
void settle_drawn(Dossier& dossier, const Progress& progress);

/// Fills centring (unless it was drawn before), self_held, programme, lifts, transport, spares:
/// what the brief asks for, the order of work in any case. Where no centring can be drawn
/// centring_reason says why, and seats are spread over the soffits.
void plan_site(Dossier& dossier, const Progress& progress, const BreakCount& breaks = {});

}  // namespace skewback
