#include "survey/springing_lines.hpp"

#include <algorithm>
#include <limits>

namespace skewback {
namespace {

constexpr double kLowest = 1e-4;  // m; corners of the lower edge of a springing joint

/// y towards the back of the bridge: up, or outward where the joint lies level.
Frame towards_back(const Frame& joint, const Vec2& out) {
  constexpr double kLevel = 0.05;  // of the normal's plan
  if (joint.z.head<2>().norm() > kLevel) return joint;
  const Vec3 outward(out.x(), out.y(), 0);
  const Vec3 y = (outward - outward.dot(joint.z) * joint.z).normalized();
  return {joint.origin, y.cross(joint.z), y, joint.z};
}

/// Ends of the springing line of an arm: half the depth above the lower edge of its joints, which
/// an upstand does not move. `out`: the way out of the bridge, in plan.
struct Line {
  bool found = false;
  Vec3 right = Vec3::Zero(), left = Vec3::Zero();
};
Line springing_line(const Assembly& assembly, int arm, double depth_m, const Vec2& out) {
  const Vec2 rightward(out.y(), -out.x());
  Line line;
  double most = -std::numeric_limits<double>::max(), least = -most;
  for (const Joint& joint : assembly.joints) {
    const Block &a = assembly.blocks[static_cast<std::size_t>(joint.a)],
                &b = assembly.blocks[static_cast<std::size_t>(joint.b)];
    if (a.fixed == b.fixed || (a.fixed ? b : a).place.arm != arm) continue;
    const Frame frame = towards_back(joint.frame, out);
    double low = std::numeric_limits<double>::max();
    const auto local = [&](const Vec2& p) { return frame.to_local(joint.frame.to_world(p)); };
    for (const Region& part : joint.contact) {
      for (const Vec2& p : part.outer) low = std::min(low, local(p).y());
    }
    for (const Region& part : joint.contact) {
      for (const Vec2& p : part.outer) {
        if (local(p).y() > low + kLowest) continue;
        const Vec3 at = frame.to_world(Vec2(local(p).x(), low + depth_m / 2));
        const double place = rightward.dot(at.head<2>());
        if (place > most) line.right = at;
        if (place < least) line.left = at;
        most = std::max(most, place);
        least = std::min(least, place);
        line.found = true;
      }
    }
  }
  return line;
}

Vec2 way_out(const Assembly& assembly, int arm) {
  Vec2 all = Vec2::Zero(), own = Vec2::Zero();
  double n_all = 0, n_own = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    all += block.mass.centroid.head<2>();
    ++n_all;
    if (block.place.arm != arm || block.place.course != 1) continue;
    own += block.mass.centroid.head<2>();
    ++n_own;
  }
  if (n_own == 0 || n_all == 0) return Vec2::UnitX();
  return (own / n_own - all / n_all).normalized();
}

std::vector<SurveyPoint> as_if_measured(const Brief& brief) {
  std::vector<SurveyPoint> points;
  for (const Mark& mark : springing_marks(brief))
    points.push_back({mark.of, mark.name.substr(mark.of.size() + 1), mark.designed});
  return points;
}

Result<Springings> of_another_site(const RefitInput& input) {
  Springings out{*input.brief, {}};
  if (!out.brief.survey) out.brief.survey.emplace();
  if (out.brief.survey->points.empty() && input.points == nullptr)
    out.brief.survey->points = as_if_measured(out.brief);
  const double depth = out.brief.section.depth_springing_m, back = out.brief.ground.footing_width_m;
  const auto& supports = out.brief.plan.supports;
  int arms = 0;
  for (const Block& block : input.assembly->blocks) arms = std::max(arms, block.place.arm + 1);
  const auto other = [&] {
    return Fault{.key = "plan.support",
                 .found = std::to_string(supports.size()) + " supports",
                 .expected = std::to_string(arms) + ", as the blocks were made for",
                 .change = "name the supports in the order of the bridge the blocks come from"};
  };
  if (arms != static_cast<int>(supports.size())) return other();
  for (int s = 0; s < static_cast<int>(supports.size()); ++s) {
    const Line line = springing_line(*input.assembly, s, depth, way_out(*input.assembly, s));
    if (line.found) {
      const std::string& id = supports[static_cast<std::size_t>(s)].id;
      const Vec2 across = (line.right - line.left).head<2>().normalized();
      const Vec3 out_of(-across.y(), across.x(), 0);
      out.marks.push_back({id + " right", MarkKind::kSpringing, id, line.right});
      out.marks.push_back({id + " left", MarkKind::kSpringing, id, line.left});
      out.marks.push_back(
          {id + " back", MarkKind::kSpringing, id, (line.right + line.left) / 2 + back * out_of});
      continue;
    }
    return other();
  }
  return out;
}

}  // namespace

Result<Springings> springings_of(const RefitInput& input) {
  if (input.moved_site) return of_another_site(input);
  Springings out{*input.brief, springing_marks(*input.brief)};
  if (!out.brief.survey && input.points != nullptr) out.brief.survey.emplace();
  return out;
}

}  // namespace skewback
