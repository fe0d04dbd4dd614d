#pragma once
// View 3: the blocks let go in time. Explicit discrete elements (Cundall and Strack 1979; Cundall
// 1988): rigid blocks, points of contact that push and rub but never pull, leap-frog steps, turns
// by quaternion, movements of any size. Shares no solver with views 1 and 2, only the contacts.
// Theory, limits and sources: docs/theory/motion.md.

#include <Eigen/Geometry>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "base/progress.hpp"

namespace skewback {

// ---- what happens -------------------------------------------------------------------------------

/// A one-sided support that pushes its block along `direction` (unit) and stays where it is.
struct Pusher {
  int block = -1;
  Vec3 point = Vec3::Zero(), direction = Vec3::UnitZ();
  double friction = 0;
  double lowered_m = 0;  // straight down, from the start
};

/// A fixed block goes there: p to p + shift + turn x (p - about), eased in and out (a half cosine).
struct GroundMove {
  int block = -1;
  Vec3 shift = Vec3::Zero(), turn = Vec3::Zero(), about = Vec3::Zero();  // m, rad (vector), m
  double from_s = 0, over_s = 0;  // over 0: together with the loads
};

struct Removal {  // the block is taken away at once
  int block = -1;
  double at_s = 0;
};

/// A ball that falls from `height_m` above a point of a block, touches it there, and stays.
struct Drop {
  int block = -1;
  Vec3 point = Vec3::Zero();  // on the block's surface, at the start
  Vec3 up = Vec3::UnitZ();    // outward normal of the surface there
  double mass_kg = 0, height_m = 0, at_s = 0;
  double kn = 1e7;  // N/m, of ball and block together
};

/// Acceleration of the ground, in a frame that goes with it; linear between, none outside.
struct Shaking {
  std::vector<double> time_s;      // rising
  std::vector<Vec3> acceleration;  // m/s2
};
/// CSV: time_s, ax, ay, az in m/s2; lines that begin with # are words. Faults name the line.
[[nodiscard]] Result<Shaking> read_shaking(const std::filesystem::path& file);

struct Scene {
  double load_factor = 1;               // on the live load of the case
  std::vector<char> present = {};       // per block; empty: all
  std::optional<double> friction = {};  // replaces every joint's own
  std::vector<double> gap_m = {};       // per joint: open by so much at the start; empty: none
  std::vector<Pusher> pushers = {};
  std::vector<GroundMove> moves = {};
  std::vector<Removal> removals = {};
  std::vector<Drop> drops = {};
  Shaking shaking = {};
};

// ---- how it is reckoned -------------------------------------------------------------------------

enum class Damping {
  kSettling,  // every force out of balance is lessened by `settling` against the velocity: the way
              // to rest, not time as a clock has it
  kRocking,   // dashpots at closed contacts only: what falls, rocks and strikes
  kNone
};

[[nodiscard]] const char* word(Damping damping);  // "settling", "rocking", "none"

struct MotionOptions {
  Damping damping = Damping::kSettling;
  double settling = 0.7;  // Cundall's local damping
  bool even = true;       // settling: inertia raised where a block would make every step short
  double rocking = 1;     // share of critical of a block on its joint; 1: a blow sends e^-2 back
  double dry_kn = 1e10, dry_ks = 4e9;  // Pa/m, of joints without a pad, as of PadOptions
  double prop_kn = 2e7;                // N/m, of each pusher
  double creep = 0;                    // pads give 1 + creep times as much
  double edge_share = 0.5;             // longest edge of a contact's mesh over the root of its area
  double step_share = 0.8;             // of the longest stable step
  double put_on_s = 0;  // loads and moves without a time of their own are eased in; 0: as long
                        // as the size of the assembly asks
  double time_most_s = 60;
  long steps_most = 2'000'000;
  double rest_share = 1e-4;  // force out of balance over the mean weight of a block
  double far_m = 0;          // a block gone so far is moving off; 0: half the mean size of a block
  bool find_again = true;    // contacts are found again as blocks move
  int frames = 40;           // of the record, at most twice as many
  int threads = 1;           // the result does not depend on it
};

// ---- what came of it ----------------------------------------------------------------------------

enum class Ending { kAtRest, kMovingOff, kNotSettled };
[[nodiscard]] const char* word(Ending ending);  // "at rest", "moving off", "not settled"

struct BlockPose {  // of a block: its centre of gravity, and its turn since the start
  Vec3 centre = Vec3::Zero();
  Eigen::Quaterniond turn = Eigen::Quaterniond::Identity();
};
struct MotionFrame {
  double time_s = 0;
  std::vector<BlockPose> blocks;
};

struct JointMotion {
  double normal_n = 0, shear_n = 0;
  Vec3 force = Vec3::Zero();                          // on b, world
  Vec3 origin = Vec3::Zero(), moment = Vec3::Zero();  // about the joint's origin, where it is now
  double slid_m = 0;                                  // greatest slip of a point that presses
  double opened_m = 0;                                // greatest gap of a point
  double slipping_share = 0;  // of the normal force, at points where friction is used up
};

struct PusherMotion {
  Vec3 force = Vec3::Zero(), point = Vec3::Zero();  // on its block, and where that now is; world
};

/// Energy since the start, J. brought + ground = kinetic + strain + rubbed + dashed + settled +
/// found_again, up to `error`.
struct EnergyLedger {
  double kinetic = 0;  // of the inertia reckoned with, more than the mass where steps are made even
  double strain = 0;
  double brought = 0;   // by weight, live load, shaking and velocities given, on the blocks
  double ground = 0;    // by the ground that was moved
  double contacts = 0;  // work of the contacts on blocks and ground together, < 0 when they take
  double settled = 0;   // taken by the damping of settling
  double rubbed = 0, dashed = 0;  // by friction, by dashpots
  double found_again = 0;  // lost (or, < 0, made) where contacts are found again or taken away
  double error = 0;  // what is missing, over the most that was turned over; over 0.01 (ours) no
                     // motion but one of settling is trusted to have come to rest
};

struct Motion {
  Ending ending = Ending::kNotSettled;
  std::string reason;  // in words
  double time_s = 0, step_s = 0;
  long steps = 0;
  double contact_updates = 0;  // points times steps
  int points = 0;
  double moved_max_m = 0;  // of a free block's centre
  int moved_block = -1;
  double turned_max_rad = 0, speed_max = 0;
  double unbalanced = 0;              // force out of balance over the mean weight
  int found_again = 0;                // joints made anew as blocks slid
  int new_contacts = 0;               // between faces that did not touch
  bool slips = false;                 // friction used up at a point that presses
  std::vector<JointMotion> joints;    // per joint of the assembly
  std::vector<PusherMotion> pushers;  // per pusher of the scene
  std::vector<MotionFrame> frames;
  EnergyLedger energy;
};

/// A motion that can be gone on with, and copied to go on in two ways. The assembly is not kept.
class MotionRun {
 public:
  MotionRun(const Assembly& assembly, const LoadCase& load, const Scene& scene = {},
            const MotionOptions& options = {});
  ~MotionRun();
  MotionRun(const MotionRun&);
  MotionRun& operator=(const MotionRun&);
  MotionRun(MotionRun&&) noexcept;
  MotionRun& operator=(MotionRun&&) noexcept;

  /// Until at rest, moving off, or the time or steps are over. Throws Interrupted.
  Motion go(const Progress& progress = {});
  /// `seconds` of motion, whatever becomes of it.
  Motion go_for(double seconds, const Progress& progress = {});
  /// From here on, eased in from what it was over `over_s` (0: as at the start).
  void set_load_factor(double factor, double over_s = 0);
  void move_ground(const GroundMove& move);  // on from where it is; `from_s` counts from now
  void set_velocity(int block, const Vec3& v, const Vec3& w);  // of the centre; m/s, rad/s
  /// Put there at once, at no cost; springs along its joints take no force where it is put.
  void place(int block, const BlockPose& pose);
  [[nodiscard]] BlockPose pose(int block) const;
  [[nodiscard]] Vec3 velocity(int block) const;  // of its centre
  [[nodiscard]] Vec3 turning(int block) const;   // rad/s
  [[nodiscard]] double stable_step_s() const;    // longest, undamped: 2 over the largest frequency
  [[nodiscard]] double time_s() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

[[nodiscard]] Motion let_go(const Assembly& assembly, const LoadCase& load, const Scene& scene = {},
                            const MotionOptions& options = {}, const Progress& progress = {});

}  // namespace skewback
