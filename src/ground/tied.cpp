#include "ground/tied.hpp"

#include <Eigen/Geometry>

#include "ground/reactions.hpp"

namespace skewback {
namespace {

/// A contact of no size whose normal points from `to` back to `from`: what presses it pulls the two
/// footings together.
Joint pulling_joint(const Rod& rod, int block_from, int block_to, double level) {
  Joint joint;
  joint.a = block_from;
  joint.b = block_to;
  joint.friction = 0;
  const Vec2 back = (rod.at_from - rod.at_to).normalized();
  joint.frame.origin = {rod.at_to.x(), rod.at_to.y(), level};
  joint.frame.z = {back.x(), back.y(), 0};
  joint.frame.y = Vec3::UnitZ();
  joint.frame.x = joint.frame.y.cross(joint.frame.z);
  const double half = 0.5e-6;
  joint.contact = {{{{-half, -half}, {half, -half}, {half, half}, {-half, half}}, {}}};
  return joint;
}

// Only props that push up: pairs that can press against each other without end have no interior
// dual and make the program hard to solve. Wide apart, the bridge's weight keeps all of them
// pressed.
constexpr double kReach = 5;  // m
constexpr double kGrip =
    10;  // friction of the prop that stands for ground shear; its size is judged later

void keep_level(int block, const Vec3& middle, std::vector<Prop>& props) {
  for (const double x : {-kReach, kReach}) {
    for (const double y : {-kReach, kReach}) {
      props.push_back({block, middle + Vec3(x, y, 0), Vec3::UnitZ(), 0.0});
    }
  }
}

}  // namespace

TiedBridge tie(const Brief& brief, const Assembly& assembly, const std::vector<Rod>& rods,
               bool on_ground) {
  TiedBridge out{assembly, {}};
  const std::vector<int> ground = ground_blocks(brief, assembly);
  out.options.load_factor_cap = 2;      // once the load is asked, with room to spare
  out.options.contact_points_max = 12;  // fewer than for the proof: on the safe side, and quick
  for (std::size_t s = 0; s < ground.size(); ++s) {
    if (ground[s] < 0) continue;
    out.assembly.blocks[ground[s]].fixed = false;
    const Vec3 middle = springing_middle(brief.plan.supports[s]);
    keep_level(ground[s], middle, out.options.props);
    if (on_ground) out.options.props.push_back({ground[s], middle, Vec3::UnitZ(), kGrip});
  }
  for (const Rod& rod : rods) {
    if (ground[rod.from] < 0 || ground[rod.to] < 0) continue;
    const double level = brief.plan.supports[rod.to].level_m;
    out.assembly.joints.push_back(pulling_joint(rod, ground[rod.from], ground[rod.to], level));
  }
  return out;
}

}  // namespace skewback
