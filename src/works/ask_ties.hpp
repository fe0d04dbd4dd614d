#pragma once
// Private to works/: what it means for a bridge that ties were taken out.

#include "works/ask_feet.hpp"

namespace skewback {

struct TiesOut {
  std::vector<std::string> ids;
  std::vector<double> pulled_n;      // each of them, all its rods, while it was there
  std::vector<BareFoot> tied, bare;  // with all ties; without, feet where they were
  std::optional<GivingWay> way;      // where a foot slides and how far was looked at
  [[nodiscard]] bool soil_known(const Brief& brief) const;
  [[nodiscard]] bool holds(const Brief& brief) const;  // where they are
};

/// `forces`: of the bridge under the load asked, feet where they are.
[[nodiscard]] TiesOut take_ties_out(const AskedBridge& bridge, const AskedBlocks& blocks,
                                    const Forces& forces, const std::vector<std::string>& ids);
[[nodiscard]] std::vector<Tie> ties_left(const AskedBridge& bridge,
                                         const std::vector<std::string>& without);

/// Where the soil does not hold the feet, the blocks' own verdict is not the bridge's: undecided,
/// with the ground's balance as the reason; a state found after the slide takes the place of the
/// other.
void join_ground(const Brief& brief, const TiesOut& out, CaseProof& proof);

/// First what it comes to, then what each foot has to do.
[[nodiscard]] std::vector<std::string> words_of(const Brief& brief, const TiesOut& out);

}  // namespace skewback
