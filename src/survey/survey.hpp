#pragma once
// The bridge as its footings and blocks really are: fit, stack, pack, prove again. Theory:
// docs/theory/survey.md.

#include <functional>
#include <map>

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "stand/stand.hpp"
#include "survey/feet.hpp"
#include "survey/in_place.hpp"
#include "survey/packing.hpp"

namespace skewback {

struct JointMisfit {
  int joint = -1;
  double gap_min_m = 0, gap_max_m = 0;           // beyond the designed pad, < 0: too tight
  double step_m = 0;                             // sideways, in the joint plane
  std::vector<std::pair<Vec3, double>> packers;  // corner, thickness beyond the pad
};

/// One way of putting it right, tried.
struct RemedyTrial {
  std::string name;  // "packers alone", "the bridge shifted first", "a new springer at yard", ...
  bool goes_in = false;
  int packers = 0, packed_joints = 0;
  double packers_m = 0, thickest_m = 0;
  int feet_trimmed = 0;
  std::string reason;  // why not
  bool chosen = false;
  int other_pads = 0;  // joints
};

/// The gaps that packing leaves open or tight close when the centring goes: the pads of every case,
/// begun with them.
struct GapsClosing {
  int cases = 0, balanced = 0;
  std::string reason;  // why one is not
  double drop_m = 0;   // dead load: most that a block comes down further than without gaps
  double peak_pa = 0;  // of any case
  std::string peak_joint;
  std::vector<double> peaks_pa;  // per joint of the bridge as built, greatest over the cases
};

struct Before {      // and after
  std::string what;  // "as drawn", "as laid, no packers", "as packed", "its gaps closing"
  bool key_goes_in = false;
  std::optional<double> load_factor;  // least over the cases
  std::string governing;
  std::optional<double> joint_stress_max_pa, friction_needed;
  std::string verdict;
};

struct Refit {
  RigidFit whole;        // of all springing marks: the bridge shifted to share the error
  bool shifted = false;  // the bridge is built on the shifted axes
  std::vector<std::string> supports;
  std::vector<RigidFit> footings;  // per support, drawn to found
  MeasuredBlocks blocks;
  std::vector<BlockInPlace> in_place;  // against where they are to lie as packed; where the key
                                       // does not go in, as drawn
  AsMade made;                         // about the axes chosen
  Stack stack;                         // without packers
  Packed packed;
  std::vector<SmallMove> laid;  // per block when laid, pads uncompressed
  std::optional<FeetSet> feet;
  std::vector<RemedyTrial> trials;
  std::vector<Before> table;  // before and after
  std::vector<std::string> measure_again;
  std::vector<std::string> unfit;    // marks of footings or blocks that do not go together or are
                                     // too few, blocks in place that are far off: nothing that
                                     // rests on them is worth building
  std::vector<JointMisfit> misfits;  // joints that do not close by themselves
  bool key_goes_in = false;          // packed
  std::string finding;               // in words
  double offset_max_m = 0;
  double crown_lower_m = 0;  // the highest point as packed, below the drawn one
  int packers = 0;
  Assembly as_built;              // packed; joints listed
  std::vector<CaseProof> proofs;  // of as_built, same cases
  GapsClosing gaps;               // of as_built, where it was proved
  std::optional<double> load_factor_after;
  Rigid axes;   // drawn to those the bridge is built on, bridge axes; the same unless shifted
  Rigid datum;  // bridge axes to the survey's own, where these are others; whole and footings are
                // in the bridge's
  int stages = 0, stages_standing = 0;  // of the erection as packed, filled by works/
  std::vector<std::string> remarks;
  std::map<std::string, double> seconds;  // "fit and pack", "proofs", "gaps", "motion"; "stages"
};

/// The survey is on other axes than the bridge's or the site's: it knows no levels of the site.
[[nodiscard]] inline bool on_own_axes(const Rigid& datum) {
  return !datum.t.isZero(0) || !datum.R.isIdentity(0);
}

using JointLimit = std::function<double(const Joint&)>;  // most that it may take, Pa

/// The joint most over what it may take as gaps close, in words; empty: none is.
[[nodiscard]] std::string over_limit(const Refit& found, const JointLimit& limit_pa);

/// `closing_m`: per joint, how much its pad gives under the dead load (0 or empty: pads are laid as
/// thick as drawn). `points`: measured marks besides those of the brief; null: none.
struct RefitInput {
  const Brief* brief = nullptr;
  const Assembly* assembly = nullptr;
  const Centring* centring = nullptr;
  const PointFile* points = nullptr;
  std::vector<double> closing_m;
  std::vector<CaseProof> drawn;  // proofs as drawn, for the table
  // per case: its load factor counts for the table; the others, whose factors are on them already,
  // only have to stand. Empty: all count
  std::vector<char> counts;
  // most that a joint may take, Pa; none: not judged. Packers on the fewest places give way to the
  // thinnest where these keep it as gaps close and those do not
  JointLimit limit_pa;
};
/// `options.third_view` is asked of the bridge as packed. Faults: those of find_footings, and
/// `wrong` of measure_blocks.
[[nodiscard]] Result<Refit> refit(const RefitInput& input, const StandOptions& options,
                                  const Progress& progress = {});

/// Poses of the blocks, drawn to packed, bridge axes.
[[nodiscard]] std::vector<Rigid> poses_as_packed(const Assembly& drawn, const Refit& found);

}  // namespace skewback
