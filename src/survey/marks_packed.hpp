#pragma once
// The marks of setting_out where they are to be as packed.

#include "survey/survey.hpp"

namespace skewback {

/// In the order of setting_out, bridge axes. Springings, and shoes with them, where their footing
/// was found; heads of feet where the blocks want them, before they carry; the ground under feet as
/// drawn; blocks as they are laid, pads not pressed yet. Where the key does not go in: as drawn.
[[nodiscard]] std::vector<Mark> marks_as_packed(const Brief& brief, const Assembly& assembly,
                                                const Centring* centring, const Refit& found);

}  // namespace skewback
