// `skewback move` with a question: --raise, --footing, --draws.
#include <algorithm>
#include <atomic>
#include <iostream>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "brief/text.hpp"
#include "cli/console.hpp"
#include "cli/move_parts.hpp"
#include "cli/table.hpp"
#include "deliver/motion_asked.hpp"
#include "deliver/motion_json.hpp"
#include "deliver/motion_rose.hpp"

namespace skewback::cli {
namespace {

using deliver::OutputFile;
using Json = nlohmann::ordered_json;

const std::string kNotProof =
    "Blocks let go in time: evidence, not proof; one history of loading among many.\n";

const LoadCase& load_of(const MoveAsk& ask, std::size_t i) {
  return ask.assembly.cases[ask.cases[i]];
}

/// Cases side by side; progress of the whole.
template <class One>
void each_case(const MoveAsk& ask, const Progress& progress, One one) {
  std::atomic<std::size_t> done = 0;
  const auto whole = static_cast<double>(ask.cases.size());
  for_each_index(ask.cases.size(), [&](std::size_t i) {
    const Progress own(
        [&](const std::string& stage, double part) {
          progress.checkpoint(stage, (static_cast<double>(done.load()) + part) / whole);
        },
        nullptr);
    one(i, own);
    ++done;
  });
}

/// A name for each case, as files have it.
std::vector<std::string> paths_of(const MoveAsk& ask) {
  std::vector<CaseProof> named(ask.cases.size());
  for (std::size_t i = 0; i < named.size(); ++i) named[i].id = load_of(ask, i).id;
  return deliver::evidence_paths(named, "motion");
}

/// Written, then told; exit code.
int tell(const MoveAsk& ask, ProgressLine& line, const Json& json, const std::string& text,
         std::vector<OutputFile> files, bool good) {
  if (!ask.options.out.empty()) {
    Json summary = {{"recorded_motion", true}, {"ok", good}, {"required", Json::array()}};
    summary.update(json);
    files.push_back({"summary.json", summary.dump(2) + "\n"});
    files.push_back({"assembly.json", write_assembly(ask.assembly)});
    const auto written = deliver::place_folder(files, ask.options.out, line.progress());
    if (!written) {
      line.clear();
      print_faults(written.faults(), ask.options.json);
      return kBadInput;
    }
  }
  line.clear();
  if (ask.options.json)
    std::cout << json.dump(2) << "\n";
  else
    std::cout << text;
  if (!ask.options.json && !ask.options.out.empty())
    std::cout << "\nFigures and pictures in " << ask.options.out.string() << "/\n";
  return good ? kDone : kNotPassed;
}

int raise(const MoveAsk& ask, ProgressLine& line) {
  std::vector<deliver::RaisedCase> raised(ask.cases.size());
  each_case(ask, line.progress(), [&](std::size_t i, const Progress& own) {
    MotionOptions options = ask.scene.options;
    options.threads = 1;
    raised[i] = {load_of(ask, i).id, collapse_load(ask.assembly, load_of(ask, i), ask.scene.scene,
                                                   options, ask.scene.raise, own)};
  });
  std::vector<Row> rows{{"case", "held", "moved off", "not settled", "first to go", "tries"}};
  std::vector<OutputFile> files;
  const auto paths = paths_of(ask);
  bool good = true;
  for (std::size_t i = 0; i < raised.size(); ++i) {
    const Collapse& c = raised[i].collapse;
    const LoadCase& load = load_of(ask, i);
    const bool nothing = load.live.empty() && load.live_acceleration.isZero(0);
    good = good && c.held && (nothing || *c.held >= 1);
    if (nothing && c.held) {
      rows.push_back({raised[i].id, "at rest; no live load", "-", "-", "-", "1"});
      continue;
    }
    const int block = c.moved_off ? c.falling.moved_block : -1;
    rows.push_back({raised[i].id, (c.at_least ? "at least " : "") + or_dash(c.held, 1, 3),
                    or_dash(c.moved_off, 1, 3), or_dash(c.not_settled, 1, 3),
                    block < 0 ? "-" : ask.assembly.blocks[static_cast<std::size_t>(block)].id,
                    std::to_string(c.tries)});
    if (!c.moved_off) continue;
    deliver::RecordedMotion r;
    r.assembly = &ask.assembly;
    r.load = &load_of(ask, i);
    r.scene = ask.scene.scene;
    r.scene.load_factor = *c.moved_off;
    r.options = ask.scene.options;
    r.words = ask.scene.words;
    r.words.push_back("raised from 0, step by step, from rest to rest");
    r.motion = c.falling;
    files.push_back({paths[i], deliver::motion_json(r)});
    files.push_back({std::filesystem::path(paths[i]).replace_extension(".svg").generic_string(),
                     deliver::svg(deliver::motion_sheet(r, {297, 210}))});
  }
  const std::string text =
      "Live load raised from rest to rest until blocks move off, times the "
      "case's own.\n" +
      kNotProof + "\n" + table(rows);
  return tell(ask, line, deliver::raised_json(ask.assembly, raised), text, files, good);
}

int footings(const MoveAsk& ask, ProgressLine& line) {
  MotionReachOptions wanted = ask.scene.footings;
  for (const std::string& name : ask.options.footings) {
    if (name == "all") continue;
    for (std::size_t b = 0; b < ask.assembly.blocks.size(); ++b)
      if (ask.assembly.blocks[b].id == name || ask.assembly.blocks[b].id == "ground-" + name)
        wanted.only.push_back(static_cast<int>(b));
  }
  std::vector<deliver::FootingsCase> all;
  std::vector<Row> rows{
      {"case", "footing", "way", "held", "moved off", "not settled", "first to go", "thrust kN"}};
  std::vector<OutputFile> files;
  const auto paths = paths_of(ask);
  bool good = true;
  for (std::size_t i = 0; i < ask.cases.size(); ++i) {
    all.push_back({load_of(ask, i).id, motion_reach(ask.assembly, load_of(ask, i), ask.scene.scene,
                                                    ask.scene.options, wanted, line.progress())});
    const MotionReaches& reaches = all.back().reaches;
    good = good && reaches.start.ending == Ending::kAtRest;
    for (const MotionReach& r : reaches.ways) {
      const double times = r.is_turn ? 180 / kPi : 1e3;
      const std::string unit = r.is_turn ? " deg" : " mm";
      const auto with = [&](const std::optional<double>& v) {
        return v ? fixed(*v * times, 1) + unit : "-";
      };
      rows.push_back(
          {all.back().id, ask.assembly.blocks[static_cast<std::size_t>(r.block)].id, r.way,
           (r.beyond ? "over " : "") + with(r.held), with(r.moved_off), with(r.not_settled),
           r.falling_block < 0 ? "-"
                               : ask.assembly.blocks[static_cast<std::size_t>(r.falling_block)].id,
           r.path.empty() ? "-"
                          : fixed(r.path.front().thrust_n / 1e3, 1) + " to " +
                                fixed(r.path.back().thrust_n / 1e3, 1)});
    }
    const deliver::Sheet rose = deliver::motion_rose_sheet(ask.assembly, reaches, {297, 210});
    const std::string name = std::filesystem::path(paths[i]).stem().string();
    if (!rose.items.empty()) files.push_back({"footings/" + name + ".svg", deliver::svg(rose)});
  }
  std::string text = "How far each footing may go, slowly and alone, until blocks move off.\n" +
                     kNotProof + "\n" + table(rows);
  for (const auto& c : all)
    if (c.reaches.start.ending != Ending::kAtRest)
      text += "  " + c.id + ": " + word(c.reaches.start.ending) + " with all footings in place\n";
  return tell(ask, line, deliver::footings_json(ask.assembly, all), text, files, good);
}

int draws(const MoveAsk& ask, ProgressLine& line) {
  EnsembleOptions wanted = ask.scene.draws;
  wanted.draws = *ask.options.draws;
  std::vector<deliver::DrawnCase> drawn;
  std::vector<Row> rows{{"case", "draws", "at rest", "moving off", "not settled",
                         "chance of moving off", "between", "least friction of the worst"}};
  bool good = true;
  for (std::size_t i = 0; i < ask.cases.size(); ++i) {
    drawn.push_back({load_of(ask, i).id, wanted,
                     let_go_many(ask.assembly, load_of(ask, i), ask.scene.scene, ask.scene.options,
                                 wanted, line.progress())});
    const Ensemble& e = drawn.back().ensemble;
    good = good && e.moving_off == 0 && e.not_settled == 0;
    rows.push_back(
        {drawn.back().id, std::to_string(wanted.draws), std::to_string(e.at_rest),
         std::to_string(e.moving_off), std::to_string(e.not_settled), fixed(e.probability, 3),
         fixed(e.low, 4) + " and " + fixed(e.high, 4),
         e.worst < 0 ? "-" : fixed(e.draws[static_cast<std::size_t>(e.worst)].friction_least, 3)});
  }
  const std::string text =
      "Bridges drawn at random: friction times " + number(wanted.friction.low) + " to " +
      number(wanted.friction.high) + ", stiffness of joints times " + number(wanted.stiffness.low) +
      " to " + number(wanted.stiffness.high) + ", gaps of " + number(1e3 * wanted.gap_m.low) +
      " to " + number(1e3 * wanted.gap_m.high) + " mm; seed " + std::to_string(wanted.seed) +
      ".\nThe chance is that of these draws: of the bridge only as far as they are "
      "its own. Between: " +
      number(100 * wanted.confidence) + " % interval (Clopper and Pearson).\n\n" + table(rows);
  return tell(ask, line, deliver::drawn_json(ask.assembly, drawn), text, {}, good);
}

}  // namespace

bool asks(const MoveCommandOptions& options) {
  return options.raise || options.draws || !options.footings.empty();
}

std::optional<Fault> ask_fault(const Assembly& assembly, const MoveCommandOptions& options) {
  const int asked =
      (options.raise ? 1 : 0) + (options.draws ? 1 : 0) + (options.footings.empty() ? 0 : 1);
  if (asked > 1)
    return Fault{
        options.input.string(),   0, 0, "", "more than one of --raise, --footing and --draws",
        "one question at a time", ""};
  std::vector<std::string> names{"all"};
  for (const Block& block : assembly.blocks)
    if (block.fixed)
      names.push_back(block.id.starts_with("ground-") ? block.id.substr(7) : block.id);
  for (const std::string& name : options.footings) {
    const bool known = std::ranges::any_of(
        names, [&](const std::string& n) { return n == name || "ground-" + n == name; });
    if (known) continue;
    std::string list;
    for (const std::string& n : names) list += (list.empty() ? "one of " : ", ") + n;
    const std::string near = nearest_word(name, names);
    return Fault{options.input.string(),
                 0,
                 0,
                 "--footing",
                 in_quotes(name),
                 list,
                 near.empty() ? "" : "did you mean \"" + near + "\"?"};
  }
  return {};
}

int answer(const MoveAsk& ask, ProgressLine& line) {
  if (ask.options.raise) return raise(ask, line);
  if (ask.options.draws) return draws(ask, line);
  return footings(ask, line);
}

}  // namespace skewback::cli
