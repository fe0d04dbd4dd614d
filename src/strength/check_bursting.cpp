#include <algorithm>
#include <cmath>

#include "strength/checks.hpp"

namespace skewback {
namespace {

constexpr int kLines = 31;       // each way
constexpr double kWhole = 0.98;  // of a wall: counts as covered
constexpr double kThin = 0.01;   // m; slivers of bed are no walls

std::size_t at(int i) { return static_cast<std::size_t>(i); }

using Pieces = std::vector<std::pair<double, double>>;

/// Strips of pad on one wall, each with the width it feeds: halfway to its neighbours.
double wall_share(const std::pair<double, double>& wall, const Pieces& pads) {
  Pieces on;
  for (const auto& [from, to] : pads) {
    const double low = std::max(from, wall.first), high = std::min(to, wall.second);
    if (high - low > 1e-4) on.emplace_back(low, high);
  }
  double worst = 0;
  for (std::size_t i = 0; i < on.size(); ++i) {
    const double low = i > 0 ? (on[i - 1].second + on[i].first) / 2 : wall.first,
                 high = i + 1 < on.size() ? (on[i].second + on[i + 1].first) / 2 : wall.second;
    const double a = on[i].second - on[i].first, b = high - low;
    if (a >= kWhole * b) continue;
    const double off = std::abs((on[i].first + on[i].second) / 2 - (low + high) / 2);
    worst = std::max(worst, tie_stress_share(a, b, off));
  }
  return worst;
}

/// What the block shows in the joint's plane, in the joint's frame.
Regions bed_of(const Block& block, const Joint& joint, bool on_a) {
  const double half = joint.pad ? joint.pad->thickness_m / 2 : 0;
  Frame face = joint.frame;
  face.origin += (on_a ? -half : half) * joint.frame.z;
  return faces_in_plane(block.solid, face, on_a ? 1 : -1, 1e-3);
}

/// All contacts of the block in the joint's plane, in its frame: a staggered bed has several.
Regions pads_on(const Assembly& assembly, const BlockView& view, const Joint& joint) {
  Regions all;
  for (const int j : view.joints) {
    const Joint& other = assembly.joints[at(j)];
    const bool same_plane = std::abs(other.frame.z.dot(joint.frame.z)) > 1 - 1e-6 &&
                            std::abs(joint.frame.plane().distance(other.frame.origin)) < 2e-3;
    if (!same_plane) continue;
    const bool turned = other.frame.z.dot(joint.frame.z) < 0;
    const auto carried = [&](const Polygon& ring) {
      Polygon out;
      for (const Vec2& p : ring)
        out.push_back(joint.frame.to_local(other.frame.to_world(p)).head<2>());
      if (turned) std::reverse(out.begin(), out.end());
      return out;
    };
    for (const Region& region : other.contact) {
      Region moved{carried(region.outer), {}};
      for (const Polygon& hole : region.holes) moved.holes.push_back(carried(hole));
      all.push_back(std::move(moved));
    }
  }
  return all;
}

}  // namespace

double tie_share(double a, double b, double off) { return std::max(0.25 * (1 - a / b), off / b); }

double tie_stress_share(double a, double b, double off) {
  return 1.5 * tie_share(a, b, off) * a / (0.8 * b);
}

double bursting_share(const Regions& bed, const Regions& contact) {
  const Box2 box = extents(bed);
  double worst = 0;
  for (int axis = 0; axis < 2; ++axis) {
    for (int i = 0; i < kLines; ++i) {
      const double x = box.low[axis] + (box.high[axis] - box.low[axis]) * (i + 0.5) / kLines;
      const Pieces pads = chords(contact, axis, x);
      for (const auto& wall : chords(bed, axis, x)) {
        if (wall.second - wall.first > kThin) worst = std::max(worst, wall_share(wall, pads));
      }
    }
  }
  return worst;
}

std::vector<double> bursting_shares(const Assembly& assembly, const BlockView& view) {
  std::vector<double> shares;
  for (const int j : view.joints) {
    const Joint& joint = assembly.joints[at(j)];
    const Regions bed = bed_of(assembly.blocks[at(view.block)], joint, joint.a == view.block);
    shares.push_back(bed.empty() ? 0 : bursting_share(bed, pads_on(assembly, view, joint)));
  }
  return shares;
}

void check_bursting(const Assembly& assembly, const CaseInput& input,
                    const std::vector<double>& shares, CheckedBlock& block) {
  for (std::size_t i = 0; i < shares.size(); ++i) {
    if (shares[i] <= 0) continue;
    const int j = block.view->joints[i];
    const Joint& joint = assembly.joints[at(j)];
    const int other = joint.a == block.view->block ? joint.b : joint.a;
    const double demand = shares[i] * input.joints[at(j)].peak_pa,
                 resistance =
                     block.may_lie_flat ? input.concrete.layer_pa : input.concrete.tension_pa;
    block.worst.add(Check::kBursting,
                    {block.view->block, name(Check::kBursting), input.id, demand, resistance, "Pa",
                     demand / resistance, "behind the joint with " + assembly.blocks[at(other)].id,
                     "tie of EN 1992-1-1 (6.58), spread over 0.8 of the width it feeds"});
  }
}

}  // namespace skewback
