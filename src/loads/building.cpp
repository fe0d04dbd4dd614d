#include "loads/building.hpp"

#include <algorithm>
#include <array>
#include <cstdio>

#include "brief/meetings.hpp"
#include "loads/shares.hpp"
#include "loads/wind.hpp"

namespace skewback {
namespace {

constexpr double kSameWay = 0.999;  // cosine: halves towards and away of opposite supports

Region half_plane(const Vec2& through, const Vec2& way, double reach) {
  const Vec2 left(-way.y(), way.x());
  return {{through - reach * left, through + reach * (way - left), through + reach * (way + left),
           through + reach * left},
          {}};
}

double reach_of(const Regions& where) {
  double most = 0;
  for (const Region& region : where)
    for (const Vec2& p : region.outer) most = std::max(most, p.norm());
  return 4 * most + 1;
}

std::vector<LiveForce> pressed(const std::vector<Share>& shares, double pressure_pa) {
  std::vector<LiveForce> out;
  for (const Share& share : shares)
    out.push_back({share.block, share.point, {0, 0, -pressure_pa * share.area_m2}});
  return out;
}

std::string times(double factor, const std::string& words) {
  char text[32];
  std::snprintf(text, sizeof text, " (x %.5g)", factor);
  return words + text;
}

BuildingCase building_case(const std::string& id, const std::string& words,
                           std::vector<LiveForce> forces) {
  BuildingCase out;
  out.words = words;
  out.load.id = id;
  out.load.live = std::move(forces);
  return out;
}

/// From four sides, alone and with people.
void add_wind(const Assembly& assembly, const std::vector<char>& present, double factor,
              double speed_m_s, const std::vector<LiveForce>& everybody,
              std::vector<BuildingCase>& out) {
  const double pressure = factor * kWindSide * basic_wind_pa(speed_m_s);
  if (!(pressure > 0)) return;
  constexpr std::array<const char*, 4> kNames = {"east", "north", "west", "south"};
  const std::array<Vec2, 4> ways = {Vec2(1, 0), Vec2(0, 1), Vec2(-1, 0), Vec2(0, -1)};
  for (std::size_t i = 0; i < ways.size(); ++i) {
    std::vector<LiveForce> forces = pressure_on_sides(assembly, present, pressure, ways[i]);
    const std::string id = std::string("wind to the ") + kNames[i], words = times(factor, id);
    out.push_back(building_case(id, words, forces));
    if (everybody.empty()) continue;
    forces.insert(forces.end(), everybody.begin(), everybody.end());
    out.push_back(
        building_case(id + ", people", words + ", " + times(factor, "people everywhere"), forces));
  }
}

}  // namespace

BuildingLoads::BuildingLoads(const Brief& brief, const Assembly& assembly)
    : brief_(brief), assembly_(assembly), outlines_(shared_outlines(assembly)) {
  const auto& supports = brief.plan.supports;
  const Vec2 middle =
      middle_of_meetings(brief.plan)
          .value_or(brief.plan.outline.empty() ? Vec2::Zero()
                                               : centroid(Regions{{brief.plan.outline, {}}}));
  const auto add = [&](const Vec2& way, const std::string& words) {
    const bool known = std::ranges::any_of(
        halves_, [&](const Half& half) { return half.way.dot(way) > kSameWay; });
    if (!known) halves_.push_back({way, words});
  };
  for (const Support& s : supports) {
    const Vec2 out = (s.a + s.b) / 2 - middle;
    if (!(out.norm() > 0)) continue;
    const Vec2 way = out.normalized(), left(-way.y(), way.x());
    add(way, "half towards " + s.id);
    add(-way, "half away from " + s.id);
    add(left, "left half, looking to " + s.id);
    add(-left, "right half, looking to " + s.id);
  }
}

std::vector<BuildingCase> BuildingLoads::on(const std::vector<char>& present) const {
  std::vector<Regions> outlines = outlines_;
  Regions all;
  for (std::size_t b = 0; b < outlines.size(); ++b) {
    if (present[b] == 0) outlines[b].clear();
    all.insert(all.end(), outlines[b].begin(), outlines[b].end());
  }
  const Regions where = unite(all);
  if (where.empty()) return {};
  const double factor = brief_.factors.other, people = factor * brief_.loads.working_people_pa;
  std::vector<BuildingCase> out;
  std::vector<LiveForce> everybody;
  if (people > 0) {
    everybody = pressed(shares(assembly_, outlines, where), people);
    out.push_back(building_case("people", times(factor, "people everywhere"), everybody));
    for (const Half& half : halves_) {
      const Region side = half_plane(centroid(where), half.way, reach_of(where));
      out.push_back(
          building_case("people, " + half.words, times(factor, "people on the " + half.words),
                        pressed(shares(assembly_, outlines, intersect(where, {side})), people)));
    }
  }
  add_wind(assembly_, present, factor, brief_.loads.working_wind_m_s, everybody, out);
  return out;
}

}  // namespace skewback
