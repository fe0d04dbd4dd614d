#include "loads/combinations.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "brief/meetings.hpp"
#include "geometry/polyline.hpp"
#include "loads/actions.hpp"
#include "loads/edges.hpp"
#include "loads/shares.hpp"
#include "loads/vehicle.hpp"
#include "loads/wind.hpp"

namespace skewback {
namespace {

using Forces = std::vector<LiveForce>;

std::string figure(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.5g", value);
  return text;
}

class Combinations {
 public:
  Combinations(const Brief& brief, const Assembly& assembly, const std::vector<Regions>& outlines,
               const Regions& surface, double deck_m, LoadSet& set)
      : brief_(brief),
        assembly_(assembly),
        outlines_(outlines),
        surface_(surface),
        deck_m_(deck_m),
        set_(set) {}

  enum class Weight { kLow, kHigh };
  struct Part {  // forces of the same action have the same id
    std::string action;
    ActionKind kind;
    double psi;
    const Forces* forces;
    std::string words;
  };

  /// One case with light weight; with heavy weight as many as the expression has.
  void add(const std::string& id, Weight weight, const std::vector<Part>& parts) {
    double force = 0;
    for (const Part& part : parts)
      for (const LiveForce& live : *part.forces) force += live.force.norm();
    if (!parts.empty() && !(force > 0)) return;
    std::vector<ActionPart> actions;
    std::vector<VariableAction> variable;
    for (const Part& part : parts) {
      if (!actions.empty() && actions.back().action == part.action) continue;
      actions.push_back({part.action, part.kind, part.psi});
      variable.push_back({partial_factor(f, part.kind), part.psi});
    }
    keep_actions(parts);
    const WeightFactors weights = weight_factors(f);
    if (weight == Weight::kLow) {
      put(id, parts, actions, light_set(weights, variable));
      return;
    }
    const std::vector<FactorSet> sets = heavy_sets(weights, by_a_and_b(f), variable);
    for (const FactorSet& set : sets)
      put(sets.size() > 1 ? id + "-" + set.letter : id, parts, actions, set);
  }

  void weight_and_people(const std::vector<Pattern>& patterns) {
    add("heavy", Weight::kHigh, {});
    for (const Pattern& pattern : patterns) {
      if (pattern.id != "full") continue;
      for (const Share& share : shares(assembly_, outlines_, surface_)) {
        people_.push_back(
            {share.block, share.point, {0, 0, -people_pa(brief_, pattern) * share.area_m2}});
      }
    }
    if (!people_.empty()) {
      add("heavy-full", Weight::kHigh, {everybody()});
    }
  }

  /// At the level of the walk, on every block by its share of the walk.
  void pushes_along() {
    double people = 0;
    for (const LiveForce& p : people_) people -= p.force.z();
    const ServiceVehicle vehicle;
    const double push = push_along_n(people, brief_.loads.along_share,
                                     brief_.loads.vehicle ? vehicle.front_n + vehicle.rear_n : 0.0);
    if (!(push > 0) || people_.empty()) return;
    for (std::size_t k = 0; k < lines_.size(); ++k) {
      const auto& line = lines_[k];
      for (const double sign : {1.0, -1.0}) {
        Forces forces;
        for (const LiveForce& p : people_) {
          const double share = -p.force.z() / people;
          const Vec2 along = way_at(line, p.point.head<2>());
          forces.push_back(
              {p.block, on_walk(p.point), sign * push * share * Vec3(along.x(), along.y(), 0)});
        }
        const std::string name = std::to_string(k + 1);
        const std::string id = "push-" + name + (sign > 0 ? "-in" : "-out");
        add(id, Weight::kLow,
            {people_as(id, &people_, "people everywhere"),
             people_as(
                 id, &forces,
                 "pushing along walking line " + name + (sign > 0 ? ", inward" : ", outward"))});
      }
    }
  }

  void pushes_on_rails() {
    const double push = brief_.loads.rail_push_n_per_m;
    if (!(push > 0)) return;
    const bool carried = brief_.parapet.weight_n_per_m > 0;
    for (std::size_t k = 0; k < brief_.plan.free_edges.size(); ++k) {
      const FreeEdge& edge = brief_.plan.free_edges[k];
      if (!carried && !brief_.parapet.works_on(edge.from) && !brief_.parapet.works_on(edge.to))
        continue;
      Forces forces;
      for (const EdgePiece& piece :
           edge_pieces(brief_, assembly_, outlines_, {edge.line}, deck_m_)) {
        const Vec3 top(piece.point.x(), piece.point.y(),
                       piece.walk_z + brief_.access.parapet_height_m);
        forces.push_back(
            {piece.block, top,
             push * piece.true_length_m * Vec3(piece.outward.x(), piece.outward.y(), 0)});
      }
      const auto& supports = brief_.plan.supports;
      const std::string name = supports[static_cast<std::size_t>(edge.from)].id + "-" +
                               supports[static_cast<std::size_t>(edge.to)].id;
      add("rail-" + name, Weight::kLow,
          {people_as("rail-" + name, &forces, "on the rail between " + name + ", outward")});
    }
  }

  void wind() {
    if (!(brief_.loads.wind_speed_m_s > 0)) return;
    constexpr std::array<const char*, 4> kNames = {"east", "north", "west", "south"};
    const std::array<Vec2, 4> ways = {Vec2(1, 0), Vec2(0, 1), Vec2(-1, 0), Vec2(0, -1)};
    const Forces lift = wind_lift(brief_, assembly_, outlines_, 1),
                 down = wind_lift(brief_, assembly_, outlines_, -1), snow = snow_on(plan());
    for (std::size_t i = 0; i < ways.size(); ++i) {
      const Forces across = wind_across(brief_, assembly_, outlines_, ways[i], deck_m_);
      const std::string name = kNames[i], words = "wind to the " + name;
      const auto blowing = [&](const std::string& action, const Forces* forces,
                               const std::string& what) {
        return Part{action, ActionKind::kOther, f.psi_wind, forces, what};
      };
      add("wind-" + name, Weight::kLow,
          {blowing("wind-" + name, &across, words), blowing("wind-" + name, &lift, "lift")});
      const Part side = blowing("wind-down-" + name, &across, words),
                 press = blowing("wind-down-" + name, &down, "pressed down");
      if (!snow.empty()) {
        add("wind-snow-" + name, Weight::kLow, {side, press, snow_as("snow", &snow, kSnowWords)});
        add("snow-wind-" + name, Weight::kLow, {snow_as("snow", &snow, kSnowWords), side, press});
      }
      if (people_.empty()) continue;
      add("wind-people-" + name, Weight::kLow, {side, press, everybody()});
      add("people-wind-" + name, Weight::kLow, {everybody(), side, press});
    }
  }

  /// Everywhere, and the half beside each support by itself.
  void snow() {
    if (!(brief_.loads.snow_pa > 0)) return;
    const Forces all = snow_on(plan());
    add("snow", Weight::kLow, {snow_as("snow", &all, kSnowWords)});
    add("snow-heavy", Weight::kHigh, {snow_as("snow", &all, kSnowWords)});
    const std::vector<Support>& supports = brief_.plan.supports;
    for (std::size_t k = 0; k < supports.size(); ++k) {
      const Forces drifted = snow_on(half_beside(k));
      const std::string id = "snow-half-" + supports[k].id;
      add(id, Weight::kLow, {snow_as(id, &drifted, "snow on the half beside " + supports[k].id)});
    }
  }

  /// Each place twice: braking and pulling away push either way, whichever way it faces.
  void vehicle() {
    if (!brief_.loads.vehicle) return;
    VehicleStops found = vehicle_stops(brief_, assembly_, outlines_, surface_, deck_m_);
    for (const VehicleStop& stop : found.stops) {
      for (const bool inward : {true, false}) {
        Forces push = stop.along;
        if (!inward)
          for (LiveForce& live : push) live.force = -live.force;
        const std::string id = stop.id + (inward ? "-in" : "-out");
        add(id, Weight::kLow,
            {people_as(id, &stop.down, "service vehicle"),
             people_as(id, &push, inward ? "its push inward" : "its push outward")});
      }
    }
    for (std::string& words : found.left_out) set_.left_out.push_back(std::move(words));
  }

 private:
  /// Of the piece of a walking line that is nearest.
  [[nodiscard]] static Vec2 way_at(const std::vector<Vec2>& line, const Vec2& p) {
    Vec2 way = line.back() - line.front();
    double least = HUGE_VAL;
    for (std::size_t i = 1; i < line.size(); ++i) {
      const std::vector<Vec2> piece{line[i - 1], line[i]};
      const double distance = nearest(piece, p).distance;
      if ((line[i] - line[i - 1]).norm() > 0 && distance < least)
        least = distance, way = line[i] - line[i - 1];
    }
    return way.normalized();
  }
  static constexpr const char* kSnowWords = "snow everywhere";

  [[nodiscard]] Vec3 on_walk(const Vec3& top) const {
    return {top.x(), top.y(), walk_level(brief_.walkway, top, deck_m_)};
  }
  [[nodiscard]] Regions plan() const { return {{brief_.plan.outline, brief_.plan.openings}}; }
  /// Of the plan: with two supports the line that parts it is square to the one between them.
  [[nodiscard]] Regions half_beside(std::size_t k) const {
    const std::vector<Support>& supports = brief_.plan.supports;
    const Vec2 middle = middle_of_meetings(brief_.plan).value_or(centroid(plan()));
    const auto foot = [&](std::size_t i) { return Vec2((supports[i].a + supports[i].b) / 2); };
    const Vec2 from = supports.size() == 2 ? foot(1 - k) : middle;
    return intersect(plan(), half_plane(middle, foot(k) - from));
  }
  [[nodiscard]] Forces snow_on(const Regions& where) const {
    Forces out;
    if (!(brief_.loads.snow_pa > 0)) return out;
    for (const Share& share : shares(assembly_, outlines_, where))
      out.push_back({share.block, share.point,
                     Vec3(0, 0, -kSnowShape * brief_.loads.snow_pa * share.area_m2)});
    return out;
  }
  [[nodiscard]] Part snow_as(const std::string& action, const Forces* forces,
                             const std::string& words) const {
    return {action, ActionKind::kOther, f.psi_snow, forces, words};
  }
  [[nodiscard]] Part people_as(const std::string& action, const Forces* forces,
                               const std::string& words) const {
    return {action, ActionKind::kPeople, f.psi_people, forces, words};
  }
  /// The pattern "full".
  [[nodiscard]] Part everybody() const { return people_as("full", &people_, "people everywhere"); }

  void put(const std::string& id, const std::vector<Part>& parts,
           const std::vector<ActionPart>& actions, const FactorSet& factors) {
    LoadCase load;
    load.id = id;
    load.gravity *= factors.weight;
    std::string words = figure(factors.weight) + " weight";
    std::size_t action = 0;
    for (const Part& part : parts) {
      if (part.action != actions[action].action) ++action;
      const double factor = factors.variable[action];
      for (LiveForce live : *part.forces) {
        live.force *= factor;
        load.live.push_back(std::move(live));
      }
      words += ", " + figure(factor) + " " + part.words;
    }
    set_.cases.push_back(std::move(load));
    set_.notes.push_back({id, CaseKind::kCombination, words, factors.weight,
                          parts.empty() ? 1.0 : factors.variable.front(), actions,
                          factors.variable});
  }

  /// Those that are no pattern, each once.
  void keep_actions(const std::vector<Part>& parts) {
    LoadCase load;
    const auto keep = [&] {
      if (!load.id.empty() &&
          std::ranges::find(set_.actions, load.id, &LoadCase::id) == set_.actions.end())
        set_.actions.push_back(load);
    };
    for (const Part& part : parts) {
      if (part.forces == &people_ && part.action == "full") continue;
      if (part.action != load.id) {
        keep();
        load = {};
        load.id = part.action;
      }
      load.live.insert(load.live.end(), part.forces->begin(), part.forces->end());
    }
    keep();
  }

  const Brief& brief_;
  const Assembly& assembly_;
  const std::vector<Regions>& outlines_;
  const Regions& surface_;
  double deck_m_;
  LoadSet& set_;
  std::vector<std::vector<Vec2>> lines_ = walking_lines(brief_);
  const Factors& f = brief_.factors;
  Forces people_;
};

}  // namespace

void add_combinations(const Brief& brief, const Assembly& assembly,
                      const std::vector<Regions>& outlines, const Regions& surface,
                      const std::vector<Pattern>& patterns, double deck_m, LoadSet& set) {
  Combinations combinations(brief, assembly, outlines, surface, deck_m, set);
  combinations.weight_and_people(patterns);
  combinations.pushes_along();
  combinations.pushes_on_rails();
  combinations.wind();
  combinations.snow();
  combinations.vehicle();
}

}  // namespace skewback
