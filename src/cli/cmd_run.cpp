#include <iostream>

#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/out_folder.hpp"
#include "cli/required_table.hpp"
#include "cli/table.hpp"
#include "daybook/daybook.hpp"
#include "works/works.hpp"

namespace skewback::cli {
namespace {

namespace fs = std::filesystem;

// The rise is told anyway, unless it is not met.
std::string wishes(const FormRequest& asked, const Form& form) {
  std::string text;
  for (std::size_t i = 0; i < form.achieved.size(); ++i) {
    const Achieved& wish = form.achieved[i];
    if (i == 0 && wish.met) continue;
    text += "  form: " + wish.name + ": asked " + fixed(wish.asked, 3) + ", got " +
            fixed(wish.got, 3) + " " + wish.unit + (wish.met ? "" : ", NOT MET") + "\n";
  }
  if (form.plain_kept)
    text +=
        "  form: not all that was asked can be had; the form without these wishes comes nearer to "
        "them than the one fitted, and is kept\n";
  if (asked.evenness != 1)
    text += "  form: force changes along fibres by " + fixed(100 * form.unevenness_rel, 1) +
            " % from edge to edge (root mean square), evenness " + fixed(asked.evenness, 2) + "\n";
  return text;
}

std::string figures(const Dossier& d) {
  std::string text;
  if (d.form)
    text += "  form: rise " + fixed(d.form->rise_m, 3) + " m, " +
            std::to_string(d.form->vertices.size()) + " points, greatest thrust " +
            fixed(d.form->thrust_max_n / 1e3, 1) + " kN\n";
  if (d.form) text += wishes(d.brief.form, *d.form);
  if (d.form && !d.body)
    text += "  body: none can be given to this form; `skewback run --until body` says why\n";
  if (d.cut) {
    double least = 0, most = 0, all = 0;
    std::size_t blocks = 0;
    for (const Block& b : d.cut->assembly.blocks) {
      if (b.fixed) continue;
      const double m = concrete_mass_kg(b);
      least = blocks == 0 ? m : std::min(least, m);
      most = std::max(most, m);
      all += m;
      ++blocks;
    }
    text += "  blocks: " + std::to_string(blocks) + ", " + fixed(least, 0) + " to " +
            fixed(most, 0) + " kg, " + fixed(all, 0) + " kg in all\n";
  }
  if (!d.dead_resultants.empty())
    text += "  joints: thrust within " + fixed(d.joint_angle_median_deg, 1) +
            " degrees of square (median), " + fixed(d.joint_angle_max_deg, 1) + " at most" +
            (d.joint_angle_light_deg > d.joint_angle_max_deg
                 ? ", " + fixed(d.joint_angle_light_deg, 1) + " where they carry little"
                 : "") +
            "; dead load\n";
  if (d.ground)
    for (const TieForce& tie : d.ground->ties)
      text += "  tie " + tie.id + ": " + fixed(tie.force_n / 1e3, 1) + " kN, rods of " +
              fixed(tie.diameter_m * 1e3, 0) + " mm\n";
  if (d.refit) text += "  as built: " + d.refit->finding + "\n";
  if (d.cut)
    for (const std::string& remark : d.cut->report.remarks) text += "  note: " + remark + "\n";
  for (const std::string& words : d.loads_left_out) text += "  note: " + words + "\n";
  double seconds = 0;
  std::string stages;
  std::vector<std::string> names = stage_names();
  names.insert(std::ranges::find(names, "erect"), "centring");
  for (const std::string& stage : names) {
    const auto it = d.timings_s.find(stage);
    if (it == d.timings_s.end()) continue;
    stages += (stages.empty() ? "" : ", ") + stage + " " + fixed(it->second, 1);
    seconds += it->second;
  }
  return text + "  seconds: " + fixed(seconds, 1) + " (" + stages + ")\n";
}

constexpr std::size_t kCasesShown = 12;

void print_report(const Dossier& d, const fs::path& out, std::size_t files) {
  std::cout << d.brief.title << "\n\n" << figures(d);
  if (d.cut && !d.proofs.empty())
    std::cout << "\n" << verdicts(d.cut->assembly, d.proofs, kCasesShown);
  std::cout << "\n";
  if (d.required.empty())
    std::cout << "No required check was run (--until stops before them).\n";
  else
    std::cout << required_table(d.required) << "\n";
  if (!d.all_required_pass())
    std::cout << "Not everything required was checked and passed: exit code " << kNotPassed
              << ".\n";
  std::cout << files << " files in " << out.string()
            << "/; to check the evidence again: skewback verify " << out.string() << "\n"
            << "A design aid: the licensed engineer of the place and the local code decide.\n";
}

Result<BreakCount> counted_broken(const std::vector<fs::path>& daybooks) {
  BreakCount sum;
  for (const fs::path& folder : daybooks) {
    const Result<Daybook> book = Daybook::open(folder);
    if (!book) return book.faults();
    const BreakCount count = count_broken(book->events());
    sum.handled += count.handled;
    sum.broken += count.broken;
  }
  return sum;
}

/// A stage that has no answer names a place on the bridge: the brief is what to change.
Faults of_brief(const std::string& brief, Faults faults) {
  for (Fault& fault : faults)
    if (fault.file.empty()) fault.file = brief;
  return faults;
}

}  // namespace

int run_command(const RunOptions& options, ProgressLine& line) {
  const Result<Brief> brief = read_brief(options.brief);
  if (!brief) {
    print_faults(brief.faults(), options.json);
    return kBadInput;
  }
  const fs::path out = options.out.empty() ? fs::path("out") / brief->name : options.out;
  if (const auto fault = out_fault(out, options.brief)) {
    print_faults({*fault}, options.json);
    return kBadInput;
  }
  const Result<BreakCount> breaks = counted_broken(options.daybooks);
  if (!breaks) {
    print_faults(breaks.faults(), options.json);
    return kBadInput;
  }
  WorksOptions works{options.jobs, options.until};
  works.breaks = *breaks;
  works.block_remedies = true;
  const Result<Dossier> dossier = run_works(*brief, works, line.progress());
  line.clear();
  if (!dossier) {
    print_faults(of_brief(options.brief, dossier.faults()), options.json);
    return kBadInput;
  }
  return write_and_tell(*dossier, out, options.json, line,
                        [&](std::size_t files) { print_report(*dossier, out, files); });
}

}  // namespace skewback::cli
