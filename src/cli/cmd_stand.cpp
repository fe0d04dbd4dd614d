#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>

#include "base/parallel.hpp"
#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "deliver/files.hpp"
#include "deliver/motion_json.hpp"
#include "stand/evidence_points.hpp"
#include "stand/motion_view.hpp"

namespace skewback::cli {
namespace {

using Json = nlohmann::ordered_json;

// The same case objects as in the summary of a run.
Json summary_of(const Dossier& proved) { return Json::parse(summary_json(proved, false)); }

std::vector<deliver::OutputFile> evidence_files(const Assembly& assembly, const Dossier& proved,
                                                const Json& summary) {
  std::vector<deliver::OutputFile> files{{"summary.json", summary.dump(2) + "\n"},
                                         {"assembly.json", write_assembly(assembly)}};
  EvidencePoints points;
  for (std::size_t i = 0; i < proved.proofs.size(); ++i)
    files.push_back({summary["stand"]["cases"][i]["certificate"].get<std::string>(),
                     write_evidence(assembly, assembly.cases[i], proved.proofs[i],
                                    proved.stand_options, &points)});
  for (std::size_t i = 0; i < proved.proofs.size(); ++i) {
    const Json& path = summary["stand"]["cases"][i]["pads_certificate"];
    if (path.is_null()) continue;
    files.push_back({path.get<std::string>(),
                     write_evidence(assembly, assembly.cases[i], *proved.proofs[i].pads,
                                    proved.stand_options, &points)});
  }
  if (!points.empty()) files.push_back({"evidence-points.json", points.json()});
  for (std::size_t i = 0; i < proved.proofs.size(); ++i) {
    const Json& path = summary["stand"]["cases"][i]["motion_certificate"];
    if (path.is_null()) continue;
    files.push_back(
        {path.get<std::string>(), deliver::motion_json({&assembly,
                                                        &assembly.cases[i],
                                                        scene_of(proved.stand_options, {}),
                                                        motion_options_of({}),
                                                        {},
                                                        *proved.proofs[i].motion})});
  }
  return files;
}

StandOptions stand_options(const StandCommandOptions& options) {
  StandOptions out;
  if (options.cap) out.load_factor_cap = *options.cap;
  out.friction = options.friction;
  out.third_view = third_view_called(options.motion);
  return out;
}

}  // namespace

int stand_command(const StandCommandOptions& options, ProgressLine& line) {
  const Result<Assembly> assembly = read_assembly(options.assembly);
  if (!assembly) {
    print_faults(assembly.faults(), options.json);
    return kBadInput;
  }
  if (assembly->cases.empty()) {
    print_faults({{options.assembly.string(), 0, 0, "cases", "no load case", "one or more",
                   "add \"cases\": [{\"id\": \"dead\"}]"}},
                 options.json);
    return kBadInput;
  }
  std::optional<JobLimit> limit;
  if (options.jobs > 0) limit.emplace(options.jobs);
  Dossier proved;
  proved.given = *assembly;
  proved.stand_options = stand_options(options);
  proved.proofs = prove_all(*assembly, proved.stand_options, line.progress());
  line.clear();
  Json summary = summary_of(proved);
  if (!options.out.empty()) {
    const auto written = deliver::place_folder(evidence_files(*assembly, proved, summary),
                                               options.out, line.progress());
    line.clear();
    if (!written) {
      print_faults(written.faults(), options.json);
      return kBadInput;
    }
  } else {
    for (Json& c : summary["stand"]["cases"]) {
      c["certificate"] = c["pads_certificate"] = c["motion_certificate"] =
          nullptr;  // none was written
    }
  }
  if (options.json)
    std::cout << Json{{"cases", summary["stand"]["cases"]}}.dump(2) << "\n";
  else
    std::cout << verdicts(*assembly, proved.proofs)
              << (options.out.empty() ? "" : "\nEvidence in " + options.out.string() + "/\n");
  const bool all = std::all_of(proved.proofs.begin(), proved.proofs.end(),
                               [](const CaseProof& p) { return p.verdict == Verdict::kStands; });
  return all ? kDone : kNotPassed;
}

}  // namespace skewback::cli
