#include <iostream>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "verify/verify.hpp"

namespace skewback::cli {
namespace {

using Json = nlohmann::ordered_json;

std::string state(const EvidenceVerdict& v) {
  return v.kind == "none" ? "claims nothing" : v.ok ? "true" : "NOT TRUE";
}

Json as_json(const VerifyReport& report) {
  Json files = Json::array();
  for (const EvidenceVerdict& v : report.files)
    files.push_back({{"file", v.file},
                     {"case", v.case_id},
                     {"kind", v.kind},
                     {"ok", v.ok},
                     {"load_factor", v.load_factor ? Json(*v.load_factor) : Json(nullptr)},
                     {"residual_rel", v.residual_rel},
                     {"worst_cone", v.worst_cone},
                     {"rigorous", v.rigorous},
                     {"margin_used", v.margin_used},
                     {"left_rel", v.left_rel},
                     {"not_rigorous", v.not_rigorous},
                     {"worst_penetration", v.worst_penetration},
                     {"power_rel", v.power_rel},
                     {"assumes", v.assumes},
                     {"reasons", v.reasons}});
  return {{"ok", report.ok()},
          {"failed", report.failed()},
          {"unclaimed", report.unclaimed()},
          {"files", files}};
}

void print(const VerifyReport& report) {
  std::vector<Row> rows{
      {"file", "evidence", "claim", "load factor", "imbalance", "to the last digit"}};
  std::string reasons, open;
  std::size_t exact = 0, forces = 0;
  for (const EvidenceVerdict& v : report.files) {
    rows.push_back({v.file, v.kind.empty() ? "unreadable" : v.kind, state(v),
                    v.load_factor ? fixed(*v.load_factor, 3) : "-",
                    v.kind == "forces" || v.kind == "motion" ? scientific(v.residual_rel) : "-",
                    v.kind != "forces" || !v.ok ? "-"
                    : v.rigorous                ? "yes"
                                                : "no"});
    if (v.kind == "forces" && v.ok) {
      ++forces;
      if (v.rigorous)
        ++exact;
      else
        open += "  " + v.file + ": " + v.not_rigorous + "\n";
    }
    std::map<std::string, int> counted;
    for (const std::string& reason : v.reasons) ++counted[reason];
    for (const auto& [reason, times] : counted)
      reasons += "  " + v.file + ": " + reason +
                 (times > 1 ? " (" + std::to_string(times) + " times)" : "") + "\n";
  }
  std::cout << table(rows) << (reasons.empty() ? "" : "\n" + reasons) << "\n"
            << report.files.size() << " files: " << report.failed() << " not true, "
            << report.unclaimed() << " claiming nothing (undecided cases)\n";
  if (forces > 0) {
    std::cout << exact << " of " << forces
              << " sets of forces can be made to balance exactly without leaving a cone\n";
    if (!open.empty())
      std::cout
          << "The others balance to the imbalance shown: at a limit load, where forces lie on "
             "the edge of their cones,\nthere is no room left to do better. Their claims are "
             "true to that imbalance:\n"
          << open;
  }
}

}  // namespace

int verify_command(const VerifyOptions& options) {
  const Result<VerifyReport> report = verify_folder(options.folder);
  if (!report) {
    print_faults(report.faults(), options.json);
    return kBadInput;
  }
  if (options.json)
    std::cout << as_json(*report).dump(2) << "\n";
  else
    print(*report);
  return report->ok() ? kDone : kNotPassed;
}

}  // namespace skewback::cli
