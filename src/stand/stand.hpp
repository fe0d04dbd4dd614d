#pragma once
// Does it stand? Two views of the same contacts. View 1: the limit load by the static theorem of
// limit analysis (Drucker, Prager and Greenberg 1952; Heyman 1966; Livesley 1978), on the true
// Coulomb cone (docs/theory/stand.md). View 2: the state of the pads (stand/pads.hpp). View 3: the
// blocks let go in time (motion/motion.hpp). What the verdicts are worth: docs/theory/stand.md.

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/progress.hpp"
#include "motion/motion.hpp"
#include "stand/forces.hpp"
#include "stand/pads.hpp"

namespace skewback {

enum class Verdict { kStands, kFalls, kUndecided };
[[nodiscard]] const char* word(Verdict verdict);  // "stands", "falls", "undecided"

struct CaseProof {
  std::string id;
  Verdict verdict = Verdict::kUndecided;
  std::string reason;                         // in words, for undecided and falls
  std::vector<std::string> views;             // of "limit", "pads", "motion": those that were run
  std::optional<double> load_factor;          // view 1; none where nothing is multiplied
  bool at_cap = false;                        // load_factor is "at least"
  std::optional<double> joint_stress_max_pa;  // of the pads; without view 2, of no-tension linear
                                              // pressure under view 1's resultants
  int governing_joint = -1;
  std::optional<double> friction_needed;  // least coefficient, the same in all joints, that still
                                          // balances the case at factor 1: see least_friction
  double residual_rel = 0;                // equilibrium residual over the largest block weight
  std::variant<std::monostate, Forces, Mechanism> evidence;  // of view 1
  std::optional<Mechanism> limit_mechanism;  // of the load factor's upper side, when one was found
  std::optional<PadState> pads;              // view 2 at load factor 1
  // view 2, where sliding takes part: see pads_factor
  std::optional<double> pads_load_factor;
  bool pads_at_cap = false;          // pads_load_factor is "at least"
  std::optional<double> flattening;  // greatest movement on the moved shape over the drawn one
  std::optional<Motion> motion;      // view 3 at load factor 1, where it was run
};

/// View 1 of one case. Verdict at load factor 1: stands if the weight alone and the weight with 1
/// times the live load can be balanced (then so can all between). falls: proven by a mechanism, for
/// the weight alone at load factor 0; undecided in between, with both figures. A case with nothing
/// to multiply is judged on its weight alone.
[[nodiscard]] CaseProof limit_load(const Assembly& assembly, const LoadCase& load,
                                   const StandOptions& options = {});
/// All cases, in parallel, in the order given.
[[nodiscard]] std::vector<CaseProof> limit_loads(const Assembly& assembly,
                                                 const StandOptions& options = {},
                                                 const Progress& progress = {});

/// Both views: stands only if view 1 says so and the pads reach a state at factor 1, on the moved
/// shape too where a block moves by over a twentieth of the blocks' size; what view 1 proves to
/// fall, falls; the rest is undecided, with the reason. With joint_strength_pa given, view 1 uses
/// it and the peak of the pads is only reported.
[[nodiscard]] CaseProof prove(const Assembly& assembly, const LoadCase& load,
                              const StandOptions& options = {}, const PadOptions& pads = {});
[[nodiscard]] std::vector<CaseProof> prove_all(const Assembly& assembly,
                                               const StandOptions& options = {},
                                               const Progress& progress = {},
                                               const PadOptions& pads = {});
/// The verdict of view 1 taken together with a state of the pads, which the proof then holds.
void join_views(const Assembly& assembly, PadState pads, CaseProof& proof);

/// Largest live load factor between `holds`, at which the pads have a state, and `most`, for which
/// they find one, put on at once; by halves, to within `near` of it. Coulomb's own law, which does
/// not lift what slides (Drucker 1954): the one to go by where sliding takes part. A state not
/// found is not proven absent: on the safe side.
[[nodiscard]] double pads_factor(const PadModel& model, const LoadCase& load, PadOptions pads,
                                 double holds, double most, double near = 0.01);

/// Least coefficient of friction, the same in every joint and prop, at which forces balance weight
/// and `load_factor` times the live load (view 1), to within `near`. None if `most` does not do.
[[nodiscard]] std::optional<double> least_friction(const Assembly& assembly, const LoadCase& load,
                                                   double load_factor,
                                                   const StandOptions& options = {},
                                                   double near = 1e-3, double most = 2);

/// Least and greatest of the sum, over joints, of the force that b feels times `direction` (world),
/// among all states that balance weight and `load_factor` times the live load (view 1), N.
struct JointDirection {
  int joint = -1;
  Vec3 direction = Vec3::Zero();
};
struct ThrustRange {
  double least = 0, greatest = 0;
  Forces at_least, at_greatest;
};
[[nodiscard]] std::optional<ThrustRange> thrust_range(const Assembly& assembly,
                                                      const LoadCase& load, double load_factor,
                                                      const std::vector<JointDirection>& along,
                                                      const StandOptions& options = {});

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

/// Linear pressure without tension, max(0, plane . (1, x, y)), and the area under pressure.
struct LinearPressure {
  Vec3 plane = Vec3::Zero();  // Pa, Pa/m, Pa/m
  double peak_pa = 0;
  double compressed_m2 = 0;
};
[[nodiscard]] std::optional<LinearPressure> linear_pressure(const Regions& contact, double N,
                                                            const Vec2& p);

/// "four hinges: ...": what the mechanism does, in words.
[[nodiscard]] std::string in_words(const Assembly& assembly, const Mechanism& mechanism);

class EvidencePoints;  // stand/evidence_points.hpp
/// Evidence of view 1 as JSON text (format: docs/evidence.md), which `verify` reads on its own.
/// `shared`: takes the points of contact, and the text names them by their places there.
[[nodiscard]] std::string write_evidence(const Assembly& assembly, const LoadCase& load,
                                         const CaseProof& proof, const StandOptions& options,
                                         EvidencePoints* shared = nullptr);
/// The forces of a state of the pads, in the same format.
[[nodiscard]] std::string write_evidence(const Assembly& assembly, const LoadCase& load,
                                         const PadState& state, const StandOptions& options,
                                         EvidencePoints* shared = nullptr);

}  // namespace skewback
