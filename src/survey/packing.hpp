#pragma once
// Which packers, where: the least thickness of all together that lets every joint close.

#include <optional>

#include "survey/stack.hpp"

namespace skewback {

/// Packers of one thickness at one place of a bed, on the pad.
struct Packer {
  int joint = -1;
  bool upper = false;  // at the upper edge of the bed (+y of the joint's frame)
  double along_m = 0;  // of its middle, x of the joint's frame
  double gap_m = 0;    // at the middle of its plate, half plate_depth in from the edge, beyond the
                       // drawn pad
  std::vector<double> from_stock;  // thickest first; together no more than the gap + squeeze
  [[nodiscard]] double thickness_m() const;
};

/// Sheets of the stock over the whole bed, on the drawn pad or in its place: a pad of the same
/// stuff that is thicker or thinner.
struct OtherPad {
  int joint = -1;
  std::vector<double> from_stock;     // thickest first
  double in_place_of_m = 0;           // thickness of the pad that is left out; 0: they lie on it
  [[nodiscard]] double by_m() const;  // thicker; thinner below 0
};

/// How near the packers are to the fewest there can be.
struct PackerCount {
  int places = 0;  // on the edges of beds that are opened
  int bound = 0;   // no choice of edges that lets the key go in has fewer
};

struct Packed {
  bool goes_in = false;          // every joint within slack, squeeze, step and `most`
  std::string reason;            // in words, where not: which joint and by how much
  std::vector<SmallMove> moves;  // per block
  std::vector<JointLie> joints;  // before packers: what they have to fill
  std::vector<Packer> packers;   // by joint, then along it
  std::vector<OtherPad> pads;    // by joint; gaps and packers are beyond these
  int packed_joints = 0;
  double packers_m = 0;  // sum of the greatest gap of every packed joint: what is minimised
  double thickest_m = 0;
  // supports whose springing joint would take more than `most`, or is too tight: a springer made to
  // fit instead, whose bed there lies at `springer` of the same place from where it is drawn
  std::vector<int> springers;
  std::vector<BedError> springer;
  std::vector<int> springer_joints;           // of the same place
  std::vector<std::array<double, 4>> held_m;  // per joint, at its corners: what packers hold open
  double objective_m = 0;                     // of the program; packers weighted, slack taken off
  double bound_m = 0;                         // its dual: no moves do better
  std::optional<PackerCount> fewest;  // where it was looked for and the stock has what it takes
  double least_squares_share = 1;     // of the way from the program's moves to least squares that
                                      // all limits let `moves` go
};

struct PackOptions {
  bool springers = true;  // may be made anew where a springing joint takes more than `most`
  // programs to be solved for the fewest places; 0: the least thickness, whatever its count
  int fewest = 0;
  // programs to be solved where the nearest thicknesses of a coarse stock do not do; 0: none
  int coarse = 0;
};

/// Gaps no tighter than -squeeze, steps within `step`, and the least sum over joints of the
/// greatest corner gap beyond slack (a linear program), where asked on the fewest places first;
/// then thicknesses from the stock, and the blocks put again where these leave them.
[[nodiscard]] Packed pack_up(const StackModel& model, const AsMade& made,
                             const PackingRequest& packing, const PackOptions& options = {});

/// `made` with the beds of the springers that are made to fit.
[[nodiscard]] AsMade with_springers(const StackModel& model, AsMade made, const Packed& packed);

/// Where blocks lie with those packers but other pads (uncompressed, say): least squares, a packed
/// joint's corners on straight lines through its packers, a step counting a sixth of a gap.
[[nodiscard]] std::vector<SmallMove> lie_with(const StackModel& model, const AsMade& made,
                                              const Packed& packed);

}  // namespace skewback
