#include "survey/packing_judge.hpp"

#include <algorithm>
#include <numeric>

namespace skewback {
namespace {

std::string at_joint(const StackModel& model, std::size_t j) {
  return "the joint " + joint_name(model.assembly(), static_cast<int>(j));
}

}  // namespace

double PackedBed::thickness_m(std::size_t place) const {
  return std::accumulate(pieces[place].begin(), pieces[place].end(), 0.0);
}

bool PackedBed::any() const {
  return std::ranges::any_of(pieces, [](const auto& some) { return !some.empty(); });
}

void Trouble::add(double by, const std::string& text) {
  if (!worse(by)) return;
  by_m = by;
  words = text;
}

Trouble trouble_of(const Packing& pack, const std::vector<SmallMove>& moves) {
  const PackingRequest& request = pack.request;
  const std::vector<JointLie> joints = lies(pack.model, pack.made, moves);
  Trouble out;  // words cost more than all the rest: only where they are used
  const auto tight = [&](std::size_t j, double open_m) {
    if (const double by = -open_m - request.squeeze_m; out.worse(by))
      out.add(by, at_joint(pack.model, j) + " is too tight by " + in_mm(-open_m));
  };
  const auto gap = [&](std::size_t j, double open_m) {
    tight(j, open_m);
    if (const double by = open_m - request.slack_m; out.worse(by))
      out.add(by, at_joint(pack.model, j) + " stays open by " + in_mm(open_m));
  };
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const JointLie& lie = joints[j];
    const PackedBed& bed = pack.beds[j];
    if (const double by = lie.step_max_m() - request.step_m; out.worse(by))
      out.add(by, at_joint(pack.model, j) + " is out of line by " + in_mm(lie.step_max_m()));
    if (bed.places.empty())
      for (const double g : lie.gap_m) gap(j, g);
    tight(j, lie.gap_min_m());
    for (std::size_t i = 0; i < bed.places.size(); ++i)
      gap(j, gap_at(bed.places[i], lie.gap_m) - bed.thickness_m(i));
  }
  return out;
}

Trouble beyond(const Packing& pack, const PackProgram& program, const PackSolution& found) {
  const std::vector<JointLie> joints = lies(pack.model, pack.made, found.moves);
  Trouble out;
  for (std::size_t h = 0; h < program.hinges.size(); ++h) {
    const Hinge& hinge = program.hinges[h];
    const JointLie& lie = joints[static_cast<std::size_t>(hinge.joint)];
    const bool made_to_fit =
        std::ranges::find(pack.out.springer_joints, hinge.joint) != pack.out.springer_joints.end();
    if (hinge.kind == HingeKind::kPackers || made_to_fit) continue;
    const std::string where = at_joint(pack.model, static_cast<std::size_t>(hinge.joint));
    if (hinge.kind == HingeKind::kStep) {
      out.add(found.tau_m[h], where + " is out of line by " + in_mm(lie.step_max_m()) + ", over " +
                                  in_mm(pack.request.step_m));
    } else if (-lie.gap_min_m() > pack.request.squeeze_m + found.tau_m[h] / 2) {
      out.add(found.tau_m[h], where + " is too tight by " + in_mm(-lie.gap_min_m()) + ", over " +
                                  in_mm(pack.request.squeeze_m));
    } else {
      out.add(found.tau_m[h], where + " would take packers of " + in_mm(lie.gap_max_m()) +
                                  ", over " + in_mm(pack.request.most_m));
    }
  }
  return out;
}

}  // namespace skewback
