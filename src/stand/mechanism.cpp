#include "stand/mechanism.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>

namespace skewback {

Vec3 velocity_at(const BlockVelocity& block, const Vec3& p) { return block.v + block.w.cross(p); }

Vec3 opening_at(const Contact& c, const std::vector<BlockVelocity>& blocks) {
  const auto at = [&](int block) -> Vec3 {
    return block < 0 ? Vec3(Vec3::Zero())
                     : velocity_at(blocks[static_cast<std::size_t>(block)], c.point);
  };
  return at(c.b) - at(c.a);
}

Power power_of(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
               const std::vector<BlockVelocity>& blocks) {
  Power power;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed || !is_present(options, static_cast<int>(i))) continue;
    const Vec3 v = mass_kg(block) * velocity_at(blocks[i], centre_of_gravity(block));
    power.weight += v.dot(load.gravity);
    power.live += v.dot(load.live_acceleration);
  }
  for (const LiveForce& live : load.live) {
    const auto i = static_cast<std::size_t>(live.block);
    if (assembly.blocks[i].fixed || !is_present(options, live.block)) continue;
    power.live += live.force.dot(velocity_at(blocks[i], live.point));
  }
  return power;
}

std::vector<BlockVelocity> velocities_of(const Assembly& assembly, const Program& program,
                                         const VectorX& rows) {
  std::vector<BlockVelocity> blocks(assembly.blocks.size());
  double fastest = 0;
  for (std::size_t s = 0; s < program.blocks.size(); ++s) {
    const auto row = 6 * static_cast<Eigen::Index>(s);
    BlockVelocity& block = blocks[static_cast<std::size_t>(program.blocks[s])];
    block.w = rows.segment<3>(row + 3) / program.length_unit;
    block.v = rows.segment<3>(row) - block.w.cross(program.centre[s]);
    fastest = std::max(fastest, rows.segment<3>(row).norm());
  }
  for (const Contact& c : program.contacts) {
    for (const int block : {c.a, c.b}) {
      if (block < 0) continue;
      fastest =
          std::max(fastest, velocity_at(blocks[static_cast<std::size_t>(block)], c.point).norm());
    }
  }
  if (fastest <= 0) return blocks;
  for (BlockVelocity& block : blocks) {
    block.v /= fastest;
    block.w /= fastest;
  }
  return blocks;
}

double resistance(const std::vector<Contact>& contacts, const std::vector<BlockVelocity>& blocks) {
  double worst = -std::numeric_limits<double>::infinity();
  for (const Contact& c : contacts) {
    const Vec3 opening = opening_at(c, blocks);
    const double normal = opening.dot(c.n);
    worst = std::max(worst, c.friction * (opening - normal * c.n).norm() - normal);
  }
  return worst;
}

}  // namespace skewback
