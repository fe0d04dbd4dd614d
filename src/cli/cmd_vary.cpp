#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "brief/brief.hpp"
#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "vary/plan.hpp"
#include "vary/vary.hpp"

namespace skewback::cli {
namespace {

namespace fs = std::filesystem;

std::string time_words(double seconds) {
  if (seconds < 90) return fixed(seconds, 0) + " s";
  if (seconds < 5400) return fixed(seconds / 60, 0) + " min";
  return fixed(seconds / 3600, 1) + " h";
}

/// One line, rewritten on a terminal; elsewhere a line when a twentieth more is done.
class RunsLine {
 public:
  void tell(std::uint64_t done, std::uint64_t of, double left_s) {
    std::string line = std::to_string(done) + " of " + std::to_string(of) + " runs";
    if (left_s >= 0 && done < of) line += ", " + time_words(left_s) + " left";
    if (terminal_) {
      std::fprintf(stderr, "\r\033[K%s%s", line.c_str(), done == of ? "\n" : "");
      std::fflush(stderr);
    } else if (done == of || 20 * (done - shown_) >= of || shown_ == 0) {
      std::fprintf(stderr, "%s\n", line.c_str());
      shown_ = done;
    }
  }

 private:
  bool terminal_ = isatty(STDERR_FILENO) == 1;
  std::uint64_t shown_ = 0;
};

std::optional<Fault> take_shard(const std::string& text, VaryOptions& options) {
  if (text.empty()) return {};
  unsigned long long k = 0, n = 0;
  char rest = 0;
  const bool plain = text.find_first_not_of("0123456789/") == std::string::npos;
  if (plain && std::sscanf(text.c_str(), "%llu/%llu%c", &k, &n, &rest) == 2 && k >= 1 && k <= n &&
      n <= 1'000'000) {
    options.shard = k;
    options.shards = n;
    return {};
  }
  return Fault{"", 0, 0, "--shard", text, "which part of how many, such as 2/4", ""};
}

struct Tally {
  std::uint64_t stands = 0, falls = 0, undecided = 0, none = 0, fails = 0, open = 0;
};
Tally tally(const std::map<std::uint64_t, RunFound>& found) {
  Tally t;
  for (const auto& [number, run] : found) {
    if (run.verdict == "stands") ++t.stands;
    if (run.verdict == "falls") ++t.falls;
    if (run.verdict == "undecided") ++t.undecided;
    if (run.exit == 1 || run.exit == 2) ++t.none;
    if (!run.failing.empty()) ++t.fails;
    if (run.failing.empty() && run.exit == kNotPassed) ++t.open;
  }
  return t;
}

std::string figure_table(const Runner& runner, const std::map<std::uint64_t, RunFound>& found) {
  std::vector<Row> rows{{"figure", "least", "median", "greatest", "of"}};
  for (std::size_t k = 0; k < runner.columns.size(); ++k) {
    std::vector<double> all;
    std::map<std::string, std::size_t> words;
    for (const auto& [number, run] : found)
      for (const auto& row : run.rows) {
        if (row[k].number) all.push_back(*row[k].number);
        if (!row[k].text.empty()) ++words[row[k].text];
      }
    std::sort(all.begin(), all.end());
    const auto show = [](double v) {
      return fixed(v, v != 0 && std::abs(v) < 0.1 ? 5 : std::abs(v) < 100 ? 3 : 0);
    };
    if (!all.empty())
      rows.push_back({runner.columns[k], show(all.front()),
                      show((all[(all.size() - 1) / 2] + all[all.size() / 2]) / 2), show(all.back()),
                      std::to_string(all.size())});
    for (const auto& [word, times] : words)
      rows.push_back({runner.columns[k] + ": " + word, "-", "-", "-", std::to_string(times)});
  }
  return rows.size() > 1 ? table(rows) : "";
}

struct Told {
  std::uint64_t wanted = 0;
  bool whole = true;  // all runs of the plan, not a part
  std::vector<std::string> files;
  const VaryDone* done = nullptr;  // null: joined
};

void print_json(const Told& told, const std::map<std::uint64_t, RunFound>& found,
                const fs::path& out) {
  const Tally t = tally(found);
  nlohmann::ordered_json json = {{"runs", told.wanted},      {"done", found.size()},
                                 {"stands", t.stands},       {"falls", t.falls},
                                 {"undecided", t.undecided}, {"no_structure", t.none},
                                 {"a_check_fails", t.fails}, {"a_check_is_open", t.open},
                                 {"out", out.string()},      {"files", told.files}};
  if (told.done != nullptr)
    json["timings_s"] = {{"wall", told.done->seconds},
                         {"runs", told.done->run_seconds},
                         {"fresh", told.done->fresh},
                         {"dealing", told.done->dealing_seconds},
                         {"journal", told.done->journal_seconds}};
  std::cout << json.dump(2) << "\n";
}

void print_words(const VaryPlan& plan, const Runner& runner, const Told& told,
                 const std::map<std::uint64_t, RunFound>& found, const fs::path& out) {
  const Tally t = tally(found);
  std::cout << found.size() << " of " << told.wanted << " runs";
  if (!plan.draws)
    std::cout << ": " << t.stands << " stand, " << t.falls << " fall, " << t.undecided
              << " undecided, " << t.none << " without a structure; in " << t.fails
              << " a required check fails, in " << t.open << " more one is not checked";
  std::cout << "\n\n" << figure_table(runner, found) << "\n";
  if (told.done != nullptr && told.done->fresh > 0)
    std::cout << "  " << fixed(told.done->seconds, 1) << " s for " << told.done->fresh
              << " runs of "
              << fixed(told.done->run_seconds / static_cast<double>(told.done->fresh), 2)
              << " s; journal " << fixed(told.done->journal_seconds, 3) << " s, dealing "
              << fixed(told.done->dealing_seconds, 3) << " s\n";
  std::string names;
  for (const std::string& name : told.files) names += (names.empty() ? "" : ", ") + name;
  if (told.files.empty())
    std::cout << "  " << told.done->journal.string()
              << " is one part; with the others: --merge DIR...\n";
  else
    std::cout << names << " in " << out.string() << "/\n";
}

/// Figures that no run has: most likely a slip of the hand. Whether any of them was asked for.
bool tell_unknown(const VaryPlan& plan, const Runner& runner,
                  const std::map<std::uint64_t, RunFound>& found) {
  bool unknown = false;
  const std::vector<std::string> usual = usual_figures(plan.until);
  for (std::size_t k = 0; k < runner.columns.size(); ++k) {
    bool any = found.empty();
    for (const auto& [number, run] : found)
      for (const auto& row : run.rows) any = any || row[k].number || !row[k].text.empty();
    unknown = unknown ||
              (!any && !plan.draws && std::ranges::find(usual, runner.columns[k]) == usual.end());
    if (!any) std::cerr << "no run has the figure " << runner.columns[k] << "\n";
  }
  return unknown;
}

int finish(const VaryPlan& plan, const Runner& runner, Told told,
           const std::map<std::uint64_t, RunFound>& found, const fs::path& out, bool json) {
  const bool unknown = tell_unknown(plan, runner, found);
  if (told.whole) {
    const Result<std::vector<std::string>> files = write_results(plan, runner, found, out);
    if (!files) {
      print_faults(files.faults(), json);
      return kBadInput;
    }
    told.files = *files;
  }
  if (json)
    print_json(told, found, out);
  else
    print_words(plan, runner, told, found, out);
  if (found.size() == told.wanted) return unknown ? kNotPassed : kDone;
  std::cerr << told.wanted - found.size() << " runs are missing\n";
  return kNotPassed;
}

int join(const VaryPlan& plan, const Runner& runner, const VaryCommandOptions& options,
         const fs::path& out) {
  const auto found = join_journals(options.merge, head_of(plan, runner, {}));
  if (!found) {
    print_faults(found.faults(), options.json);
    return kBadInput;
  }
  Told told;
  told.wanted = runner.runs;
  return finish(plan, runner, told, *found, out, options.json);
}

fs::path folder_of(const VaryPlan& plan, const VaryCommandOptions& options) {
  if (!options.out.empty()) return options.out;
  const Result<Brief> brief = read_brief(plan.brief_file);
  return fs::path("out") / ((brief ? brief->name : "bridge") + "-vary");
}

}  // namespace

int vary_command(const VaryCommandOptions& options) {
  const Ranks ranks;
  const bool speaks = ranks.rank() == 0;
  const auto refuse = [&](const Faults& faults) {
    if (speaks) print_faults(faults, options.json);
    return kBadInput;
  };
  const Result<VaryPlan> plan = read_vary(options.brief, options.over, SKEWBACK_VERSION);
  if (!plan) return refuse(plan.faults());
  VaryOptions wanted;
  wanted.resume = options.resume;
  wanted.jobs = options.jobs;
  wanted.out = folder_of(*plan, options);
  if (const auto fault = take_shard(options.shard, wanted)) return refuse({*fault});
  const Progress progress(nullptr, &interrupt_flag());
  const Result<Runner> runner = make_runner(*plan, progress);
  if (!runner) return refuse(runner.faults());
  if (!options.merge.empty()) return speaks ? join(*plan, *runner, options, wanted.out) : kDone;

  RunsLine line;
  const Result<VaryDone> done =
      do_runs(*plan, *runner, ranks, wanted, progress,
              [&](std::uint64_t n, std::uint64_t of, double left) { line.tell(n, of, left); });
  if (!done) return refuse(done.faults());
  if (!speaks) return kDone;
  if (done->interrupted) {
    std::cerr << "\ninterrupted; " << done->found.size() << " of " << done->wanted
              << " runs are in " << done->journal.string() << ": go on with --resume\n";
    return kInterrupted;
  }
  Told told;
  told.wanted = done->wanted;
  told.whole = wanted.shards == 1;
  told.done = &*done;
  return finish(*plan, *runner, told, done->found, wanted.out, options.json);
}

}  // namespace skewback::cli
