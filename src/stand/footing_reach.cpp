#include "stand/footing_reach.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <atomic>

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

class Search {
 public:
  Search(const PadModel& model, const LoadCase& load, const PadOptions& pads, const PadState& still,
         const ReachOptions& wanted)
      : model_(model), load_(load), pads_(pads), still_(still), wanted_(wanted) {}

  void measure(FootingReach& way) const {
    const double most = way.is_turn ? wanted_.turn_most_rad : wanted_.shift_most_m;
    const auto first = at(way, most);
    way.holds_beyond = first.found;
    way.holds = first.found ? most : last(most, [&](double m) { return at(way, m).found; });
    const auto opened = [&](double m) {
      const PadState state = at(way, m);
      const int joint = state.found ? opened_joint(state) : -2;
      if (joint != -1) {
        if (joint >= 0) way.joint = joint;
        return false;
      }
      return true;
    };
    way.opens_beyond = way.holds_beyond && opened_joint(first) < 0;
    way.opens = way.opens_beyond ? most : last(way.holds, opened);
  }

 private:
  [[nodiscard]] PadState at(const FootingReach& way, double amount) const {
    PadOptions pads = pads_;
    BlockMove move = way.unit;
    move.shift *= amount;
    move.turn *= amount;
    pads.moves.push_back(move);
    return model_.solve(load_, pads);
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

  /// Furthest amount at which `fine` holds, known to fail at `most`: down by tens, then by halves.
  template <class Fine>
  double last(double most, Fine fine) const {
    double good = 0, bad = most;
    for (double tried = most / 8; tried > most * 1e-4; tried /= 8) {
      if (fine(tried)) {
        good = tried;
        break;
      }
      bad = tried;
    }
    while (bad - good > wanted_.near * bad) {
      const double middle = (good + bad) / 2;
      (fine(middle) ? good : bad) = middle;
      if (bad < most * 1e-4) break;
    }
    return good;
  }

  const PadModel& model_;
  const LoadCase& load_;
  const PadOptions& pads_;
  const PadState& still_;
  const ReachOptions& wanted_;
};

}  // namespace

std::vector<FootingReach> footing_reach(const Assembly& assembly, const LoadCase& load,
                                        const StandOptions& options, const PadOptions& pads,
                                        const ReachOptions& wanted, const Progress& progress) {
  const PadModel model(assembly, options, pads);
  PadOptions loose = pads;  // whether it holds or opens is all that is asked
  loose.tolerance = std::max(pads.tolerance, 1e-6);
  const PadState still = model.solve(load, pads);
  if (!still.found) return {};
  std::vector<FootingReach> ways;
  for (const Bearing& bearing : bearings_of(assembly, options, still)) {
    for (const FootingReach& way : ways_of(bearing)) ways.push_back(way);
  }
  const Search search(model, load, loose, still, wanted);
  std::atomic<std::size_t> done{0};
  for_each_index(ways.size(), [&](std::size_t i) {
    search.measure(ways[i]);
    progress.checkpoint("stand: footings",
                        static_cast<double>(++done) / static_cast<double>(ways.size()));
  });
  return ways;
}

}  // namespace skewback
