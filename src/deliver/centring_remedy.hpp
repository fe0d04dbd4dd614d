#pragma once
// What would mend a check of the centring that fails.

#include <string>

#include "brief/brief.hpp"
#include "centring/centring.hpp"

namespace skewback::deliver {

/// Keys of the brief with about the figures that the leading term of the check asks for, forces as
/// they are; a run with them tells. Empty: it passes, or no key of the brief mends it.
[[nodiscard]] std::string centring_remedy(const CentringRequest& ask, const CentringCheck& check);

}  // namespace skewback::deliver
