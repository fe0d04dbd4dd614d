// The building of it: stages, ways in, centring, lifts, the road, spares.

#include <algorithm>
#include <cmath>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"

namespace skewback::lodge {
namespace {

using deliver::fixed;

void say_uneven(const UnevenStriking& uneven, Finding& f) {
  if (uneven.steps.empty()) return;
  if (uneven.standing == static_cast<int>(uneven.steps.size())) {
    f.says += " So do " + deliver::counted(uneven.steps.size(), "state") +
              " of striking with one foot ahead of its row or behind it.";
  } else {
    const auto bad = std::ranges::find(uneven.steps, false, &UnevenStep::stands);
    f.says += " Struck unevenly they do not all: " + uneven.words.front();
    f.moment = "stage " + std::to_string(bad->stage + 1);
    f.place = place("foot", bad->foot, std::nullopt);
  }
}

void say_stages(const Dossier& d, const RequiredCheck& check, Found& found) {
  if (!d.programme || !check.passes) {
    found.push_back(not_checked(check, "whether it stands at every stage of the building"));
    found.back().moment = "closed";
    return;
  }
  const auto& stages = d.programme->stages;
  const auto bad = std::ranges::find_if(stages, [](const Stage& s) { return !stands(s); });
  Finding f{check.name, weight_of(check, std::nullopt)};
  if (bad == stages.end()) {
    f.says = "All " + deliver::counted(stages.size(), "stage") +
             " of building, striking and taking down stand.";
    f.moment = "struck";
    say_uneven(d.programme->uneven, f);
  } else {
    const bool alone = bad->proof.verdict != Verdict::kStands;
    const Verdict verdict = alone ? bad->proof.verdict : bad->working->verdict;
    const std::string& reason = alone ? bad->proof.reason : bad->working->reason;
    f.says = "Step " + std::to_string(bad->step) + " (" + bad->what + " " + bad->words +
             "): " + word(verdict) +
             (alone ? " under its weight" : " under " + bad->working->governing) +
             (reason.empty() ? "." : ": " + reason + ".");
    const auto more =
        std::ranges::count_if(bad + 1, stages.end(), [](const Stage& s) { return !stands(s); });
    if (more > 0) f.says += " " + std::to_string(more) + " later steps do not stand either.";
    f.moment = "stage " + std::to_string(bad->step);
    f.place = place("stage", std::to_string(bad->step), std::nullopt);
  }
  found.push_back(std::move(f));
}

void say_ways_in(const Dossier& d, const Assembly& assembly, const RequiredCheck& check,
                 Found& found) {
  if (!d.programme || !check.value) {
    found.push_back(not_checked(check, "whether every block has a way in"));
    found.back().moment = "closed";
    return;
  }
  const Entry* tightest = nullptr;
  const Stage* at = nullptr;
  for (const Stage& stage : d.programme->stages) {
    for (const Entry& entry : stage.entry) {
      if (tightest != nullptr && entry.margin >= tightest->margin) continue;
      tightest = &entry;
      at = &stage;
    }
  }
  Finding f{check.name, weight_of(check, std::nullopt)};
  f.says = f.weight == kFails ? sentence("no straight way in: " + check.note)
                              : "Every block has a straight way into its place.";
  if (tightest != nullptr) {
    const std::string& id = assembly.blocks[static_cast<std::size_t>(tightest->block)].id;
    if (f.weight != kFails)
      f.says += " Tightest is " + id + ", " + fixed(*check.value, 1) + " degrees clear of a joint.";
    f.place = block_place(assembly, tightest->block);
    f.moment = "stage " + std::to_string(at->step);
  }
  found.push_back(std::move(f));
}

/// Said only where a block is over its limit: lifting looks at the rest.
void say_mass(const RequiredCheck& check, const Assembly& assembly, Found& found) {
  if (!check.value || check.passes.value_or(true)) return;
  const auto heaviest = std::ranges::max_element(assembly.blocks, {}, [](const Block& block) {
    return block.fixed ? 0 : concrete_mass_kg(block);
  });
  Finding f{check.name, kFails};
  f.share = *check.value / check.limit;
  f.says = sentence("block " + heaviest->id + " weighs " + fixed(*check.value, 0) + " kg, and " +
                    fixed(check.limit, 0) + " is what the brief allows");
  f.place = block_place(assembly, heaviest->id);
  f.moment = "closed";
  found.push_back(std::move(f));
}

/// A foot or a rib by the name with which the words begin.
Json timber_place(const Centring& centring, const std::string& words) {
  const std::string name = words.substr(0, words.find(','));
  const auto foot = std::ranges::find(centring.feet, name, &CentringFoot::id);
  if (foot != centring.feet.end()) return place("foot", foot->id, foot->head);
  const auto rib = std::ranges::find(centring.ribs, name, &Rib::id);
  if (rib == centring.ribs.end() || rib->top.empty()) return nowhere();
  return place("none", rib->id, rib->place.to_world(rib->top[rib->top.size() / 2]));
}

void say_centring(const Dossier& d, const RequiredCheck& check, Found& found) {
  if (!d.centring || d.centring->checks.empty()) {
    found.push_back(not_checked(check, "the centring"));
    if (check.passes) found.back().weight = weight_of(check, std::nullopt);
    found.back().moment = "closed";
    return;
  }
  const CentringCheck& worst =
      *std::ranges::max_element(d.centring->checks, {}, &CentringCheck::utilisation);
  Finding f{check.name};
  f.share = worst.utilisation;
  f.weight = weight_of(check, f.share);
  f.says = "The centring uses " + deliver::percent_used(worst.utilisation) +
           " of its strength: " + worst.name + ", " + worst.place +
           (worst.stage.empty() ? "." : ", at " + worst.stage + ".");
  if (!d.centring_reason.empty()) f.says += " " + sentence(d.centring_reason);
  f.place = timber_place(*d.centring, worst.place);
  f.moment = moment_in(worst.stage, "closed");
  found.push_back(std::move(f));
}

void say_spares(const Dossier& d, const Spares& spares, Found& found) {
  const auto at = static_cast<std::size_t>(spares.chosen);
  if (at >= spares.trials.size()) return;
  constexpr double kDay = 86400;
  std::vector<std::string> names;
  for (const BlockRisk& risk : spares.risks)
    if (risk.spare) names.push_back(risk.id);
  Finding f{"spares"};
  f.says = names.empty() ? "No block is worth printing twice."
                         : "Worth printing twice: " + few(names, 6) + ".";
  f.says += " Blocks that break would then hold the works back by " +
            fixed(spares.trials[at].expected_delay_s / kDay, 1) + " days in the mean.";
  if (!spares.with.finish_s.empty()) {
    const std::string date = done_date(spares.network, spares.with.at(0.9));
    if (!date.empty()) f.says += " Nine times in ten it is done by " + date + ".";
  }
  if (!names.empty() && deliver::assembly_of(d) != nullptr)
    f.place = block_place(*deliver::assembly_of(d), names.front());
  f.moment = "printed";
  found.push_back(std::move(f));
}

}  // namespace

void say_building(const Dossier& d, const Required& required, Found& found) {
  const Assembly* assembly = deliver::assembly_of(d);
  if (assembly == nullptr) return;
  if (const auto* check = find(required, "stages_standing")) say_stages(d, *check, found);
  if (const auto* check = find(required, "block_mass")) say_mass(*check, *assembly, found);
  if (const auto* check = find(required, "blocks_enter")) say_ways_in(d, *assembly, *check, found);
  if (const auto* check = find(required, "centring")) say_centring(d, *check, found);
  if (d.spares) say_spares(d, *d.spares, found);
}

}  // namespace skewback::lodge
