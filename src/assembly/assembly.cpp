#include "assembly/assembly.hpp"

namespace skewback {

void measure(Assembly& assembly) {
  for (Block& block : assembly.blocks) block.mass = mass_properties(block.solid);
}

double concrete_mass_kg(const Block& block) { return block.density * block.mass.volume; }

double mass_kg(const Block& block) {
  double total = concrete_mass_kg(block);
  for (const CarriedMass& carried : block.carried) total += carried.mass_kg;
  return total;
}

Vec3 centre_of_gravity(const Block& block) {
  const double total = mass_kg(block);
  if (total <= 0) return block.mass.centroid;
  Vec3 moment = concrete_mass_kg(block) * block.mass.centroid;
  for (const CarriedMass& carried : block.carried) moment += carried.mass_kg * carried.point;
  return moment / total;
}

}  // namespace skewback
