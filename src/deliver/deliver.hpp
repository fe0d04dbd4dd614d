#pragma once
// Files: everything a person takes away from a run. Reads stage values, computes none of them.

#include <filesystem>
#include <map>
#include <optional>

#include "access/access.hpp"
#include "centring/centring.hpp"
#include "cut/cut.hpp"
#include "daybook/stock.hpp"
#include "erect/erect.hpp"
#include "erect/lifting.hpp"
#include "erect/spares.hpp"
#include "erect/transport.hpp"
#include "ground/ground.hpp"
#include "ground/spread.hpp"
#include "loads/loads.hpp"
#include "print/print.hpp"
#include "quantities/quantities.hpp"
#include "stand/envelope.hpp"
#include "stand/footing_reach.hpp"
#include "stand/modes.hpp"
#include "stand/stand.hpp"
#include "stand/worst_pattern.hpp"
#include "strength/strength.hpp"
#include "survey/scan_compare.hpp"
#include "survey/survey.hpp"
#include "survey/tolerances.hpp"

namespace skewback {

struct RequiredCheck {
  std::string name;
  std::optional<double> value;  // none: not checked
  double limit = 0;
  std::optional<bool> passes;  // none: not checked
  std::string source;          // where the limit comes from
  std::string note;            // why it is not checked, or which case governs
  bool at_most = false;        // the limit is the most allowed; otherwise the least
  std::string unit = {};       // of value and limit; empty: a ratio
};

/// "1.872", "5.7 degrees"; empty where it was not checked.
[[nodiscard]] std::string value_words(const RequiredCheck& check);
/// "at least 1.350", "at most 0 blocks".
[[nodiscard]] std::string limit_words(const RequiredCheck& check);

/// Every case tried with every footing moved each way, live load times the factor required.
struct MovedFootings {
  double shift_m = 0, live_factor = 0;
  std::vector<std::string> cases;  // those tried
  int states = 0, held = 0;
  int in_steps = 0;    // of those held: the footing was moved in steps, at once there was no state
  double peak_pa = 0;  // greatest over all that held
  std::string worst;   // in words: the case and movement that gave it, or the first not held
  int let_go = 0, rested = 0;  // of the states, in time (view 3); what does not rest is not held
  int over = 0;  // states that press a joint beyond what it takes in the cases; beyond what its
                 // concrete takes they are not held
  std::string over_words;  // the worst of them
};

/// How the words of the state begin in which the ground has given way under the weight.
inline constexpr char kSettledFeet[] = "footings settled";
/// And those in which the feet go where their ties let them.
inline constexpr char kFeetOnTies[] = "feet on their ties, tightened at striking";

/// A state of the pads that is no load case: warmth, creep, an accident, the moved shape.
struct TriedState {
  std::string what, case_id;
  bool holds = false;  // the pads have a state, and no joint is pressed beyond what it takes
  std::string reason;  // why it does not
  double peak_pa = 0, opening_max_m = 0, move_max_m = 0;
  std::optional<double> flattening;  // see PadState
  double pressed = 0;                // of what the joint takes that is nearest to it; 0: no state
  int in_steps = 0;                  // PadState::in_steps
};

/// Loading the finished bridge in steps, and what to expect (view 2; each step put on at once).
struct ProofLoad {
  std::string case_id;
  double load_n = 0;     // of people in the whole case
  std::string crown;     // the block whose drop is read
  bool on_ties = false;  // feet go where their ties let them; else they stay
  struct Step {
    double share = 0;  // of the case's live load
    bool found = false;
    double crown_drop_m = 0;  // from the dead load's state
    double opening_m = 0;     // greatest in any joint
    double tie_most_n = 0;    // rod that pulls most; 0 without ties
    std::string tie;
  };
  std::vector<Step> steps;
};

/// A support by its name in the brief of the blocks, which marks and blocks keep, and in the
/// site's.
struct SupportAgain {
  std::string before, here;
};
/// The blocks are those of a bridge that was taken down.
struct BlocksAgain {
  std::string bridge;          // its name
  bool printed = false;        // a springer made anew is printed; the brief prints what is missing
  std::optional<Stock> stock;  // by its daybook; none: all of them count as good
  std::vector<SupportAgain> supports = {};
};

/// The depths that took the place of the brief's, where it asked for that.
struct DepthFound {
  double crown_m = 0, springing_m = 0;
  bool holds = false;    // proved: patterns, combinations, dead load's safety, joint stress
  std::string fails;     // which of these do not, at the greatest depth tried
  std::string ruled_by;  // in words
  int shapes = 0;        // tried
};

/// All that a run found; a stage that was not run is empty.
struct Dossier {
  Brief brief;
  std::optional<DepthFound> depth_found;  // brief.section holds them then
  std::optional<Form> form;
  double form_move_m = 0;  // largest move of a vertex in the last weight round
  std::optional<Body> body;
  std::optional<Cut> cut;                   // assembly with carried masses and cases
  std::optional<Assembly> given;            // an assembly that came by itself: nothing was cut
  std::vector<CaseProof> proofs;            // per assembly case
  std::vector<CaseNote> notes;              // per assembly case; empty for a given assembly
  std::vector<LoadCase> actions;            // as LoadSet::actions
  std::vector<std::string> loads_left_out;  // as LoadSet::left_out
  StandOptions stand_options;
  std::optional<DepthNeeds> depth_needed;          // all cases, live load times the factor required
  std::optional<DepthReserve> dead_depth_reserve;  // the dead load by itself
  std::vector<JointResultant> dead_resultants;     // per joint, dead load, of the pads
  // across courses that carry a tenth of the greatest force or more; then across the others
  double joint_angle_median_deg = 0, joint_angle_max_deg = 0, joint_angle_light_deg = 0;
  std::string joint_angle_max_at;   // two blocks on either side of it
  std::vector<FootingReach> reach;  // dead load
  std::optional<MovedFootings> moved;
  std::optional<WorstPattern> worst_pattern;
  std::vector<TriedState> tried;
  std::vector<CourseEnvelope> envelopes;  // over all cases
  std::vector<Mode> modes, modes_full;    // lowest; with people everywhere
  std::optional<ProofLoad> proof_load;
  std::optional<Quantities> quantities;
  std::optional<BlockChecks> strength;
  std::optional<Groundworks> ground;
  std::optional<TieSpread> spread;
  std::optional<AccessReport> access;
  std::optional<PrintSet> print;
  std::optional<Centring> centring;
  std::string centring_reason;  // why there is none, or why its parts are on no sheets
  std::vector<SelfHeld> self_held;
  std::optional<Programme> programme;
  std::optional<LiftPlan> lifts;
  std::optional<Transport> transport;
  std::optional<Spares> spares;
  std::optional<ToleranceReport> tolerances;
  std::optional<BlocksAgain> again;  // none: the blocks are to be made
  std::optional<Refit> refit;
  std::vector<ComparedScan> scans;    // of blocks, against the blocks drawn
  std::optional<PrintSet> reprinted;  // springers made anew, of refit->as_built
  std::vector<RequiredCheck> required;
  std::string scope;  // what `required` is of, where that is not all of it; empty: a whole run
  std::map<std::string, double> timings_s;
  [[nodiscard]] bool all_required_pass() const;
};

/// JSON text of summary.json (keys: docs/summary.md). `timings` false leaves timings_s out, so that
/// two runs can be compared byte for byte.
[[nodiscard]] std::string summary_json(const Dossier& dossier, bool timings);

/// Writes the whole folder: built beside `out` under a temporary name and moved into place at the
/// end; an interrupted or failed run leaves `out` as it was. Returns the files written, relative.
[[nodiscard]] Result<std::vector<std::string>> write_folder(const Dossier& dossier,
                                                            const std::filesystem::path& out,
                                                            const Progress& progress = {});

}  // namespace skewback
