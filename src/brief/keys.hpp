#pragma once
// The one table of keys: the reader, the checker and docs/brief.md are made from it.

#include <cmath>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <variant>

#include "base/constants.hpp"
#include "brief/draft.hpp"

namespace skewback {

enum class Kind {
  kQuantity,  // "45 mm"
  kNumber,    // dimensionless
  kInteger,
  kFlag,  // true or false
  kText,
  kName,   // letters, digits, '-', '_'
  kNames,  // a list of them
  kQuantities,
  kChoice,      // one of `choices`
  kPoint,       // ["1 m", "2 m"]
  kPointOrTwo,  // a point, or a list of two
  kPoint3,
  kPoints,  // a list of points
  kPoints3,
  kLines,  // a list of lists of points
  kLines3
};

/// Where a key's value goes; the alternative fits the kind.
using Slot = std::variant<double*, int*, bool*, std::string*, std::vector<std::string>*,
                          std::vector<double>*, Vec2*, std::optional<Vec2>*, Vec3*,
                          std::vector<Vec2>*, std::vector<Vec3>*, std::vector<std::vector<Vec2>>*,
                          std::vector<std::vector<Vec3>>*>;

inline constexpr double kDegree = kPi / 180;
inline constexpr double kFar = 10e3;  // m; larger coordinates leave the 1 nm grid of plan geometry

struct Range {  // of the value in its SI unit
  static constexpr Range over(double low, double high) { return {low, high, false}; }
  static constexpr Range within(double low, double high) { return {low, high, true}; }

  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool low_included = true;
  [[nodiscard]] bool holds(double v) const {
    constexpr double kRounding = 1e-12;  // of units: "6000 L/min" is 0.1 m3/s
    const double least = low - kRounding * std::abs(low), most = high + kRounding * std::abs(high);
    return (low_included ? v >= least : v > low + kRounding * std::abs(low)) && v <= most;
  }
};

struct Key {
  std::string path;  // "plan.support[].level": one of a list of tables
  Kind kind = Kind::kText;
  std::string unit = {};  // SI, for quantities and points
  bool required = false;
  std::string instead = {};  // what may stand for a key that is needed otherwise: "`file`"
  Range range = {};
  std::vector<std::string> choices = {};
  std::string meaning = {};
  std::string example = {};                                 // as written in TOML
  Slot (*slot)(Draft& draft, std::size_t index) = nullptr;  // index: in the list of tables
};

struct Heading {
  std::string path;  // "plan", "plan.support[]"
  bool required = false;
  std::string meaning = {};
  void (*resize)(Draft& draft, std::size_t count) = nullptr;  // for lists of tables
};

// The parts of the table, by subject. (keys_plan.cpp, keys_design.cpp, keys_site.cpp,
// keys_print.cpp, keys_actions.cpp, keys_strength.cpp, keys_access.cpp, keys_centring.cpp,
// keys_haul.cpp, keys_time.cpp, keys_survey.cpp)
[[nodiscard]] std::vector<Key> bridge_and_plan();
[[nodiscard]] std::vector<Key> shape_and_stuff();
[[nodiscard]] std::vector<Key> loads_on_it();
[[nodiscard]] std::vector<Key> ground_and_ties();
[[nodiscard]] std::vector<Key> making_and_checking();
[[nodiscard]] std::vector<Key> printing();
[[nodiscard]] std::vector<Key> actions_and_factors();
[[nodiscard]] std::vector<Key> strength_and_soil();
[[nodiscard]] std::vector<Key> access_and_price();
[[nodiscard]] std::vector<Key> centring_keys();
[[nodiscard]] std::vector<Key> lifting_and_transport();
[[nodiscard]] std::vector<Key> spares_and_time();
[[nodiscard]] std::vector<Key> survey_and_packing();

[[nodiscard]] const std::vector<Key>& keys();
[[nodiscard]] const std::vector<Heading>& headings();
[[nodiscard]] const Key* find_key(const std::string& path);
[[nodiscard]] const Heading* find_heading(const std::string& path);

/// "support" of "plan.support[]"; "level" of "plan.support[].level".
[[nodiscard]] std::string leaf_of(const std::string& path);
[[nodiscard]] std::string section_of(const std::string& path);

}  // namespace skewback
