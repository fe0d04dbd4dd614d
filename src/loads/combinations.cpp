#include "loads/combinations.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "loads/actions.hpp"
#include "loads/edges.hpp"
#include "loads/shares.hpp"
#include "loads/wind.hpp"

namespace skewback {
namespace {

using Forces = std::vector<LiveForce>;

std::string figure(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g", value);
  return text;
}

class Combinations {
 public:
  Combinations(const Brief& brief, const Assembly& assembly, const std::vector<Regions>& outlines,
               const Regions& surface, LoadSet& set)
      : brief_(brief), assembly_(assembly), outlines_(outlines), surface_(surface), set_(set) {}

  struct Part {
    const Forces* forces;
    double factor;
    std::string words;
  };

  void add(const std::string& id, double dead, const std::vector<Part>& parts) {
    LoadCase load;
    load.id = id;
    load.gravity *= dead;
    std::string words = figure(dead) + " weight";
    double force = 0;
    for (const Part& part : parts) {
      for (LiveForce live : *part.forces) {
        live.force *= part.factor;
        force += live.force.norm();
        load.live.push_back(std::move(live));
      }
      words += ", " + figure(part.factor) + " " + part.words;
    }
    if (!parts.empty() && !(force > 0)) return;
    set_.cases.push_back(std::move(load));
    set_.notes.push_back(
        {id, CaseKind::kCombination, words, dead, parts.empty() ? 1.0 : parts.front().factor});
  }

  void weight_and_people(const std::vector<Pattern>& patterns) {
    add("heavy", f.dead_high, {});
    for (const Pattern& pattern : patterns) {
      if (pattern.id != "full") continue;
      for (const Share& share : shares(assembly_, outlines_, surface_)) {
        people_.push_back(
            {share.block, share.point, {0, 0, -people_pa(brief_, pattern) * share.area_m2}});
      }
    }
    if (!people_.empty()) {
      add("heavy-full", f.dead_high, {{&people_, f.people, "people everywhere"}});
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
    for (std::size_t k = 0; k < brief_.walkway.lines.size(); ++k) {
      const auto& line = brief_.walkway.lines[k];
      const Vec2 along = (line.back() - line.front()).normalized();
      for (const double sign : {1.0, -1.0}) {
        Forces forces;
        for (const LiveForce& p : people_) {
          const double share = -p.force.z() / people;
          forces.push_back({p.block, p.point, sign * push * share * Vec3(along.x(), along.y(), 0)});
        }
        const std::string name = std::to_string(k + 1);
        add("push-" + name + (sign > 0 ? "-in" : "-out"), f.dead_low,
            {{&people_, f.people, "people everywhere"},
             {&forces, f.people,
              "pushing along walking line " + name + (sign > 0 ? ", inward" : ", outward")}});
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
      for (const EdgePiece& piece : edge_pieces(brief_, assembly_, outlines_, {edge.line})) {
        const Vec3 top = piece.point + Vec3(0, 0, brief_.access.parapet_height_m);
        forces.push_back({piece.block, top,
                          push * piece.length_m * Vec3(piece.outward.x(), piece.outward.y(), 0)});
      }
      const auto& supports = brief_.plan.supports;
      const std::string name = supports[static_cast<std::size_t>(edge.from)].id + "-" +
                               supports[static_cast<std::size_t>(edge.to)].id;
      add("rail-" + name, f.dead_low,
          {{&forces, f.people, "on the rail between " + name + ", outward"}});
    }
  }

  void wind() {
    if (!(brief_.loads.wind_speed_m_s > 0)) return;
    const std::vector<double> led = factors_6_10({{f.people}, {f.other, f.psi_wind}});
    constexpr std::array<const char*, 4> kNames = {"east", "north", "west", "south"};
    const std::array<Vec2, 4> ways = {Vec2(1, 0), Vec2(0, 1), Vec2(-1, 0), Vec2(0, -1)};
    const Forces lift = wind_lift(brief_, assembly_, outlines_, 1),
                 down = wind_lift(brief_, assembly_, outlines_, -1);
    for (std::size_t i = 0; i < ways.size(); ++i) {
      const Forces across = wind_across(brief_, assembly_, outlines_, ways[i]);
      const std::string words = std::string("wind to the ") + kNames[i];
      add(std::string("wind-") + kNames[i], f.dead_low,
          {{&across, f.other, words}, {&lift, f.other, "lift"}});
      if (!people_.empty()) {
        add(std::string("wind-people-") + kNames[i], f.dead_low,
            {{&across, f.other, words},
             {&down, f.other, "pressed down"},
             {&people_, f.people * f.psi_people, "people everywhere"}});
      }
      if (!people_.empty()) {
        add(std::string("people-wind-") + kNames[i], f.dead_low,
            {{&people_, led[0], "people everywhere"},
             {&across, led[1], words},
             {&down, led[1], "pressed down"}});
      }
    }
  }

  void snow() {
    if (!(brief_.loads.snow_pa > 0)) return;
    const Regions plan{{brief_.plan.outline, brief_.plan.openings}};
    Forces all;
    Vec2 middle = brief_.plan.meeting.value_or(centroid(plan));
    Forces drifted;
    for (const Share& share : shares(assembly_, outlines_, plan)) {
      const Vec3 force(0, 0, -kSnowShape * brief_.loads.snow_pa * share.area_m2);
      all.push_back({share.block, share.point, force});
      if (share.point.x() > middle.x()) drifted.push_back(all.back());
    }
    add("snow", f.dead_low, {{&all, f.other, "snow everywhere"}});
    add("snow-heavy", f.dead_high, {{&all, f.other, "snow everywhere"}});
    add("snow-east", f.dead_low, {{&drifted, f.other, "snow on the eastern half"}});
  }

  /// Axle by axle along each walking line, both ways round, with the push of braking.
  void vehicle() {
    if (!brief_.loads.vehicle) return;
    const ServiceVehicle v;
    for (std::size_t k = 0; k < brief_.walkway.lines.size(); ++k) {
      for (int step = 0; step < kStops; ++step) {
        for (const bool turned : {false, true}) place_vehicle(v, k, step, turned);
      }
    }
  }

 private:
  static constexpr int kStops = 5;

  void place_vehicle(const ServiceVehicle& v, std::size_t k, int step, bool turned) {
    const auto& line = brief_.walkway.lines[k];
    const Vec2 d = line.back() - line.front(), along = d.normalized(), left(-along.y(), along.x());
    const double room = d.norm() - v.wheelbase_m;
    if (room < 0) return;
    const Vec2 first = line.front() + room * step / (kStops - 1) * along;
    Forces forces, push;
    double placed = 0;
    for (const int axle : {0, 1}) {
      const double n = (axle == 0) != turned ? v.front_n : v.rear_n;
      for (const double side : {0.5, -0.5}) {
        const Vec2 at = first + axle * v.wheelbase_m * along + side * v.track_m * left;
        const double half = v.wheel_m / 2;
        const Regions wheel{{{at + Vec2(-half, -half), at + Vec2(half, -half),
                              at + Vec2(half, half), at + Vec2(-half, half)},
                             {}}};
        for (const Share& share : shares(assembly_, outlines_, intersect(wheel, surface_))) {
          const double z = n / 2 * share.area_m2 / (v.wheel_m * v.wheel_m);
          forces.push_back({share.block, share.point, {0, 0, -z}});
          push.push_back({share.block, share.point, 0.6 * z * Vec3(along.x(), along.y(), 0)});
          placed += z;
        }
      }
    }
    if (placed < 0.9 * (v.front_n + v.rear_n)) return;  // off the walk
    const std::string id = "vehicle-" + std::to_string(k + 1) + "-" + std::to_string(step + 1) +
                           (turned ? "-back" : "");
    add(id, f.dead_low,
        {{&forces, f.people, "service vehicle"}, {&push, f.people, "its push forward"}});
  }

  const Brief& brief_;
  const Assembly& assembly_;
  const std::vector<Regions>& outlines_;
  const Regions& surface_;
  LoadSet& set_;
  const Factors& f = brief_.factors;
  Forces people_;
};

}  // namespace

void add_combinations(const Brief& brief, const Assembly& assembly,
                      const std::vector<Regions>& outlines, const Regions& surface,
                      const std::vector<Pattern>& patterns, LoadSet& set) {
  Combinations combinations(brief, assembly, outlines, surface, set);
  combinations.weight_and_people(patterns);
  combinations.pushes_along();
  combinations.pushes_on_rails();
  combinations.wind();
  combinations.snow();
  combinations.vehicle();
}

}  // namespace skewback
