#pragma once
// Private to works/: a bridge whose ties were taken out, held by the ties left and by the soil.

#include "works/ask_load.hpp"

namespace skewback {

/// What the soil has to do under one footing, weight and load as they are, no partial factors.
struct BareFoot {
  std::string id;
  double vertical_n = 0;        // with the footing's own weight
  Vec2 push_n = Vec2::Zero();   // of the footing on the soil, in plan, that no tie holds
  double resists_n = 0;         // by friction under its base; 0: soil unknown
  double turning_nm = 0;        // about the vertical, that no tie holds: not judged
  bool beyond_third = false;    // the load passes beyond a third of the base, or off it
  std::optional<double> bears;  // pressure over what the soil bears
  Vec3 moved = Vec3::Zero();    // where the balance was found
  [[nodiscard]] bool slides() const { return push_n.norm() > resists_n; }
  [[nodiscard]] double used() const { return resists_n > 0 ? push_n.norm() / resists_n : 0; }
};

/// Forces between the bridge and its feet -> the feet on these ties and the soil. `ties` take what
/// they can, the soil the rest.
[[nodiscard]] std::vector<BareFoot> bare_feet(const AskedBridge& bridge, const AskedBlocks& blocks,
                                              const Forces& forces, const std::vector<Tie>& ties);
/// Pull of each tie, all its rods, under the same forces, N.
[[nodiscard]] std::vector<double> tie_pulls(const AskedBridge& bridge, const AskedBlocks& blocks,
                                            const Forces& forces, const std::vector<Tie>& ties);

/// Feet that slide go the way they push until the bridge, whose thrust falls as they give, pushes
/// no harder than their base resists. View 2.
struct GivingWay {
  bool rests = false;
  std::string reason;            // where it does not
  double most_m = 0;             // furthest that a foot has gone
  std::vector<BareFoot> feet;    // at the end
  std::vector<BlockMove> moves;  // `before` and the slide
  PadState state;
};
[[nodiscard]] GivingWay give_way(const AskedBridge& bridge, const AskedBlocks& blocks,
                                 const PadModel& model, const LoadCase& load,
                                 const std::vector<Tie>& ties, const PadState& start,
                                 const std::vector<BlockMove>& before);

/// Goes on from the moves of a state as from a guess: the same answer, sooner. Nothing of what has
/// slipped is kept.
[[nodiscard]] PadHistory guess_from(const Assembly& assembly,
                                    const std::vector<BlockVelocity>& moves);

}  // namespace skewback
