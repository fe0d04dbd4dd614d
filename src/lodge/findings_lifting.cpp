// Blocks on the hook and on the road.

#include <cmath>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"

namespace skewback::lodge {
namespace {

struct Handled {
  std::string block;
  const HandlingCheck* check = nullptr;
  void take(const std::string& id, const std::vector<HandlingCheck>& checks) {
    for (const HandlingCheck& c : checks) {
      if (check != nullptr && c.utilisation <= check->utilisation) continue;
      check = &c;
      block = id;
    }
  }
};

/// Of what is lifted too early.
std::string age_words(const HandlingCheck& check) {
  if (!(check.age_days > 0) || check.utilisation <= 1) return "";
  const std::string at = " at " + deliver::fixed(check.age_days, 1) + " days; ";
  if (!check.holds_from_days) return at + "waiting up to 28 days does not help";
  return at + "from " + deliver::fixed(std::ceil(10 * *check.holds_from_days - 1e-9) / 10, 1) +
         " days on it is borne";
}

std::string used_words(const std::string& what, const Handled& worst) {
  const HandlingCheck& check = *worst.check;
  const auto [demand, resistance] = measures(check.demand, check.resistance, check.unit);
  return what + " " + worst.block + " uses " + deliver::percent_used(check.utilisation) +
         " of what is allowed: " + check.name + ", " + demand + " of " + resistance +
         age_words(check) + ".";
}

Finding finding_of(const RequiredCheck& check, const Handled& worst, const std::string& what,
                   const Assembly& assembly) {
  Finding f{check.name};
  f.share = worst.check->utilisation;
  f.weight = weight_of(check, f.share);
  f.says = used_words(what, worst);
  f.place = block_place(assembly, worst.block);
  return f;
}

void say_lifts(const Dossier& d, const Assembly& assembly, const RequiredCheck& check,
               Found& found) {
  Handled worst;
  const BlockLift* stuck = nullptr;
  if (d.lifts) {
    for (const BlockLift& lift : d.lifts->lifts) {
      worst.take(lift.id, lift.checks);
      if (!lift.way_clear && stuck == nullptr) stuck = &lift;
    }
  }
  if (worst.check == nullptr) {
    found.push_back(not_checked(check, "the lifting of the blocks"));
    return;
  }
  Finding f = finding_of(check, worst, "Lifting", assembly);
  f.moment = moment_of_placing(d, worst.block);
  if (stuck != nullptr) {
    f.says = "Block " + stuck->id +
             " cannot come straight in on its slings: " + sentence(stuck->obstacle) + " " + f.says;
    f.place = block_place(assembly, stuck->id);
    f.moment = moment_of_placing(d, stuck->id);
  }
  found.push_back(std::move(f));
}

void say_cradles(const LiftPlan& plan, const Assembly& assembly, Found& found) {
  std::vector<std::string> ids;
  for (const BlockLift& lift : plan.lifts)
    if (lift.cradle && !(lift.strap_n > 0)) ids.push_back(lift.id);
  if (ids.empty()) return;
  Finding f{"cradles", kNotChecked};
  f.says = "Slings alone do not hold " + deliver::counted(ids.size(), "block") + " (" + few(ids) +
           "), nor would straps over them: a cradle is needed, and not designed here.";
  f.place = block_place(assembly, ids.front());
  f.moment = "printed";
  found.push_back(std::move(f));
}

void say_road(const Dossier& d, const Assembly& assembly, const RequiredCheck& check,
              Found& found) {
  Handled worst;
  if (d.transport) {
    for (const Pallet& pallet : d.transport->pallets)
      for (const BeddedBlock& block : pallet.blocks) worst.take(block.id, block.checks);
  }
  if (worst.check == nullptr) {
    found.push_back(not_checked(check, "the blocks on the road"));
    return;
  }
  Finding f = finding_of(check, worst, "On the road", assembly);
  f.moment = "printed";
  found.push_back(std::move(f));
}

}  // namespace

void say_lifting(const Dossier& d, const Required& required, Found& found) {
  const Assembly* assembly = deliver::assembly_of(d);
  if (assembly == nullptr) return;
  if (const auto* check = find(required, "lifting")) say_lifts(d, *assembly, *check, found);
  if (d.lifts) say_cradles(*d.lifts, *assembly, found);
  if (const auto* check = find(required, "transport")) say_road(d, *assembly, *check, found);
}

}  // namespace skewback::lodge
