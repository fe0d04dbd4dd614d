#pragma once
// A brief on its way in: what was written, where, and what is wrong with it so far.

#include <map>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "brief/by_key.hpp"

namespace skewback {

struct Spot {  // 1-based; 0: unknown
  int line = 0, column = 0;
  std::string file = {}, element = {};  // where the brief took it from; empty: the brief itself
};

struct SupportDraft {
  std::string id;
  std::vector<Vec2> ends;
  std::optional<Vec2> at;  // a corner, cut off by a springing line `width_m` wide
  double width_m = 0;
  std::vector<Vec2> between;  // two points, the outline between them straight or bowed outward
  double level_m = 0;
  double bow_m = 0;  // of that stretch, where it is more than a drawn line's wiggle
};

struct RoundOpening {
  Vec2 centre = Vec2::Zero();
  double diameter_m = 0;
};

struct CeilingDraft {
  std::string support;
  double most_n = 0;
};

struct TieDraft {
  std::string from, to;
  Tie tie;
};

/// The keys' values as written. `brief` holds what needs no further work.
struct Draft {
  Brief brief;
  std::string plan_file, plan_file_unit;
  std::vector<Vec2> outline;
  std::vector<std::size_t> outline_numbers;  // of its corners as written; new ones: the largest
  std::string free_edges = "smooth";
  std::vector<Vec2> meetings;
  std::vector<std::vector<Vec2>> openings;
  std::vector<RoundOpening> round_openings;
  std::vector<SupportDraft> supports;
  std::vector<CeilingDraft> thrusts;
  std::vector<std::string> working;  // supports with working parapets
  std::string target, target_unit;
  std::vector<TieDraft> ties;
  std::string soil_kind = "unknown";
  std::string tie_lines = "as drawn";
  SurveyRequest survey;
  std::string survey_file;

  std::map<std::string, Spot> spots;  // of every key read: "plan.outline[3]"; and of every section
  std::map<std::string, bool> sound;  // per key read: whether its value could be taken
  Faults faults;

  /// Faults carry the spot of `key`, or of the nearest thing that encloses it.
  void fault(const std::string& key, const std::string& found, const std::string& expected,
             const std::string& change);
  /// Of a file that `key` names: those with no line in it are told at the key.
  void take_faults_of(const std::string& key, const Faults& of_file);
  [[nodiscard]] bool has(const std::string& key) const;  // was read, and its value is sound
  /// Was written, and its value is a fault already: what else depends on it is not judged.
  [[nodiscard]] bool spoilt(const std::string& key) const;
  [[nodiscard]] Spot spot(const std::string& key) const;
};

/// Faults in the plan are added to the draft; without any, fills draft.brief.plan. (plan.cpp)
void settle_plan(Draft& draft);

/// The file named by plan.file is read into the draft; false if that brought a fault.
/// (plan_file.cpp)
bool take_plan_file(Draft& draft);
[[nodiscard]] std::filesystem::path beside_brief(const Draft& draft, const std::string& written);

/// Gives every support its `ends`; cuts the outline where one is given by a corner or along a
/// curve. False if one is left without. (supports.cpp)
bool settle_ends(Draft& draft, bool outline_good);

/// Holes through the plan, whose outline is settled. (openings.cpp)
void settle_openings(Draft& draft);

/// What the fit is to come close to, in a plan that is settled. (wishes.cpp)
void settle_wishes(Draft& draft);

/// Walking lines and surface, parapets. (walkway.cpp)
void settle_walkway(Draft& draft);
void settle_parapet(Draft& draft);

/// Faults between keys other than the plan's own; defaults that depend on the plan. (checks.cpp)
void settle_rest(Draft& draft);

/// What the text says and all that is wrong with it; a fault only if it is no TOML. (reader.cpp)
[[nodiscard]] Result<Draft> read_draft(const std::string& text, const std::filesystem::path& file);

/// Limits of the printer that leave nothing between them. (print_checks.cpp)
void check_print(Draft& draft);

/// Centring, lifting, transport, spares, programme: what does not go together. (site_checks.cpp)
void check_site(Draft& draft);

/// Measured points, packers, tolerances. (survey_checks.cpp)
void settle_survey(Draft& draft);

}  // namespace skewback
