#pragma once
// Private to survey/: one call of pack_up on its way, and what is wrong with where it has come.

#include <string>
#include <vector>

#include "survey/packing_beds.hpp"
#include "survey/packing_program.hpp"
#include "survey/packing_stock.hpp"

namespace skewback {

/// Packers of one joint; no places: none, and the joint is judged at its corners.
struct PackedBed {
  std::vector<PackerPlace> places;
  std::vector<std::vector<double>> pieces;  // of the same place; may be empty
  [[nodiscard]] double thickness_m(std::size_t place) const;
  [[nodiscard]] bool any() const;
};

struct Packing {
  const StackModel& model;
  const PackingRequest& request;
  PackerStock stock;
  AsMade made;  // with springers made to fit
  std::vector<PackedBed> beds;
  Packed out;
};

/// The worst that does not hold; no words: all holds.
struct Trouble {
  double by_m = 0;
  std::string words;
  [[nodiscard]] bool worse(double by) const { return by > kLieNear_m && by > by_m; }
  void add(double by, const std::string& text);  // where it is worse
};
/// Where blocks lie so, with the packers chosen.
[[nodiscard]] Trouble trouble_of(const Packing& pack, const std::vector<SmallMove>& moves);
/// What the program says cannot be, at the moves that come nearest; springers made to fit aside.
[[nodiscard]] Trouble beyond(const Packing& pack, const PackProgram& program,
                             const PackSolution& found);

}  // namespace skewback
