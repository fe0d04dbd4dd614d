#include <CLI/CLI.hpp>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "brief/text.hpp"
#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/daybook_words.hpp"
#include "cli/table.hpp"
#include "daybook/daybook.hpp"
#include "daybook/now.hpp"

namespace skewback::cli {
namespace {

using Json = nlohmann::ordered_json;

int refused(const Faults& faults, bool json) {
  print_faults(faults, json);
  return kBadInput;
}

void print(const Json& json) {
  std::cout << json.dump(2, ' ', false, Json::error_handler_t::replace) << "\n";
}

int begin(const DaybookOptions& options) {
  std::ifstream in(options.plan, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  if (!in)
    return refused({{options.plan.string(), 0, 0, "--plan", "no file that can be read",
                     "erect/plan.json of a run", ""}},
                   options.json);
  const auto book =
      Daybook::begin(options.folder, text.str(), options.plan.string(), options.even_so);
  if (!book) return refused(book.faults(), options.json);
  const DayPlan& plan = book->plan();
  if (options.json)
    print({{"ok", true},
           {"bridge", plan.bridge},
           {"blocks", plan.blocks.size()},
           {"events", book->events().size()},
           {"network", plan.network.has_value()}});
  else
    std::cout << plan.title << ": " << plan.blocks.size() << " blocks, "
              << (plan.network ? "with" : "without") << " a programme, " << book->events().size()
              << " events so far, in " << options.folder.string() << "\n";
  return kDone;
}

/// One event for each block named; faults for words that say nothing.
Result<std::vector<Entered>> entered(const DaybookOptions& options) {
  const std::string& last = options.words.back();
  const auto what = happened(last);
  if (!what || *what == Happened::kCancel) {
    const std::vector<std::string> words = words_to_record();
    std::string all;
    for (const std::string& w : words) all += (all.empty() ? "" : ", ") + w;
    const std::string near = nearest_word(last, words);
    return Fault{"",
                 0,
                 0,
                 "event",
                 '"' + last + '"',
                 all,
                 near.empty() ? "" : "did you mean \"" + near + "\"?"};
  }
  std::optional<Moment> at;
  if (!options.when.empty()) {
    at = parse_moment(options.when);
    if (!at)
      return Fault{"",
                   0,
                   0,
                   "--when",
                   '"' + options.when + '"',
                   "a moment with its zone, such as 2027-03-05T14:20:00+01:00",
                   ""};
  }
  std::vector<Entered> out;
  for (std::size_t i = 0; i + 1 < options.words.size(); ++i)
    out.push_back({options.words[i], *what, at, options.who, options.note, options.photo});
  return out;
}

int record(Daybook& book, const DaybookOptions& options) {
  const auto wanted = entered(options);
  if (!wanted) return refused(wanted.faults(), options.json);
  const auto written = book.record(*wanted, options.even_so);
  if (!written) return refused(written.faults(), options.json);
  if (options.json) {
    print({{"ok", true}, {"events", events_json(*written)}});
    return kDone;
  }
  for (const BlockEvent& e : *written)
    std::cout << e.number << "  " << copy_name(e.block, e.copy) << " " << word(e.what) << ", "
              << moment_text(e.at) << "\n";
  return kDone;
}

int cancel(Daybook& book, const DaybookOptions& options) {
  const auto written = book.cancel(options.number, options.who, options.note, options.even_so);
  if (!written) return refused(written.faults(), options.json);
  if (options.json)
    print({{"ok", true}, {"events", events_json({*written})}});
  else
    std::cout << written->number << "  takes back " << options.number << ", "
              << copy_name(written->block, written->copy) << "\n";
  return kDone;
}

int list_one(const Daybook& book, const DaybookOptions& options) {
  const std::string name = options.block.substr(0, options.block.find('/'));
  std::vector<BlockEvent> of_it;
  for (const BlockEvent& e : book.events())
    if (e.block == name && (name == options.block || copy_name(e.block, e.copy) == options.block))
      of_it.push_back(e);
  const std::vector<std::string> works = works_of(book.plan());
  const bool is_work = std::ranges::find(works, name) != works.end();
  if (of_it.empty() && find_block(book.plan(), name) == nullptr && !is_work)
    return refused({unknown_block(book.plan(), name)}, options.json);
  if (options.json)
    print({{"ok", true}, {"block", options.block}, {"events", events_json(of_it)}});
  else if (of_it.empty())
    std::cout << options.block << ": nothing written yet\n";
  else
    std::cout << events_table(of_it);
  return kDone;
}

int list_all(const Daybook& book, const DaybookOptions& options) {
  const std::vector<CopyLife> all = copies_to_list(book.plan(), book.events());
  if (options.json)
    print({{"ok", true}, {"bridge", book.plan().bridge}, {"blocks", lives_json(book.plan(), all)}});
  else
    std::cout << lives_table(book.plan(), all);
  return kDone;
}

int now(const Daybook& book, const DaybookOptions& options) {
  const NowReport report = what_now(book.plan(), book.events(), now_here());
  if (options.json)
    print(now_json(report));
  else
    std::cout << now_words(book.plan(), report);
  return kDone;
}

int counts(const Daybook& book, const DaybookOptions& options) {
  const BreakCount count = count_broken(book.events());
  if (options.json)
    print({{"ok", true}, {"handled", count.handled}, {"broken", count.broken}});
  else
    std::cout << count.handled << " handled, " << count.broken
              << " of them broken (packed or carried further, or broken before that; copies "
                 "counted singly)\n";
  return kDone;
}

}  // namespace

int daybook_command(const CLI::App& app, const DaybookOptions& options, ProgressLine& line) {
  const CLI::App& asked = *app.get_subcommand("daybook");
  if (asked.got_subcommand("begin")) return begin(options);
  if (asked.got_subcommand("replan")) return daybook_replan(options, line);
  Result<Daybook> book = Daybook::open(options.folder);
  if (!book) return refused(book.faults(), options.json);
  if (asked.got_subcommand("record")) return record(book.value(), options);
  if (asked.got_subcommand("cancel")) return cancel(book.value(), options);
  if (asked.got_subcommand("now")) return now(*book, options);
  if (asked.got_subcommand("counts")) return counts(*book, options);
  return options.block.empty() ? list_all(*book, options) : list_one(*book, options);
}

}  // namespace skewback::cli
