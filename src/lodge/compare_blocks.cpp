#include <algorithm>
#include <cmath>
#include <set>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

using deliver::counted;
using deliver::fixed;

constexpr double kMoved_m = 1e-3, kHeavier_kg = 0.5;

// Same id in the same place of the bond: course and place within its leg.
std::vector<std::string> names_in_place(const Dossier& d, const Assembly& assembly) {
  std::vector<std::string> names;
  for (const Block& b : assembly.blocks)
    names.push_back(b.id + "\n" + (b.fixed ? "ground" : deliver::arm_name(d.brief, b)) + "\n" +
                    std::to_string(b.place.course) + "\n" + std::to_string(b.place.place));
  return names;
}

Change at_block(std::string says, const Block& block) {
  return {"", std::move(says), "block", block.id, block.mass.centroid, "cut"};
}

// Those that differ by one measure: how many, and by how much the one that differs most.
struct Most {
  std::vector<std::string> ids;
  const Block* block = nullptr;
  double by = 0;
  void see(const Block& b, double difference) {
    ids.push_back(b.id);
    if (block == nullptr || difference > by) {
      block = &b;
      by = difference;
    }
  }
};

struct Differences {
  Most moved, heavier, lighter, laden, unladen;
  std::vector<std::string> added, gone, elsewhere;
  std::vector<const Block*> added_blocks;
};

void see_pair(const Block& was, const Block& is, Differences& d) {
  if (const double m = (is.mass.centroid - was.mass.centroid).norm(); m > kMoved_m)
    d.moved.see(is, m);
  if (is.fixed) return;
  const double heavier = concrete_mass_kg(is) - concrete_mass_kg(was);
  if (std::abs(heavier) >= kHeavier_kg)
    (heavier > 0 ? d.heavier : d.lighter).see(is, std::abs(heavier));
  const double carries = mass_kg(is) - mass_kg(was) - heavier;
  if (std::abs(carries) >= kHeavier_kg)
    (carries > 0 ? d.laden : d.unladen).see(is, std::abs(carries));
}

void sort_out(std::vector<std::string> added, std::vector<std::string> gone, Differences& d) {
  const std::set<std::string> were(gone.begin(), gone.end());
  for (std::string& id : added) (were.contains(id) ? d.elsewhere : d.added).push_back(id);
  const std::set<std::string> same(d.elsewhere.begin(), d.elsewhere.end());
  for (std::string& id : gone)
    if (!same.contains(id)) d.gone.push_back(id);
}

Differences differences(const Dossier& before, const Assembly& a, const Dossier& now,
                        const Assembly& b) {
  Differences d;
  std::vector<std::string> added, gone;
  for (const Pair& pair : paired(names_in_place(before, a), names_in_place(now, b))) {
    if (pair.before && pair.now) {
      see_pair(a.blocks[*pair.before], b.blocks[*pair.now], d);
    } else if (pair.now) {
      added.push_back(b.blocks[*pair.now].id);
      d.added_blocks.push_back(&b.blocks[*pair.now]);
    } else {
      gone.push_back(a.blocks[*pair.before].id);
    }
  }
  sort_out(std::move(added), std::move(gone), d);
  return d;
}

const Block* first_of(const std::vector<const Block*>& blocks, const std::string& id) {
  const auto found =
      std::find_if(blocks.begin(), blocks.end(), [&](const Block* b) { return b->id == id; });
  return found == blocks.end() ? nullptr : *found;
}

void tell_most(double weight, const Most& most, const std::string& verb, const std::string& by,
               Told& told) {
  if (most.block == nullptr) return;
  const bool one = most.ids.size() == 1;
  told.tell(weight, at_block(one ? most.ids.front() + " " + verb + " by " + by
                                 : counted(most.ids.size(), "block") + " " + verb + ", " +
                                       most.block->id + " by most, " + by,
                             *most.block));
}

void tell_mass(double weight, const Most& most, const std::string& one, const std::string& many,
               Told& told) {
  if (most.block == nullptr) return;
  const int places = decimals_of(most.by, 2);
  tell_most(weight, most, most.ids.size() == 1 ? one : many, fixed(most.by, places) + " kg", told);
}

std::string ends_named(const Assembly& assembly, const Joint& joint) {
  const auto id = [&](int b) {
    return b < 0 ? std::string() : assembly.blocks[static_cast<std::size_t>(b)].id;
  };
  return id(joint.a) + " | " + id(joint.b);
}

Change at_joint(std::string says, const Assembly& assembly, const Joint& joint) {
  std::string id = ends_named(assembly, joint);
  if (const auto bar = id.find(" | "); bar != std::string::npos) id.replace(bar, 3, "|");
  return {"", std::move(says), "joint", id, joint.frame.origin, "cut"};
}

struct Grown {  // joint with the greatest change of bearing area
  double share = 0;
  std::size_t changed = 0;
  std::string says;
  const Joint* joint = nullptr;
};

void see_area(const std::string& name, const Joint& was, const Joint& is, Grown& grown) {
  const double a = area(was.contact), b = area(is.contact);
  const auto says = more_or_less("the bearing area of " + name, a, b, 3, "m\u00b2");
  if (!says) return;
  ++grown.changed;
  if (grown.joint != nullptr && share_changed(a, b) <= grown.share) return;
  grown.share = share_changed(a, b);
  grown.says = *says;
  grown.joint = &is;
}

}  // namespace

std::vector<Change> block_changes(const Dossier& before, const Dossier& now) {
  const Assembly *a = deliver::assembly_of(before), *b = deliver::assembly_of(now);
  if (a == nullptr || b == nullptr) return {};
  const Differences d = differences(before, *a, now, *b);
  Told told("blocks");
  const auto tell_ids = [&](double weight, const std::vector<std::string>& ids,
                            const std::string& are) {
    if (ids.empty()) return;
    Change change{"", counted(ids.size(), "block") + " " + (ids.size() == 1 ? "is " : "are ") +
                          are + ": " + named(ids)};
    if (const Block* first = first_of(d.added_blocks, ids.front()))
      change = at_block(change.says, *first);
    told.tell(weight, change);
  };
  tell_ids(9, d.added, "new");
  tell_ids(8, d.gone, "gone");
  tell_ids(7, d.elsewhere, "of another course or place though called the same");
  tell_most(6, d.moved, "moved", fixed(1e3 * d.moved.by, d.moved.by < 0.01 ? 1 : 0) + " mm", told);
  tell_mass(5, d.heavier, "is heavier", "are heavier", told);
  tell_mass(4, d.lighter, "is lighter", "are lighter", told);
  tell_mass(3, d.laden, "carries more", "carry more", told);
  tell_mass(2, d.unladen, "carries less", "carry less", told);
  const deliver::BlockTotals ta = deliver::totals(*a), tb = deliver::totals(*b);
  if (ta.blocks > 0 && tb.blocks > 0)
    if (const auto says = more_or_less("the heaviest block, " + tb.heaviest + ",", ta.mass_max_kg,
                                       tb.mass_max_kg, 0, "kg"))
      for (const Block& block : b->blocks)
        if (block.id == tb.heaviest) told.tell(1, at_block(*says, block));
  return told.in_order();
}

std::vector<Change> joint_changes(const Dossier& before, const Dossier& now) {
  const Assembly *a = deliver::assembly_of(before), *b = deliver::assembly_of(now);
  if (a == nullptr || b == nullptr) return {};
  std::vector<std::string> were, are;
  for (const Joint& j : a->joints) were.push_back(ends_named(*a, j));
  for (const Joint& j : b->joints) are.push_back(ends_named(*b, j));
  Told told("joints");
  std::vector<std::string> added, gone;
  Grown grown;
  for (const Pair& pair : paired(were, are)) {
    if (!pair.now) {
      gone.push_back(were[*pair.before]);
    } else if (!pair.before) {
      added.push_back(are[*pair.now]);
    } else {
      see_area(are[*pair.now], a->joints[*pair.before], b->joints[*pair.now], grown);
    }
  }
  const auto tell_names = [&](double weight, const std::vector<std::string>& names,
                              const char* what) {
    if (names.empty()) return;
    told.tell(weight, {"",
                       counted(names.size(), "joint") + (names.size() == 1 ? " is " : " are ") +
                           what + ": " + named(names, 5),
                       "none",
                       "",
                       {},
                       "cut"});
  };
  tell_names(5, added, "new");
  tell_names(4, gone, "gone");
  if (grown.joint != nullptr)
    told.tell(3,
              at_joint(grown.says + (grown.changed > 1 ? "; of " + counted(grown.changed, "joint") +
                                                             " that differ, the most"
                                                       : ""),
                       *b, *grown.joint));
  for (const auto& [name, was, is] :
       {std::tuple{"the median angle of the thrust to the joints", before.joint_angle_median_deg,
                   now.joint_angle_median_deg},
        std::tuple{"the greatest angle of the thrust to a joint", before.joint_angle_max_deg,
                   now.joint_angle_max_deg}})
    if (const auto says = more_or_less(name, was, is, 1, "degrees"))
      told.tell(1, {"", *says, "none", "", {}, "cut"});
  return told.in_order();
}

}  // namespace skewback::lodge
