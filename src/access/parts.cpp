#include "access/parts.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "access/words.hpp"

namespace skewback::access {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Half the landing: past where the strips of neighbouring legs part, and half of
/// access.landing_m at least.
double landing_half_m(const Brief& brief, const std::vector<Leg>& legs, const Leg& leg) {
  double half = brief.access.landing_m / 2;
  const auto away = [](const Leg& l) {
    const auto& s = l.line.stations;
    return Vec2((s[s.size() - 2].point - s.back().point).head<2>().normalized());
  };
  for (const Leg& other : legs) {
    if (&other == &leg || !meet(other, leg)) continue;
    const double angle = std::acos(std::clamp(away(leg).dot(away(other)), -1.0, 1.0));
    if (angle > 0.05) half = std::max(half, brief.walkway.width_m / 2 / std::tan(angle / 2));
  }
  return std::min(half, leg.line.length_m / 2);
}

std::vector<std::string> under(const Assembly& assembly, const BackHeight& back,
                               const WalkLine& line, double along_m, double half_width) {
  const WalkStation here = station_at(line, along_m),
                    from = station_at(line, along_m > kStation ? along_m - kStation : along_m),
                    to = station_at(line, along_m > kStation ? along_m : along_m + kStation);
  const Vec2 along = (to.point - from.point).head<2>().normalized(), side(-along.y(), along.x());
  std::set<int> blocks;
  for (const double share : {-1.0, 1.0}) {
    const Vec2 foot = here.point.head<2>() + share * half_width * side;
    // a post over a joint stands on the block beside it
    for (const double off : {0.0, kPost / 2, -kPost / 2}) {
      const auto top = back.at(foot + off * along);
      if (!top) continue;
      blocks.insert(top->block);
      break;
    }
  }
  std::vector<std::string> names;
  for (const int b : blocks) names.push_back(assembly.blocks[at(b)].id);
  return names;
}

WalkPart frame_at(const Brief& brief, const Sticks& timber, const WalkLine& line, double along_m) {
  const double width = brief.walkway.width_m;
  const WalkStation station = station_at(line, along_m);
  const double room = station.point.z() - timber.board_m - timber.bearer_depth_m - station.back_m;
  WalkPart part;
  part.kind = PartKind::kFrame;
  part.line = line.name;
  part.from_m = part.to_m = along_m;
  part.width_m = width;
  part.length_m = std::max(0.0, room);
  // a sill along the blocks always; posts and a cap where there is room for them
  const double post = std::max(0.0, room - 2 * kPost);
  const double sticks = width * (room > kPost + kStepMost ? 2 : 1) + timber.posts * kBracing * post;
  part.weight_kg = sticks * kPost * kPost * kTimber;
  if (room < -kStepMost)
    part.note = "the blocks stand " + fixed(1000 * -room, 0) + " mm into the deck here";
  else if (room < kPost - kStepMost)
    part.note = "sill let in: " + fixed(1000 * std::max(0.0, room), 0) + " mm of room";
  else if (room <= kPost + kStepMost)
    part.note = "sill alone";
  return part;
}

void make_stair(WalkPart& part, const Stair& stair) {
  part.kind = stair.comfortable && stair.risers > 1 ? PartKind::kStairFlight : PartKind::kTreads;
  part.note = std::to_string(stair.risers) + (stair.risers == 1 ? " riser of " : " risers of ") +
              fixed(1000 * stair.riser_m, 0) + " mm, going " + fixed(1000 * stair.going_m, 0) +
              " mm, 2R + G " + fixed(1000 * stair.stride_m, 0) + " mm";
  if (!stair.comfortable) part.note += ", outside 600 to 660";
}

WalkPart bay_between(const Brief& brief, const Sticks& timber, const WalkLine& line, double from_m,
                     double to_m) {
  const Profile walk = profile_of(line);
  const double width = brief.walkway.width_m, run = to_m - from_m,
               rise = std::abs(walk.at(to_m) - walk.at(from_m));
  WalkPart part;
  part.kind = PartKind::kPanel;
  part.line = line.name;
  part.from_m = from_m;
  part.to_m = to_m;
  part.width_m = width;
  part.length_m = std::hypot(run, rise);
  part.gradient = rise / run;
  part.weight_kg = deck_kg_per_m2(timber, width) * width * part.length_m;
  if (part.gradient <= brief.access.gradient_max) return part;
  if (const std::optional<Stair> stair = stair_over(rise, run)) {
    make_stair(part, *stair);
    part.weight_kg =
        kTimber * (kStairBoard * width * run + 2 * kString * kStringDepth * part.length_m);
  } else {
    part.kind = PartKind::kTreads;
    part.note = "no stair within riser 100 to 180 mm and going 280 mm: cleats across the slope";
  }
  return part;
}

std::vector<WalkPart> parts_of(const Brief& brief, const Sticks& timber, const Assembly& assembly,
                               const BackHeight& back, const Leg& leg, double stop_m) {
  std::vector<WalkPart> out;
  const int bays = std::max(1, static_cast<int>(std::ceil(stop_m / kBay - 1e-9)));
  const std::string name = leg.line.name.substr(0, leg.line.name.find(" to "));
  std::vector<std::string> last;
  for (int i = 0; i <= bays; ++i) {
    const double along = stop_m * i / bays;
    WalkPart frame = frame_at(brief, timber, leg.line, along);
    frame.id = name + "-F" + std::to_string(i + 1);
    frame.blocks = under(assembly, back, leg.line, along, brief.walkway.width_m / 2 - kPost / 2);
    const std::vector<std::string> stands_on = frame.blocks;
    out.push_back(std::move(frame));
    if (i > 0) {
      WalkPart bay = bay_between(brief, timber, leg.line, stop_m * (i - 1) / bays, along);
      bay.id = name + "-P" + std::to_string(i);
      bay.blocks = last;
      for (const std::string& id : stands_on)
        if (std::ranges::find(bay.blocks, id) == bay.blocks.end()) bay.blocks.push_back(id);
      out.push_back(std::move(bay));
    }
    last = stands_on;
  }
  return out;
}

/// Always the leg that carries least so far, the first of several.
PartList laid_in_turn(std::vector<std::vector<WalkPart>> by_leg) {
  PartList list;
  std::vector<double> laid(by_leg.size(), 0);
  std::vector<std::size_t> next(by_leg.size(), 0);
  for (;;) {
    std::size_t leg = by_leg.size();
    for (std::size_t k = 0; k < by_leg.size(); ++k)
      if (next[k] < by_leg[k].size() && (leg == by_leg.size() || laid[k] < laid[leg])) leg = k;
    if (leg == by_leg.size()) return list;
    WalkPart& part = by_leg[leg][next[leg]++];
    laid[leg] += part.weight_kg;
    part.order = static_cast<int>(list.parts.size()) + 1;
    list.parts.push_back(std::move(part));
    const auto [least, most] = std::ranges::minmax(laid);
    list.one_sided_kg = std::max(list.one_sided_kg, most - least);
  }
}

std::optional<WalkPart> landing_of(const Brief& brief, const Sticks& timber,
                                   const std::vector<Leg>& legs, const std::vector<double>& half_m,
                                   const PartList& list) {
  WalkPart part;
  Regions strips;
  for (std::size_t k = 0; k < legs.size(); ++k) {
    if (!legs[k].ends_at_meeting) continue;
    const auto& stations = legs[k].line.stations;
    std::vector<Vec2> line;
    for (const WalkStation& s : stations)
      if (s.along_m >= legs[k].line.length_m - half_m[k]) line.push_back(s.point.head<2>());
    line.insert(line.begin(),
                station_at(legs[k].line, legs[k].line.length_m - half_m[k]).point.head<2>());
    if ((line[0] - line[1]).norm() < 1e-6) line.erase(line.begin());
    for (Region& r : strip_along(line, brief.walkway.width_m)) strips.push_back(std::move(r));
    part.length_m = std::max(part.length_m, 2 * half_m[k]);
    part.from_m = legs[k].line.length_m - half_m[k];
    part.to_m = legs[k].line.length_m;
    part.line = legs[k].line.name;
    for (auto last = list.parts.rbegin(); last != list.parts.rend(); ++last) {
      if (last->kind != PartKind::kFrame || last->line != legs[k].line.name) continue;
      for (const std::string& id : last->blocks)
        if (std::ranges::find(part.blocks, id) == part.blocks.end()) part.blocks.push_back(id);
      break;
    }
  }
  if (strips.empty()) return std::nullopt;
  const double plan_m2 = area(unite(strips));
  part.kind = PartKind::kLanding;
  part.id = "landing";
  part.width_m = brief.walkway.width_m;
  part.weight_kg = deck_kg_per_m2(timber, brief.walkway.width_m) * plan_m2;
  part.note = fixed(plan_m2, 2) + " m2, in pieces";
  return part;
}

}  // namespace

double frame_density(const Sticks& sticks, double width_m) {
  return width_m > 0 ? kBracing * sticks.posts * kPost * kPost * kTimber / (kBay * width_m) : 0;
}

double deck_kg_per_m2(const Sticks& sticks, double width_m) {
  const double bearer_m2 = sticks.bearer_depth_m * sticks.bearer_width_m;
  return kTimber * (sticks.board_m + sticks.bearers * bearer_m2 / width_m);
}

PartList walkway_parts(const Brief& brief, const Assembly& assembly, const BackHeight& back,
                       const std::vector<Leg>& legs) {
  if (!is_carried(brief.walkway)) return {};
  const Sticks timber = size_sticks(brief);
  std::vector<std::vector<WalkPart>> by_leg;
  std::vector<double> half_m;
  for (const Leg& leg : legs) {
    half_m.push_back(leg.ends_at_meeting ? landing_half_m(brief, legs, leg) : 0);
    by_leg.push_back(
        parts_of(brief, timber, assembly, back, leg, leg.line.length_m - half_m.back()));
  }
  PartList list = laid_in_turn(std::move(by_leg));
  if (auto landing = landing_of(brief, timber, legs, half_m, list)) {
    landing->order = static_cast<int>(list.parts.size()) + 1;
    list.parts.push_back(std::move(*landing));
  }
  return list;
}

}  // namespace skewback::access
