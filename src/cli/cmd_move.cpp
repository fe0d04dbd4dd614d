#include <algorithm>
#include <atomic>
#include <fstream>
#include <iostream>
#include <numeric>
#include <thread>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "brief/text.hpp"
#include "cli/console.hpp"
#include "cli/move_parts.hpp"
#include "cli/out_folder.hpp"
#include "cli/table.hpp"
#include "deliver/files.hpp"
#include "deliver/motion_json.hpp"
#include "works/motion_scene.hpp"
#include "works/works.hpp"

namespace skewback::cli {
namespace {

namespace fs = std::filesystem;
using deliver::RecordedMotion;

/// An assembly file, the assembly of a run, or that of a brief as far as its loads.
Result<Assembly> blocks_of(const MoveCommandOptions& options, const Progress& progress) {
  const fs::path& input = options.input;
  std::error_code error;
  if (fs::is_directory(input, error)) {
    if (fs::is_regular_file(input / "assembly.json", error))
      return read_assembly(input / "assembly.json");
    return Fault{input.string(),
                 0,
                 0,
                 "",
                 "a folder without assembly.json",
                 "the folder of a run, an assembly file, or a brief",
                 ""};
  }
  if (input.extension() != ".toml") return read_assembly(input);
  const Result<Brief> brief = read_brief(input);
  if (!brief) return brief.faults();
  Result<Dossier> dossier = run_works(*brief, {options.jobs, "loads"}, progress);
  if (!dossier) return dossier.faults();
  return std::move(dossier).value().cut->assembly;
}

/// Indices of the cases asked for; all where none is.
Result<std::vector<std::size_t>> cases_of(const Assembly& assembly,
                                          const MoveCommandOptions& options) {
  std::vector<std::size_t> chosen(assembly.cases.size());
  std::iota(chosen.begin(), chosen.end(), std::size_t{0});
  if (chosen.empty())
    return Fault{options.input.string(),
                 0,
                 0,
                 "cases",
                 "no load case",
                 "one or more",
                 "add \"cases\": [{\"id\": \"dead\"}]"};
  if (options.cases.empty()) return chosen;
  Faults faults;
  std::vector<std::string> names;
  for (const LoadCase& load : assembly.cases) names.push_back(load.id);
  chosen.clear();
  for (const std::string& id : options.cases) {
    const auto it = std::ranges::find(names, id);
    const auto index = static_cast<std::size_t>(it - names.begin());
    if (it != names.end() && std::ranges::find(chosen, index) == chosen.end())
      chosen.push_back(index);
    if (it != names.end()) continue;
    const std::string near = nearest_word(id, names);
    std::string all;
    for (const std::string& name : names) all += (all.empty() ? "one of " : ", ") + name;
    faults.push_back({options.input.string(), 0, 0, "--case", in_quotes(id), all,
                      near.empty() ? "" : "did you mean \"" + near + "\"?"});
  }
  if (!faults.empty()) return faults;
  return chosen;
}

Result<MotionScene> scene_of(const Assembly& assembly, const MoveCommandOptions& options) {
  MotionScene scene;
  if (!options.scene.empty()) {
    Result<MotionScene> read = read_motion_scene(options.scene, assembly);
    if (!read) return read.faults();
    scene = std::move(read).value();
  }
  if (options.factor) scene.scene.load_factor = *options.factor;
  if (!options.damping.empty()) scene.options.damping = *damping_called(options.damping);
  return scene;
}

/// Cases side by side; a single one gets all the threads.
std::vector<RecordedMotion> move_all(const Assembly& assembly,
                                     const std::vector<std::size_t>& cases,
                                     const MotionScene& scene, int jobs, const Progress& progress) {
  std::vector<RecordedMotion> records(cases.size());
  std::atomic<std::size_t> done = 0;
  for_each_index(cases.size(), [&](std::size_t i) {
    RecordedMotion& r = records[i];
    r.assembly = &assembly;
    r.load = &assembly.cases[cases[i]];
    r.scene = scene.scene;
    r.options = scene.options;
    r.words = scene.words;
    r.options.threads = cases.size() == 1 ? jobs : 1;
    const auto whole = static_cast<double>(cases.size());
    const Progress own(
        [&](const std::string& stage, double part) {
          progress.checkpoint(stage, (static_cast<double>(done.load()) + part) / whole);
        },
        nullptr);
    r.motion = let_go(assembly, *r.load, r.scene, r.options, own);
    ++done;
  });
  return records;
}

std::string motions_table(const std::vector<RecordedMotion>& records) {
  std::vector<Row> rows{{"case", "ending", "after s", "farthest mm", "block", "turned deg",
                         "at joint", "slid mm", "opened mm", "energy error"}};
  for (const RecordedMotion& r : records) {
    const Motion& m = r.motion;
    const auto& joints = m.joints;
    const auto worst = std::ranges::max_element(
        joints, {}, [](const JointMotion& j) { return std::max(j.slid_m, j.opened_m); });
    const int joint = worst == joints.end() ? -1 : static_cast<int>(worst - joints.begin());
    rows.push_back(
        {r.load->id, word(m.ending), fixed(m.time_s, 3), fixed(1e3 * m.moved_max_m, 3),
         m.moved_block < 0 ? "-" : r.assembly->blocks[static_cast<std::size_t>(m.moved_block)].id,
         fixed(m.turned_max_rad * 180 / kPi, 3), joint_text(*r.assembly, joint),
         joint < 0 ? "-" : fixed(1e3 * worst->slid_m, 3),
         joint < 0 ? "-" : fixed(1e3 * worst->opened_m, 3), scientific(m.energy.error)});
  }
  return table(rows);
}

std::vector<deliver::OutputFile> files_of(const Assembly& assembly,
                                          const std::vector<RecordedMotion>& records) {
  std::vector<CaseProof> named(records.size());
  for (std::size_t i = 0; i < records.size(); ++i) named[i].id = records[i].load->id;
  const std::vector<std::string> paths = deliver::evidence_paths(named, "motion");
  std::vector<deliver::OutputFile> files{{"summary.json", deliver::motion_figures_json(records)},
                                         {"assembly.json", write_assembly(assembly)}};
  for (std::size_t i = 0; i < records.size(); ++i) {
    files.push_back({paths[i], deliver::motion_json(records[i])});
    files.push_back({fs::path(paths[i]).replace_extension(".svg").generic_string(),
                     deliver::svg(deliver::motion_sheet(records[i], {297, 210}))});
  }
  return files;
}

/// `out` may be new, empty, or what an earlier `move` wrote; a whole run is not replaced by it.
std::optional<Fault> move_out_fault(const MoveCommandOptions& options) {
  if (options.out.empty()) return {};
  if (auto fault = out_fault(options.out, options.input)) return fault;
  std::error_code error;
  if (!fs::exists(options.out / "summary.json", error)) return {};
  std::ifstream in(options.out / "summary.json");
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  if (text.find("\"recorded_motion\": true") != std::string::npos) return {};
  return Fault{options.out.string(),
               0,
               0,
               "",
               "the results of something else",
               "a new name, an empty folder, or the folder of an earlier move",
               "choose another with --out"};
}

void print_report(const MotionScene& scene, const std::vector<RecordedMotion>& records,
                  const MoveCommandOptions& options) {
  std::cout << "Blocks let go in time, damping for " << word(scene.options.damping) << ".\n";
  for (const std::string& what : scene.words) std::cout << "  " << what << "\n";
  std::cout << "\n";
  for (const RecordedMotion& r : records) {
    std::cout << "  " << r.load->id << ": " << deliver::motion_words(r) << "\n";
  }
  std::cout << "\n" << motions_table(records);
  if (scene.options.damping == Damping::kSettling)
    std::cout << "\n  Damping for settling finds the place of rest; its times are no clock's.\n";
  if (!options.out.empty())
    std::cout << "\nMotions and pictures in " << (options.out / "motion").string() << "/\n";
}

}  // namespace

int move_command(const MoveCommandOptions& options, ProgressLine& line) {
  const auto refuse = [&](const Faults& faults) {
    line.clear();
    print_faults(faults, options.json);
    return kBadInput;
  };
  if (const auto fault = move_out_fault(options)) return refuse({*fault});
  std::optional<JobLimit> limit;
  if (options.jobs > 0) limit.emplace(options.jobs);
  const Result<Assembly> assembly = blocks_of(options, line.progress());
  if (!assembly) return refuse(assembly.faults());
  const auto cases = cases_of(*assembly, options);
  const Result<MotionScene> scene = scene_of(*assembly, options);
  if (!cases || !scene) {
    Faults faults = cases ? Faults{} : cases.faults();
    if (!scene) faults.insert(faults.end(), scene.faults().begin(), scene.faults().end());
    return refuse(faults);
  }
  const int cores = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  const int jobs = options.jobs > 0 ? options.jobs : cores;
  if (const auto fault = ask_fault(*assembly, options)) return refuse({*fault});
  if (asks(options)) return answer({*assembly, *cases, *scene, options}, line);
  const std::vector<RecordedMotion> records =
      move_all(*assembly, *cases, *scene, jobs, line.progress());
  if (!options.out.empty()) {
    const auto written =
        deliver::place_folder(files_of(*assembly, records), options.out, line.progress());
    if (!written) return refuse(written.faults());
  }
  line.clear();
  if (options.json)
    std::cout << deliver::motion_figures_json(records);
  else
    print_report(*scene, records, options);
  const bool rest = std::ranges::all_of(
      records, [](const RecordedMotion& r) { return r.motion.ending == Ending::kAtRest; });
  return rest ? kDone : kNotPassed;
}

}  // namespace skewback::cli
