// Form and blocks: what was asked of the shape, masses, strength, printing.

#include <algorithm>
#include <cmath>

#include "deliver/facts.hpp"
#include "deliver/report_print.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"

namespace skewback::lodge {
namespace {

using deliver::fixed;

void say_form(const Form& form, Found& found) {
  constexpr double kPull = 1;  // N; less is rounding
  if (form.tension_max_n > kPull) {
    Finding f{"tension", kFails};
    f.says = "The form pulls with up to " + measure(form.tension_max_n, "N") +
             " in places; dry blocks cannot.";
    f.moment = "shaped";
    found.push_back(std::move(f));
  }
  std::vector<std::string> unmet;
  for (const Achieved& wish : form.achieved) {
    if (!wish.met)
      unmet.push_back(wish.name + " " + measure(wish.got, wish.unit) + ", asked " +
                      measure(wish.asked, wish.unit));
  }
  if (unmet.empty()) return;
  Finding f{"wishes", kNearLimit};
  f.says =
      "The form does not come to all that was asked: " + few(unmet) + "." +
      (form.plain_kept ? " The form without these wishes comes nearer to them and is kept." : "");
  f.moment = "shaped";
  found.push_back(std::move(f));
}

void say_mass(const Dossier& d, const Assembly& assembly, Found& found) {
  const deliver::BlockTotals t = deliver::totals(assembly);
  if (!(d.brief.blocks.mass_max_kg > 0) || t.blocks == 0) return;
  Finding f{"block_mass"};
  f.share = t.mass_max_kg / d.brief.blocks.mass_max_kg;
  f.weight = weight_of(*f.share);
  const auto [weighs, allowed] = measures(t.mass_max_kg, d.brief.blocks.mass_max_kg, "kg");
  f.says = "The heaviest of " + deliver::counted(t.blocks, "block") + ", " + t.heaviest +
           ", weighs " + weighs + "; " + allowed + " is allowed.";
  f.place = block_place(assembly, t.heaviest);
  f.moment = "cut";
  found.push_back(std::move(f));
}

void say_cut(const Cut& cut, Found& found) {
  if (!cut.report.watertight) {
    Finding open{"watertight", kFails};
    open.says = "Not every block is a closed solid.";
    open.moment = "cut";
    found.push_back(std::move(open));
  }
  if (cut.report.remarks.empty()) return;
  Finding f{"cut_remarks", kHolds};
  f.says = "Cut otherwise than asked: " + stopped(cut.report.remarks.front());
  if (cut.report.remarks.size() > 1)
    f.says += " " + std::to_string(cut.report.remarks.size() - 1) + " more such remarks.";
  f.moment = "cut";
  found.push_back(std::move(f));
}

std::string would_help(const SectionProposal& p) {
  return " Leaves of " + measure(p.leaf_m, "m") + " and webs at most " +
         measure(p.web_spacing_m, "m") + " apart would bring the skins to " +
         fixed(p.utilisation_then, 2) + " of their strength.";
}

void say_strength(const Dossier& d, const Assembly& assembly, const RequiredCheck& check,
                  Found& found) {
  if (!d.strength || d.strength->worst < 0) {
    found.push_back(not_checked(check, "the strength of the blocks themselves"));
    found.back().moment = "cut";
    return;
  }
  const BlockFinding& worst = d.strength->findings[static_cast<std::size_t>(d.strength->worst)];
  Finding f{check.name};
  if (std::isfinite(worst.utilisation)) f.share = worst.utilisation;
  f.weight = weight_of(check, f.share);
  const std::string& id = assembly.blocks[static_cast<std::size_t>(worst.block)].id;
  const auto [demand, resistance] = measures(worst.demand, worst.resistance, worst.unit);
  f.says = "Block " + id +
           (f.weight == kFails ? " is not strong enough: " : " is strong enough: ") + worst.check +
           ", " + demand + " of " + resistance + " in case " + worst.case_id + ", " + worst.place +
           ".";
  if (f.weight == kFails && d.strength->proposal) f.says += would_help(*d.strength->proposal);
  f.place = block_place(assembly, worst.block);
  f.moment = "cut";
  found.push_back(std::move(f));
}

void say_made(const Dossier& d, const Assembly& assembly, const RequiredCheck& check,
              Found& found) {
  if (!d.print || !check.passes) {
    found.push_back(not_checked(check, "whether the blocks can be printed"));
    found.back().moment = "printed";
    return;
  }
  std::vector<std::string> left;
  const BlockPrint* first = nullptr;
  for (const BlockPrint& block : d.print->blocks) {
    if (block.printable || block.way == PrintWay::kCast) continue;
    if (first == nullptr) first = &block;
    left.push_back(block.id);
  }
  Finding f{check.name, weight_of(check, std::nullopt)};
  f.says = deliver::print_summary(*d.print);
  if (first != nullptr) {
    f.says = deliver::counted(left.size(), "block") +
             " can be neither printed nor cast: " + few(left) + ". " +
             stopped(first->id + ": " + first->reason);
    f.place = block_place(assembly, first->block);
  }
  f.moment = "printed";
  found.push_back(std::move(f));
}

/// Demand over limit, the way round that the check is meant.
double share_of(const PrintCheck& check) {
  const double over = check.at_least ? check.limit : check.value;
  const double under = check.at_least ? check.value : check.limit;
  return under > 0 ? over / under : 0;
}

/// Of the blocks that can be printed, the one nearest to a limit of its cell.
void say_printing(const PrintSet& set, const Assembly& assembly, Found& found) {
  const PrintCheck* nearest = nullptr;
  const BlockPrint* of = nullptr;
  for (const BlockPrint& block : set.blocks) {
    const PrintCheck* worst = block.printable ? deliver::worst_check(block) : nullptr;
    if (worst == nullptr || (nearest != nullptr && share_of(*worst) <= share_of(*nearest)))
      continue;
    nearest = worst;
    of = &block;
  }
  if (nearest == nullptr) return;
  Finding f{"printing"};
  f.share = share_of(*nearest);
  f.weight = nearest->passes() ? (*f.share >= kNear ? kNearLimit : kHolds) : kFails;
  f.says = "Of the blocks that can be printed, " + of->id +
           " is nearest to a limit: " + nearest->name + " " +
           deliver::in_words(nearest->value, nearest->unit) + ", " +
           (nearest->at_least ? "at least " : "at most ") +
           deliver::in_words(nearest->limit, nearest->unit) +
           (nearest->place.empty() ? "." : " (" + nearest->place + ").");
  f.place = block_place(assembly, of->block);
  f.moment = "printed";
  found.push_back(std::move(f));
}

}  // namespace

void say_shape(const Dossier& d, Found& found) {
  if (d.form) say_form(*d.form, found);
}

void say_blocks(const Dossier& d, const Required& required, Found& found) {
  const Assembly* assembly = deliver::assembly_of(d);
  if (assembly == nullptr) return;
  if (d.cut) say_mass(d, *assembly, found);
  if (d.cut) say_cut(*d.cut, found);
  if (const auto* check = find(required, "block_strength"))
    say_strength(d, *assembly, *check, found);
  if (const auto* check = find(required, "blocks_made")) say_made(d, *assembly, *check, found);
  if (d.print) say_printing(*d.print, *assembly, found);
}

}  // namespace skewback::lodge
