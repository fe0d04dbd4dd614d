#include <CLI/CLI.hpp>
#include <cmath>
#include <iostream>

#include "cli/cmd_depths.hpp"
#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/starters.hpp"
#include "vary/ranks.hpp"
#include "works/works.hpp"

namespace skewback::cli {
namespace {

const char* const kAbout =
    "skewback: designs footbridges and vaults of dry-jointed, unreinforced blocks.\n"
    "From a brief (plan, supports, rise, blocks, loads) it finds a shape that only pushes, cuts "
    "it\n"
    "into blocks, proves load case by load case whether they stand, sizes the ties between the\n"
    "footings, works out the building order, and writes drawings, schedules and a report.\n"
    "\n"
    "In this order:\n"
    "  skewback new mybridge                      a brief to start from, with every number in it\n"
    "  (edit mybridge/brief.toml; `skewback --keys` explains each key)\n"
    "  skewback check mybridge/brief.toml         every fault in it at once, with line and remedy\n"
    "  skewback run mybridge/brief.toml           all stages; results in out/<bridge name>/\n"
    "  skewback verify out/<bridge name>          the evidence, checked again by separate code\n"
    "  skewback move out/<bridge name>            the blocks let go in time, load case by load "
    "case\n"
    "  skewback serve mybridge/brief.toml         the same on a page: see, change, question\n"
    "  skewback refit mybridge/brief.toml --survey points.csv\n"
    "                                             packers, feet and proofs on what was measured\n"
    "  skewback daybook site begin --plan out/<bridge name>/erect/plan.json\n"
    "                                             then what happened to each block";

const char* const kFooter =
    "\nExit codes\n"
    "  0    done; every required check passes (refit: that of the bridge as built)\n"
    "  1    a fault of the program itself\n"
    "  2    bad input or usage; nothing was written\n"
    "  3    it ran, and a required check fails or is not checked (stand: a case does not stand;\n"
    "       move: a case moves off or is not settled; verify: a claim is not true)\n"
    "  130  interrupted; nothing half-written is left (vary: the journal is kept; serve: Ctrl-C "
    "is\n"
    "       how it ends, with 0)\n"
    "\n"
    "Cautions\n"
    "  A design aid. Results depend on the brief. The licensed engineer of the place and the "
    "local\n"
    "  code decide. No partial factor is implied by silence. Never stand under centring, or "
    "strike\n"
    "  it, on this program's word alone; lifting plans belong to a competent person.\n"
    "\n"
    "More on a command: skewback COMMAND --help";

struct Options {
  NewOptions fresh;
  CheckOptions check;
  RunOptions run;
  StandCommandOptions stand;
  MoveCommandOptions move;
  GentlerCommandOptions gentler;
  DepthsCommandOptions depths;
  VaryCommandOptions vary;
  RefitCommandOptions refit;
  VerifyOptions verify;
  ServeCommandOptions serve;
  DaybookOptions daybook;
};

void json_flag(CLI::App& command, bool& json) {
  command.add_flag("--json", json, "print what was found as JSON on stdout");
}

void add_new(CLI::App& app, NewOptions& options) {
  std::vector<std::string> names;
  for (const Starter& s : starters()) names.push_back(s.name);
  CLI::App* c = app.add_subcommand("new", "write a starter brief that runs as it is");
  c->add_option("DIR", options.folder,
                "folder for it; made if need be; a brief there is never overwritten")
      ->required();
  c->add_option("--from", options.from, "which brief to start from")
      ->check(CLI::IsMember(names))
      ->capture_default_str();
  json_flag(*c, options.json);
}

void add_check(CLI::App& app, CheckOptions& options) {
  CLI::App* c = app.add_subcommand("check", "read a brief and report every fault at once");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file")->required();
  json_flag(*c, options.json);
}

/// CLI::Range lets "nan" pass, whatever its ends.
void refuse_nan(CLI::App& app) {
  const CLI::Validator finite(
      [](const std::string& word) {
        double value = 0;
        return CLI::detail::lexical_cast(word, value) && !std::isfinite(value)
                   ? "found " + word + "; expected a finite number"
                   : std::string();
      },
      "");
  for (CLI::Option* option : app.get_options())
    if (option->get_type_name().rfind("FLOAT", 0) == 0) option->check(finite);
  for (CLI::App* command : app.get_subcommands({})) refuse_nan(*command);
}

void add_run(CLI::App& app, RunOptions& options) {
  CLI::App* c = app.add_subcommand("run", "run the stages and write the results");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file")->required();
  c->add_option(
      "--out", options.out,
      "folder for the results; the folder of an earlier run is replaced, any other that is not "
      "empty is refused (default: out/<bridge name>)");
  c->add_option("--daybook", options.daybooks,
                "folder of a daybook, of this job or an earlier one: what broke there moves the "
                "brief's share of broken blocks (may be given several times)");
  c->add_option("--until", options.until, "last stage to run")->check(CLI::IsMember(stage_names()));
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_stand(CLI::App& app, StandCommandOptions& options) {
  CLI::App* c = app.add_subcommand("stand", "prove whether any given set of blocks stands");
  c->add_option("ASSEMBLY", options.assembly,
                "blocks, joints and load cases, a JSON file (docs/assembly.md)")
      ->required();
  c->add_option("--cap", options.cap, "seek load factors up to this")->check(CLI::Range(1.0, 1e6));
  c->add_option("--friction", options.friction,
                "coefficient for every joint, in place of the file's")
      ->check(CLI::Range(0.0, 10.0));
  c->add_option(
       "--motion", options.motion,
       "let the blocks go in time as a third view: always, never, or \"when needed\", where "
       "the others differ or slip takes part")
      ->check(CLI::IsMember({"when needed", "always", "never"}))
      ->capture_default_str();
  c->add_option("--out", options.out, "folder for the evidence, which `skewback verify` reads");
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_move(CLI::App& app, MoveCommandOptions& options) {
  CLI::App* c = app.add_subcommand(
      "move", "let the blocks go in time: do they come to rest or move off, and what happens when");
  c->add_option("BLOCKS", options.input,
                "a brief (TOML), an assembly file (JSON), or the folder of a run")
      ->required();
  c->add_option("--scene", options.scene,
                "what happens meanwhile, a TOML file: ground that moves, blocks taken away, loads "
                "dropped, shaking (docs/motion.md)");
  c->add_option("--case", options.cases, "only this load case; may be given again (default: all)")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  c->add_option("--factor", options.factor, "on the live load of the case, over the scene's")
      ->check(CLI::Range(0.0, 1e6));
  c->add_option("--damping", options.damping, "settling, rocking or none, over the scene's")
      ->check(CLI::IsMember({"settling", "rocking", "none"}));
  c->add_flag("--raise", options.raise,
              "raise the live load from rest to rest until blocks move off");
  c->add_option("--footing", options.footings,
                "how far this footing may go until blocks move off (a support, or all); may be "
                "given again")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  c->add_option("--draws", options.draws,
                "so many bridges with friction, stiffness and gaps of joints at random: the chance "
                "that blocks move off")
      ->check(CLI::Range(1, 1000000));
  c->add_option("--out", options.out, "folder for the recorded motions and a picture of each");
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_gentler(CLI::App& app, GentlerCommandOptions& options) {
  CLI::App* c = app.add_subcommand(
      "gentler", "what a gentler deck costs: several rises, three ways to carry the deck");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file")->required();
  c->add_option("--out", options.out,
                "folder for gentler.svg, gentler.csv and gentler.json (default: out/<bridge "
                "name>-gentler)");
  c->add_option("--rises", options.rise_shares,
                "rises to try, as shares of the brief's (default: 0.5 0.675 0.85 1 1.2)")
      ->check(CLI::Range(0.05, 5.0));
  c->add_flag("--no-depth", options.no_depth, "do not look for the depth each needs: faster");
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_depths(CLI::App& app, DepthsCommandOptions& options) {
  CLI::App* c = app.add_subcommand(
      "depths", "the depth of the blocks from the thrust: crown and springing, found and proved");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file; its depths are where it begins")
      ->required();
  c->add_option("--least", options.least,
                "never less deep, e.g. \"180 mm\" (default: two leaves and 60 mm, or 60 mm of "
                "solid stone)");
  c->add_option("--greatest", options.greatest,
                "never deeper (default: twice the greater depth of the brief)");
  c->add_option("--reserve", options.reserve,
                "over the depth that the patterns need at required.live_factor (default: 1.15)")
      ->check(CLI::Range(1.0, 5.0));
  c->add_option("--save", options.save,
                "write the brief with these depths to a file that is not there yet");
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_vary(CLI::App& app, VaryCommandOptions& options) {
  CLI::App* c = app.add_subcommand(
      "vary",
      std::string("many runs of one brief with some of its quantities varied, or of building "
                  "errors; built ") +
          (built_with_mpi() ? "with" : "without") + " MPI");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file")->required();
  c->add_option("--over", options.over, "what is varied, a TOML file (docs/vary.md)")->required();
  c->add_option("--out", options.out,
                "folder for the journal, results.csv and plots (default: out/<bridge name>-vary)");
  c->add_option("--shard", options.shard,
                "K/N: only every N-th run, from the K-th on; --merge joins the parts");
  c->add_flag("--resume", options.resume, "go on with the journal that an earlier call left");
  c->add_option("--merge", options.merge,
                "folders with journals of parts: run nothing, join them and write the results");
  c->add_option("--jobs", options.jobs,
                "runs at once, and threads (default: all cores; one a process under MPI)")
      ->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_refit(CLI::App& app, RefitCommandOptions& options) {
  CLI::App* c = app.add_subcommand(
      "refit", "what puts the bridge right on the footings and blocks as they were measured");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file")->required();
  c->add_option(
      "--survey", options.survey,
      "measured points, a CSV file: setting-out/marks.csv of a run with what was measured "
      "in place of what is drawn, the left, right and back of every support at least "
      "(docs/survey.md); in place of all points of the brief, the default");
  c->add_option(
      "--scan", options.scans,
      "BLOCK=FILE: a scanned mesh (.ply, .obj, .stl) to lay on that block; may come again");
  c->add_option("--scan-unit", options.scan_unit, "unit of the scans' coordinates")
      ->check(CLI::IsMember({"mm", "cm", "m", "in", "ft"}));
  CLI::Option* again = c->add_option("--blocks-of", options.blocks_of,
                                     "brief of a bridge that was taken down: a whole run with its "
                                     "blocks, on the footings of BRIEF");
  c->add_option("--daybook", options.daybook,
                "folder of that bridge's daybook: which of its blocks are good, which are to be "
                "made anew (default: all are good)")
      ->needs(again);
  c->add_option("--out", options.out, "folder for the results (default: out/<bridge name>-refit)");
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
  json_flag(*c, options.json);
}

void add_verify(CLI::App& app, VerifyOptions& options) {
  CLI::App* c =
      app.add_subcommand("verify", "check all evidence in a folder of results with separate code");
  c->add_option("DIR", options.folder, "a folder that `run` or `stand --out` wrote")->required();
  json_flag(*c, options.json);
}

void add_serve(CLI::App& app, ServeCommandOptions& options) {
  CLI::App* c = app.add_subcommand(
      "serve", "open a page on this machine that shows the bridge; Ctrl-C ends it");
  c->add_option("BRIEF", options.brief, "the brief, a TOML file; never written over")->required();
  c->add_option("--port", options.port, "port (default: any that is free)")
      ->check(CLI::Range(1, 65535));
  CLI::Option* listen = c->add_option(
      "--listen", options.listen,
      "address to answer on, for phones on site (default: this machine only); needs --token-file");
  CLI::Option* token =
      c->add_option("--token-file", options.token_file,
                    "file with the token that others need: 16 to 200 letters, figures, '-', '_'");
  listen->needs(token);
  c->add_option("--daybook", options.daybook,
                "folder of the daybook to show and write (skewback daybook DIR begin)");
  c->add_option("--jobs", options.jobs, "threads (default: all cores)")->check(CLI::Range(1, 1024));
}

int dispatch(const CLI::App& app, const Options& options) {
  if (app.got_subcommand("new")) return new_command(options.fresh);
  if (app.got_subcommand("check")) return check_command(options.check);
  if (app.got_subcommand("verify")) return verify_command(options.verify);
  ProgressLine line;
  if (app.got_subcommand("daybook")) return daybook_command(app, options.daybook, line);
  catch_interrupts();
  if (app.got_subcommand("run")) return run_command(options.run, line);
  if (app.got_subcommand("serve")) return serve_command(options.serve);
  if (app.got_subcommand("vary")) return vary_command(options.vary);
  if (app.got_subcommand("refit")) return refit_command(options.refit, line);
  if (app.got_subcommand("move")) return move_command(options.move, line);
  if (app.got_subcommand("gentler")) return gentler_command(options.gentler, line);
  if (app.got_subcommand("depths")) return depths_command(options.depths, line);
  return stand_command(options.stand, line);
}

}  // namespace

int main_command(int argc, const char* const* argv) {
  Options options;
  CLI::App app(kAbout, "skewback");
  app.require_subcommand(1);
  app.set_version_flag("--version", "skewback " SKEWBACK_VERSION);
  app.add_flag_callback(
      "--keys",
      [] {
        std::cout << brief_reference();
        throw CLI::Success();
      },
      "explain every key of a brief, and exit");
  add_new(app, options.fresh);
  add_check(app, options.check);
  add_run(app, options.run);
  add_stand(app, options.stand);
  add_move(app, options.move);
  add_gentler(app, options.gentler);
  add_depths(app, options.depths);
  add_vary(app, options.vary);
  add_refit(app, options.refit);
  add_verify(app, options.verify);
  add_serve(app, options.serve);
  add_daybook(app, options.daybook);
  refuse_nan(app);
  app.footer(kFooter);  // last, or every command repeats it
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? kDone : kBadInput;
  }
  try {
    return dispatch(app, options);
  } catch (const Interrupted&) {
    std::cerr << "interrupted; nothing was written\n";
    return kInterrupted;
  } catch (const std::exception& error) {
    std::cerr << "internal fault: " << error.what() << "\n";
    return kInternal;
  }
}

}  // namespace skewback::cli
