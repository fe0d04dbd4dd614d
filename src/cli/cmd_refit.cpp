#include <iostream>

#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/out_folder.hpp"
#include "cli/required_table.hpp"
#include "cli/table.hpp"
#include "daybook/daybook.hpp"
#include "deliver/blocks_again.hpp"
#include "deliver/survey_sheets.hpp"
#include "works/works.hpp"

namespace skewback::cli {
namespace {

namespace fs = std::filesystem;

std::string trials(const Refit& refit) {
  std::vector<Row> rows{
      {"way", "key goes in", "other pads", "packers", "joints", "thickest mm", "posts cut", ""}};
  for (const RemedyTrial& t : refit.trials) {
    rows.push_back({t.name + (t.chosen ? " (chosen)" : ""), t.goes_in ? "yes" : "NO",
                    std::to_string(t.other_pads), std::to_string(t.packers),
                    std::to_string(t.packed_joints), fixed(1e3 * t.thickest_m, 1),
                    std::to_string(t.feet_trimmed), t.reason});
  }
  return table(rows);
}

std::string before_and_after(const Refit& refit) {
  std::vector<Row> rows{{"bridge", "key goes in", "verdict", "least live factor",
                         "joint stress MPa", "friction needed"}};
  for (const Before& b : refit.table) {
    rows.push_back({b.what, b.key_goes_in ? "yes" : "NO", b.verdict, or_dash(b.load_factor, 1, 2),
                    or_dash(b.joint_stress_max_pa, 1e-6, 2), or_dash(b.friction_needed, 1, 3)});
  }
  return table(rows);
}

/// The work that every way brings besides its packers.
std::string feet_and_seats(const FeetSet& feet) {
  const std::vector<const FootSetting*> set = deliver::feet_to_set(feet);
  double most = 0;
  for (const FootSetting* foot : set) most = std::max(most, std::abs(foot->to_move_m()));
  if (set.size() + feet.gaps.size() == 0) return "";
  return "besides: " + std::to_string(set.size()) + " of " + std::to_string(feet.feet.size()) +
         " feet of the centring set anew, by up to " + fixed(1e3 * most, 1) + " mm; " +
         std::to_string(feet.gaps.size()) +
         " seats to pack or plane (asbuilt/feet.csv, asbuilt/seats.csv)\n";
}

void print_report(const Dossier& dossier, const fs::path& out, std::size_t files) {
  std::cout << dossier.brief.title << "\n\n";
  for (const ComparedScan& scan : dossier.scans) {
    std::cout << "scan of " << scan.finding << "\n";
    for (const std::string& remark : scan.remarks) std::cout << "  " << remark << "\n";
  }
  if (!dossier.refit) {
    for (const RequiredCheck& check : dossier.required)
      std::cout << (check.passes.value_or(false) ? "" : "NOT ") << "within " << 1e3 * check.limit
                << " mm (" << check.source << ")\n";
    std::cout << files << " files in " << out.string() << "/\n";
    return;
  }
  const Refit& refit = *dossier.refit;
  if (const std::string words = deliver::blocks_again_words(dossier); !words.empty())
    std::cout << words << "\n";
  std::cout << refit.finding << "\n\n";
  if (!refit.trials.empty()) std::cout << trials(refit) << "\n";
  if (!refit.table.empty()) std::cout << before_and_after(refit) << "\n";
  if (refit.feet) std::cout << feet_and_seats(*refit.feet);
  for (const std::string& remark : refit.remarks) std::cout << "note: " << remark << "\n";
  for (const std::string& again : refit.measure_again)
    std::cout << "measure again: " << again << "\n";
  if (dossier.again) std::cout << "\n" << required_table(dossier.required);
  if (!dossier.all_required_pass()) {
    for (const RequiredCheck& check : dossier.required)
      if (!dossier.again && !check.passes.value_or(false))
        std::cout << check.name << ": " << check.note << "\n";
    std::cout << "Not put right, or not proved: exit code " << kNotPassed << ".\n";
  }
  std::cout
      << files << " files in " << out.string()
      << "/\nMeasure again before anything is cut. A design aid: the licensed engineer of the "
         "place and the local code decide.\n";
}

/// None where no daybook was given.
Result<std::optional<Stock>> read_stock(const fs::path& daybook) {
  if (daybook.empty()) return std::optional<Stock>();
  const Result<Daybook> book = Daybook::open(daybook);
  if (!book) return book.faults();
  return std::optional<Stock>(stock_of(book->plan(), book->events()));
}

}  // namespace

int refit_command(const RefitCommandOptions& options, ProgressLine& line) {
  const auto refuse = [&](const Faults& faults) {
    line.clear();
    print_faults(faults, options.json);
    return kBadInput;
  };
  const Result<Brief> brief = read_brief(options.brief);
  if (!brief) return refuse(brief.faults());
  std::optional<Brief> before;
  if (!options.blocks_of.empty()) {
    Result<Brief> read = read_brief(options.blocks_of);
    if (!read) return refuse(read.faults());
    before = std::move(read).value();
  }
  if (options.survey.empty() && !brief->survey && !before && options.scans.empty()) {
    return refuse({{options.brief.string(), 0, 0, "survey", "no measured points",
                    "a table [survey] in the brief, or a file of points",
                    "give one with --survey, or a scan of a block with --scan"}});
  }
  OldBlocks old{before ? &*before : nullptr, {}, options.daybook};
  Result<std::optional<Stock>> stock = read_stock(options.daybook);
  if (!stock) return refuse(stock.faults());
  old.stock = std::move(stock).value();
  const fs::path out =
      options.out.empty() ? fs::path("out") / (brief->name + "-refit") : options.out;
  if (const auto fault = out_fault(out, options.brief)) return refuse({*fault});
  RefitOptions wanted;
  wanted.survey = options.survey;
  wanted.scan_unit = options.scan_unit;
  for (const std::string& scan : options.scans) {
    const std::size_t sign = scan.find('=');
    if (sign == std::string::npos || sign == 0 || sign + 1 == scan.size())
      return refuse({{options.brief.string(), 0, 0, "--scan", "\"" + scan + "\"",
                      "BLOCK=FILE, such as yard-03=yard-03.ply", ""}});
    wanted.scans.push_back({scan.substr(0, sign), scan.substr(sign + 1)});
  }
  wanted.jobs = options.jobs;
  const Result<Dossier> dossier = before
                                      ? run_again(*brief, std::move(old), wanted, line.progress())
                                      : run_refit(*brief, wanted, line.progress());
  if (!dossier) return refuse(dossier.faults());
  return write_and_tell(*dossier, out, options.json, line,
                        [&](std::size_t files) { print_report(*dossier, out, files); });
}

}  // namespace skewback::cli
