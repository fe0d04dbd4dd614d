#include "quantities/quantities.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kSteelDensity = 7850, kPadDensity = 1200, kCastDensity = 2400;
constexpr double kLorryKg = 24e3;  // payload; common practice

class TakeOff {
 public:
  TakeOff(const Brief& brief, const Assembly& assembly, const Groundworks& ground)
      : brief_(brief), assembly_(assembly), ground_(ground) {}

  /// `cast_m3` of them, of `cast_kg`, are cast though the others are printed.
  /// `used`: those of them that are there already.
  void blocks(double cast_m3, double cast_kg, const UsedBlocks& used) {
    double volume = 0, mass = 0;
    for (const Block& block : assembly_.blocks) {
      if (block.fixed) continue;
      volume += block.mass.volume;
      mass += concrete_mass_kg(block);
    }
    out.concrete_m3 = volume;
    if (used.blocks > 0) {
      add({"blocks used again",
           "m3",
           used.volume_m3,
           used.mass_kg,
           {},
           {},
           "which of them are good, by the daybook",
           std::to_string(used.blocks) +
               " of the bridge that was taken down; made before, so none of their carbon is "
               "counted here"},
          {0, 0, 0}, 0);
      if (brief_.rates.concrete_per_m3 > 0) out.lines.back().money = 0;
    }
    const double new_m3 = volume - cast_m3 - used.volume_m3;
    const bool printed = brief_.section.hollow;
    if (used.blocks == 0 || new_m3 > 1e-9 * volume)
      add({printed ? "printed concrete of the blocks" : "stone of the blocks",
           "m3",
           new_m3,
           mass - cast_kg - used.mass_kg,
           {},
           {},
           "section.leaf, web, web_spacing, depth; form.rise; parapet.working",
           "volume of the solids"},
          printed ? brief_.carbon.printed : brief_.carbon.stone, brief_.rates.concrete_per_m3);
    if (!(cast_m3 > 0)) return;
    add({"concrete of blocks that are cast",
         "m3",
         cast_m3,
         cast_kg,
         {},
         {},
         "print.otherwise, overhang_max; what stands in the way of each block",
         "volume of their solids; moulds left out"},
        brief_.carbon.concrete, brief_.rates.concrete_per_m3);
  }

  void printing(const PrintTotals& print) {
    out.print = print;
    add({"printing",
         "h",
         print.print_s / 3600,
         0,
         {},
         {},
         "print.flow, layer_max, bead; as the concrete",
         "time of the nozzle over its paths, " + std::to_string(print.blocks) +
             " blocks; setting up left out"},
        {0, 0, 0}, brief_.rates.print_per_h);
  }

  void spares(const SpareBlocks& spare) {
    if (spare.blocks == 0) return;
    const bool printed = brief_.section.hollow;
    add({"spare blocks",
         "m3",
         spare.volume_m3,
         spare.mass_kg,
         {},
         {},
         "spares.count, late_risk, broken_share; what breaks blocks",
         std::to_string(spare.blocks) + " of the programme; volume of their solids"},
        printed ? brief_.carbon.printed : brief_.carbon.stone, brief_.rates.concrete_per_m3);
    if (spare.print_s > 0)
      add({"printing of spares",
           "h",
           spare.print_s / 3600,
           0,
           {},
           {},
           "as the spares",
           "time of the nozzle over their paths; setting up left out"},
          {0, 0, 0}, brief_.rates.print_per_h);
  }

  void pads() {
    double area_m2 = 0, volume = 0;
    for (const Joint& joint : assembly_.joints) {
      if (!joint.pad) continue;
      const double a = area(joint.contact);
      area_m2 += a;
      volume += a * joint.pad->thickness_m;
    }
    if (!(area_m2 > 0)) return;
    add({"pads",
         "m2",
         area_m2,
         volume * kPadDensity,
         {},
         {},
         "blocks.length; joints.pad_thickness",
         "contact area, 1,200 kg/m3"},
        brief_.carbon.pads, brief_.rates.pads_per_m2);
  }

  void ties() {
    const double kg = tie_steel_kg(brief_, ground_);
    out.steel_kg = kg;
    if (!(kg > 0)) return;
    add({"tie rods",
         "kg",
         kg,
         kg,
         {},
         {},
         "form.rise; ground.tie; weight of everything",
         "between springings; nuts, plates and anchors left out"},
        brief_.carbon.steel, brief_.rates.steel_per_kg);
  }

  void shoes() {
    double kg = 0;
    for (const Shoe& s : ground_.shoes)
      kg += s.plate_along_m * s.plate_across_m * s.plate_thickness_m * kSteelDensity;
    if (!(kg > 0)) return;
    add({"shoes",
         "kg",
         kg,
         kg,
         {},
         {},
         "section.depth_springing; plan.support; form.rise",
         "plates; bolts and grout left out"},
        brief_.carbon.steel, brief_.rates.steel_per_kg);
  }

  void walkway(double deck_m2) {
    if (!(brief_.walkway.width_m > 0 && brief_.walkway.weight_pa > 0)) return;
    const double kg = brief_.walkway.weight_pa * deck_m2 / kGravity;
    add({"carried walkway, taken as timber",
         "m2",
         deck_m2,
         kg,
         {},
         {},
         "walkway.width, weight, surface",
         "weight as in the brief"},
        brief_.carbon.timber, brief_.rates.walkway_per_m2);
  }

  void footings() {
    double volume = 0;
    for (const FootingReport& f : ground_.footings)
      volume += f.size.length_m * f.size.width_m() * f.size.depth_m;
    for (const Support& support : brief_.plan.supports) {
      if (!ground_.footings.empty()) break;  // sized: as they are checked, bearing and all
      const GroundRequest& g = brief_.ground;
      volume += ((support.b - support.a).norm() + 2 * g.footing_length_m) * g.footing_width_m *
                g.footing_depth_m;
    }
    add({"footings",
         "m3",
         volume,
         volume * kCastDensity,
         {},
         {},
         "ground.footing_length, footing_width, footing_depth",
         "box of the brief, plain, 2,400 kg/m3"},
        brief_.carbon.concrete, brief_.rates.footing_per_m3);
  }

  void lorries(int planned) {
    double others_kg = 0;  // footings are cast where they stand
    for (const QuantityLine& line : out.lines) {
      if (line.what != "footings") others_kg += line.mass_kg;
    }
    others_kg -= out.lines.front().mass_kg;
    out.lorries = planned;
    add({"lorry loads",
         "loads",
         static_cast<double>(planned),
         0,
         {},
         {},
         "transport.lorry_load, lorry_length, lorry_width; weight of the blocks",
         "plan of the transport, blocks and chosen spares; transport carbon left out"},
        {0, 0, 0}, brief_.rates.lorry_per_load);
    out.remarks.push_back(
        "lorry loads are those of the blocks and their chosen spares, by the plan of the "
        "transport; "
        "the other " +
        std::to_string(std::lround(others_kg)) + " kg, footings left out, are not counted in them");
  }

  void lorries_by_mass() {
    double kg = 0;
    for (const QuantityLine& line : out.lines) {
      if (line.what != "footings") kg += line.mass_kg;
    }
    out.lorries = static_cast<int>(std::ceil(kg / kLorryKg));
    add({"lorry loads",
         "loads",
         static_cast<double>(out.lorries),
         0,
         {},
         {},
         "weight of everything",
         "24 t each (common practice), by mass alone; transport carbon "
         "left out"},
        {0, 0, 0}, brief_.rates.lorry_per_load);
  }

  void sum() {
    for (const QuantityLine& line : out.lines) {
      for (std::size_t i = 0; i < 3; ++i) out.carbon_kg[i] += line.carbon_kg[i];
      if (line.money) out.money = out.money.value_or(0) + *line.money;
      if (!line.money) out.not_priced.push_back(line.what);
    }
  }

  Quantities out;

 private:
  void add(QuantityLine line, const CarbonFactor& carbon, double rate) {
    const bool own = carbon.own > 0;
    line.carbon_kg = {line.mass_kg * (own ? carbon.own : carbon.least),
                      line.mass_kg * (own ? carbon.own : carbon.usual),
                      line.mass_kg * (own ? carbon.own : carbon.most)};
    if (rate > 0) line.money = rate * line.amount;
    out.lines.push_back(std::move(line));
  }

  const Brief& brief_;
  const Assembly& assembly_;
  const Groundworks& ground_;
};

/// The longest way in plan from springing to springing.
double longest_span(const Plan& plan) {
  double most = 0;
  for (const Support& a : plan.supports) {
    for (const Support& b : plan.supports) {
      most = std::max(most, ((a.a + a.b) / 2 - (b.a + b.b) / 2).norm());
    }
  }
  return most;
}

}  // namespace

double tie_steel_kg(const Brief& brief, const Groundworks& ground) {
  const std::vector<Tie>& laid = ground.laid.empty() ? brief.ground.ties : ground.laid;
  double kg = 0;
  for (std::size_t k = 0; k < ground.ties.size(); ++k) {
    const TieForce& tie = ground.ties[k];
    const double rods = k < laid.size() ? static_cast<double>(laid[k].rods)
                                        : static_cast<double>(tie.rod_force_n.size());
    kg += rods * tie.length_m * kPi / 4 * tie.diameter_m * tie.diameter_m * kSteelDensity;
  }
  return kg;
}

Quantities take_off(const Brief& brief, const Assembly& assembly, const Groundworks& ground,
                    double deck_m2, const std::optional<PrintTotals>& print,
                    const std::optional<int>& lorries, const SpareBlocks& spares,
                    const UsedBlocks& used) {
  TakeOff work(brief, assembly, ground);
  work.blocks(print ? print->cast_m3 : 0, print ? print->cast_kg : 0, used);
  if (print && print->blocks > 0) work.printing(*print);
  work.spares(spares);
  work.pads();
  work.ties();
  work.shoes();
  work.walkway(deck_m2);
  work.footings();
  if (lorries) {
    work.lorries(*lorries);
  } else {
    work.lorries_by_mass();
  }
  work.sum();
  Quantities out = std::move(work.out);
  out.deck_m2 = deck_m2;
  SlabRule rule;
  if (brief.loads.people_pa > 0) rule.people_pa = brief.loads.people_pa;
  out.slab = solid_slab(longest_span(brief.plan),
                        area(Region{brief.plan.outline, brief.plan.openings}), rule);
  out.concrete_ratio = out.concrete_m3 / out.slab.concrete_m3;
  out.steel_ratio = out.steel_kg / out.slab.steel_kg;
  for (const char* remark :
       {"centring, bolts and lifting gear are not in these figures",
        "carbon: ranges from the trade, from memory, A1 to A3; ask for declarations of the "
        "products",
        "of printed bridges a third of the concrete and a tenth of the steel of a slab is said "
        "(common practice, no source); the slab here spans the longest way between two springings "
        "and carries no thrust, so that its supports need no ties"})
    out.remarks.emplace_back(remark);
  return out;
}

}  // namespace skewback
