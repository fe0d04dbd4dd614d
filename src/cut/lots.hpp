#pragma once
// Pieces become blocks and joints of the assembly.

#include "cut/pieces.hpp"

namespace skewback {

/// What was cut as one, and what its courses become in the assembly.
struct Lot {
  struct Arm {
    int arm = -1;  // as in BlockPlace
    std::string name;
    bool turned = false;  // courses were counted down the flow, from the key of a spine
  };
  Pieces pieces;
  std::vector<Arm> arms;
  std::string key = "key";
  int before = 0;        // of a spine: the number of the key it goes on from
  int key_number = 0;    // 0: as cut
  double key_phi_m = 0;  // where it is not as cut
  double top_phi_m = 0;  // of a spine: phi where its courses were counted from

  [[nodiscard]] bool turned(const Course& course) const;
  [[nodiscard]] int spine_courses() const;
};

/// The ground blocks, in the order of the supports.
void add_grounds(const Brief& brief, const Body& body, Assembly& assembly);

/// Blocks of each course, which the lot gives away.
[[nodiscard]] std::vector<std::vector<int>> add_blocks(const Brief& brief, const Body& body,
                                                       Lot& lot, Assembly& assembly,
                                                       const Progress& progress);

/// Joints of a lot whose blocks these are. `key_of_spine`: the blocks that a spine's first course,
/// as cut, stands against.
void add_joints(const Brief& brief, const Lot& lot, const std::vector<std::vector<int>>& blocks,
                const std::vector<int>& key_of_spine, Cut& cut, const Progress& progress);

/// All lots as one, for the report; they give their cuttings away.
[[nodiscard]] Pieces together(std::vector<Lot>& lots);

}  // namespace skewback
