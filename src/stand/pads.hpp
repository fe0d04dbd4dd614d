#pragma once
// View 2: the state that elastic pads reach when a load is put on. Small movements; pads carry no
// tension and slip by Coulomb's law without lifting. Theory: docs/theory/pads.md.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "stand/forces.hpp"
#include "stand/pad_law.hpp"

namespace skewback {

/// A small movement of a fixed block: p goes to p + shift + turn x (p - about).
struct BlockMove {
  int block = -1;
  Vec3 shift = Vec3::Zero();
  Vec3 turn = Vec3::Zero();  // rad
  Vec3 about = Vec3::Zero();
};

struct PadOptions {
  double load_factor = 1;  // on the live load
  double factor_cap = 3;   // where sliding takes part, a load factor is sought up to this
  double dry_kn =
      1e10;             // Pa/m, of joints without a pad: order of magnitude of dry-laid stone, from
  double dry_ks = 4e9;  // common practice; so are these: no source is held to them
  double prop_kn = 2e7;  // N/m, of each prop
  double creep = 0;  // pads give 1 + creep times as much; as the stiffnesses above, read when the
                     // model is made
  double warmer_k = 0;  // of every block that is not fixed, with `expansion` per kelvin
  double expansion = 10e-6;
  std::vector<BlockMove> moves = {};
  bool moved_shape =
      false;  // balance on the moved shape: all results are of that, `flattening` too
  double tolerance = 2e-10;  // of the largest block weight, for balance and for the friction bound
  int rounds_most = 400;     // on the bounds of friction; then no state is found
};

struct JointPad {
  double normal_n = 0;          // sum of pressure
  double shear_n = 0;           // size of the force along the joint
  double peak_pa = 0;           // of pressure, at `peak_at`
  Vec2 peak_at = Vec2::Zero();  // joint frame
  double closed_share = 0;      // of the points by the area they stand for
  double opening_max_m = 0, closing_max_m = 0;
  double slipping_share = 0;  // of the normal force, at points where friction is used up
};

/// What a state leaves behind for the next: where each joint began and what has slipped.
struct PadHistory {
  std::vector<char> placed;          // per block
  std::vector<BlockVelocity> moves;  // per block, displacement from the drawn place
  struct Mark {                      // of a joint or a prop
    int joint = -1;
    int block = -1;  // with `point`: of a prop
    Vec3 point = Vec3::Zero();
    Vec6 datum = Vec6::Zero();  // movement at which it began, without pressure
    std::vector<Vec2> drift;    // per point of its mesh, slip that takes no force
  };
  std::vector<Mark> marks;
};

struct PadState {
  bool found = false;
  std::string reason;                // in words where not found
  bool sticks = false;               // friction is not used up anywhere
  std::vector<BlockVelocity> moves;  // per block, as displacement: p goes to p + v + w x p
  Forces forces;                     // at the points of the contact meshes
  std::vector<JointPad> joints;      // per joint of the assembly; absent ones zero
  double residual_rel = 0;           // as CaseProof::residual_rel
  double beyond_friction_rel = 0;    // greatest |t| - mu n, over the largest block weight
  double move_max_m = 0;             // of a block's centre of gravity, fixed blocks aside
  double peak_pa = 0;
  int peak_joint = -1;
  double opening_max_m = 0;
  int opening_joint = -1;
  double friction_used =
      0;  // greatest |T| / N of a joint that carries 1 % of the largest block weight
  int friction_joint = -1;
  std::optional<double> flattening;  // greatest movement, moved shape over drawn one
  int steps = 0, rounds = 0;         // Newton steps; rounds on the friction bound
  int in_steps = 0;                  // live load or moves were put on in (pad_path.hpp); 0: at once
  PadHistory after;                  // empty on the moved shape
};

/// Where nothing has moved yet and each joint stands open by gap . (1, x, y), in its frame, m; < 0:
/// squeezed. `gap`: per joint. States that go on from it say what closes, and how far that lets the
/// blocks down.
[[nodiscard]] PadHistory open_joints(const Assembly& assembly, const std::vector<Vec3>& gap);

/// An assembly made ready: contact meshes and the symbolic factorisation, shared by all cases.
/// `edge_share`: longest edge of a contact mesh over the square root of the contact's extent.
class PadModel {
 public:
  PadModel(const Assembly& assembly, const StandOptions& options, const PadOptions& pads = {},
           double edge_share = 0.5);
  ~PadModel();
  PadModel(PadModel&&) noexcept;

  /// Semi-smooth Newton steps on the blocks' displacements for given bounds of friction, then
  /// rounds on the bounds (docs/theory/pads.md). `before`: the state to go on from, in a sequence.
  /// `near`: a state under much the same loads and moves, of this model, beside which the search
  /// begins, before it begins as it does without; where Coulomb's law has several states it may
  /// find another. Safe to call from several threads at once.
  [[nodiscard]] PadState solve(const LoadCase& load, const PadOptions& pads,
                               const PadHistory* before = nullptr,
                               const PadState* near = nullptr) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

[[nodiscard]] PadState pad_state(const Assembly& assembly, const LoadCase& load,
                                 const StandOptions& options = {}, const PadOptions& pads = {});

}  // namespace skewback
