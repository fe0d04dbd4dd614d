#include "erect/transport.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/parallel.hpp"
#include "erect/transport_parts.hpp"

namespace skewback {
namespace {

std::vector<int> in_order(const Assembly& assembly, const Programme& programme) {
  std::map<std::string, int> index;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i)
    index.emplace(assembly.blocks[i].id, static_cast<int>(i));
  std::vector<int> order;
  for (const std::string& id : programme.order) {
    const auto it = index.find(id);
    if (it != index.end()) order.push_back(it->second);
  }
  return order;
}

std::string ids(const std::vector<std::string>& names) {
  constexpr std::size_t kFew = 8;
  if (names.size() > kFew) return std::to_string(names.size()) + " blocks (see the table)";
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return out;
}

void remark_bedding(const TransportRequest& request, const std::vector<Bedding>& beddings,
                    Transport& transport) {
  std::map<std::string, std::vector<std::string>> ways;
  std::vector<std::string> tipping, unbedded;
  const double most =
      std::max({request.forward, request.rearward, request.sideways, kTippingGoods});
  for (const Bedding& b : beddings) {
    ways[b.words].push_back(b.id);
    if (b.checks.empty()) unbedded.push_back(b.id);
    if (!b.checks.empty() && b.tips_at_g < most) tipping.push_back(b.id);
  }
  for (const auto& [way, names] : ways)
    transport.remarks.push_back("Bedded " + way + ": " + ids(names) + ".");
  if (!tipping.empty())
    transport.remarks.push_back(
        "By themselves they tip on their bearers at what the road does to them, and are chocked to "
        "their neighbours or to the bed: " +
        ids(tipping) + ".");
  if (!unbedded.empty())
    transport.remarks.push_back("No two bearers were found for " + ids(unbedded) + ".");
}

void remark_lorries(const TransportRequest& request, Transport& transport) {
  for (const LorryLoad& lorry : transport.lorries) {
    const double share = lorry.centre.x() / request.lorry_length_m;
    if (share >= 0.35 && share <= 0.65) continue;
    transport.remarks.push_back(lorry.id + ": its load's centre of gravity lies " +
                                std::to_string(std::lround(100 * share)) +
                                " % of the bed behind the headboard; axle loads are not checked.");
  }
}

void remark_spares(const Assembly& assembly, Transport& transport) {
  std::map<int, const LorryLoad*> lorry_of;
  std::vector<std::string> apart;
  std::string loads;
  for (const LorryLoad& lorry : transport.lorries) {
    double mass_kg = 0;
    int spares = 0;
    for (const LoadedPallet& on : lorry.pallets) {
      for (const BeddedBlock& block :
           transport.pallets[static_cast<std::size_t>(on.pallet)].blocks) {
        if (!block.spare) {
          lorry_of[block.block] = &lorry;
          continue;
        }
        ++spares;
        mass_kg += concrete_mass_kg(assembly.blocks[static_cast<std::size_t>(block.block)]);
        if (lorry_of[block.block] != &lorry) apart.push_back(block.id);
      }
    }
    if (spares > 0)
      loads += (loads.empty() ? "" : ", ") + lorry.id + " " + std::to_string(spares) + " (" +
               std::to_string(std::lround(mass_kg)) + " kg)";
  }
  if (loads.empty()) return;
  transport.remarks.push_back("Spares are on the lorries too, each behind its block: " + loads +
                              ".");
  if (!apart.empty())
    transport.remarks.push_back(
        "With its spare beside it the block does not go on one lorry; the spare is on the next: " +
        ids(apart) + ".");
}

}  // namespace

std::vector<double> from_middle_of_bed(const TransportRequest& request, const Assembly& assembly,
                                       const Transport& transport) {
  std::vector<double> far_m(assembly.blocks.size(), 0);
  for (const LorryLoad& lorry : transport.lorries) {
    for (const LoadedPallet& on : lorry.pallets) {
      for (const BeddedBlock& b : transport.pallets[static_cast<std::size_t>(on.pallet)].blocks) {
        const auto i = static_cast<std::size_t>(b.block);
        const Vec2 p = b.to_pallet(assembly.blocks[i].mass.centroid).head<2>();
        const Vec2 at = on.at + (on.turned ? Vec2(-p.y(), p.x()) : p);
        far_m[i] = std::max(far_m[i], (at - Vec2(request.lorry_length_m / 2, 0)).norm());
      }
    }
  }
  return far_m;
}

std::string name_of(const BeddedBlock& block) { return block.id + (block.spare ? " again" : ""); }

Transport plan_transport(const Brief& brief, const Assembly& assembly, const Programme& programme,
                         const PrintSet* print, const std::set<int>& twice) {
  const std::vector<int> order = in_order(assembly, programme);
  std::vector<Bedding> beddings(order.size());
  for_each_index(order.size(), [&](std::size_t i) {
    beddings[i] = bed_for_the_road(brief, assembly, order[i], print);
  });
  Transport transport;
  for (const Bedding& bedding : beddings) {
    for (const HandlingCheck& check : bedding.checks)
      transport.utilisation = std::max(transport.utilisation, check.utilisation);
  }
  remark_bedding(brief.transport, beddings, transport);
  std::vector<Bedding> carried;
  for (const Bedding& bedding : beddings) {
    carried.push_back(bedding);
    if (!twice.contains(bedding.block)) continue;
    carried.push_back(bedding);
    carried.back().spare = true;
  }
  transport.pallets = stack_pallets(brief.transport, carried);
  transport.lorries = load_lorries(brief.transport, transport);
  remark_lorries(brief.transport, transport);
  remark_spares(assembly, transport);
  return transport;
}

}  // namespace skewback
