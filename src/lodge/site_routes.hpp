#pragma once
// The daybook for the phone: what the requests under /api/daybook do.

#include <filesystem>

#include "lodge/routes.hpp"

namespace skewback::lodge {

/// `folder`: holds daybook.sqlite. `at`: where each block sits, for the picture; may be null.
/// Paths:
/// "/api/daybook", "/api/daybook/BLOCK" (read), "/api/daybook/record", "/api/daybook/cancel"
/// (POST). Token, size and method were checked already, by the gate and by api_reply.
[[nodiscard]] Reply site_reply(const std::filesystem::path& folder, const Assembly* at,
                               const Request& request);

}  // namespace skewback::lodge
