#pragma once
// Each footing as a plain block of concrete on soil, under every case that is held. Signs and
// combinations: docs/theory/ground.md.

#include <optional>
#include <string>
#include <vector>

#include "ground/bearing.hpp"
#include "ground/ground_parts.hpp"

namespace skewback {

/// What acts on a footing, less its own weight: a force and its moment about the middle of the
/// springing, world frame.
struct FootingAction {
  Vec3 force = Vec3::Zero(), moment = Vec3::Zero();
};

/// Minus the reaction, plus the pull of the rods at the level of their tie. `support`: its place in
/// the brief.
[[nodiscard]] FootingAction action_on(const std::vector<Support>& supports,
                                      const std::vector<Tie>& ties, const TieState& state,
                                      int support);

/// Of the brief: the springing line and footing_length beyond each end, from `inner_m` inwards of
/// it to footing_width out.
[[nodiscard]] FootingSize drawn_footing(const Support& support, const GroundRequest& ground,
                                        double inner_m);

/// The load on the underside, x out from the springing line, y along it from a to b (x, y and
/// up are right-handed); weight with it, factored as the permanent action is.
[[nodiscard]] BaseLoad on_base(const Support& support, const FootingSize& size,
                               const FootingAction& dead, const FootingAction& live,
                               double dead_factor, double live_factor);

/// The weight alone and every combination of `states` (by their ids), one of them `dead`: what a
/// state has over it is its action's. Combinations of states that are not there are left out.
/// `reach_m`: how far the springing bed reaches in plan inwards and outwards of its line (for the
/// size and the overhang).
[[nodiscard]] FootingReport check_footing(const Brief& brief, const std::vector<Tie>& ties,
                                          const TieState& dead,
                                          const std::vector<const TieState*>& states,
                                          const std::vector<FootingCombination>& combinations,
                                          int support, const Vec2& reach_m);

/// Movement of a springing as its footing settles and tilts under the dead load: p goes to
/// p + shift + turn x (p - about), world frame, about the middle of the underside.
struct FootingGives {
  Vec3 shift = Vec3::Zero(), turn = Vec3::Zero(), about = Vec3::Zero();
};
/// None where the stiffness of the soil is not known.
[[nodiscard]] std::optional<FootingGives> gives_way(const Support& support,
                                                    const FootingReport& report);

inline constexpr double kFootingWeight = 24e3;  // N/m3, plain concrete, common practice

}  // namespace skewback
