#include "lodge/compare.hpp"

#include <algorithm>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

using Ordered = nlohmann::ordered_json;

std::vector<Change> not_compared(const Dossier& before, const Dossier& now) {
  struct Kind {
    const char* name;
    bool was, is;
  };
  const std::vector<Kind> kinds = {
      {"form", before.form.has_value(), now.form.has_value()},
      {"blocks", deliver::assembly_of(before) != nullptr, deliver::assembly_of(now) != nullptr},
      {"verdicts", !before.proofs.empty(), !now.proofs.empty()},
      {"required checks", !before.required.empty(), !now.required.empty()},
      {"the worst place for people, and what is least over all cases",
       before.worst_pattern.has_value(), now.worst_pattern.has_value()},
      {"strength of the blocks", before.strength.has_value(), now.strength.has_value()},
      {"ground", before.ground.has_value(), now.ground.has_value()},
      {"printing", before.print.has_value(), now.print.has_value()},
      {"centring", before.centring.has_value(), now.centring.has_value()},
      {"programme", before.programme.has_value(), now.programme.has_value()},
      {"quantities", before.quantities.has_value(), now.quantities.has_value()}};
  std::vector<std::string> only_was, only_is;
  for (const Kind& k : kinds)
    if (k.was != k.is) (k.is ? only_is : only_was).push_back(k.name);
  std::vector<Change> list;
  const auto tell = [&](const std::vector<std::string>& names, const char* of) {
    if (!names.empty())
      list.push_back({"not compared", deliver::joined(names, ", ") + ": worked out only for the " +
                                          of + " of the two"});
  };
  tell(only_is, "later");
  tell(only_was, "earlier");
  return list;
}

}  // namespace

std::vector<Change> changes(const Dossier& before, const Dossier& now) {
  std::vector<Change> all;
  for (const auto& of_kind :
       {form_changes, body_changes, block_changes, joint_changes, verdict_changes, check_changes,
        strength_changes, ground_changes, print_changes, centring_changes, programme_changes,
        quantity_changes, not_compared, key_changes}) {
    std::vector<Change> some = of_kind(before, now);
    std::move(some.begin(), some.end(), std::back_inserter(all));
  }
  return all;
}

nlohmann::ordered_json changes_json(const std::vector<Change>& list) {
  Ordered out = Ordered::array();
  for (const Change& c : list) {
    Ordered at;
    if (c.at) at = {c.at->x(), c.at->y(), c.at->z()};
    out.push_back({{"of", c.of},
                   {"says", c.says},
                   {"place", {{"kind", c.kind}, {"id", c.id}, {"at", at}}},
                   {"moment", c.moment}});
  }
  return out;
}

}  // namespace skewback::lodge
