#include <algorithm>

#include "deliver/drawings.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
std::string what_was_found(const Dossier& dossier) {
  if (dossier.proofs.empty()) return "Whether it stands was not looked at in this run.";
  const Count c = count(dossier.proofs);
  std::string text = "Of " + counted(dossier.proofs.size(), "load case") + ", ";
  if (c.falls > 0) text += std::to_string(c.falls) + " fall, ";
  if (c.undecided > 0) text += std::to_string(c.undecided) + " are undecided, ";
  text += std::to_string(c.stands) + " stand. ";
  const CaseProof& worst = dossier.proofs[worst_first(dossier.proofs).front()];
  text += "The case to look at first is \"" + worst.id + "\": " + verdict_words(worst);
  if (worst.load_factor) {
    const auto at = static_cast<std::size_t>(&worst - dossier.proofs.data());
    text += at >= dossier.notes.size() || dossier.notes[at].kind == CaseKind::kPattern
                ? ", live load times " + factor_words(worst) + " on dead load as it is (" +
                      fixed(dossier.brief.required.live_factor, 2) + " asked)"
                : ", all of it but the weight times " + factor_words(worst) +
                      " beyond the factors that are in it (1 asked)";
  }
  return text + ".";
}

std::vector<std::string> troubles(const Dossier& dossier) {
  std::vector<std::string> list;
  if (dossier.programme) {
    const auto bad = std::ranges::count_if(dossier.programme->stages,
                                           [](const Stage& stage) { return !stands(stage); });
    if (bad > 0) {
      list.push_back(counted(static_cast<std::size_t>(bad), "stage") +
                     " of the work not shown to stand.");
    }
  }
  if (dossier.ground) {
    for (const TieState& state : dossier.ground->cases) {
      if (state.balanced) continue;
      list.push_back("Footings not held in case " + state.case_id + ": " + state.reason);
    }
  }
  if (dossier.ground) {
    for (const LossState& loss : dossier.ground->losses) {
      if (loss.held || loss.rod >= 0) continue;
      list.push_back("If tie " + loss.tie + " is lost (an accident) the feet are " + loss.reason +
                     ", what the ground resists not counted.");
    }
  }
  for (const TriedState& state : dossier.tried) {
    if (state.holds || !state.what.starts_with(kSettledFeet)) continue;
    std::string says = "Not shown to hold with the " + state.what + ": " + state.reason;
    if (std::ranges::find(list, says) == list.end()) list.push_back(std::move(says));
  }
  if (dossier.access) {
    for (const AccessFinding& finding : dossier.access->findings) {
      if (finding.complies || finding.what != kDeckRoom || !(finding.found < 0)) continue;
      list.push_back("The walking surface drawn lies inside the blocks, by up to " +
                     fixed(-1e3 * finding.found, 0) + " mm (" + finding.line + ", at " +
                     fixed(finding.along_m, 2) + " m): nobody can walk there.");
    }
  }
  if (dossier.refit && !dossier.refit->key_goes_in) {
    list.push_back("On the footings as measured: " + dossier.refit->finding);
  }
  return list;
}

namespace {

constexpr Colour kRed{248, 205, 184}, kYellow{250, 240, 190}, kGreen{196, 232, 214};

struct Checks {
  std::size_t pass = 0, fail = 0, open = 0;
};
Checks count_checks(const Dossier& dossier) {
  Checks c;
  for (const RequiredCheck& check : dossier.required) {
    if (!check.passes) {
      ++c.open;
    } else if (*check.passes) {
      ++c.pass;
    } else {
      ++c.fail;
    }
  }
  return c;
}

std::string what_it_is(const Dossier& dossier) {
  const Brief& brief = dossier.brief;
  std::string text = brief.title + " is an arch of dry-jointed blocks without reinforcement on " +
                     counted(brief.plan.supports.size(), "support") + ".";
  if (dossier.form) {
    double top = -HUGE_VAL;
    for (const Vec3& p : dossier.form->vertices) top = std::max(top, p.z());
    text += " At the meeting its middle surface lies " + fixed(dossier.form->rise_m, 3) +
            " m over the mean of the springings (" + fixed(dossier.form->rise_asked_m, 3) +
            " m asked); its highest point is at level " + fixed(top, 3) + " m.";
  }
  if (dossier.cut) {
    const BlockTotals t = totals(dossier.cut->assembly);
    text += " It is cut into " + counted(t.blocks, brief.section.hollow ? "block" : "solid block") +
            (brief.section.hollow ? ", hollow where they have room, of " : " of ") +
            fixed(t.mass_min_kg, 0) + " to " + fixed(t.mass_max_kg, 0) + " kg, " +
            fixed(t.mass_kg / 1000, 2) + " t in all" +
            (t.carried_kg > 0
                 ? ", which carry " + fixed(t.carried_kg / 1000, 2) + " t of walkway and parapets."
                 : ".");
    if (t.mass_max_kg > brief.blocks.mass_max_kg) {
      text += " The heaviest, " + t.heaviest + ", is over the " +
              fixed(brief.blocks.mass_max_kg, 0) + " kg that the brief allows.";
    }
  }
  return text;
}

std::string failed(const Dossier& dossier) {
  std::vector<std::string> names;
  for (const RequiredCheck& check : dossier.required)
    if (check.passes == false) names.push_back(check.name);
  return joined(names, ", ");
}

void add_banner(Pages& pages, const Dossier& dossier) {
  const Checks c = count_checks(dossier);
  const Count cases = count(dossier.proofs);
  if (cases.falls > 0) {
    pages.banner("It does not stand: " + counted(cases.falls, "load case") + " bring it down.",
                 kRed);
  } else if (c.fail > 0) {
    pages.banner(counted(c.fail, "required check") + " of " +
                     std::to_string(dossier.required.size()) + " not met: " + failed(dossier) + ".",
                 kRed);
  } else if (c.open > 0 || dossier.required.empty()) {
    pages.banner("No required check that was made fails, but " + std::to_string(c.open) + " of " +
                     std::to_string(dossier.required.size()) + " were not made: not cleared.",
                 kYellow);
  } else {
    pages.banner(dossier.scope.empty() ? "All required checks pass."
                                       : "What was checked here passes: " + dossier.scope,
                 kGreen);
  }
}

std::string outcome(const RequiredCheck& check) {
  if (!check.passes) return "not checked";
  return *check.passes ? "passes" : "fails";
}

void add_checks(Pages& pages, const Dossier& dossier) {
  if (dossier.required.empty()) return;
  pages.subheading("Required checks");
  std::vector<Row> rows;
  for (const int pass : {0, 1, 2}) {  // failed, not made, passed
    for (const RequiredCheck& check : dossier.required) {
      const int mine = !check.passes ? 1 : *check.passes ? 2 : 0;
      if (mine != pass) continue;
      std::optional<Colour> tint;
      if (mine == 0) tint = kRed;
      if (mine == 1) tint = kYellow;
      rows.push_back({{check.name, value_words(check), limit_words(check), outcome(check),
                       check.note, check.source},
                      tint});
    }
  }
  pages.table({{"check", 2.1},
               {"found", 0.9, true},
               {"limit", 1.2},
               {"outcome", 1.0},
               {"note", 2.5},
               {"where the limit comes from", 2.7}},
              rows);
}

std::string metres(double value) { return fixed(value, 3) + " m"; }

std::vector<Row> key_figures(const Brief& b) {
  std::vector<Row> rows;
  const auto add = [&](const std::string& what, const std::string& value) {
    rows.push_back({{what, value}, {}});
  };
  add("rise of the middle surface", metres(b.form.rise_m));
  add("depth at the crown, at the springing",
      metres(b.section.depth_crown_m) + ", " + metres(b.section.depth_springing_m));
  add("section", b.section.hollow
                     ? "hollow: leaves " + fixed(b.section.leaf_m * 1000, 0) + " mm, webs " +
                           fixed(b.section.web_m * 1000, 0) + " mm at most " +
                           fixed(b.section.web_spacing_m * 1000, 0) + " mm apart"
                     : "solid");
  add("concrete", fixed(b.material.density, 0) + " kg/m³, " + fixed(b.material.fck_pa / 1e6, 0) +
                      " MPa (cylinder)");
  add("heaviest block allowed", fixed(b.blocks.mass_max_kg, 0) + " kg");
  add("friction of the joints", fixed(b.joints.friction, 2));
  add("pads", b.joints.pad_thickness_m > 0
                  ? fixed(b.joints.pad_thickness_m * 1000, 1) + " mm, shear modulus " +
                        fixed(b.joints.pad_shear_modulus_pa / 1e6, 2) + " MPa"
                  : "none: the blocks touch");
  add("walkway",
      fixed(b.walkway.width_m, 2) + " m wide, " + fixed(b.walkway.weight_pa / 1000, 2) + " kPa");
  add("parapets", fixed(b.parapet.weight_n_per_m / 1000, 2) + " kN/m on every free edge");
  add("people", fixed(b.loads.people_pa / 1000, 2) + " kPa");
  for (const Support& s : b.plan.supports) {
    add("support " + s.id,
        "springing line " + metres((s.b - s.a).norm()) + " long at level " + metres(s.level_m));
  }
  for (const Tie& tie : b.ground.ties) {
    add("tie " + tie.id,
        counted(static_cast<std::size_t>(tie.rods), "rod") + " at level " + metres(tie.level_m));
  }
  return rows;
}

}  // namespace

void add_front(Pages& pages, const Dossier& dossier, const Image& picture) {
  pages.title(dossier.brief.title);
  pages.paragraph(what_it_is(dossier));
  pages.paragraph(what_was_found(dossier));
  for (const std::string& trouble : troubles(dossier)) pages.bullet(trouble);
  add_banner(pages, dossier);
  constexpr double kCautions = 104, kLeast = 50;  // mm: what the cautions below take
  const double high = std::max(kLeast, pages.room_mm() - kCautions);
  if (picture.height > 1)
    pages.picture(picture, std::min(pages.width_mm(), high * picture.width / picture.height));
  if (picture.height > 1) pages.figure(colour_sheet(dossier, pages.width_mm()), "");
  pages.subheading("Read this first");
  for (const std::string& caution : cautions()) pages.bullet(caution);
}

void add_brief(Pages& pages, const Dossier& dossier) {
  pages.new_page();
  add_checks(pages, dossier);
  pages.heading("The brief as read");
  pages.table({{"asked", 1}, {"value", 2}}, key_figures(dossier.brief));
  if (dossier.brief.text.empty()) return;
  pages.subheading("Its text");
  pages.verbatim(dossier.brief.text);
}

}  // namespace skewback::deliver
