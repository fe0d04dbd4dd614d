#include "deliver/elevations.hpp"

#include <algorithm>
#include <set>

#include "base/parallel.hpp"
#include "brief/meetings.hpp"
#include "deliver/facts.hpp"

namespace skewback::deliver {
namespace {

Vec2 middle(const Support& support) { return (support.a + support.b) / 2; }

// The arm's blocks, the keys it leads to, and the ground that the arm stands on.
std::set<std::size_t> seen(const Plan& plan, const Assembly& assembly, int arm) {
  std::set<std::size_t> blocks;
  const auto own_key = [&](const Block& block) {
    if (block.place.arm >= 0) return false;
    if (!plan.second_meeting) return true;
    const Vec2 at = block.mass.centroid.head<2>();
    const Vec2 own = *meeting_of(plan, static_cast<std::size_t>(arm)),
               middle = *middle_of_meetings(plan);
    return (at - own).norm() < (at - middle).norm();
  };
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (!block.fixed && (block.place.arm == arm || own_key(block))) blocks.insert(i);
  }
  for (const Joint& joint : assembly.joints) {
    if (joint.a < 0 || joint.b < 0) continue;
    const auto a = static_cast<std::size_t>(joint.a), b = static_cast<std::size_t>(joint.b);
    const auto add_ground = [&](std::size_t ground, std::size_t block) {
      if (assembly.blocks[ground].fixed && assembly.blocks[block].place.arm == arm) {
        blocks.insert(ground);
      }
    };
    add_ground(a, b);
    add_ground(b, a);
  }
  return blocks;
}

void set_blocks(Elevation& elevation, const Assembly& assembly,
                const std::set<std::size_t>& blocks) {
  elevation.blocks.assign(blocks.begin(), blocks.end());
  std::stable_sort(elevation.blocks.begin(), elevation.blocks.end(),
                   [&](std::size_t a, std::size_t b) {
                     return elevation.view.depth(assembly.blocks[a].mass.centroid) <
                            elevation.view.depth(assembly.blocks[b].mass.centroid);
                   });
}

}  // namespace

std::vector<Elevation> elevations(const Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  const auto& supports = dossier.brief.plan.supports;
  std::vector<Elevation> out;
  if (supports.size() == 2) {
    Elevation e;
    e.title = supports[0].id + " to " + supports[1].id;
    e.view = side_view(middle(supports[0]), middle(supports[1]));
    e.span_m = (middle(supports[1]) - middle(supports[0])).norm();
    e.level_m = supports[0].level_m;
    std::set<std::size_t> all;
    for (std::size_t i = 0; i < assembly.blocks.size(); ++i) all.insert(i);
    set_blocks(e, assembly, all);
    return {e};
  }
  const Plan& plan = dossier.brief.plan;
  for (std::size_t k = 0; k < supports.size(); ++k) {
    const Vec2 meeting = meeting_point(dossier, k);
    Elevation e;
    e.title = supports[k].id + (!plan.second_meeting              ? " to the meeting"
                                : meeting == *plan.second_meeting ? " to the second meeting"
                                                                  : " to the first meeting");
    e.view = side_view(middle(supports[k]), meeting);
    e.span_m = (meeting - middle(supports[k])).norm();
    e.level_m = supports[k].level_m;
    e.to_top = !plan.second_meeting;
    set_blocks(e, assembly, seen(plan, assembly, static_cast<int>(k)));
    out.push_back(e);
  }
  if (plan.second_meeting) {
    Elevation e;
    e.title = "the spine, from the first meeting to the second";
    e.view = side_view(*plan.meeting, *plan.second_meeting);
    e.span_m = (*plan.second_meeting - *plan.meeting).norm();
    for (const Support& s : supports) e.level_m += s.level_m / static_cast<double>(supports.size());
    std::set<std::size_t> spine;
    for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
      const Block& block = assembly.blocks[i];
      const bool of_it = block.place.arm < 0 || block.place.arm >= std::ssize(supports);
      if (!block.fixed && of_it) spine.insert(i);
    }
    set_blocks(e, assembly, spine);
    out.push_back(e);
  }
  return out;
}

Outlines find_outlines(const Dossier& dossier) {
  Outlines out;
  if (!dossier.cut) return out;
  const auto& blocks = dossier.cut->assembly.blocks;
  out.plan.resize(blocks.size());
  for_each_index(blocks.size(),
                 [&](std::size_t b) { out.plan[b] = silhouette(blocks[b].solid, plan_view()); });
  out.elevations = elevations(dossier);
  for (const Elevation& e : out.elevations) {
    std::vector<Regions> seen_blocks(e.blocks.size());
    for_each_index(e.blocks.size(), [&](std::size_t i) {
      seen_blocks[i] = silhouette(blocks[e.blocks[i]].solid, e.view);
    });
    out.in_elevation.push_back(std::move(seen_blocks));
  }
  return out;
}

std::optional<Vec3> pressure_point(const Joint& joint, const JointResultant& resultant) {
  const double n = resultant.force.dot(joint.frame.z);
  if (!(n > 0)) return std::nullopt;
  const double mx = resultant.moment.dot(joint.frame.x), my = resultant.moment.dot(joint.frame.y);
  return joint.frame.to_world(Vec2(-my / n, mx / n));
}

}  // namespace skewback::deliver
