#include <algorithm>
#include <cmath>

#include "geometry/simplify.hpp"
#include "works/ask_load.hpp"

namespace skewback {
namespace {

constexpr double kLiveFactorMost = 100;
constexpr double kRadiusLeast = 0.05, kRadiusMost = 100;  // m
constexpr double kPressureMost = 100e3;                   // Pa
constexpr double kForceMost = 1e6;                        // N
constexpr double kShiftMost = 0.3, kTurnMost = 0.1;       // m, rad: beyond, movements are not small
constexpr double kFrictionMost = 2;
constexpr double kAsNamed =
    1e-3;  // m: places are named to the millimetre, and may be asked as named

std::string place(const Vec2& at) {
  return "(" + figure_as("%.3f", at.x()) + ", " + figure_as("%.3f", at.y()) + ")";
}

std::string at_key(const char* list, std::size_t i, const char* key = "") {
  return std::string(list) + "[" + std::to_string(i) + "]" + key;
}

/// Of the boundary.
std::optional<Vec2> nearest_on(const Regions& regions, const Vec2& p) {
  std::optional<Vec2> best;
  const auto look = [&](const Polygon& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      const Vec2 q = a + share_along(p, a, b) * (b - a);
      if (!best || (q - p).norm() < (*best - p).norm()) best = q;
    }
  };
  for (const Region& region : regions) {
    look(region.outer);
    for (const Polygon& hole : region.holes) look(hole);
  }
  return best;
}

class Checker {
 public:
  explicit Checker(const AskedBridge& bridge) : bridge_(bridge) {}

  Faults found;

  void fault(const std::string& key, const std::string& what, const std::string& expected) {
    found.push_back({.key = key, .found = what, .expected = expected});
  }

  /// `low` and `high` belong to the range.
  bool in_range(const std::string& key, double value, double low, double high, const char* unit) {
    if (value >= low && value <= high) return true;
    fault(key, figure_as("%.6g", value) + unit,
          figure_as("%.6g", low) + " to " + figure_as("%.6g", high) + unit);
    return false;
  }

  void walkable(const std::string& key, const Vec2& at) {
    if (!at.allFinite()) return fault(key, "a place that is no number", "two numbers, m");
    const auto holds = [&](const Region& region) { return contains(region, at); };
    if (std::ranges::any_of(bridge_.surface, holds)) return;
    const std::optional<Vec2> near = nearest_on(bridge_.surface, at);
    if (!near) return fault(key, place(at), "nothing: the bridge has no walking surface");
    const double off = (*near - at).norm();
    if (off < kAsNamed) return;
    fault(key, place(at) + ", " + figure_as("%.2f m", off) + " off the walking surface",
          "a place on it; the nearest is " + place(*near));
  }

  template <class List>
  std::string known(const List& list) {
    std::string text = "one of ";
    constexpr std::size_t kMost = 12;
    for (std::size_t i = 0; i < std::min(list.size(), kMost); ++i)
      text += (i > 0 ? ", " : "") + list[i].id;
    if (list.size() > kMost) text += " and " + std::to_string(list.size() - kMost) + " more";
    return list.empty() ? "nothing: the bridge has none" : text;
  }

  void people(const Question& q) {
    for (std::size_t i = 0; i < q.crowds.size(); ++i) {
      walkable(at_key("crowds", i, ".at"), q.crowds[i].at);
      in_range(at_key("crowds", i, ".radius_m"), q.crowds[i].radius_m, kRadiusLeast, kRadiusMost,
               " m");
      in_range(at_key("crowds", i, ".pressure_pa"), q.crowds[i].pressure_pa, 0, kPressureMost,
               " Pa");
    }
    for (std::size_t i = 0; i < q.persons.size(); ++i) {
      walkable(at_key("persons", i, ".at"), q.persons[i].at);
      in_range(at_key("persons", i, ".force_n"), q.persons[i].force_n, 0, kForceMost, " N");
    }
  }

  void pushes(const Question& q) {
    const auto& supports = bridge_.brief().plan.supports;
    std::vector<int> seen;
    for (std::size_t i = 0; i < q.pushes.size(); ++i) {
      const Question::Push& push = q.pushes[i];
      const std::string key = at_key("pushes", i, ".support");
      if (push.support < 0 || push.support >= static_cast<int>(supports.size())) {
        fault(key, std::to_string(push.support),
              "0 to " + std::to_string(static_cast<int>(supports.size()) - 1));
      } else if (bridge_.ground[static_cast<std::size_t>(push.support)] < 0) {
        fault(key, supports[static_cast<std::size_t>(push.support)].id,
              "a support with a block that is the ground");
      } else if (std::ranges::find(seen, push.support) != seen.end()) {
        fault(key, "support " + std::to_string(push.support) + " twice", "each support once");
      }
      seen.push_back(push.support);
      in_range(at_key("pushes", i, ".shift_m"), push.shift_m.norm(), 0, kShiftMost, " m");
      in_range(at_key("pushes", i, ".turn_rad"), push.turn_rad, -kTurnMost, kTurnMost, " rad");
    }
  }

  void taken_away(const Question& q) {
    const auto& blocks = bridge_.assembly().blocks;
    std::vector<std::string> gone;
    for (std::size_t i = 0; i < q.without_blocks.size(); ++i) {
      const std::string key = at_key("without_blocks", i);
      const auto it = std::ranges::find(blocks, q.without_blocks[i], &Block::id);
      if (it == blocks.end()) {
        fault(key, "\"" + q.without_blocks[i] + "\"", known(blocks));
      } else if (it->fixed) {
        fault(key, it->id + ", which is the ground", "a block of the bridge");
      } else if (std::ranges::find(gone, it->id) == gone.end()) {
        gone.push_back(it->id);
      }
    }
    const auto all = std::ranges::count(blocks, false, &Block::fixed);
    if (all > 0 && static_cast<std::ptrdiff_t>(gone.size()) == all)
      fault("without_blocks", "every block", "at least one that stays");
    for (std::size_t i = 0; i < q.without_ties.size(); ++i)
      if (std::ranges::find(bridge_.ties, q.without_ties[i], &Tie::id) == bridge_.ties.end())
        fault(at_key("without_ties", i), "\"" + q.without_ties[i] + "\"", known(bridge_.ties));
  }

 private:
  const AskedBridge& bridge_;
};

}  // namespace

Faults faults_of(const AskedBridge& bridge, const Question& q) {
  Checker checker(bridge);
  if (case_of(bridge.assembly(), q.case_id) == nullptr)
    checker.fault("case", "\"" + q.case_id + "\"", checker.known(bridge.assembly().cases));
  checker.in_range("live_factor", q.live_factor, 0, kLiveFactorMost, "");
  checker.people(q);
  checker.pushes(q);
  checker.taken_away(q);
  if (q.friction) checker.in_range("friction", *q.friction, 0, kFrictionMost, "");
  return std::move(checker.found);
}

}  // namespace skewback
