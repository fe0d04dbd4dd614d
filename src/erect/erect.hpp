#pragma once
// The order of work, each step proved: placing on the centring, lowering it, laying the walkway;
// and the way back, for blocks that are to be used again. Theory: docs/theory/erect.md.

#include "access/access.hpp"
#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "erect/entry.hpp"
#include "stand/stand.hpp"

namespace skewback {

/// A stage under the loads of building, factors on (loads/building.hpp): all it was tried with.
struct WorkingLoads {
  Verdict verdict = Verdict::kUndecided;  // falls before undecided before stands
  std::vector<std::string> views;         // as CaseProof; with pads, weight first
  int cases = 0, standing = 0;
  std::string governing;  // words of the case nearest to failing: by verdict, load factor where
                          // view 1 was asked, opening of joints
  std::string reason;     // where it does not stand
  std::optional<double> load_factor;  // of that case, on the factored load, weight as it is
  bool at_cap = false;                // that is "at least"
  double seat_force_max_n = 0;        // of those that stand
  std::vector<Vec3> seat_force_n;     // per prop of the stage, in the case that weighs most on them
  std::string heaviest;               // words of that case
  bool motion_called = false;         // in the governing case views differ, or slip takes part
  int let_go_as = -1;  // the stage (index) whose motion under that case stands for it; -1: none
  std::optional<Motion> motion;  // of the governing case let go in time, of that stage itself
};

/// What is there, on what.
struct StageState {
  std::vector<char> present;      // per block
  std::vector<char> seated;       // per seat of Programme::seats
  std::vector<double> lowered_m;  // per seat, straight down from where the block came to lie on it;
                                  // raised: < 0
  int laid = 0;                   // steps of Programme::laying, or of Programme::unlaying
  bool unlaying = false;          // of the latter
};

/// Part of walkway, fill or parapets, laid at one time.
struct LayingStep {
  std::string words;  // "parts 1 to 7 of the walkway, up to yard-P1", "parapet of yard, left"
  std::vector<std::pair<int, CarriedMass>> on;  // block, and what it then carries more
};

struct Stage {
  int step = 0;
  /// "place", "lower" the centring, "clear" it away, "lay" the walkway; then back: "unload",
  /// "raise" the centring, "take down"
  std::string what;
  std::string words;                // "o1", "seats under key", "parapet of yard, left"
  std::vector<std::string> blocks;  // placed or taken down in this step, or whose seats move
  StageState state;
  CaseProof proof;
  int same_as = -1;    // an earlier stage (index) with the same view 1: its evidence is that one's
  int let_go_as = -1;  // the stage (index) whose motion stands for it; -1: not let go
  double seat_force_max_n = 0;
  double seat_load_n = 0;      // vertical, all seats together
  double seat_uneven_n = 0;    // most that the seats of one leg carry more than those of another
  double seat_sideways_n = 0;  // horizontal resultant of all seats on the bridge
  int seats_bearing = 0;
  double lowered_m = 0;     // of the feet moved in this step; raised: < 0
  double crown_drop_m = 0;  // of the highest block since it was placed, while all are there; pads
  double opening_max_m = 0;
  std::string opening_joint;  // "o3 | o4"
  double tie_n = 0;           // rod that pulls most; 0 without ties or reactions
  bool tie_about = false;     // rods alone do not hold the feet; those that come nearest to it
  std::string tie;
  std::optional<WorkingLoads> working;  // none: the brief has none, or it is a step of lowering
  std::vector<Entry> entry;  // when placing: per block, which way it comes in past those there
};
/// Under its weight and under every building load.
[[nodiscard]] inline bool stands(const Stage& stage) {
  return stage.proof.verdict == Verdict::kStands &&
         (!stage.working || stage.working->verdict == Verdict::kStands);
}

/// One order of placing, measured on the centring.
struct OrderTrial {
  std::string order;  // as ErectRequest::order
  int stages = 0, standing = 0;
  double seat_force_max_n = 0, seat_load_max_n = 0;
  double seat_uneven_max_n = 0, seat_sideways_max_n = 0;
};

/// A foot that is not with the others of its row in a step of lowering: gone by the step while they
/// still wait, or still up while they have gone.
struct UnevenStep {
  int stage = -1;       // index of that step
  std::string foot;     // "R3-2"; without a centring "seats under o3"
  bool lags = false;    // still up
  bool stands = false;  // the pads have a state, and view 1 too: it holds after the step, with
                        // fewer seats
  std::string reason;   // where not
  double foot_n = 0;    // upward force of this foot's seats on the bridge, its share of each
  double seat_force_max_n = 0;
  double opening_max_m = 0;
  std::string opening_joint;
  double pad_peak_pa = 0;
  std::vector<Vec3> seat_force_n;  // per seat of Programme::seats
};
/// Every foot of every row, in every step of lowering, both ways (uneven.cpp).
struct UnevenStriking {
  std::vector<UnevenStep> steps;
  int standing = 0;
  bool centring_over = false;      // the centring is asked for more than it is held to: not failed
  std::vector<std::string> words;  // what is worst of them, and over which limit
};

struct Programme {
  std::vector<std::string> order;  // block ids
  std::vector<Stage> stages;
  std::vector<Prop> seats;  // of the centring: its own if there is one, else four on every block
  std::vector<LayingStep> laying;  // in the order of the walkway's parts
  /// The other way round: as it goes when it is taken off. By halves of legs, as uneven as laying
  /// or taking off may come, so that an uneven laying is proved by its stages too.
  std::vector<LayingStep> unlaying;
  bool freed = false;              // at the end of the lowering no seat bears
  double lowering_m = 0;           // that it took, at most
  double raising_m = 0;            // for taking down
  double key_pull_n = 0;           // friction that can then still hold the first block to go
  bool keys_free = false;          // that is less than half its weight
  UnevenStriking uneven;           // filled by prove_uneven
  std::vector<OrderTrial> orders;  // with brief.erect.compare: the one chosen, then the other
  std::vector<std::string> remarks;
};

/// What is laid or taken off in a step to or from this state's number of steps.
[[nodiscard]] const std::vector<LayingStep>& steps_of(const Programme& programme,
                                                      const StageState& state);

/// `centring` and `access` may be null; without the latter's parts the walkway is laid by halves.
[[nodiscard]] Programme plan_erection(const Brief& brief, const Assembly& assembly,
                                      const Centring* centring,
                                      const AccessReport* access = nullptr,
                                      const Progress& progress = {});

/// Striking that goes unevenly: fills Programme::uneven; each state with the pads going on from the
/// step before, by what proves the stages. Needs plan_erection's states.
void prove_uneven(const Brief& brief, const Assembly& assembly, const Centring* centring,
                  Programme& programme, const Progress& progress = {});

/// Of each foot the uneven state in which it carries most.
[[nodiscard]] std::vector<const UnevenStep*> hardest_on_each_foot(const UnevenStriking& uneven);

/// The assembly as it is loaded at that stage: of what it carries, what is laid by then.
[[nodiscard]] Assembly stage_assembly(const Assembly& assembly, const Programme& programme,
                                      std::size_t stage);
/// Seats still in at a stage, and blocks present. For view 1 seats that were lowered are taken as
/// gone (`pads` false); for the pads they are there, lower.
[[nodiscard]] StandOptions stage_options(const Brief& brief, const Programme& programme,
                                         std::size_t stage, bool pads);

/// What the blocks put on the seats, stage by stage: for judge_centring, "place o1 (step 7)".
/// Weight alone of every stage whose seats bear; and with people where it was tried, "..., people
/// everywhere (x 1.5)".
[[nodiscard]] std::vector<SeatLoads> seat_loads(const Programme& programme);

/// What lowering the centring took, for its check of the feet's travel.
[[nodiscard]] Struck struck(const Brief& brief, const Programme& programme);

/// Pull of the rods at each stage, from its reactions: fills Stage::tie_n, tie, tie_about. The ties
/// are tight from the first block on, and feet stay where they are.
void add_tie_pulls(const Brief& brief, const Assembly& assembly, Programme& programme);

/// When to stop and ask: what is expected up to this stage, and a margin. The margins (a quarter
/// and 1 mm on the crown's drop, 0.5 mm on a joint's opening, 15 % on a rod) are ours; no source.
struct StopLimits {
  double crown_drop_m = 0, opening_m = 0;
  double tie_n = 0;  // 0: no rod is known to pull
};
[[nodiscard]] StopLimits stop_limits(const Programme& programme, std::size_t stage);

}  // namespace skewback
