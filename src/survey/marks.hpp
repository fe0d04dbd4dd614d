#pragma once
// What is set out and measured: three marks on each springing, block, foot of the centring and shoe
// of a tie; and the corners of each block's beds, measured before it is placed.

#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"
#include "centring/centring.hpp"

namespace skewback {

enum class MarkKind { kSpringing, kBlock, kBed, kFoot, kShoe };

struct Mark {
  std::string name;  // "yard left", "y3 1", "y3 near 2", "R3-2 1", "yard-orchard yard 1"
  MarkKind kind = MarkKind::kSpringing;
  std::string of;                // support, block, foot, "tie support"
  Vec3 designed = Vec3::Zero();  // bridge axes
};

/// Springings: "left", "right" end of the springing line, "back" behind its middle.
[[nodiscard]] std::vector<Mark> springing_marks(const Brief& brief);
/// All marks to be set out, in this order: springings, shoes, feet, blocks (three on the back of
/// each, where they are seen in place). `centring` null: no feet. Heads of feet stand
/// higher than drawn by centring.settlement, as they do before they carry.
[[nodiscard]] std::vector<Mark> setting_out(const Brief& brief, const Assembly& assembly,
                                            const Centring* centring);
/// Corners of the two beds of every block, "near" and "far" (from its support), 1 to 4 and 5 in the
/// middle: measured in any axes, the block lying anywhere.
[[nodiscard]] std::vector<Mark> bed_marks(const Assembly& assembly);

[[nodiscard]] Vec3 to_site(const SiteGrid& site, const Vec3& bridge);  // east, north, level
[[nodiscard]] Vec3 from_site(const SiteGrid& site, const Vec3& east_north_level);

/// For the instrument: mark, east, north, level, with the date and how the grid lies in a comment,
/// and `note` (one line, or empty) before it.
[[nodiscard]] std::string setting_out_csv(const SiteGrid& site, const std::vector<Mark>& marks,
                                          const std::string& note = "");

}  // namespace skewback
