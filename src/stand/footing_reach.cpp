#include "stand/footing_reach.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>

#include "base/parallel.hpp"
#include "stand/program.hpp"

namespace skewback {
namespace {

struct Bearing {
  int block = -1;
  Vec3 middle = Vec3::Zero(), outward = Vec3::UnitX();
};

std::vector<Bearing> bearings_of(const Assembly& assembly, const StandOptions& options,
                                 const PadState& state) {
  std::vector<Bearing> all;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (!assembly.blocks[i].fixed || !is_present(options, static_cast<int>(i))) continue;
    Vec3 push = Vec3::Zero(), middle = Vec3::Zero();
    double sum = 0;
    for (const ContactForce& c : state.forces.contacts) {
      const Joint& joint = assembly.joints[static_cast<std::size_t>(c.joint)];
      const bool is_a = joint.a == static_cast<int>(i), is_b = joint.b == static_cast<int>(i);
      if (!is_a && !is_b) continue;
      push += is_b ? c.force : Vec3(-c.force);
      middle += c.force.norm() * c.point;
      sum += c.force.norm();
    }
    if (sum <= 0) continue;
    Bearing bearing{static_cast<int>(i), middle / sum, Vec3(push.x(), push.y(), 0)};
    const double thrust = bearing.outward.norm();
    bearing.outward = thrust > 1e-6 * push.norm() ? Vec3(bearing.outward / thrust) : Vec3::UnitX();
    all.push_back(bearing);
  }
  return all;
}

std::vector<FootingReach> ways_of(const Bearing& bearing) {
  const Vec3 left = Vec3::UnitZ().cross(bearing.outward);
  const std::array<std::tuple<const char*, const char*, Vec3>, 3> axes = {
      {{"outward", "inward", bearing.outward},
       {"left", "right", left},
       {"up", "down", Vec3::UnitZ()}}};
  std::vector<FootingReach> ways;
  for (const bool turn : {false, true}) {
    for (const auto& [plus, minus, axis] : axes) {
      for (const double sign : {1.0, -1.0}) {
        FootingReach way;
        way.block = bearing.block;
        way.is_turn = turn;
        way.way = turn ? std::string("turned ") + (sign > 0 ? "+" : "-") + " about " + plus
                       : (sign > 0 ? plus : minus);
        way.unit.block = bearing.block;
        way.unit.about = bearing.middle;
        (turn ? way.unit.turn : way.unit.shift) = sign * axis;
        ways.push_back(way);
      }
    }
  }
  return ways;
}

/// Amounts are the most tried, less and less by equal shares; each is solved once, beside the
/// nearest smaller one that has a state.
class Search {
 public:
  Search(const PadModel& model, const LoadCase& load, const PadOptions& pads, const PadState& still,
         const ReachOptions& wanted, const FootingReach& way)
      : model_(model),
        load_(load),
        pads_(pads),
        still_(still),
        wanted_(wanted),
        way_(way),
        states_(static_cast<std::size_t>(std::ceil(std::log(kLeast) / std::log(1 - wanted.near))) +
                1) {}

  void measure(FootingReach& way) {
    const std::size_t holds = first([&](std::size_t k) { return at(k).found; }, 0, states_.size());
    const std::size_t closed =
        first([&](std::size_t k) { return at(k).found && opened_joint(at(k)) < 0; }, holds,
              states_.size());
    way.holds = amount(holds);
    way.holds_beyond = holds == 0;
    way.opens = amount(closed);
    way.opens_beyond = closed == 0;
    if (closed > 0 && at(closed - 1).found) way.joint = opened_joint(at(closed - 1));
  }

 private:
  static constexpr double kLeast = 1e-4;  // of the most tried; what is under it reads 0

  [[nodiscard]] double amount(std::size_t k) const {
    if (k >= states_.size()) return 0;
    const double most = way_.is_turn ? wanted_.turn_most_rad : wanted_.shift_most_m;
    return most * std::pow(1 - wanted_.near, static_cast<double>(k));
  }

  /// The amounts go up from the least while `fine` holds, twice as far each time, then by halves:
  /// first k from `low` on for which it does; `none` if it does for none.
  template <class Fine>
  std::size_t first(Fine fine, std::size_t low, std::size_t none) {
    const std::size_t stride = static_cast<std::size_t>(
        std::max(1.0, std::round(std::log(0.5) / std::log(1 - wanted_.near))));
    std::size_t bad = none, good = none;
    while (bad == none) {
      if (good <= low) return low;
      const std::size_t next = good > low + stride ? good - stride : low;
      (fine(next) ? good : bad) = next;
    }
    while (good - bad > 1) {
      const std::size_t middle = (bad + good) / 2;
      (fine(middle) ? good : bad) = middle;
    }
    return good;
  }

  const PadState& at(std::size_t k) {
    std::optional<PadState>& state = states_[k];
    if (state) return *state;
    const PadState* near = &still_;
    for (std::size_t i = k + 1; i < states_.size() && near == &still_; ++i) {
      if (states_[i] && states_[i]->found) near = &*states_[i];
    }
    PadOptions pads = pads_;
    BlockMove move = way_.unit;
    move.shift *= amount(k);
    move.turn *= amount(k);
    pads.moves.push_back(move);
    state = model_.solve(load_, pads, nullptr, near);
    return *state;
  }

  [[nodiscard]] int opened_joint(const PadState& state) const {
    int worst = -1;
    double least = wanted_.closed_share;
    for (std::size_t j = 0; j < state.joints.size(); ++j) {
      if (still_.joints[j].closed_share < wanted_.closed_share) continue;
      if (state.joints[j].closed_share >= least) continue;
      least = state.joints[j].closed_share;
      worst = static_cast<int>(j);
    }
    return worst;
  }

  const PadModel& model_;
  const LoadCase& load_;
  const PadOptions& pads_;
  const PadState& still_;
  const ReachOptions& wanted_;
  const FootingReach& way_;
  std::vector<std::optional<PadState>> states_;  // per amount; none: not asked for yet
};

}  // namespace

std::vector<FootingReach> footing_reach(const Assembly& assembly, const LoadCase& load,
                                        const StandOptions& options, const PadOptions& pads,
                                        const ReachOptions& wanted, const Progress& progress) {
  const PadModel model(assembly, options, pads);
  PadOptions loose = pads;  // whether it holds or opens is all that is asked
  loose.tolerance = std::max(pads.tolerance, 1e-6);
  loose.rounds_most = wanted.rounds_most;
  const PadState still = model.solve(load, pads);
  if (!still.found) return {};
  std::vector<FootingReach> ways;
  for (const Bearing& bearing : bearings_of(assembly, options, still)) {
    for (const FootingReach& way : ways_of(bearing)) ways.push_back(way);
  }
  std::atomic<std::size_t> done{0};
  for_each_index(ways.size(), [&](std::size_t i) {
    Search(model, load, loose, still, wanted, ways[i]).measure(ways[i]);
    progress.checkpoint("stand: footings",
                        static_cast<double>(++done) / static_cast<double>(ways.size()));
  });
  return ways;
}

}  // namespace skewback
