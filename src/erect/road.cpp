// How a block lies on its bearers, and what the road does to it.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"
#include "erect/transport_parts.hpp"

namespace skewback {
namespace {

constexpr int kPlanes = 25, kTries = 25;

struct Way {
  Vec3 up = Vec3::UnitZ();
  std::string words;
};

std::vector<Way> ways_of(const HandlingBlock& block) {
  std::vector<Way> ways = {{-block.soffit_normal, "soffit down"}};
  if (block.layers) {
    const Vec3 up = block.print->to_table.R.row(2);
    ways.push_back({up, block.print->way == PrintWay::kFlat ? "flat, as it is printed"
                                                            : "on the bed it is printed on"});
  }
  return ways;
}

Rigid onto_bearers(const Solid& solid, const Vec3& up, const Vec3& across) {
  Rigid out;
  const Vec3 x = (across - across.dot(up) * up).normalized();
  out.R.row(0) = x;
  out.R.row(1) = up.cross(x);
  out.R.row(2) = up;
  const Reach rx = reach_along(solid, out.R.row(0)), ry = reach_along(solid, out.R.row(1)),
              rz = reach_along(solid, out.R.row(2));
  out.t = -Vec3((rx.from + rx.to) / 2, (ry.from + ry.to) / 2, rz.from);
  return out;
}

struct RoadCase {
  std::string words;
  Vec3 g;  // accelerations of the load over gravity
};

std::vector<RoadCase> cases_of(const TransportRequest& request) {
  const double most = std::max({request.forward, request.rearward, request.sideways});
  return {{"vertical shock", {0, 0, -request.upright}},
          {"braking or bend, along the block", {most, 0, -1}},
          {"braking or bend, along the block", {-most, 0, -1}},
          {"braking or bend, across the block", {0, most, -1}},
          {"braking or bend, across the block", {0, -most, -1}}};
}

/// The bearers hold the block against all of it, level by friction or chocks where it bears: as
/// evenly as equilibrium lets them.
std::vector<HandlingForce> held(const std::vector<Vec3>& points, const Vec3& centre, double mass_kg,
                                const Vec3& g) {
  const double weight = mass_kg * kGravity;
  std::vector<HandlingForce> level, up;
  for (const Vec3& p : points) {
    for (const Vec3& way : {Vec3(Vec3::UnitX()), Vec3(Vec3::UnitY())})
      level.push_back({{p.x(), p.y(), centre.z()}, way});
    up.push_back({p, Vec3::UnitZ()});
  }
  const Balanced sideways = balance(level, centre, weight * Vec3(g.x(), g.y(), 0));
  std::vector<HandlingForce> forces;
  Vec3 moment = Vec3::Zero();  // about the centre: they act lower than it
  for (std::size_t i = 0; i < level.size(); ++i) {
    forces.push_back({points[i / 2], sideways.size[i] * level[i].force});
    moment += (points[i / 2] - centre).cross(forces.back().force);
  }
  // so that the upright force moves over
  const double down = -weight * g.z();
  const Vec3 at = centre + Vec3(moment.y(), -moment.x(), 0) / down;
  const Balanced sizes = balance(up, at, -down * Vec3::UnitZ());
  for (std::size_t i = 0; i < up.size(); ++i)
    forces.push_back({up[i].at, sizes.size[i] * Vec3::UnitZ()});
  return forces;
}

struct OnRoad {  // a block in its own frame on the bearers
  Solid solid;
  Vec3 centre = Vec3::Zero();
  double mass_kg = 0, density = 0;
};

struct Found {
  BeamTension tension;
  std::string words;
};
Found worst(const TransportRequest& request, const OnRoad& block, const std::vector<BeamCut>& cuts,
            const std::vector<Vec3>& points, double gamma) {
  Found out;
  for (const RoadCase& c : cases_of(request)) {
    std::vector<HandlingForce> forces = held(points, block.centre, block.mass_kg, c.g);
    for (HandlingForce& f : forces) f.force *= gamma;
    const BeamTension t = beam_tension(cuts, block.density, gamma * kGravity * c.g, forces);
    if (t.greatest_pa > out.tension.greatest_pa) out = {t, c.words};
  }
  return out;
}

struct Bearers {
  double off_m = 0;
  std::vector<Vec3> points;  // left back, left front, right back, right front
};

std::vector<Vec3> points_at(const OnRoad& block, double off) {
  const auto at = [&](double x) {
    return lies_at(block.solid, Vec3::UnitX(), Vec3::UnitZ(), block.centre.x() + x);
  };
  const auto left = at(-off), right = at(off);
  if (!left || !right) return {};
  return {(*left)[0], (*left)[1], (*right)[0], (*right)[1]};
}

/// With planes on both sides of each bearer, where what it holds comes in.
std::vector<BeamCut> cuts_beside(const OnRoad& block, double off) {
  constexpr double kBeside_m = 0.005;
  std::vector<double> places;
  for (const double x : {block.centre.x() - off, block.centre.x() + off}) {
    places.push_back(x - kBeside_m);
    places.push_back(x + kBeside_m);
  }
  return beam_cuts(block.solid, Vec3::UnitX(), places);
}

/// Even on both sides of the centre of gravity, where the road bends it least.
Bearers place_bearers(const TransportRequest& request, const OnRoad& block,
                      const std::vector<BeamCut>& cuts, const Vec3& size) {
  const double room = size.x() / 2 - std::abs(block.centre.x());
  Bearers best;
  double least = std::numeric_limits<double>::max();
  for (int i = 0; i < kTries; ++i) {
    const double off = room * (0.4 + 0.55 * i / (kTries - 1));
    const std::vector<Vec3> points = points_at(block, off);
    if (points.empty() || !carried_at(points, block.centre, Vec3::UnitZ(), 1)) continue;
    const double tension =
        std::max(worst(request, block, cuts, points, 1).tension.greatest_pa,
                 worst(request, block, cuts_beside(block, off), points, 1).tension.greatest_pa);
    if (tension >= least) continue;
    least = tension;
    best = {off, points};
  }
  return best;
}

/// Level acceleration over gravity, any way, at which it tips by itself: b / h.
double tips_at(const OnRoad& block, const Bearers& bearers) {
  double base = bearers.off_m, low = bearers.points.front().z();
  for (const Vec3& p : bearers.points) {
    base = std::min(base, std::abs(p.y() - block.centre.y()));
    low = std::min(low, p.z());
  }
  return base / (block.centre.z() - low);
}

void check_road(const Brief& brief, const HandlingBlock& self, const OnRoad& block,
                const Bearers& bearers, Bedding& out) {
  constexpr const char* kSource =
      "gamma x acceleration x weight, Navier; accelerations: EN 12195-1:2010 (from memory); "
      "f_ctd,pl of its age: EN 1992-1-1:2004, 3.1.2 (9) and 12.3.1 (from memory)";
  const ConcreteDesign concrete =
      design_strength(brief.material.fck_pa, brief.factors.concrete, brief.factors.plain,
                      brief.strength.layer_tension_pa);
  const LiftAge age = age_on_the_road(brief);
  const double cement = cement_coefficient(brief.material.cement);
  const auto add = [&](const char* name, const std::vector<BeamCut>& cuts, double full) {
    const double strength = age.tension * full;
    const Found found =
        worst(brief.transport, block, cuts, bearers.points, brief.lifting.gamma_load);
    const double demand = std::max(found.tension.greatest_pa, 0.0);
    out.checks.push_back({name, demand, strength, "Pa", utilisation_of(demand, strength),
                          out.words + ", " + found.words, kSource, age.days,
                          days_to_tension(cement, demand / full)});
  };
  std::vector<double> places = even_places(block.solid, Vec3::UnitX(), kPlanes);
  places.push_back(block.centre.x());
  std::vector<BeamCut> cuts = beam_cuts(block.solid, Vec3::UnitX(), places);
  for (BeamCut& cut : cuts_beside(block, bearers.off_m)) cuts.push_back(std::move(cut));
  add("tension, road", cuts, concrete.tension_pa);
  if (self.layers) {
    const auto there = [&](const Plane& plane) {
      return Plane{out.to_bearers(plane.point), out.to_bearers.R * plane.normal};
    };
    add("layers, road",
        layer_cuts(block.solid, there(self.first_layer), there(self.last_layer), block.centre,
                   kPlanes),
        concrete.layer_pa);
  }
  out.tips_at_g = tips_at(block, bearers);
}

Bedding bed_in(const Brief& brief, const Assembly& assembly, const HandlingBlock& self,
               const Way& way) {
  const Block& b = assembly.blocks[self.block];
  Bedding out;
  out.block = self.block;
  out.id = b.id;
  out.mass_kg = self.mass_kg;
  out.words = way.words;
  out.to_bearers = onto_bearers(b.solid, way.up, self.across);
  const OnRoad block{moved(b.solid, out.to_bearers), out.to_bearers(self.centre), self.mass_kg,
                     self.density};
  for (int i = 0; i < 3; ++i) out.size[i] = reach_along(block.solid, Vec3::Unit(i)).length();
  const std::vector<BeamCut> cuts =
      beam_cuts(block.solid, Vec3::UnitX(), even_places(block.solid, Vec3::UnitX(), kPlanes));
  const Bearers bearers = place_bearers(brief.transport, block, cuts, out.size);
  out.bearer_x[0] = block.centre.x() - bearers.off_m;
  out.bearer_x[1] = block.centre.x() + bearers.off_m;
  if (!bearers.points.empty()) check_road(brief, self, block, bearers, out);
  return out;
}

struct Worst {
  double layers = 0, all = 0;
};
Worst worst_of(const Bedding& bedding) {
  Worst worst;
  if (bedding.checks.empty()) worst.all = std::numeric_limits<double>::max();
  for (const HandlingCheck& check : bedding.checks) {
    worst.all = std::max(worst.all, check.utilisation);
    if (check.name == "layers, road") worst.layers = check.utilisation;
  }
  return worst;
}

/// One that passes before one that does not; where layers are hardly pulled either way, the one
/// that needs less floor; else the one that pulls less across its layers.
bool better(const Bedding& a, const Bedding& b) {
  constexpr double kHardly = 0.1;
  const Worst wa = worst_of(a), wb = worst_of(b);
  if ((wa.all <= 1) != (wb.all <= 1)) return wa.all <= 1;
  if (wa.layers <= kHardly && wb.layers <= kHardly)
    return a.size.x() * a.size.y() < b.size.x() * b.size.y();
  return wa.layers < wb.layers;
}

}  // namespace

Bedding bed_for_the_road(const Brief& brief, const Assembly& assembly, int block,
                         const PrintSet* print) {
  const HandlingBlock self = handling_block(assembly, block, print);
  std::optional<Bedding> best;
  for (const Way& way : ways_of(self)) {
    Bedding bedding = bed_in(brief, assembly, self, way);
    if (!best || better(bedding, *best)) best = std::move(bedding);
  }
  return *best;
}

}  // namespace skewback
