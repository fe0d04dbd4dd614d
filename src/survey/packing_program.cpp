#include "survey/packing_program.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kMm = 1e3;

bool springing(const StackModel& model, std::size_t j) {
  const JointRows& rows = model.plan().rows[j];
  return rows.a < 0 || rows.b < 0;
}

void add(Hinge& hinge, const Vec3& a, double most, int edge = -1) {
  hinge.a[hinge.rows] = a;
  hinge.edge[hinge.rows] = static_cast<signed char>(edge);
  hinge.most[hinge.rows++] = most;
}

}  // namespace

const std::array<int, 3>& parts_of(HingeKind kind) {
  static constexpr std::array<int, 3> kGap = {2, 3, 4}, kStep = {0, 1, 5};
  return kind == HingeKind::kStep ? kStep : kGap;
}

double packer_weight(const StackModel& model, int joint) {
  // multiples of the golden section, without their whole part, never come close to each other
  const double golden = std::fmod((joint + 1) * 0.6180339887498949, 1.0);
  const bool first = springing(model, static_cast<std::size_t>(joint));
  return (first ? 0.95 : 1.0) + 0.02 * golden;
}

PackProgram pack_program(const StackModel& model, const AsMade& made, const PackingRequest& packing,
                         bool springers, const std::vector<std::array<double, 4>>& held_m,
                         const EdgesOpen& open) {
  PackProgram out{&model, {}, {}};
  const std::vector<SmallMove> footings = footing_moves(model, made);
  const double slack = kMm * packing.slack_m, squeeze = kMm * packing.squeeze_m,
               most = slack + kMm * packing.most_m, step = kMm * packing.step_m / std::sqrt(2.0);
  for (std::size_t j = 0; j < model.plan().rows.size(); ++j) {
    const int joint = static_cast<int>(j);
    const Vec6 fixed = kMm * relative(model.plan().rows[j], model.assembly().joints[j], footings);
    const std::array<double, 4> bed = bed_gaps(model, made, joint);
    Hinge packers{joint, HingeKind::kPackers, packer_weight(model, joint), 0, {}, {}, {}};
    Hinge tight{joint,
                HingeKind::kTight,
                springers && springing(model, j) ? kSpringerCost : kBeyondCost,
                0,
                {},
                {},
                {}};
    Hinge steps{joint, HingeKind::kStep, kBeyondCost, 0, {}, {}, {}};
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec2& p = model.corners()[j][k];
      const double held = held_m.empty() ? 0 : held_m[j][k], offset = kMm * (bed[k] - held);
      const Vec3 gap(1, p.y(), -p.x());
      const int edge = k < 2 ? 0 : 1;  // corners 1 and 2 are the lower edge
      add(packers, gap, slack - offset, edge);
      if (!open.empty() && open[j][static_cast<std::size_t>(edge)] == 0)
        add(tight, gap, slack - offset, edge);
      add(tight, -gap, squeeze + offset);
      add(tight, gap, most - offset - kMm * held);
      for (const double way : {1.0, -1.0}) {
        add(steps, way * Vec3(1, 0, -p.y()), step);
        add(steps, way * Vec3(0, 1, p.x()), step);
      }
    }
    out.hinges.insert(out.hinges.end(), {packers, tight, steps});
    out.fixed.push_back(fixed);
  }
  return out;
}

}  // namespace skewback
