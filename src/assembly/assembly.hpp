#pragma once
// The dry blocks and who touches whom, and the file they are kept in (format: docs/assembly.md).

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

enum class Carried { kOther, kWalkway, kFill, kParapet };
struct CarriedMass {  // dead load that rides on a block
  double mass_kg = 0;
  Vec3 point = Vec3::Zero();
  Carried kind = Carried::kOther;  // not kept in the assembly file
};

/// Where a block sits in the bridge; empty for assemblies that came from elsewhere.
struct BlockPlace {
  // Index of the support it belongs to; -1: key or ground. On a spine between two meetings the
  // count of supports for the half beside the first, one more beside the second.
  int arm = -1;
  // 1 at the springing, up the flow; 0: ground. Keys count on from the last course; halves of a
  // spine from the key of their meeting, and the key in the middle of it from the higher of them.
  int course = 0;
  int place = 1;  // within the course, from the left looking along the flow
  bool crown =
      false;         // in a ring round the meeting or the eye, between walls on the ridges; or key
  double phi_m = 0;  // of its middle, metres along the flow from the support
  double phi_length_min_m = 0,
         phi_length_max_m = 0;  // shortest and longest flow line between its beds
};

/// Whether `other`, which touches it at a bed, is nearer to the springing: of its own arm, or the
/// key that a spine goes on from.
[[nodiscard]] inline bool lower(const BlockPlace& other, const BlockPlace& self) {
  return (other.arm == self.arm || (other.arm < 0 && self.arm >= 0 && other.course > 0)) &&
         other.course < self.course;
}

struct Block {
  std::string id;
  Solid solid;
  double density = 0;  // kg/m3
  bool fixed = false;  // is the ground
  std::vector<CarriedMass> carried;
  MassProperties mass;  // of the solid, at unit density; filled by `measure`
  BlockPlace place;
};

struct Pad {
  double thickness_m = 0;
  double kn = 0, ks = 0;  // Pa/m
};

struct Joint {
  int a = -1, b = -1;  // block indices
  Frame frame;         // mid-plane of the pad; z points from a into b; y steepest ascent
  Regions contact;     // in frame x, y; several parts and holes allowed
  double friction = 0.6;
  std::optional<Pad> pad;      // none: the blocks touch
  double gap_tolerance_m = 0;  // as built: how far a face may stray from its place; packers fill it
};

struct LiveForce {
  int block = -1;
  Vec3 point = Vec3::Zero();
  Vec3 force = Vec3::Zero();  // N
};

struct LoadCase {
  std::string id;
  Vec3 gravity = {0, 0, -9.81};
  std::vector<LiveForce> live;            // times the load factor
  Vec3 live_acceleration = Vec3::Zero();  // times each block's mass and the load factor
  [[nodiscard]] bool has_live() const { return !live.empty() || live_acceleration.norm() > 0; }
};

struct Assembly {
  std::vector<Block> blocks;
  std::vector<Joint> joints;
  std::vector<LoadCase> cases;
};

/// Fills Block::mass of every block.
void measure(Assembly& assembly);
[[nodiscard]] double mass_kg(const Block& block);  // concrete and what it carries
[[nodiscard]] double concrete_mass_kg(const Block& block);
[[nodiscard]] Vec3 centre_of_gravity(const Block& block);  // of both together

/// Coplanar opposed faces that overlap, gap up to `tolerance_m`. Non-convex and hollow blocks are
/// legal. One joint for each pair of blocks and plane, in the order of the blocks, its origin at
/// the centroid; contacts thinner than a micrometre (edges that touch) are none. Two fixed blocks
/// have no joint.
[[nodiscard]] std::vector<Joint> detect_joints(const std::vector<Block>& blocks, double friction,
                                               double tolerance_m = 1e-3);

/// Measured, and every fault at once: see docs/assembly.md for what is refused. Joints come back
/// with the origin of their frame at the centroid of the contact.
[[nodiscard]] Result<Assembly> read_assembly(const std::filesystem::path& file);
/// JSON text, same every time, numbers exact. Throws std::invalid_argument on a number that is not
/// finite and std::out_of_range on an index that no block has: bugs of the caller.
[[nodiscard]] std::string write_assembly(const Assembly& assembly);

}  // namespace skewback
