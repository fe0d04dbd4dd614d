#include "print/print.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

std::string millimetres(double m) {
  return std::to_string(static_cast<long>(std::lround(m * 1e4)) / 10) + "." +
         std::to_string(static_cast<long>(std::lround(m * 1e4)) % 10) + " mm";
}

int beds_of(const Assembly& assembly, int block) {
  return static_cast<int>(std::ranges::count_if(
      assembly.joints, [&](const Joint& j) { return j.a == block || j.b == block; }));
}

BlockLayers layers_of(const PrintRequest& request, const Block& block, int beds) {
  BlockLayers out;
  out.id = block.id;
  if (block.place.arm < 0 && beds > 2) {
    out.reason = "a key has more than two beds: cast, or divide (comes with the print step)";
    return out;
  }
  const double shortest = block.place.phi_length_min_m, longest = block.place.phi_length_max_m;
  if (!(shortest > 0) || !(longest >= shortest)) {
    out.reason = "the lengths of its flow lines are not known";
    return out;
  }
  const double slack = 1e-9;  // so that a length that is a whole number of layers stays one
  out.layers = std::max(1, static_cast<int>(std::ceil(longest / request.layer_max_m - slack)));
  out.layer_min_m = shortest / out.layers;
  out.layer_max_m = longest / out.layers;
  out.printable = out.layer_min_m >= request.layer_min_m * (1 - slack);
  if (!out.printable) {
    out.reason = "with " + std::to_string(out.layers) + " layers the thinnest is " +
                 millimetres(out.layer_min_m) + ", under " + millimetres(request.layer_min_m) +
                 ": the block is too unequally long";
  }
  return out;
}

}  // namespace

PrintSet lay_layers(const Brief& brief, const Assembly& assembly) {
  PrintSet set;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = assembly.blocks[i];
    if (!block.fixed) set.blocks.push_back(layers_of(brief.print, block, beds_of(assembly, i)));
  }
  return set;
}

}  // namespace skewback
