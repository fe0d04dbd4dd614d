#pragma once
// Undersides of all blocks at once, and vertical planes cut through them. Private to the folder.

#include <vector>

#include "assembly/assembly.hpp"
#include "centring/soffit.hpp"

namespace skewback {

/// Per block of the assembly; empty for ground and for blocks without a soffit.
using Soffits = std::vector<std::vector<SoffitFace>>;
[[nodiscard]] Soffits soffits(const Assembly& assembly);

struct PlanLine {
  Vec2 at = Vec2::Zero(), along = Vec2::UnitX();  // x = 0 at `at`; unit
  [[nodiscard]] Vec2 point(double x) const { return at + x * along; }
  [[nodiscard]] double x_of(const Vec2& p) const { return (p - at).dot(along); }
};
/// Vertical plane over a line in plan: x along it, y up from level 0, z to the right.
[[nodiscard]] Frame upright(const PlanLine& line);

struct Span {  // of a line that lies under a block
  int block = -1;
  double from = 0, to = 0;
};
/// Ascending. A block that the line leaves and enters again has several.
[[nodiscard]] std::vector<Span> spans_over(const Soffits& all, const PlanLine& line);

/// The same of a strip so wide about the line: a line may run along a joint.
[[nodiscard]] std::vector<Span> spans_near(const Soffits& all, const PlanLine& line, double width);

/// Where the soffit of a block stands over a line: height and normal out of the block.
struct SoffitPoint {
  double height_m = 0;
  Vec3 normal = Vec3::Zero();
};
[[nodiscard]] std::vector<SoffitPoint> soffit_at(const std::vector<SoffitFace>& faces,
                                                 const PlanLine& line, double x);

}  // namespace skewback
