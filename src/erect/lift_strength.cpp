// The block itself while it is lifted: tension in it, and pressure of the slings.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

constexpr int kPlanes = 25, kTries = 27;  // odd: one in the middle
const char* const kTension =
    "gamma x dynamic x weight, Navier; f_ctd,pl of its age: EN 1992-1-1:2004, 3.1.2 (9) and 12.3.1 "
    "(from memory)";

const char* const kAsTested =
    "gamma x dynamic x weight, Navier; f_ctd,pl: EN 1992-1-1:2004, 12.3.1 (from memory), times "
    "lifting.early_strength";

/// One way in which it is held: `pull` is gravity with all factors on.
struct Attitude {
  std::string name, words;
  Vec3 pull = Vec3::Zero();
  std::vector<std::vector<HandlingForce>> forces;  // several states of the slings, the worst counts
  LiftAge age;
  std::vector<BeamCut> at_slings = {};  // where it hangs in other slings than on site
};

std::string in_mm(double metres) { return std::to_string(std::lround(1000 * metres)) + " mm"; }

std::vector<HandlingForce> times(std::vector<HandlingForce> forces, double factor) {
  for (HandlingForce& f : forces) f.force *= factor;
  return forces;
}

std::vector<HandlingForce> both(std::vector<HandlingForce> a, const std::vector<HandlingForce>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

/// Slung under the face it lies on, where it bends least. None where no two slings carry it.
std::optional<Attitude> off_the_table(const Brief& brief, const Solid& solid,
                                      const HandlingBlock& block,
                                      const std::vector<BeamCut>& across) {
  const LiftRequest& request = brief.lifting;
  Attitude out{"table", "", {}, {}, age_off_table(brief)};
  // one that is cast lies on its soffit
  const Vec3 up = block.layers ? Vec3(block.print->to_table.R.row(2)) : Vec3(-block.soffit_normal);
  double lying = 0;
  if (block.layers) {
    lying = lying_area_m2(solid, block.print->to_table);
  } else {
    for (const SoffitFace& face : block.soffit) lying += face.area;
  }
  const double weight = block.mass_kg * kGravity;
  const double all =
      request.gamma_load * (request.dynamic_yard * weight + request.adhesion_pa * lying);
  out.pull = -all / block.mass_kg * up;
  const Vec3 a = (block.across - block.across.dot(up) * up).normalized();
  const Reach reach = reach_along(solid, a);
  const double middle = block.centre.dot(a);
  const double room = std::min(middle - reach.from, reach.to - middle);
  double least = std::numeric_limits<double>::max();
  for (int i = 0; i < kTries; ++i) {
    const double off = room * (0.3 + 0.65 * i / (kTries - 1));
    const auto left = lies_at(solid, a, up, middle - off),
               right = lies_at(solid, a, up, middle + off);
    if (!left || !right) continue;
    auto forces =
        carried_at({(*left)[0], (*left)[1], (*right)[0], (*right)[1]}, block.centre, up, all);
    if (!forces) continue;
    const double tension = beam_tension(across, block.density, out.pull, *forces).greatest_pa;
    if (tension >= least) continue;
    least = tension;
    out.forces = {std::move(*forces)};
    out.words = "lifted off its table as it was made, slings " + in_mm(off) + " from the middle";
  }
  if (out.forces.empty()) return std::nullopt;
  std::vector<double> places;
  for (const HandlingForce& f : out.forces.front()) places.push_back(f.at.dot(block.across));
  out.at_slings = beam_cuts(solid, block.across, places);
  return out;
}

/// One printed flat on its soffit is not turned.
bool is_turned(const HandlingBlock& block) {
  return block.layers && std::abs(block.layers->dot(block.soffit_normal)) < std::sqrt(0.5);
}

/// Held at its two beds with the layers upright: the worst moment of a quarter turn.
std::optional<Attitude> turned(const Brief& brief, const HandlingBlock& block,
                               const Slinging& slinging) {
  const LiftRequest& request = brief.lifting;
  Attitude out{"turning",
               "turned from its bed into the way it stands, held at both beds",
               {},
               {},
               age_off_table(brief)};
  const Vec3& n = *block.layers;
  const Vec3 up = (-block.soffit_normal + block.soffit_normal.dot(n) * n).normalized();
  const double all = request.gamma_load * request.dynamic_yard * block.mass_kg * kGravity;
  std::vector<Vec3> ends;
  for (const SlingLine& line : slinging.lines) {
    ends.push_back(line.back);
    ends.push_back(line.front);
  }
  out.pull = -all / block.mass_kg * up;
  auto forces = carried_at(ends, block.centre, up, all);
  if (!forces) return std::nullopt;
  out.forces = {std::move(*forces)};
  return out;
}

Attitude hanging(const Brief& brief, const HandlingBlock& block, const Slinging& slinging,
                 bool in_yard) {
  const LiftRequest& request = brief.lifting;
  Attitude out{in_yard ? "yard" : "site",
               in_yard ? "hanging in its slings in the yard" : "hanging as it will stand",
               {},
               {},
               in_yard ? age_off_table(brief) : age_on_site(brief)};
  const double all = request.gamma_load * (in_yard ? request.dynamic_yard : request.dynamic) *
                     block.mass_kg * kGravity;
  out.pull = -all / block.mass_kg * Vec3::UnitZ();
  const std::vector<HandlingForce> slack = times(slinging.forces, all);
  out.forces = {slack, both(slack, times(slinging.squeeze, all))};
  return out;
}

struct Planes {
  std::vector<BeamCut> across, layers;
};

Planes planes_of(const Solid& solid, const HandlingBlock& block, const Slinging& slinging) {
  Planes planes;
  std::vector<double> places = even_places(solid, block.across, kPlanes);
  for (const SlingLine& line : slinging.lines)
    places.push_back(block.centre.dot(block.across) + line.off_m);
  places.push_back(block.centre.dot(block.across));
  planes.across = beam_cuts(solid, block.across, places);
  if (block.layers)
    planes.layers = layer_cuts(solid, block.first_layer, block.last_layer, block.centre, kPlanes);
  return planes;
}

BeamTension worst_of(const std::vector<BeamCut>& cuts, double density, const Attitude& attitude,
                     const std::vector<BeamCut>& more = {}) {
  BeamTension worst;
  for (const auto& forces : attitude.forces) {
    for (const auto* some : {&cuts, &more}) {
      const BeamTension t = beam_tension(*some, density, attitude.pull, forces);
      if (t.greatest_pa > worst.greatest_pa) worst = t;
    }
  }
  return worst;
}

std::string where(const HandlingBlock& block, const Attitude& attitude, const BeamTension& t) {
  const double off = std::abs((t.at - block.centre).dot(block.across));
  return attitude.words + "; most pulled " + in_mm(off) + " from the middle";
}

}  // namespace

void set_edge_age(const Brief& brief, HandlingCheck& edge) {
  const double full =
      design_strength(brief.material.fck_pa, brief.factors.concrete, brief.factors.plain, 0)
          .compression_pa;
  edge.holds_from_days = days_to_compression(cement_coefficient(brief.material.cement),
                                             edge.demand / full, brief.material.fck_pa);
}

double utilisation_of(double demand, double resistance) {
  if (demand <= 0) return 0;
  return resistance > 0 ? demand / resistance : HUGE_VAL;
}

void check_tension(const Brief& brief, const Solid& solid, const HandlingBlock& block,
                   const Slinging& slinging, BlockLift& lift) {
  const ConcreteDesign concrete =
      design_strength(brief.material.fck_pa, brief.factors.concrete, brief.factors.plain,
                      brief.strength.layer_tension_pa);
  const double cement = cement_coefficient(brief.material.cement);
  const Planes planes = planes_of(solid, block, slinging);
  std::vector<Attitude> attitudes;
  const auto take = [&](const std::optional<Attitude>& attitude) {
    if (attitude) attitudes.push_back(*attitude);
  };
  if (brief.print.wanted) {
    take(off_the_table(brief, solid, block, planes.across));
    if (is_turned(block)) take(turned(brief, block, slinging));
  } else {
    attitudes.push_back(hanging(brief, block, slinging, true));
  }
  attitudes.push_back(hanging(brief, block, slinging, false));
  for (const Attitude& attitude : attitudes) {
    const auto add = [&](const std::string& kind, const BeamTension& t, double strength) {
      const double demand = std::max(t.greatest_pa, 0.0);
      const double resistance = attitude.age.tension * strength;
      lift.checks.push_back({kind + ", " + attitude.name, demand, resistance, "Pa",
                             utilisation_of(demand, resistance), where(block, attitude, t),
                             attitude.age.as_tested ? kAsTested : kTension});
      if (attitude.age.as_tested) return;
      lift.checks.back().age_days = attitude.age.days;
      lift.checks.back().holds_from_days = days_to_tension(cement, demand / strength);
    };
    // turning is bending between the beds; the other way it is held as on the table
    if (attitude.name != "turning")
      add("tension", worst_of(planes.across, block.density, attitude, attitude.at_slings),
          concrete.tension_pa);
    if (!block.layers) continue;
    const BeamTension t = worst_of(planes.layers, block.density, attitude);
    add("layers", t, concrete.layer_pa);
    if (attitude.name == "site") lift.layer_tension_pa = t.greatest_pa;
  }
}

void check_slings(const Brief& brief, const HandlingBlock& block, const Slinging& slinging,
                  BlockLift& lift) {
  const LiftRequest& request = brief.lifting;
  const double weight = block.mass_kg * kGravity;
  lift.leg_force_n =
      std::max(sling_force(weight, request.dynamic, counted_legs(request), slinging.angle_rad),
               weight * request.dynamic * slinging.leg_n);
  lift.checks.push_back(
      {"sling", lift.leg_force_n, request.sling_capacity_n, "N",
       utilisation_of(lift.leg_force_n, request.sling_capacity_n),
       "hardest drawn leg, " + std::to_string(counted_legs(request)) + " counted",
       "W x dynamic / (legs cos beta), practice of EN 13155 (from memory), or what "
       "balances the weight, where that is more"});
  const ConcreteDesign concrete =
      design_strength(brief.material.fck_pa, brief.factors.concrete, brief.factors.plain, 0);
  const double wall = brief.section.hollow ? brief.section.leaf_m : request.sling_width_m;
  const auto add_edge = [&](const std::string& when, double dynamic, const LiftAge& age) {
    const double resistance = concrete.compression_pa * age.compression;
    const double pressure = std::sqrt(2) * request.gamma_load * dynamic * weight * slinging.part_n /
                            (request.sling_width_m * wall);
    lift.checks.push_back(
        {"edge, " + when, pressure, resistance, "Pa", utilisation_of(pressure, resistance),
         "lower edge, where the sling turns up",
         "sling round a quarter turn on its width and one wall; f_cd,pl of its age: "
         "EN 1992-1-1:2004, 3.1.2 (5) and 12.3.1 (from memory)"});
    if (age.as_tested) return;
    lift.checks.back().age_days = age.days;
    set_edge_age(brief, lift.checks.back());
  };
  add_edge(brief.print.wanted ? "table" : "yard", request.dynamic_yard, age_off_table(brief));
  add_edge("site", request.dynamic, age_on_site(brief));
}

}  // namespace skewback
