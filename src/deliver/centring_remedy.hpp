#pragma once
// What would mend a check of the centring that fails.

#include <string>

#include "brief/brief.hpp"
#include "centring/centring.hpp"

namespace skewback::deliver {

/// Keys of the brief with figures that would do by the formula of the check, forces as they are; a
/// run with them settles what they change. Empty: it passes, or no key of the brief mends it.
[[nodiscard]] std::string centring_remedy(const CentringRequest& ask, const CentringCheck& check);

}  // namespace skewback::deliver
