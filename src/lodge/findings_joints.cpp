// Of the joints: depth, friction, pressure.

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"
#include "works/pressed.hpp"

namespace skewback::lodge {
namespace {

using deliver::fixed;
using deliver::joint_name;

void say_depth(const RequiredCheck& check, const Dossier& d, Found& found) {
  if (!check.value) {
    found.push_back(not_checked(check, "how much of the joints' depth the weight needs"));
    if (check.passes && !*check.passes) found.back().weight = kFails;
    found.back().moment = "struck";
    return;
  }
  Finding f{check.name};
  f.share = check.limit / *check.value;
  f.weight = weight_of(check, f.share);
  const bool at_least = d.dead_depth_reserve && d.dead_depth_reserve->at_least;
  const auto [deep, required] =
      deliver::told_apart(*check.value, check.limit, deliver::decimals(1));
  f.says = "Under its weight alone the joints are " + std::string(at_least ? "at least " : "") +
           deep + " times as deep as the thrust needs; " + required + " is required.";
  f.moment = "struck";
  found.push_back(std::move(f));
}

void say_least_depth(const Dossier& d, const Assembly& assembly, Found& found) {
  if (!d.depth_needed) return;
  const DepthNeeds& needs = *d.depth_needed;
  Finding f{"depth_needed"};
  const std::string with = "with the live load times " + fixed(needs.live_factor, 2);
  if (!needs.share) {
    std::vector<std::string> unheld;
    for (const int i : needs.unheld) unheld.push_back(needs.cases[static_cast<std::size_t>(i)].id);
    f.weight = kFails;
    f.says = "The full depth of the joints does not hold " + few(unheld) + " " + with + ".";
  } else {
    f.share = needs.share;
    f.weight = weight_of(*needs.share);
    f.says = deliver::percent_used(*needs.share, 1) +
             " of the joints' depth would hold every pattern " + with + ".";
    if (needs.governing >= 0) {
      const DepthNeed& need = needs.cases[static_cast<std::size_t>(needs.governing)];
      f.says += " Case " + need.id + " needs it";
      f.says += need.joint >= 0 ? ", at joint " + joint_name(assembly, need.joint) + "." : ".";
      f.place = joint_place(assembly, need.joint);
    }
  }
  f.moment = "walked";
  found.push_back(std::move(f));
}

void say_friction(const Dossier& d, const RequiredCheck& check, Found& found) {
  const CaseProof* most = nullptr;
  for (const CaseProof& proof : d.proofs) {
    if (proof.friction_needed &&
        (most == nullptr || *proof.friction_needed > *most->friction_needed))
      most = &proof;
  }
  if (!check.value || most == nullptr) {
    found.push_back(not_checked(check, "the friction that the joints need"));
    return;
  }
  Finding f{check.name};
  f.share = check.limit / *check.value;
  f.weight = weight_of(check, f.share);
  const auto [has, required] = deliver::told_apart(*check.value, check.limit, deliver::decimals(2));
  f.says = "Friction of " + fixed(*most->friction_needed, 3) + " would do in case " + most->id +
           "; the joints have " + fixed(d.brief.joints.friction, 2) + ", " + has + " times that (" +
           required + " is required).";
  if (*check.passes == false && *check.value >= check.limit && !check.note.empty())
    f.says += " " + sentence(check.note);
  f.place = place("case", most->id, std::nullopt);
  f.moment = "walked";
  found.push_back(std::move(f));
}

void say_pressure(const Dossier& d, const Assembly& assembly, const RequiredCheck& check,
                  Found& found) {
  const Pressed most = most_pressed(d);
  if (!check.value || most.in == nullptr) {
    found.push_back(not_checked(check, "the pressure in the joints"));
    if (check.passes && !*check.passes) found.back().weight = kFails;
    return;
  }
  Finding f{check.name};
  f.share = most.peak_pa / most.limit_pa;
  f.weight = weight_of(check, f.share);
  const auto [peak, limit] = measures(most.peak_pa, most.limit_pa, "Pa");
  f.says = "Joint " + joint_name(assembly, most.joint) + " is pressed by up to " + peak +
           " in case " + most.in->id + "; " + limit + " is allowed.";
  if (f.weight == kFails && *f.share <= 1 && !check.note.empty())
    f.says += " " + sentence(check.note);
  f.place = joint_place(assembly, most.joint);
  f.moment = "walked";
  found.push_back(std::move(f));
}

}  // namespace

void say_joints(const Dossier& d, const Required& required, Found& found) {
  const Assembly* assembly = deliver::assembly_of(d);
  if (assembly == nullptr) return;
  if (const auto* check = find(required, "geometric_safety")) say_depth(*check, d, found);
  say_least_depth(d, *assembly, found);
  if (const auto* check = find(required, "friction_reserve")) say_friction(d, *check, found);
  if (const auto* check = find(required, "joint_stress")) say_pressure(d, *assembly, *check, found);
}

}  // namespace skewback::lodge
