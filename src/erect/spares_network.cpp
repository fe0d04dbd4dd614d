#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Adds activities one after the other and keeps those that others wait for.
class Builder {
 public:
  Builder(const Brief& brief, const Assembly& assembly, const std::set<int>& twice)
      : brief_(brief),
        assembly_(assembly),
        twice_(twice),
        cured_(assembly.blocks.size(), -1),
        cured_again_(assembly.blocks.size(), -1) {
    const ProgrammeRequest& p = brief.programme;
    network_.start = p.start;
    network_.calendar = Calendar(p.start, p.week, p.holidays);
  }

  void make(const std::vector<Making>& makings, const PrintSet* print) {
    if (print == nullptr) return;
    const PrintPlan plan = with_spares(brief_.print, *print, twice_);
    const std::vector<Vec3> times = printing_times(brief_.print, *print, plan);
    int before = -1;  // on the table
    for (std::size_t k = 0; k < times.size(); ++k) {
      Making how = makings[at(plan.order[k].block)];
      how.times_s = times[k];
      before = make_and_cure(how, plan.order[k].block, plan.order[k].again, before);
    }
    for (const BlockPrint& block : print->blocks) {
      const Making& how = makings[at(block.block)];
      if (cured_[at(block.block)] >= 0 || how.kind.empty()) continue;
      const int made = make_and_cure(how, block.block, false, -1);
      if (twice_.contains(block.block)) make_and_cure(how, block.block, true, made);
    }
  }

  void carry(const std::vector<std::vector<int>>& loads) {
    arrives_.assign(assembly_.blocks.size(), -1);
    for (std::size_t k = 0; k < loads.size(); ++k) {
      std::vector<int> after;
      for (const int block : loads[k]) {
        after.push_back(cured_[at(block)]);
        after.push_back(cured_again_[at(block)]);
      }
      const int journey =
          add("journey " + std::to_string(k + 1), "", "journey", brief_.transport.journey_s, after);
      for (const int block : loads[k]) arrives_[at(block)] = journey;
    }
  }

  void build(const std::vector<int>& order) {
    const ProgrammeRequest& p = brief_.programme;
    const int footings = add("footings", "", "footings", p.footings_s, {});
    const int cutting = add("cutting of the centring", "", "cutting", p.cutting_s, {});
    int before = add("centring put up", "", "centring", p.centring_s, {footings, cutting});
    const Vec3 placing_s = p.placing_s * (kDay_s / p.site_day_s);
    for (const int block : order) {
      const std::string& id = assembly_.blocks[at(block)].id;
      before = add("place " + id, id, "place", placing_s, {arrives_[at(block)], before});
    }
    before = add("striking", "", "striking", p.striking_s, {before});
    if (brief_.walkway.width_m > 0) add("walkway", "", "walkway", p.walkway_s, {before});
  }

  [[nodiscard]] Network take() { return std::move(network_); }

 private:
  /// What the next one on the table waits for.
  int make_and_cure(const Making& how, int block, bool again, int before) {
    const std::string& id = assembly_.blocks[at(block)].id;
    const std::string which = again ? " again" : "";
    const int made = add(how.kind + " " + id + which, id, how.kind, how.times_s, {before});
    (again ? cured_again_ : cured_)[at(block)] =
        add("cure " + id + which, id, "cure", Vec3::Constant(how.cure_s), {made});
    return made;
  }
  /// `after`: those below zero are left out.
  int add(const std::string& id, const std::string& block, const std::string& kind,
          const Vec3& times_s, const std::vector<int>& after) {
    Activity activity;
    activity.id = id;
    activity.block = block;
    activity.kind = kind;
    activity.least_s = times_s.x();
    activity.likely_s = times_s.y();
    activity.most_s = times_s.z();
    std::ranges::copy_if(after, std::back_inserter(activity.after), [](int i) { return i >= 0; });
    network_.activities.push_back(std::move(activity));
    return static_cast<int>(network_.activities.size()) - 1;
  }

  const Brief& brief_;
  const Assembly& assembly_;
  const std::set<int>& twice_;
  Network network_;
  std::vector<int> cured_, cured_again_, arrives_;
};

}  // namespace

std::vector<int> placing_order(const Assembly& assembly, const Programme& programme) {
  std::map<std::string, int> index;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i)
    index[assembly.blocks[i].id] = static_cast<int>(i);
  std::vector<int> order;
  for (const std::string& id : programme.order) {
    const auto found = index.find(id);
    if (found != index.end()) order.push_back(found->second);
  }
  return order;
}

std::vector<std::vector<int>> journeys(const Brief& brief, const Assembly& assembly,
                                       const std::vector<int>& order, const Transport* transport) {
  std::vector<std::vector<int>> loads;
  std::set<int> carried;
  if (transport != nullptr) {
    for (const LorryLoad& lorry : transport->lorries) {
      loads.emplace_back();
      for (const LoadedPallet& loaded : lorry.pallets) {
        for (const BeddedBlock& block : transport->pallets[at(loaded.pallet)].blocks) {
          if (carried.insert(block.block).second) loads.back().push_back(block.block);
        }
      }
    }
  }
  // what no lorry is known for: a day's placing each time, within a lorry's load
  const double a_day = std::max(
      1.0, std::floor(brief.programme.site_day_s / std::max(1.0, brief.programme.placing_s.y())));
  double mass_kg = HUGE_VAL, blocks = 0;
  for (const int i : order) {
    if (carried.contains(i)) continue;
    const double more_kg = concrete_mass_kg(assembly.blocks[at(i)]);
    if (blocks >= a_day || mass_kg + more_kg > brief.transport.lorry_load_kg) {
      loads.emplace_back();
      mass_kg = blocks = 0;
    }
    loads.back().push_back(i);
    mass_kg += more_kg;
    ++blocks;
  }
  return loads;
}

Network network_with_spares(const Brief& brief, const Assembly& assembly,
                            const Programme& programme, const PrintSet* print,
                            const Transport* transport, const std::set<int>& twice) {
  const std::vector<int> order = placing_order(assembly, programme);
  Builder builder(brief, assembly, twice);
  builder.make(makings(brief, assembly, print), print);
  builder.carry(journeys(brief, assembly, order, transport));
  builder.build(order);
  return builder.take();
}

Network works_network(const Brief& brief, const Assembly& assembly, const Programme& programme,
                      const PrintSet* print, const Transport* transport) {
  return network_with_spares(brief, assembly, programme, print, transport, {});
}

}  // namespace skewback
