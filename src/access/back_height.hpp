#pragma once
// Height of the blocks' tops over a plan point: the extrados as built of blocks.

#include <array>
#include <optional>
#include <vector>

#include "assembly/assembly.hpp"

namespace skewback::access {

class BackHeight {
 public:
  explicit BackHeight(const Assembly& assembly);  // ground left out

  struct Top {
    double z = 0;
    Vec2 slope = Vec2::Zero();  // grad z
    int block = -1;
  };
  /// The highest upward face; none beside the blocks, and none where one looks into a joint: faces
  /// that lie in the planes of joints are no tops, nor is the floor of a hollow seen through a
  /// joint that a pad holds open.
  [[nodiscard]] std::optional<Top> at(const Vec2& p) const;

 private:
  struct Triangle {
    std::array<Vec3, 3> corner;
    int block = -1;
    bool in_joint = false;
  };
  void add(const std::vector<Vec3>& face, int block, bool in_joint);
  void sort_into_cells();
  [[nodiscard]] std::optional<Top> highest(const Vec2& p) const;
  [[nodiscard]] bool in_slot(const Vec2& p, double z) const;
  [[nodiscard]] std::optional<Top> over(const Triangle& triangle, const Vec2& p) const;

  std::vector<Triangle> triangles_;
  Vec2 low_ = Vec2::Zero();
  double size_ = 0.1;
  double slot_m_ = 0;  // more than any joint stands open, seen from above; 0: none does
  int columns_ = 0, rows_ = 0;
  std::vector<std::vector<int>> cells_;
};

}  // namespace skewback::access
