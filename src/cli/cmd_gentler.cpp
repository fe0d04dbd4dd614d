#include <algorithm>
#include <iostream>
#include <system_error>

#include "base/write_file.hpp"
#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "works/gentler_deck.hpp"

namespace skewback::cli {
namespace {

namespace fs = std::filesystem;

std::string study_table(const GentlerStudy& study) {
  const bool priced = std::any_of(study.rows.begin(), study.rows.end(),
                                  [](const GentlerRow& r) { return r.money.has_value(); });
  std::vector<Row> rows{{"rise m", "deck", "gradient %", "steps m", "ramps m", "frames kg",
                         "thrust kN", "ties kg", "thrust depth mm", "blocks", "mass kg",
                         "CO2e kg"}};
  if (priced) rows[0].push_back(study.currency.empty() ? "money" : study.currency);
  rows[0].insert(rows[0].end(), {"live factor", "holds"});
  for (const GentlerRow& r : study.rows) {
    if (!r.failed.empty()) {
      rows.push_back({fixed(r.rise_m, 3), word(r.kind), "no structure"});
      rows.back().resize(rows[0].size(), "-");
      continue;
    }
    Row row{fixed(r.rise_m, 3),
            word(r.kind),
            fixed(100 * r.gradient, 1) + (r.gradient_met ? "" : " over"),
            fixed(r.steps_m, 2),
            fixed(r.approach_m, 1),
            fixed(r.frame_kg, 0),
            fixed(r.thrust_n / 1e3, 1),
            fixed(r.tie_steel_kg, 1),
            or_dash(r.depth_needed_m, 1e3, 0),
            std::to_string(r.blocks),
            fixed(r.concrete_kg, 0),
            fixed(r.carbon_kg, 0)};
    if (priced) row.push_back(or_dash(r.money, 1, 0));
    row.insert(row.end(), {(r.live_at_least ? "at least " : "") + or_dash(r.live_factor, 1, 2),
                           r.holds ? "yes" : "NO"});
    rows.push_back(std::move(row));
  }
  return table(rows);
}

std::string reasons(const GentlerStudy& study) {
  std::string text;
  for (const GentlerRow& r : study.rows) {
    const std::string why = r.failed.empty() ? r.why_not : r.failed;
    if (!why.empty())
      text += "  rise " + fixed(r.rise_m, 3) + " m, " + word(r.kind) + ": " + why + "\n";
  }
  return text;
}

Faults write_all(const GentlerStudy& study, const fs::path& out) {
  std::error_code error;
  fs::create_directories(out, error);
  if (error) return {{out.string(), 0, 0, "", error.message(), "a folder to write to", ""}};
  Faults faults;
  const std::pair<const char*, std::string> files[] = {
      {"gentler.svg", deliver::svg(deliver::gentler_sheet(study, {297, 165}))},
      {"gentler.csv", deliver::gentler_csv(study)},
      {"gentler.json", deliver::gentler_json(study)}};
  for (const auto& [name, bytes] : files)
    if (auto fault = write_whole(out / name, bytes)) faults.push_back(*fault);
  return faults;
}

}  // namespace

int gentler_command(const GentlerCommandOptions& options, ProgressLine& line) {
  const Result<Brief> brief = read_brief(options.brief);
  if (!brief) {
    print_faults(brief.faults(), options.json);
    return kBadInput;
  }
  GentlerOptions wanted;
  wanted.jobs = options.jobs;
  wanted.depth = !options.no_depth;
  if (!options.rise_shares.empty()) wanted.rise_shares = options.rise_shares;
  const Result<GentlerStudy> study = study_gentler_deck(*brief, wanted, line.progress());
  line.clear();
  if (!study) {
    print_faults(study.faults(), options.json);
    return kBadInput;
  }
  const fs::path out =
      options.out.empty() ? fs::path("out") / (brief->name + "-gentler") : options.out;
  if (const Faults faults = write_all(*study, out); !faults.empty()) {
    print_faults(faults, options.json);
    return kBadInput;
  }
  const bool any = std::any_of(study->rows.begin(), study->rows.end(), [](const GentlerRow& r) {
    return r.failed.empty() && r.gradient_met && r.step_free && r.holds;
  });
  if (options.json) {
    std::cout << deliver::gentler_json(*study);
    return any ? kDone : kNotPassed;
  }
  std::cout << study->title << ": the price of a gentler deck; gradient asked for "
            << fixed(100 * study->gradient_limit, 1) << " %\n\n"
            << study_table(*study) << reasons(*study) << "\n";
  for (const std::string& remark : study->remarks) std::cout << "  note: " << remark << "\n";
  if (!any) std::cout << "None of these meets the gradient without steps and holds: exit code 3.\n";
  std::cout << "gentler.svg, gentler.csv, gentler.json in " << out.string() << "/\n";
  return any ? kDone : kNotPassed;
}

}  // namespace skewback::cli
