#pragma once

#include "assembly/assembly.hpp"
#include "body/body.hpp"

namespace skewback {

/// A footing behind the springing bed: wider than it by ground.footing_width, but only a little
/// above it.
[[nodiscard]] Block ground_block(const Brief& brief, const Body& body, int support);

}  // namespace skewback
