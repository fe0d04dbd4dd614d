#pragma once
// Private to solve/: a cone program in units of its own and in the layout of the kernels.
//
// Unknown of a contact: x = (friction n, t1, t2) / force, so that its cone is the plain one. Rows
// of force are taken as they are, rows of moment times `moment`; b has root mean square 1 over the
// nodes, the columns of contacts 1 over their rows of force.

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "solve/block_factor.hpp"
#include "solve/cone_program.hpp"
#include "solve/cone_view.hpp"

namespace skewback {

/// A scalar unknown x >= 0, or free; of a column or of a contact without friction.
struct ConeScalar {
  int column = -1, contact = -1;  // whose
  double unit = 1, shift = 0;     // original = shift + unit x
  bool free = false;
  double cost = 0;
  double most = 0;     // 0: no upper bound
  AlignedArray dense;  // its rows, if it has many
  int a = -1, b = -1;  // else the places of one or two nodes, b > a
  int block_aa = -1, block_bb = -1, block_ba = -1;
  std::array<double, 6> on_a{}, on_b{};
};

struct ConeData {
  std::vector<ConePair> pairs;
  AlignedArray on_b, on_a, cost, most, bounded, mask;
  std::vector<int> lane;  // per contact: kLanes * pack + lane, or -1 where it is a scalar
  std::vector<ConeScalar> scalars;
  std::vector<char> touched;  // per padded row: by contacts or sparse scalars
  AlignedArray b;
  double force = 1, moment = 1, costs = 1;  // force: of x; costs: of the objective over force
  double column_size = 1;                   // of contacts, taken out
  int contacts = 0, bounds = 0;

  [[nodiscard]] ConeView view() const;
  [[nodiscard]] int packs() const { return static_cast<int>(mask.size()) / kLanes; }
};

/// Empty reason: good. (cone_fault.cpp)
[[nodiscard]] std::string fault_of(const ConeProgramView& program, const BlockPattern& pattern);
[[nodiscard]] ConeData scaled(const ConeProgramView& program, const BlockPattern& pattern);

/// Answers in the units of the program, of an iterate already divided by tau.
void original(const ConeProgramView& program, const BlockPattern& pattern, const ConeData& data,
              const double* x, const VectorX& scalars, const double* y, ConeSummary& out);

/// Fills the measures of `out` from the program and f, columns, y. `homogeneous`: b, n_most and
/// costs count only where the status asks for them (certificates and rays).
void measure(const ConeProgramView& program, ConeSummary& out);

}  // namespace skewback
