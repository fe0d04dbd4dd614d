#pragma once
// Private to erect/: what the files of the transport hand to one another.

#include "brief/brief.hpp"
#include "erect/handling_block.hpp"
#include "erect/transport.hpp"

namespace skewback {

inline constexpr double kBearer_m = 0.1;  // height of the bearers
inline constexpr double kPalletHeight_m = 0.15;
inline constexpr double kTippingGoods = 0.6;  // g sideways (EN 12195-1, from memory)

/// A block as it lies on the road, by itself.
struct Bedding {
  int block = -1;
  std::string id;
  double mass_kg = 0;
  Rigid to_bearers;          // world to: z up, origin under the middle of its box, on the bearers
  Vec3 size = Vec3::Zero();  // of the box: x along its long side
  double bearer_x[2] = {0, 0};  // they run along y
  std::string words;            // "soffit down", "on the bed it is printed on"
  std::vector<HandlingCheck> checks;
  double tips_at_g = 0;  // level acceleration over gravity at which it tips, by itself
  bool spare = false;
};
/// In the way that pulls least across its layers, among ways that pass if there are any.
[[nodiscard]] Bedding bed_for_the_road(const Brief& brief, const Assembly& assembly, int block,
                                       const PrintSet* print);

[[nodiscard]] std::vector<Pallet> stack_pallets(const TransportRequest& request,
                                                const std::vector<Bedding>& beddings);
[[nodiscard]] std::vector<LorryLoad> load_lorries(const TransportRequest& request,
                                                  Transport& transport);

}  // namespace skewback
