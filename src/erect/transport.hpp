#pragma once
// From the works to the site: how each block is bedded, on which pallet, on which lorry. Theory:
// docs/theory/transport.md.

#include <array>
#include <set>
#include <string>
#include <vector>

#include "erect/lifting.hpp"

namespace skewback {

struct BeddedBlock {
  int block = -1;
  std::string id;
  Rigid to_pallet;              // world to pallet frame: z up, origin in the middle of its top
  std::vector<Vec2> bearers;    // middles of the two bearers it lies on, pallet frame
  double bearer_along_rad = 0;  // which way they run
  std::vector<HandlingCheck> checks;
  double tips_at_g = 0;  // level acceleration over gravity at which it tips, by itself
  std::string words;     // "soffit down", "on the bed it is printed on"
  bool spare = false;    // made again
};
/// "o3", of its spare "o3 again".
[[nodiscard]] std::string name_of(const BeddedBlock& block);

struct Pallet {
  std::string id;
  std::vector<BeddedBlock> blocks;
  double length_m = 0, width_m = 0, height_m = 0;  // over all
  double mass_kg = 0;
  bool own_bearers = false;  // one block too long for a pallet
};
struct LoadedPallet {
  int pallet = -1;
  Vec2 at = Vec2::Zero();  // its middle on the load bed: x from the headboard back, y to the left
  bool turned = false;     // its length across the lorry
  int row = 0;             // of those across the bed, from the headboard
};
struct LorryLoad {
  std::string id;
  std::vector<LoadedPallet> pallets;
  double mass_kg = 0;
  Vec2 centre = Vec2::Zero();   // of gravity on the bed
  int straps = 0;               // over the top, all pallets together
  std::vector<int> row_straps;  // by row
};
struct Transport {
  std::vector<Pallet> pallets;  // in the order needed on site
  std::vector<LorryLoad> lorries;
  double utilisation = 0;                 // worst check of a block on the road
  std::vector<std::string> not_on_lorry;  // pallets too long, wide or heavy for its bed
  std::vector<std::string> remarks;
};

/// Pallets in the order of placing: what is needed first is on the first lorry, and off it first.
/// The spares of the blocks (indices) in `twice` come next to their block, on the same lorry.
[[nodiscard]] Transport plan_transport(const Brief& brief, const Assembly& assembly,
                                       const Programme& programme, const PrintSet* print,
                                       const std::set<int>& twice = {});

/// One a block of the assembly: from the middle of its lorry's bed to its centre of gravity, level;
/// the farther one of a block and its spare. 0: it is on no lorry.
[[nodiscard]] std::vector<double> from_middle_of_bed(const TransportRequest& request,
                                                     const Assembly& assembly,
                                                     const Transport& transport);

/// Top-over straps against sliding, n = (c_xy - mu c_z) m g f_s / (2 mu sin(alpha) F_T), at least
/// 0, rounded up (EN 12195-1:2010, 5.4, from memory).
[[nodiscard]] int straps_needed(double mass_kg, double c_xy, double c_z, double mu,
                                double alpha_rad, double force_n, double safety);

}  // namespace skewback
