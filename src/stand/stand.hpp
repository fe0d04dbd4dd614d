#pragma once
// Does it stand? View 1: the limit load by the static theorem of limit analysis (Drucker, Prager
// and Greenberg 1952; Heyman 1966; Livesley 1978), on an inner faceted Coulomb cone. Theory:
// docs/theory/stand.md.

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "assembly/assembly.hpp"
#include "base/progress.hpp"

namespace skewback {

enum class Verdict { kStands, kFalls, kUndecided };
[[nodiscard]] const char* word(Verdict verdict);  // "stands", "falls", "undecided"

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

struct CaseProof {
  std::string id;
  Verdict verdict = Verdict::kUndecided;
  std::string reason;                 // in words, for undecided and falls
  std::vector<std::string> views;     // {"limit"}
  std::optional<double> load_factor;  // none where nothing is multiplied
  bool at_cap = false;                // load_factor is "at least"
  std::optional<double>
      joint_stress_max_pa;  // no-tension linear pressure under view 1's resultants
  int governing_joint = -1;
  double residual_rel = 0;  // equilibrium residual over the largest block weight
  std::variant<std::monostate, Forces, Mechanism> evidence;
  std::optional<Mechanism> limit_mechanism;  // of the load factor's upper side, when one was found
};

/// A one-sided support that pushes and never pulls: a seat of the centring, a prop.
struct Prop {
  int block = -1;
  Vec3 point = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();  // unit; the way it pushes the block
  double friction = 0;
};

struct StandOptions {
  int rays = 8;  // of the friction cone, >= 8 and even; one pair along the steepest line
  double load_factor_cap = 20;  // a result at the cap reads "at least"
  double tolerance = 1e-9;
  std::optional<double> friction = {};  // replaces every joint's own
  std::vector<Prop> props = {};
  std::vector<char> present = {};  // per block; empty: all
  int contact_points_max =
      24;  // per joint; more hull corners are thinned, which is on the safe side
};

/// Limit load of one case. Verdict at load factor 1: stands if the weight alone and the weight with
/// 1 times the live load can be balanced (then so can all between). falls: proven by a mechanism
/// that holds for the true (outer) cone, the weight alone included (load factor 0); undecided in
/// between, after finer cones than `rays` were tried. joint_stress_max_pa is that at factor 1. A
/// case with nothing to multiply is judged on its weight alone.
[[nodiscard]] CaseProof prove(const Assembly& assembly, const LoadCase& load,
                              const StandOptions& options = {});
/// All cases, in parallel, in the order given.
[[nodiscard]] std::vector<CaseProof> prove_all(const Assembly& assembly,
                                               const StandOptions& options = {},
                                               const Progress& progress = {});

/// How much deeper the joints are than they need to be (Heyman's geometric factor of safety).
struct DepthReserve {
  double safety = 0;      // full depth over the least that still holds a thrust surface
  bool at_least = false;  // the least depth tried was enough
};
/// Joints are made shallower, all by one share and about their middle depth (along the frame's y),
/// weights unchanged, until the case stands no longer; to within 1 %. Safety is that of the last
/// depth at which it stood. None if it does not stand at full depth.
[[nodiscard]] std::optional<DepthReserve> geometric_safety(const Assembly& assembly,
                                                           const LoadCase& load,
                                                           const StandOptions& options = {});

struct DepthOptions {
  double live_factor = 1.35;  // on the live load of each case; weight is not multiplied
  double near = 0.01;         // relative width of the bracket; range 1e-5 to 0.1
  double share_least = 0.02;  // none below is tried
};
struct DepthNeed {
  std::string id;  // of the case
  std::optional<double> share =
      {};                // of every joint's depth, at which it still stood; none: unheld
  bool at_most = false;  // stood at that share, which another case needs; not sought lower
  int joint = -1;        // the one whose depth counts most just under that share
};
struct DepthNeeds {
  double live_factor = 0;
  std::vector<DepthNeed> cases;       // per case of the assembly
  int governing = -1;                 // case that needs most; -1: all hold at the least share tried
  std::optional<double> share;        // that holds every case; none: some case needs more than all
  std::vector<double> joint_depth_m;  // per joint: that share of its depth
  std::vector<int> unheld;            // cases that the full depth does not hold
};
/// Least depth for all cases of an assembly, one shape: joints made shallower as in
/// geometric_safety, under weight and live_factor times the live load. Only cases that raise the
/// share are searched; the others are tried at the share found. Cases in parallel.
[[nodiscard]] DepthNeeds depth_needed(const Assembly& assembly, const DepthOptions& wanted = {},
                                      const StandOptions& options = {},
                                      const Progress& progress = {});

/// Resultant that block b feels across a joint, at the joint's origin, world frame.
struct JointResultant {
  Vec3 force = Vec3::Zero();
  Vec3 moment = Vec3::Zero();
  double angle_deg = 0;  // between the joint's normal and the force
  std::optional<double> peak_pressure_pa;
};
[[nodiscard]] std::vector<JointResultant> joint_resultants(const Assembly& assembly,
                                                           const Forces& forces);

/// Peak of the linear pressure without tension that carries the normal force N (N > 0 compresses)
/// at the point p of the contact. None when p lies outside the hull of the contact.
[[nodiscard]] std::optional<double> peak_pressure(const Regions& contact, double N, const Vec2& p);

/// "four hinges: ...": what the mechanism does, in words.
[[nodiscard]] std::string in_words(const Assembly& assembly, const Mechanism& mechanism);

/// Evidence as JSON text (format: docs/evidence.md), which `verify` reads on its own.
[[nodiscard]] std::string write_evidence(const Assembly& assembly, const LoadCase& load,
                                         const CaseProof& proof, const StandOptions& options);

}  // namespace skewback
