#pragma once
// The commands. Each returns the exit code; none computes anything itself.

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace skewback::cli {

class ProgressLine;

inline constexpr int kDone = 0;       // and every required check passes
inline constexpr int kInternal = 1;   // a fault of ours
inline constexpr int kBadInput = 2;   // nothing was written
inline constexpr int kNotPassed = 3;  // it ran; something required fails or is not checked
inline constexpr int kInterrupted = 130;

struct NewOptions {
  std::filesystem::path folder;
  std::string from = "wren-leat";
  bool json = false;
};
struct CheckOptions {
  std::filesystem::path brief;
  bool json = false;
};
struct RunOptions {
  std::filesystem::path brief;
  std::filesystem::path out;                    // empty: out/<bridge name>
  std::vector<std::filesystem::path> daybooks;  // whose counts of broken blocks are taken in
  std::string until;
  int jobs = 0;
  bool json = false;
};
struct StandCommandOptions {
  std::filesystem::path assembly;
  std::filesystem::path out;  // empty: nothing is written
  std::optional<double> cap, friction;
  std::string motion = "when needed";  // the third view: or always, never
  int jobs = 0;
  bool json = false;
};
struct MoveCommandOptions {
  std::filesystem::path input;        // a brief, an assembly file, or the folder of a run
  std::filesystem::path scene;        // empty: nothing but the loads
  std::filesystem::path out;          // empty: nothing is written
  std::vector<std::string> cases;     // ids; empty: all
  std::optional<double> factor;       // over that of the scene
  std::string damping;                // over that of the scene
  bool raise = false;                 // ask for the live load at which blocks move off
  std::vector<std::string> footings;  // ask how far these may go; "all"
  std::optional<int> draws;           // ask for the chance of moving off, by so many
  int jobs = 0;
  bool json = false;
};
struct GentlerCommandOptions {
  std::filesystem::path brief;
  std::filesystem::path out;        // empty: out/<bridge name>-gentler
  std::vector<double> rise_shares;  // of the brief's rise; empty: five from 0.5 to 1.2
  bool no_depth = false;
  int jobs = 0;
  bool json = false;
};
struct VaryCommandOptions {
  std::filesystem::path brief, over;
  std::filesystem::path out;  // empty: out/<bridge name>-vary
  std::string shard;          // "2/4"; empty: all runs
  std::vector<std::filesystem::path> merge;
  bool resume = false;
  int jobs = 0;
  bool json = false;
};
struct RefitCommandOptions {
  std::filesystem::path brief;
  std::filesystem::path survey;     // empty: the brief's own points
  std::filesystem::path blocks_of;  // brief of the bridge whose blocks are used again
  std::filesystem::path daybook;    // of that bridge; empty: all its blocks count as good
  std::vector<std::string> scans;   // "BLOCK=FILE"
  std::string scan_unit;
  std::filesystem::path out;  // empty: out/<bridge name>-refit
  int jobs = 0;
  bool json = false;
};
struct VerifyOptions {
  std::filesystem::path folder;
  bool json = false;
};
struct ServeCommandOptions {
  std::filesystem::path brief, daybook, token_file;
  std::string listen;  // empty: this machine only
  int port = 0;        // 0: any that is free
  int jobs = 0;
};

struct DaybookOptions {
  std::filesystem::path folder, plan, photo;
  std::vector<std::string> words;  // of `record`: blocks, then the event
  std::string block, who, when, note;
  std::int64_t number = 0;  // of the event to cancel
  int draws = 10000, seed = 1;
  bool even_so = false, json = false;
};

[[nodiscard]] int new_command(const NewOptions& options);
[[nodiscard]] int check_command(const CheckOptions& options);
[[nodiscard]] int run_command(const RunOptions& options, ProgressLine& line);
[[nodiscard]] int stand_command(const StandCommandOptions& options, ProgressLine& line);
[[nodiscard]] int move_command(const MoveCommandOptions& options, ProgressLine& line);
[[nodiscard]] int gentler_command(const GentlerCommandOptions& options, ProgressLine& line);
[[nodiscard]] int vary_command(const VaryCommandOptions& options);
[[nodiscard]] int refit_command(const RefitCommandOptions& options, ProgressLine& line);
[[nodiscard]] int verify_command(const VerifyOptions& options);
[[nodiscard]] int serve_command(const ServeCommandOptions& options);

/// `skewback daybook DIR ...`, which has commands of its own.
void add_daybook(CLI::App& app, DaybookOptions& options);
[[nodiscard]] int daybook_command(const CLI::App& app, const DaybookOptions& options,
                                  ProgressLine& line);
[[nodiscard]] int daybook_replan(const DaybookOptions& options, ProgressLine& line);

/// Reads the command line and runs what it asks for.
[[nodiscard]] int main_command(int argc, const char* const* argv);

}  // namespace skewback::cli
