#include "ground/ground.hpp"
#include "ground/holding.hpp"
#include "ground/reactions.hpp"
#include "ground/rods.hpp"

namespace skewback {

TieState tie_state(const Brief& brief, const Assembly& assembly, const std::string& id,
                   const Forces& forces) {
  return held_state(brief, id, reactions(brief, assembly, ground_blocks(brief, assembly), forces),
                    rods_of(brief.plan.supports, brief.ground.ties));
}

}  // namespace skewback
