#include <algorithm>
#include <cmath>

#include "print/block_print.hpp"
#include "print/words.hpp"

namespace skewback {
namespace {

constexpr double kFine = 0.05;  // m, edges of a solid on which ways along curved fields are sought

const Solid& solid_of(const Assembly& assembly, int block) {
  return assembly.blocks[static_cast<std::size_t>(block)].solid;
}

/// Counts the layers, or says why there is no count.
void count_layers(const PrintRequest& cell, const WayRange& ways, BlockLayout& layout) {
  const LayerCount count = layer_count(ways, cell.layer_min_m, cell.layer_max_m);
  layout.count = count.chosen(ways, cell.layer_min_m, cell.layer_max_m);
  layout.fewest = count.fewest;
  layout.most = count.most;
  if (count.fits()) return;
  layout.trouble =
      "from bed to bed it is " + millimetres(ways.least_m, 1) + " to " +
      millimetres(ways.greatest_m, 1) + ": layers of " + millimetres(cell.layer_min_m, 1) + " to " +
      millimetres(cell.layer_max_m, 1) + " cannot follow; it would take partial layers, which " +
      "are not made, or another cut: narrower (blocks.width_max) or longer along the flow "
      "(blocks.length)";
}

}  // namespace

BlockLayout bed_to_bed(const PrintRequest& cell, const Assembly& assembly, int block,
                       const BlockBeds& beds) {
  BlockLayout out;
  out.way = PrintWay::kBedToBed;
  if (beds.beds.empty()) {
    out.trouble = "it has no bed";
    return out;
  }
  const Setup setup = set_up(cell, assembly, block, beds);
  const Solid& solid = solid_of(assembly, block);
  out.along = setup.along;
  out.to_table = setup.to_table;
  out.stand_rad = setup.stand_rad;
  out.lean_rad = setup.lean_rad;
  out.low_bed = setup.low_bed;
  out.high_bed = setup.high_bed;
  out.words = setup.words;
  out.field = fan_field(setup.fan);
  out.field_words = setup.fan.angle_rad < 1e-6 ? "parallel planes" : "planes";
  count_layers(cell, ways_through(*out.field, solid), out);
  if (out.trouble.empty() || setup.high_bed.empty()) return out;
  const Result<FieldPtr> harmonic = harmonic_field(solid, setup.fan);
  if (!harmonic) return out;
  BlockLayout bent = out;
  bent.trouble.clear();
  bent.field = *harmonic;
  bent.field_words = "harmonic";
  count_layers(cell, ways_through(**harmonic, refined(solid, kFine)), bent);
  return bent.trouble.empty() ? bent : out;
}

BlockLayout laid_flat(const PrintRequest& cell, const Assembly& assembly, int block,
                      const BlockBeds& beds) {
  BlockLayout out;
  out.way = PrintWay::kFlat;
  const Solid& solid = solid_of(assembly, block);
  Vec3 up = Vec3::Zero();  // mean normal of the faces that look up
  for (const auto& face : solid.faces) {
    const Vec3& a = solid.vertices[static_cast<std::size_t>(face[0])];
    const Vec3 normal = (solid.vertices[static_cast<std::size_t>(face[1])] - a)
                            .cross(solid.vertices[static_cast<std::size_t>(face[2])] - a);
    if (normal.z() > normal.norm() * std::sqrt(0.5)) up += normal;
  }
  if (!(up.norm() > 0)) {
    out.trouble = "it has no face that looks up";
    return out;
  }
  up.normalize();
  const Result<FieldPtr> between = faces_field(solid, up);
  if (!between) {
    out.trouble = between.faults().front().found;
    return out;
  }
  out.field = *between;
  out.field_words = "between faces";
  out.along = beds.beds.empty()
                  ? up.unitOrthogonal()
                  : assembly.joints[static_cast<std::size_t>(beds.beds[0].front())].frame.x;
  out.to_table = onto_table(solid, up, out.along);
  out.words = "laid flat, intrados down, on a mould of that shape: the thrust of all its " +
              std::to_string(beds.beds.size()) + " beds runs in the layers and never across them";
  count_layers(cell, ways_through(*out.field, refined(solid, kFine)), out);
  return out;
}

}  // namespace skewback
