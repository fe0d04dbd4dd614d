#include <algorithm>

#include "erect/erect.hpp"

namespace skewback {

void add_drop_to_travel(const Brief& brief, const Programme& programme, Centring& centring) {
  const auto check = std::ranges::find(centring.checks, "travel down", &CentringCheck::name);
  if (check == centring.checks.end()) return;
  const auto clear = std::ranges::find(programme.stages, "clear", &Stage::what);
  const double drop = clear == programme.stages.end() ? 0 : std::max(0.0, clear->crown_drop_m);
  // still borne after the last step: at least one more
  const double lowered =
      programme.lowering_m + (programme.freed ? 0 : brief.centring.strike_step_m);
  check->demand = std::max(check->demand + drop, lowered);
  check->utilisation = check->demand / check->resistance;
  check->source =
      "what the rib springs back, the brief's settlement and the drop of the bridge that follows; "
      "at least the whole steps until no seat bears";
}

}  // namespace skewback
