#include "deliver/report_survey.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/constants.hpp"
#include "deliver/blocks_again.hpp"
#include "deliver/paper.hpp"
#include "deliver/remark.hpp"
#include "deliver/report.hpp"
#include "deliver/setting_out_files.hpp"
#include "deliver/survey_files.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr std::size_t kFeetNamed = 4;

std::string yes(bool it_is) { return it_is ? "yes" : "no"; }
std::string or_none(const std::optional<double>& value, double times, int decimals) {
  return value ? fixed(times * *value, decimals) : "not found";
}

/// With a capital letter and a full stop.
std::string as_sentence(std::string text) {
  if (text.empty()) return text;
  if (text.front() >= 'a' && text.front() <= 'z') text.front() -= 'a' - 'A';
  if (text.back() != '.') text += '.';
  return text;
}

std::string shift_words(const Vec3& t) {
  return mm_signed(t.x()) + ", " + mm_signed(t.y()) + ", " + mm_signed(t.z()) + " mm (x, y, z)";
}

double turned_deg(const Rigid& X) {
  return std::acos(std::clamp((X.R.trace() - 1) / 2, -1.0, 1.0)) * 180 / kPi;
}

/// On which axes it is built, and what the error shared between all marks leaves.
std::string whole_words(const Refit& refit) {
  std::string text = "The bridge is built on the axes as drawn.";
  if (refit.shifted) {
    text = "The bridge is built on other axes, to share the error between the footings: moved by " +
           shift_words(refit.axes.t);
    const double turn = turned_deg(refit.axes);
    text += turn < 0.0005 ? "." : " and turned by " + fixed(turn, 3) + " degrees.";
  }
  text += " Fitted all together, moved by " + shift_words(refit.whole.X.t) + " and turned by " +
          fixed(turned_deg(refit.whole.X), 3) + " degrees, the marks are off by " +
          mm_words(refit.whole.rms_m) + " mm root mean square, " + mm_words(refit.offset_max_m) +
          " mm at most.";
  if (on_own_axes(refit.datum))
    text += " The survey has axes of its own; all figures here are in the bridge's.";
  return text;
}

std::string accuracy_words(const Brief& brief) {
  if (!brief.survey) return "";
  return "Accuracy of a coordinate, where the point states none: " +
         mm_words(brief.survey->accuracy_m) +
         " mm (one standard deviation); a mark is left out of "
         "its fit when its residual is over " +
         fixed(brief.survey->gate, 1) + " standard deviations of that residual.";
}

std::vector<Row> mark_rows(const Brief& brief, const Refit& refit) {
  std::vector<Row> rows;
  for (const MarkFound& m : marks_found(brief, refit)) {
    const Vec3 moved = m.found - m.drawn;
    rows.push_back({{m.name, fixed(m.drawn.x(), 3), fixed(m.drawn.y(), 3), fixed(m.drawn.z(), 3),
                     mm_signed(moved.x()), mm_signed(moved.y()), mm_signed(moved.z()),
                     mm_words(m.residual_m.norm()), m.outlier ? "left out" : ""},
                    m.outlier ? verdict_tint(Verdict::kFalls) : std::optional<Colour>{}});
  }
  return rows;
}

std::string gaps_words(const Dossier& dossier) {
  const GapsClosing& gaps = dossier.refit->gaps;
  if (gaps.balanced < gaps.cases)
    return "What happens when the gaps left in the joints close was not found for every case: " +
           gaps.reason + ".";
  return "The gaps left in the joints close when the centring goes: a block comes down by up to " +
         mm_words(gaps.drop_m) + " mm more than without them, and the joint stress reaches " +
         fixed(1e-6 * gaps.peak_pa, 2) + " MPa at " + gaps.peak_joint +
         ". While the centring of the bridge as packed is struck the crown may drop by those " +
         mm_words(gaps.drop_m) +
         " mm more than the steps of the method expect, which are the drawn bridge's: add them to "
         "its stop limits for the crown.";
}

/// What the required check says of it, where anybody acts on this page alone.
void add_as_built_check(Pages& pages, const Dossier& dossier) {
  const auto check = std::ranges::find(dossier.required, "as_built", &RequiredCheck::name);
  if (check == dossier.required.end() || check->passes.value_or(false)) return;
  pages.bullet("The required check as_built does not pass: " + check->note +
               ". Do not build on this until it does.");
}

std::string least_after(const Refit& refit) {
  for (const CaseProof& proof : refit.proofs)
    if (proof.load_factor && proof.load_factor == refit.load_factor_after)
      return factor_words(proof) + " (" + proof.id + ")";
  return fixed(refit.load_factor_after, 2);
}

void add_cases(Pages& pages, const Dossier& dossier) {
  std::vector<Row> rows;
  for (const CaseProof& after : dossier.refit->proofs) {
    const auto before = std::ranges::find(dossier.proofs, after.id, &CaseProof::id);
    const bool known = before != dossier.proofs.end();
    rows.push_back({{after.id, known ? word(before->verdict) : "",
                     known ? factor_words(*before) : "", word(after.verdict), factor_words(after)},
                    verdict_tint(after.verdict)});
  }
  if (rows.empty()) return;
  pages.keep(40);
  pages.subheading("Case by case");
  pages.table({{"case", 2},
               {"as drawn", 1.2},
               {"live factor", 1, true},
               {"as built", 1.2},
               {"live factor", 1, true}},
              rows);
}

void add_cautions(Pages& pages, const Refit& refit) {
  pages.keep(40);
  pages.subheading("Before anyone acts on this");
  std::size_t feet = 0;
  for (const std::string& line : refit.measure_again) {
    if (line.starts_with("foot ") && ++feet > kFeetNamed) continue;
    add_remark(pages, line);
  }
  if (feet > kFeetNamed)
    pages.bullet("and " + std::to_string(feet - kFeetNamed) +
                 " more feet whose posts are cut: all in asbuilt/feet.csv");
  pages.bullet(
      "It is no substitute for a licensed engineer or surveyor: they decide what is built.");
  pages.bullet(
      "The fit is not an order to trim timber, to make a block anew or to pack a joint: measure "
      "again first, from a second set-up of the instrument.");
  if (refit.packed.packers.empty()) return;
  for (const char* line :
       {"Packers carry the thrust where they stand. They are of the stuff of the pads or harder, "
        "free of rot and rust, and lie where the sheets show them; none is driven.",
        "Where a gap as measured at the joint is not the gap of the sheet, stop and ask: something "
        "moved, or a block is not what it was measured to be."})
    pages.bullet(line);
}

}  // namespace

void add_setting_out(Pages& pages, const Brief& brief, const Assembly& assembly,
                     const std::vector<Mark>& marks, const std::vector<Regions>& plan,
                     const std::string& note) {
  if (marks.empty()) return;
  pages.new_page();
  pages.heading("Setting out");
  pages.paragraph(counted(marks.size(), "mark") +
                  " to set out: springings, shoes, feet and three on the back of every block. "
                  "Coordinates: setting-out/marks.csv for the instrument, setting-out/marks.pdf on "
                  "paper, plans at full size setting-out/plan.svg and blocks.svg. " +
                  second_set_up_words() + (note.empty() ? "" : " " + note));
  std::vector<Mark> ground;
  std::ranges::copy_if(marks, std::back_inserter(ground),
                       [](const Mark& mark) { return mark.kind != MarkKind::kBlock; });
  pages.figure(marks_plan(brief, assembly, ground, plan, {pages.width_mm(), 200}), "");
}

void add_footings(Pages& pages, const Dossier& dossier) {
  const Refit& refit = *dossier.refit;
  pages.subheading("Footings as found");
  pages.paragraph(whole_words(refit));
  std::vector<Row> footings;
  const auto found = footings_found(dossier);
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k) {
    const Vec3& moved = found[k].moved;
    footings.push_back(
        {{refit.supports[k], mm_signed(moved.x()), mm_signed(moved.y()), mm_signed(moved.z()),
          fixed(found[k].turn_deg, 2), mm_words(refit.footings[k].rms_m)},
         {}});
  }
  pages.table({{"footing", 2},
               {"x (mm)", 0.8, true},
               {"y (mm)", 0.8, true},
               {"z (mm)", 0.8, true},
               {"turned (°)", 0.9, true},
               {"marks off, rms (mm)", 1.4, true}},
              footings);
  pages.figure(footings_sheet(dossier.brief, refit, {pages.width_mm(), 170}), "");
  const std::vector<Row> rows = mark_rows(dossier.brief, refit);
  if (!rows.empty()) {
    pages.paragraph(
        "Mark by mark: where it is drawn, how far from there it was found, and what "
        "its footing's fit leaves of that. " +
        accuracy_words(dossier.brief));
    pages.table({{"mark", 2},
                 {"drawn x (m)", 0.9, true},
                 {"y (m)", 0.9, true},
                 {"z (m)", 0.9, true},
                 {"off x (mm)", 0.9, true},
                 {"y (mm)", 0.9, true},
                 {"z (mm)", 0.9, true},
                 {"residual (mm)", 1.1, true},
                 {"", 1}},
                rows);
  }
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k)
    if (!refit.footings[k].suspicion.empty())
      pages.bullet(refit.supports[k] + ": " + refit.footings[k].suspicion);
  if (!refit.whole.suspicion.empty()) pages.bullet("All marks: " + refit.whole.suspicion);
}

void add_before_and_after(Pages& pages, const Dossier& dossier) {
  if (dossier.refit->table.empty()) return;
  std::vector<Row> rows;
  for (const Before& b : dossier.refit->table) {
    const bool built = !b.verdict.starts_with("not built");
    const auto figure = [&](const std::optional<double>& value, double times) {
      return built ? or_none(value, times, 2) : "";
    };
    rows.push_back({{b.what, yes(b.key_goes_in), figure(b.load_factor, 1), b.governing,
                     figure(b.joint_stress_max_pa, 1e-6), figure(b.friction_needed, 1), b.verdict},
                    !built || b.verdict == word(Verdict::kFalls) ? verdict_tint(Verdict::kFalls)
                    : b.verdict == word(Verdict::kUndecided)     ? verdict_tint(Verdict::kUndecided)
                                                                 : std::optional<Colour>{}});
  }
  pages.keep(40);
  pages.subheading("Before and after");
  pages.table({{"", 1.6},
               {"key goes in", 0.9},
               {"least live factor", 1, true},
               {"in case", 1.6},
               {"joint stress (MPa)", 1, true},
               {"friction needed", 1, true},
               {"verdict", 1.8}},
              rows);
}

void add_trials(Pages& pages, const Refit& refit) {
  if (refit.trials.empty()) return;
  std::vector<Row> rows;
  const Colour chosen{222, 240, 222};
  for (const RemedyTrial& t : refit.trials)
    rows.push_back(
        {{t.name + (t.chosen ? " (chosen)" : ""), yes(t.goes_in), std::to_string(t.other_pads),
          std::to_string(t.packed_joints), std::to_string(t.packers), mm_words(t.packers_m),
          mm_words(t.thickest_m), std::to_string(t.feet_trimmed), t.reason},
         t.chosen ? std::optional<Colour>(chosen) : std::nullopt});
  pages.keep(40);
  pages.subheading("What was tried");
  pages.table({{"remedy", 2},
               {"goes in", 0.8},
               {"other pads", 0.8, true},
               {"joints packed", 0.9, true},
               {"places", 0.9, true},
               {"gaps together (mm)", 1.1, true},
               {"thickest (mm)", 1, true},
               {"posts cut", 0.8, true},
               {"why not", 2}},
              rows);
}

void add_survey(Pages& pages, const Dossier& dossier, const Outlines& outlines) {
  const Refit& refit = *dossier.refit;
  pages.new_page();
  pages.heading("As built");
  if (const std::string words = blocks_again_words(dossier); !words.empty()) pages.paragraph(words);
  pages.paragraph(as_sentence(refit.finding));
  if (refit.finding.find(refit.stack.finding) == std::string::npos)
    pages.paragraph(as_sentence("without packers: " + refit.stack.finding));
  pages.paragraph("Least live factor after: " + least_after(refit) +
                  ". Work sheets for the site: asbuilt/work-sheets.pdf.");
  if (!refit.packed.goes_in && refit.finding.find(refit.packed.reason) == std::string::npos)
    pages.bullet(refit.packed.reason);
  if (refit.stages > 0)
    pages.paragraph("Order and stages planned anew on these footings: " +
                    std::to_string(refit.stages_standing) + " of " +
                    counted(static_cast<std::size_t>(refit.stages), "stage") +
                    " are shown to stand.");
  if (!refit.proofs.empty()) pages.paragraph(gaps_words(dossier));
  add_as_built_check(pages, dossier);
  for (const std::string& remark : refit.remarks) add_remark(pages, remark);
  add_before_and_after(pages, dossier);
  add_trials(pages, refit);
  add_footings(pages, dossier);
  if (const Assembly* drawn = assembly_of(dossier)) {
    add_measured_blocks(pages, dossier.brief, *drawn, refit.blocks);
    add_blocks_in_place(pages, refit.in_place);
    add_other_pads(pages, *drawn, refit.packed);
    add_packers(pages, dossier.brief, *drawn, refit, plan_of(*drawn, outlines.plan));
    add_springers(pages, dossier, *drawn);
  }
  add_feet_set(pages, dossier);
  add_cases(pages, dossier);
  add_cautions(pages, refit);
}

}  // namespace skewback::deliver
