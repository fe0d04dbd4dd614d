#pragma once
// The body before it is a solid: enough to draw it and to weigh it.

#include "body/body.hpp"

namespace skewback {

/// As give_body but for `outer` and its volume, which stay empty: nothing is checked yet.
[[nodiscard]] Body sized_body(const Brief& brief, const Form& form);

}  // namespace skewback
