#pragma once
// Layers from bed to bed, level sets of phi. In this version: counts and heights only, no paths.

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

struct BlockLayers {
  std::string id;
  int layers = 0;
  double layer_min_m = 0, layer_max_m = 0;
  bool printable = false;
  std::string reason;  // when not printable so
};
struct PrintSet {
  std::vector<BlockLayers> blocks;
};

[[nodiscard]] PrintSet lay_layers(const Brief& brief, const Assembly& assembly);

}  // namespace skewback
