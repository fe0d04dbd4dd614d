#include "deliver/plan_file.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "base/sha256.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

int other_side(const Joint& joint, int block) {
  return joint.a == block ? joint.b : joint.b == block ? joint.a : -1;
}

void add_once(std::vector<std::string>& list, const std::string& name) {
  if (std::ranges::find(list, name) == list.end()) list.push_back(name);
}

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i)
    text += (i == 0 ? "" : i + 1 < names.size() ? ", " : " and ") + names[i];
  return text;
}

std::vector<std::string> placed_beside(const Assembly& assembly, const std::vector<int>& order,
                                       int block) {
  std::vector<std::string> names;
  for (const Joint& joint : assembly.joints) {
    const int other = other_side(joint, block);
    if (other >= 0 && order[at(other)] < order[at(block)])
      add_once(names, assembly.blocks[at(other)].id);
  }
  return names;
}

constexpr double kNoBed = kPi / 3;  // steeper: nothing rests on it

std::string up_words(const Assembly& assembly, const std::vector<int>& order, int block) {
  const int j = bed_joint(assembly, order, block);
  if (j < 0) return "back up";
  const Joint& joint = assembly.joints[at(j)];
  const double slope = std::acos(std::min(1.0, std::abs(joint.frame.z.z())));
  if (slope > kNoBed) {
    const std::vector<std::string> beside = placed_beside(assembly, order, block);
    return (beside.size() > 1 ? "back up; held between " : "back up; against ") + listed(beside) +
           (beside.size() > 1 ? "" : ", on its seats");
  }
  return "back up; bedded on " + assembly.blocks[at(other_side(joint, block))].id +
         ", bed sloping " + fixed(slope * 180 / kPi, 0) + " degrees";
}

void add_making(const Dossier& dossier, double volume_m3, PlannedBlock& block) {
  block.made = "elsewhere";
  block.journey_s = dossier.brief.transport.journey_s.y();
  if (dossier.again && dossier.again->printed) {  // another of what is there
    block.print_s = volume_m3 / dossier.brief.print.flow_m3_s;
    block.cure_s = dossier.brief.print.curing_s;
  }
  if (!dossier.print) return;
  for (const BlockPrint& print : dossier.print->blocks) {
    if (print.id != block.id) continue;
    const bool printed = print.printable && print.way != PrintWay::kCast;
    if (!printed && print.way != PrintWay::kCast) return;
    block.made = printed ? "printed" : "cast";
    block.print_s = printed ? print.time_s : 0;
    block.cure_s = dossier.brief.print.curing_s;
  }
}

PlannedBlock planned(const Dossier& dossier, const std::vector<int>& order, int index) {
  const Assembly& assembly = dossier.cut->assembly;
  const Block& block = assembly.blocks[at(index)];
  PlannedBlock out;
  out.id = block.id;
  out.order = order[at(index)];
  out.mass_kg = concrete_mass_kg(block);
  out.centre = block.mass.centroid;
  for (const Joint& joint : assembly.joints) {
    const int other = other_side(joint, index);
    if (other < 0) continue;
    add_once(out.joints, assembly.blocks[at(other)].id);
    if (order[at(other)] > 0 && order[at(other)] < out.order)
      add_once(out.needs, assembly.blocks[at(other)].id);
  }
  out.up = up_words(assembly, order, index);
  if (dossier.lifts)
    for (const BlockLift& lift : dossier.lifts->lifts)
      if (lift.block == index) {
        out.slings = lift.slings;
        out.held_by = held_by(lift);
        out.strap_n = lift.strap_n;
        out.wind_m_s = lift.wind_m_s;
      }
  add_making(dossier, block.mass.volume, out);
  return out;
}

}  // namespace

std::vector<int> placing_order(const Assembly& assembly, const Programme& programme) {
  std::vector<int> order(assembly.blocks.size(), 0);
  for (std::size_t k = 0; k < programme.order.size(); ++k)
    for (std::size_t i = 0; i < assembly.blocks.size(); ++i)
      if (assembly.blocks[i].id == programme.order[k]) order[i] = static_cast<int>(k) + 1;
  return order;
}

namespace {

/// Not a head joint in a course, nor a wall on a ridge.
bool lies_between_courses(const Block& block, const Block& beside) {
  const BlockPlace &a = block.place, &b = beside.place;
  return beside.fixed || (a.arm < 0) != (b.arm < 0) || (a.arm == b.arm && a.course != b.course);
}

}  // namespace

int bed_joint(const Assembly& assembly, const std::vector<int>& order, int block) {
  int best = -1;
  bool bed = false;
  double widest = 0;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const int other = other_side(assembly.joints[j], block);
    if (other < 0 || order[at(other)] > order[at(block)]) continue;
    const bool is_bed =
        lies_between_courses(assembly.blocks[at(block)], assembly.blocks[at(other)]);
    const double here = area(assembly.joints[j].contact);
    if (is_bed < bed || (is_bed == bed && here <= widest)) continue;
    best = static_cast<int>(j);
    bed = is_bed;
    widest = here;
  }
  return best;
}

std::optional<DayPlan> day_plan(const Dossier& dossier) {
  if (!dossier.cut || !dossier.programme || dossier.programme->order.empty()) return std::nullopt;
  const Assembly& assembly = dossier.cut->assembly;
  const std::vector<int> order = placing_order(assembly, *dossier.programme);
  DayPlan plan;
  plan.bridge = dossier.brief.name;
  plan.title = dossier.brief.title;
  plan.assembly_sha256 = sha256(write_assembly(assembly));
  for (std::size_t k = 1; k <= dossier.programme->order.size(); ++k)
    for (std::size_t i = 0; i < order.size(); ++i)
      if (order[i] == static_cast<int>(k))
        plan.blocks.push_back(planned(dossier, order, static_cast<int>(i)));
  if (dossier.spares && !dossier.spares->network.activities.empty()) {
    plan.network = dossier.spares->network;
    for (const Breakage& b : dossier.spares->breakages)
      plan.breakages.push_back({plan.network->activities[at(b.place)].id, b.share, b.again_s,
                                b.swap_s, b.spare, b.cure_s, b.journey_s});
  }
  return plan;
}

std::string plan_json(const Dossier& dossier) {
  const std::optional<DayPlan> plan = day_plan(dossier);
  return plan ? write_plan(*plan) : "";
}

}  // namespace skewback::deliver
