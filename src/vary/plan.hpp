#pragma once
// What is to be varied, and over which runs: read from the file of `vary --over`. docs/vary.md.

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace skewback {

/// One value of one key.
struct VaryValue {
  std::string toml;   // as it goes into the brief: "\"1.4 m\"", "23", "[\"1 m\", \"0 m\"]"
  std::string shown;  // as in tables: 1.4 m
};

/// Drawn anew for every run. Amounts are in `unit`, as written.
struct Spread {
  enum class Kind { kEven, kNormal };
  Kind kind = Kind::kEven;
  double a = 0, b = 0;  // from, to; or middle, deviation
  bool whole = false;   // rounded to a whole number
};

struct Varied {
  std::string key;                // "form.rise", "plan.support[2].level"
  std::string unit;               // as written, shared by all its values; empty: none, or several
  bool measured = false;          // its values are numbers or quantities
  std::vector<VaryValue> values;  // of a list or grid; empty: spread
  std::optional<Spread> spread;
};

enum class How { kGrid, kList, kRandom };

struct FrontRequest {  // two figures that pull against each other
  std::string figure;
  bool more_is_better = true;
};

/// Runs of draws of the building errors (survey/tolerances.hpp) in place of whole runs: run k does
/// draws [k * chunk, (k + 1) * chunk) of the bridge, cut once.
struct DrawsRequest {
  std::uint64_t draws = 0;  // 0: as many as the brief's [tolerances] asks for
  std::uint64_t chunk = 100;
  std::uint64_t proofs = 0;  // the first so many draws are proved as packed
};

struct VaryPlan {
  std::filesystem::path brief_file, over_file;
  std::string brief_text, over_text;
  std::string hash;  // of both texts, the files they name and the version: whose journal it is
  std::vector<Varied> varied;
  How how = How::kGrid;
  std::uint64_t count = 0;           // of random runs
  int seed = 1;                      // of random runs
  std::string until = "stand";       // last stage of a run
  bool depth = true;                 // least depths, moved footings and other states too: slower
  std::vector<std::string> figures;  // paths into the summary; see figure.hpp
  std::string against;               // the figure that varied quantities are drawn against
  std::vector<FrontRequest> front;   // none or two
  std::optional<DrawsRequest> draws;
};

/// Faults: of the file at `over`, all at once, each with line, key, found, expected; of the brief
/// as it stands, if it is not sound.
[[nodiscard]] Result<VaryPlan> read_vary(const std::filesystem::path& brief,
                                         const std::filesystem::path& over,
                                         const std::string& version);

/// Number of whole runs; not for draws.
[[nodiscard]] std::uint64_t runs_of(const VaryPlan& plan);

/// The value of every varied key in run `run`: a function of the plan and the number alone. Grids
/// run through the last key first. Random values by base/random.hpp, one stream a key.
[[nodiscard]] std::vector<VaryValue> values_of(const VaryPlan& plan, std::uint64_t run);

/// The brief's text with these values written at their keys; tables that are not there are made,
/// members of lists are not. The fault has key, found, expected.
[[nodiscard]] Result<std::string> brief_with(const VaryPlan& plan,
                                             const std::vector<VaryValue>& values);

/// Default figures of runs that end with `until`.
[[nodiscard]] std::vector<std::string> usual_figures(const std::string& until);

}  // namespace skewback
