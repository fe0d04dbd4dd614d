// The walk over it, the bridge as surveyed, how likely it closes, and what nobody looked at.

#include <algorithm>

#include "deliver/facts.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"

namespace skewback::lodge {
namespace {

using deliver::fixed;

const deliver::Writing kSteepness = deliver::decimals(1, " %", 100);

deliver::TwoFigures figures_of(const AccessFinding& f) {
  return f.unit == "m" ? measures(f.found, f.limit, "m")
                       : deliver::told_apart(f.found, f.limit, kSteepness);
}

void say_steepness(const Dossier& d, const RequiredCheck* check, Found& found) {
  if (!d.access) {
    if (check != nullptr) found.push_back(not_checked(*check, "the walk over it"));
    return;
  }
  const AccessReport& access = *d.access;
  Finding f{"walk_complies"};
  const auto bad = std::ranges::find(access.findings, false, &AccessFinding::complies);
  if (d.brief.access.gradient_max > 0) f.share = access.gradient_max / d.brief.access.gradient_max;
  if (bad == access.findings.end()) {
    f.weight = access.complies ? (f.share && *f.share >= kNear ? kNearLimit : kHolds) : kNotChecked;
    const auto [steepest, allowed] =
        deliver::told_apart(access.gradient_max, d.brief.access.gradient_max, kSteepness);
    f.says = "The walk is no steeper than " + steepest + "; " + allowed + " is allowed.";
    if (!access.complies && !access.remarks.empty()) f.says += " " + sentence(access.remarks[0]);
  } else {
    f.weight = check != nullptr ? kFails : kNearLimit;
    const auto [found_figure, limit] = figures_of(*bad);
    f.says = std::string("The walk does not comply") +
             (check != nullptr ? ": " : " (the brief does not require it): ") + bad->what + " " +
             found_figure + ", limit " + limit + (bad->line.empty() ? "." : ", " + bad->line + ".");
    const auto more = std::ranges::count(access.findings, false, &AccessFinding::complies) - 1;
    if (more > 0)
      f.says += " " + deliver::counted(static_cast<std::size_t>(more), "more finding") +
                " do not comply either.";
    if (!bad->remedy.empty()) f.says += " " + sentence(bad->remedy);
    if (!bad->line.empty()) f.place = place("none", bad->line, bad->at);
  }
  f.moment = "walked";
  found.push_back(std::move(f));
}

void say_as_built(const Dossier& d, const RequiredCheck& check, Found& found) {
  if (!d.refit) {
    found.push_back(not_checked(check, "the bridge as surveyed"));
    found.back().moment = "as built";
    return;
  }
  Finding f{check.name};
  if (check.value && *check.value > 0) f.share = check.limit / *check.value;
  f.weight = weight_of(check, f.share);
  f.says = "As surveyed: " + stopped(d.refit->finding);
  if (check.value)
    f.says += " Packed, it carries " + fixed(*check.value, 2) + " times its live load.";
  if (f.weight == kFails && !check.note.empty()) f.says += " " + sentence(check.note);
  f.moment = "as built";
  found.push_back(std::move(f));
}

void say_again(const Refit& refit, Found& found) {
  if (refit.measure_again.empty()) return;
  Finding f{"measure_again", kNearLimit};
  f.says = "Measure again before anyone acts on the survey: " + few(refit.measure_again);
  f.says = stopped(f.says);
  f.moment = "as built";
  found.push_back(std::move(f));
}

void say_chances(const Dossier& d, Found& found) {
  const ToleranceReport& t = *d.tolerances;
  if (t.draws == 0) return;
  const double asked = d.brief.tolerances.chance;
  const std::string goes_in =
      deliver::told_apart(t.goes_in.share, asked, deliver::decimals(1, " %", 100)).first;
  Finding f{"tolerances"};
  f.weight = t.goes_in.share >= asked ? kHolds : kNearLimit;
  f.says = "Built as accurately as stated, the key goes in by itself in " +
           fixed(100 * t.key_by_itself.share, 1) + " % of " + std::to_string(t.draws) +
           " draws, with packers in " + goes_in + " (" + fixed(100 * asked, 0) + " % asked).";
  f.moment = "closed";
  found.push_back(std::move(f));
}

bool begins(const std::string& text, const std::string& with) { return text.rfind(with, 0) == 0; }

/// Stages that are not run stand in one line, those that the brief does not ask for in another;
/// required checks have their own.
struct Unlooked {
  std::vector<std::string> stages, unasked, lines;
};
Unlooked unlooked(const Dossier& d) {
  const std::string stage = "Stage not run: ", printing = "Paths of the nozzle",
                    cradles = "Cradles for";  // these have a sentence with their blocks
  Unlooked out;
  for (const std::string& line : deliver::not_looked_at(d)) {
    if (begins(line, "Required check ")) continue;
    if (!begins(line, stage)) {
      const bool idle = !d.brief.print.wanted && begins(line, printing);
      if (!idle && !begins(line, cradles)) out.lines.push_back(line);
      continue;
    }
    const std::string name = line.substr(stage.size(), line.size() - stage.size() - 1);
    const bool unasked = (name == "layers" && !d.brief.print.wanted) ||
                         (name == "survey as built" && !d.brief.survey);
    (unasked ? out.unasked : out.stages).push_back(name);
  }
  return out;
}

void say_list(const std::string& id, const std::string& what, const std::vector<std::string>& names,
              Found& found) {
  if (names.empty()) return;
  Finding f{id, kNotChecked};
  f.says = what + few(names, names.size()) + ".";
  found.push_back(std::move(f));
}

/// Worst place only.
void say_walk_in_blocks(const Dossier& d, Found& found) {
  if (!d.access) return;
  const AccessFinding* worst = nullptr;
  for (const AccessFinding& one : d.access->findings) {
    const bool inside = one.what == kDeckRoom && !one.complies && one.found < 0;
    if (inside && (worst == nullptr || one.found < worst->found)) worst = &one;
  }
  if (worst == nullptr) return;
  Finding f{"walk_in_blocks", kFails};
  f.says = "The walking surface drawn lies inside the blocks, by up to " +
           fixed(-1e3 * worst->found, 0) + " mm (" + worst->line + ", at " +
           fixed(worst->along_m, 2) + " m): nobody can walk there.";
  f.place = place("none", worst->line, worst->at);
  f.moment = "walked";
  found.push_back(std::move(f));
}

}  // namespace

void say_walk(const Dossier& d, const Required& required, Found& found) {
  say_steepness(d, find(required, "walk_complies"), found);
  say_walk_in_blocks(d, found);
}

void say_built(const Dossier& d, const Required& required, Found& found) {
  if (const auto* check = find(required, "as_built")) say_as_built(d, *check, found);
  if (d.refit) say_again(*d.refit, found);
  if (d.tolerances) say_chances(d, found);
}

void say_unlooked(const Dossier& d, Found& found) {
  const Unlooked out = unlooked(d);
  say_list("not_run", "Not worked out yet: ", out.stages, found);
  say_list("not_asked", "The brief does not ask for: ", out.unasked, found);
  int number = 0;
  for (const std::string& line : out.lines) {
    Finding f{"not_looked_at_" + std::to_string(++number), kNotChecked};
    f.says = "Not looked at: " + line;
    found.push_back(std::move(f));
  }
}

}  // namespace skewback::lodge
