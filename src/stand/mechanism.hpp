#pragma once
// Private to stand/: from dual multipliers to a checked mechanism.

#include <optional>

#include "stand/program.hpp"

namespace skewback {

[[nodiscard]] Vec3 velocity_at(const BlockVelocity& block, const Vec3& p);
/// Velocity of block b relative to a (or to the ground) at a contact.
[[nodiscard]] Vec3 opening_at(const Contact& contact, const std::vector<BlockVelocity>& blocks);

/// Power of the weight and, for unit load factor, of the live load.
struct Power {
  double weight = 0, live = 0;
};
[[nodiscard]] Power power_of(const Assembly& assembly, const LoadCase& load,
                             const StandOptions& options, const std::vector<BlockVelocity>& blocks);

/// Rows -> velocities, greatest speed at any contact point or centre of gravity 1.
[[nodiscard]] std::vector<BlockVelocity> velocities_of(const Assembly& assembly,
                                                       const Program& program, const VectorX& rows);

/// Worst of friction x slip - normal opening over every hull corner, thinned ones included: no
/// contact of the true Coulomb cone resists where this is not positive.
[[nodiscard]] double resistance(const std::vector<Contact>& contacts,
                                const std::vector<BlockVelocity>& blocks);

}  // namespace skewback
