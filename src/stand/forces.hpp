#pragma once
// Forces that balance, mechanisms that move, and what is asked about: shared by the views.

#include <optional>
#include <vector>

#include "assembly/assembly.hpp"

namespace skewback {

struct ContactForce {  // the force that block b of the joint feels at a point, world frame
  int joint = -1;
  Vec3 point = Vec3::Zero();
  Vec3 force = Vec3::Zero();
};
struct PropForce {
  int prop = -1;
  Vec3 force = Vec3::Zero();  // on the block
};
struct Forces {  // evidence that it stands at `load_factor`
  double load_factor = 0;
  std::vector<ContactForce> contacts;
  std::vector<PropForce> props;
};
struct BlockVelocity {
  Vec3 v = Vec3::Zero();  // of the world origin's image: velocity of point p is v + w x p
  Vec3 w = Vec3::Zero();
};
struct Mechanism {  // evidence that it falls at `load_factor` and above
  double load_factor = 0;
  std::vector<BlockVelocity> blocks;  // one per block; zero for fixed ones
  double work = 0;                    // power of weight + load_factor * live on it, > 0
};

/// A one-sided support that pushes and never pulls: a seat of the centring, a prop.
struct Prop {
  int block = -1;
  Vec3 point = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();  // unit; the way it pushes the block
  double friction = 0;
  double lowered_m = 0;  // straight down, from where it was when the block came to lie on it; below
                         // 0: raised; felt by the pads alone
};

enum class ThirdView { kNever, kWhenNeeded, kAlways };

struct StandOptions {
  double load_factor_cap = 20;  // a result at the cap reads "at least"
  double tolerance = 1e-9;
  std::optional<double> friction = {};           // replaces every joint's own
  std::optional<double> joint_strength_pa = {};  // least upper bound of pressure; none: no crushing
  std::vector<Prop> props = {};
  std::vector<char> present = {};  // per block; empty: all
  int contact_points_max = 24;     // per joint; more hull corners are thinned: on the safe side
  bool own_carried = false;  // what blocks carry is not as in the assembly's file: evidence says it
  /// Motion in time, in proofs of both other views; needed where they differ or slip takes part
  /// (motion_view.hpp).
  ThirdView third_view = ThirdView::kNever;
};

}  // namespace skewback
