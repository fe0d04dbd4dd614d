// A ratchet strap drawn over each sling, round the block: what holds a block in its slings where
// they alone do not.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

constexpr double kFrictionFactor = 2;  // on friction that carries (BS 5975, from memory)

/// Turn of a strap from down the back, under the soffit, to up the front.
double turn_under(const HandlingBlock& block, const SlingLine& line) {
  const std::vector<Vec2>& hull = line.outline;
  const Vec3 from = block.centre + line.off_m * block.across;
  const auto nearest = [&](const Vec3& p) {
    const Vec2 flat((p - from).dot(block.along), p.z() - from.z());
    const auto found = std::ranges::min_element(
        hull, {}, [&](const Vec2& corner) { return (corner - flat).squaredNorm(); });
    return static_cast<std::size_t>(found - hull.begin());
  };
  const std::size_t back = nearest(line.back), front = nearest(line.front), n = hull.size();
  const Vec2 down = hull[back] - hull[(back + n - 1) % n];  // counter-clockwise
  const Vec2 up = hull[(front + 1) % n] - hull[front];
  const double turn = std::atan2(down.x() * up.y() - down.y() * up.x(), down.dot(up));
  return turn > 0 ? turn : turn + 2 * std::numbers::pi;
}

}  // namespace

double grip_of_strap(double turn_rad) {
  return 2 * kSlingFriction / kFrictionFactor * 4 * std::sin(turn_rad / 4);
}

void check_strap(const Brief& brief, const HandlingBlock& block, const Slinging& slinging,
                 BlockLift& lift) {
  if (!lift.cradle || !slinging.straddles) return;
  const LiftRequest& request = brief.lifting;
  const double fall = std::hypot(std::sin(slinging.slope_rad), std::sin(slinging.cross_slope_rad));
  const double slides_n = stop_n(request, block.mass_kg, std::asin(std::min(1.0, fall)));
  double grip = HUGE_VAL;
  for (const SlingLine& line : slinging.lines)
    grip = std::min(grip, grip_of_strap(turn_under(block, line)));
  lift.strap_n = slides_n / 2 / grip;
  lift.checks.push_back(
      {"strap over a sling", lift.strap_n, brief.transport.strap_force_n, "N",
       utilisation_of(lift.strap_n, brief.transport.strap_force_n),
       "hand tension, one strap over each sling",
       "gamma x dynamic x W sin(fall) / 2 on each, held by friction 0.3 over 2 on both faces of "
       "the "
       "sling at both lower edges (docs/theory/lifting.md); transport.strap_force"});
  // the strap presses on the edge that the sling turns up
  const double wall = brief.section.hollow ? brief.section.leaf_m : request.sling_width_m;
  for (HandlingCheck& edge : lift.checks) {
    if (!edge.name.starts_with("edge, ")) continue;
    edge.demand +=
        std::numbers::sqrt2 * request.gamma_load * lift.strap_n / (request.sling_width_m * wall);
    edge.utilisation = utilisation_of(edge.demand, edge.resistance);
    edge.place += ", with its strap";
    if (edge.age_days > 0) set_edge_age(brief, edge);
  }
}

}  // namespace skewback
