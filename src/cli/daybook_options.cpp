#include <CLI/CLI.hpp>
#include <memory>

#include "cli/commands.hpp"
#include "daybook/life.hpp"

namespace skewback::cli {
namespace {

CLI::App* add(CLI::App& daybook, DaybookOptions& options, const char* name, const char* about) {
  CLI::App* c = daybook.add_subcommand(name, about);
  c->add_flag("--json", options.json, "print what was found as JSON on stdout");
  return c;
}

void add_writing(CLI::App& c, DaybookOptions& options) {
  c.add_option("--who", options.who, "who says so");
  c.add_option("--note", options.note, "in words");
  c.add_flag("--even-so", options.even_so,
             "write it although steps before it are missing; broken blocks stay broken");
}

/// "BLOCK... EVENT" says how many by itself.
class NamesAsTheyAre : public CLI::Formatter {
 public:
  std::string make_option_usage(const CLI::Option* option) const override {
    return make_option_name(option, true);
  }
};

std::string record_help() {
  std::string text = "blocks (\"o4\"; \"o4/2\" is its second copy), then what happened:";
  for (const std::string& word : words_to_record()) text += " " + word;
  return text;
}

}  // namespace

void add_daybook(CLI::App& app, DaybookOptions& options) {
  CLI::App* daybook =
      app.add_subcommand("daybook", "write down and ask what happened to each block");
  daybook->add_option("DIR", options.folder, "folder of the daybook; not a folder of results")
      ->required();
  daybook->require_subcommand(1);

  CLI::App* c = add(*daybook, options, "begin", "make a daybook, or give it a new plan");
  c->add_option("--plan", options.plan, "erect/plan.json of a run")->required();
  c->add_flag("--even-so", options.even_so,
              "although blocks of another shape are written of already");

  c = add(*daybook, options, "record", "write down an event, of one block or of several");
  c->formatter(std::make_shared<NamesAsTheyAre>());
  c->add_option("BLOCK... EVENT", options.words, record_help())
      ->required()
      ->expected(2, 10000)
      ->option_text(" ")
      ->type_name("");
  add_writing(*c, options);
  c->add_option("--when", options.when, "such as 2027-03-05T14:20:00+01:00 (default: now)");
  c->add_option("--photo", options.photo, "copied into DIR/photos/");

  c = add(*daybook, options, "cancel", "take an event back; both stay written");
  c->add_option("NUMBER", options.number, "of the event, as `list BLOCK` shows it")->required();
  add_writing(*c, options);

  c = add(*daybook, options, "list", "where each block is; or all that was written of one");
  c->add_option("BLOCK", options.block, "one block, or a piece of work");

  add(*daybook, options, "now", "what can be placed now, and what is holding the work up");

  c = add(*daybook, options, "replan", "when the rest will be done, drawn many times");
  c->add_option("--draws", options.draws, "how many times")
      ->check(CLI::Range(100, 10000000))
      ->capture_default_str();
  c->add_option("--seed", options.seed, "of the random numbers")
      ->check(CLI::Range(0, 2147483647))
      ->capture_default_str();

  add(*daybook, options, "counts", "blocks handled and broken, for [spares] of the brief");
}

}  // namespace skewback::cli
