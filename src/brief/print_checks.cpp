#include <algorithm>
#include <set>

#include "brief/checks.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

struct Pair {
  const char *low, *high;  // keys under [print]
  double low_value, high_value;
  const char* unit;
  double shown;  // of one SI unit in that unit
};

void check_pair(Draft& draft, const Pair& pair) {
  if (pair.low_value < pair.high_value) return;
  const std::string low = std::string("print.") + pair.low,
                    high = std::string("print.") + pair.high;
  const std::string unit = std::string(" ") + pair.unit;
  draft.fault(draft.has(low) ? low : high,
              "from " + number(pair.low_value * pair.shown) + unit + " to " +
                  number(pair.high_value * pair.shown) + unit,
              std::string(pair.low) + " less than " + pair.high, "swap them, or widen the range");
}

std::string millimetres(double value_m) { return number(1e3 * value_m) + " mm"; }

void check_bead(Draft& draft) {
  const PrintRequest& print = draft.brief.print;
  const Section& section = draft.brief.section;
  if (draft.has("print.bead") &&
      (print.bead_m < print.bead_min_m || print.bead_m > print.bead_max_m))
    draft.fault("print.bead", millimetres(print.bead_m),
                "between bead_min (" + millimetres(print.bead_min_m) + ") and bead_max (" +
                    millimetres(print.bead_max_m) + ")",
                "change it, or widen the range");
  if (draft.has("print.layer_max") && print.layer_max_m > print.bead_m)
    draft.fault(
        "print.layer_max",
        millimetres(print.layer_max_m) + ", with a bead " + millimetres(print.bead_m) + " wide",
        "layers no thicker than the bead is wide", "thinner layers, or a wider bead");
  if (draft.has("print.overlap") && 2 * print.overlap_m > print.bead_m)
    draft.fault(
        "print.overlap",
        millimetres(print.overlap_m) + ", with a bead " + millimetres(print.bead_m) + " wide",
        "no more than half of the bead", "less overlap, or a wider bead");
  if (!section.hollow || !draft.has("section.hollow")) return;
  const bool bead = draft.has("print.bead") && print.bead_m > section.leaf_m;
  if (!bead && print.bead_min_m <= section.leaf_m) return;
  if (!bead && !draft.has("print.bead_min")) return;  // leaves thinner than any default bead
  draft.fault(bead ? "print.bead" : "print.bead_min",
              "a bead of " + millimetres(bead ? print.bead_m : print.bead_min_m) +
                  " in leaves of " + millimetres(section.leaf_m),
              "a bead no wider than the leaf", "a narrower bead, or a thicker section.leaf");
}

/// A block stands round the middle of the table: if the wrist above that is beyond reach when the
/// nozzle touches the table, some of the first layer is.
void check_robot(Draft& draft) {
  const PrintRequest& print = draft.brief.print;
  const double up = print.nozzle_length_m + print.wrist_length_m;
  const double far = (Vec3(0, 0, up) - print.robot).norm();
  if (far <= print.reach_max_m) return;
  draft.fault(draft.has("print.robot") ? "print.robot" : "print.reach_max",
              "a wrist " + metres(far) +
                  " from the centre of reach when the nozzle stands on the "
                  "middle of the table",
              "at most reach_max (" + metres(print.reach_max_m) + ")",
              "stand the robot nearer, or give the reach it has");
}

/// A flow that no bead within its limits can take at any speed within its own.
void check_flow(Draft& draft) {
  const PrintRequest& print = draft.brief.print;
  const double slowest = print.flow_m3_s / (print.bead_max_m * print.layer_max_m),
               fastest = print.flow_m3_s / (print.bead_min_m * print.layer_min_m);
  const bool too_much = slowest > print.speed_max_m_s, too_little = fastest < print.speed_min_m_s;
  if (!too_much && !too_little) return;
  draft.fault(draft.has("print.flow") ? "print.flow" : "print.speed_max",
              number(print.flow_m3_s * 6e4) + " L/min, which lays the " +
                  (too_much ? "thickest" : "thinnest") + " bead at " +
                  number(1e3 * (too_much ? slowest : fastest)) + " mm/s",
              too_much ? "no more than speed_max" : "no less than speed_min",
              too_much ? "less flow, or a faster nozzle" : "more flow, or a slower nozzle");
}

void check_otherwise(Draft& draft) {
  const std::vector<std::string>& ways = draft.brief.print.otherwise;
  const std::set<std::string> known = {"divide", "flat", "cast"};
  std::set<std::string> seen;
  const bool sound = !ways.empty() && std::ranges::all_of(ways, [&](const std::string& way) {
    return known.contains(way) && seen.insert(way).second;
  });
  if (sound) return;
  std::string found;
  for (const std::string& way : ways) found += (found.empty() ? "" : ", ") + in_quotes(way);
  draft.fault("print.otherwise", ways.empty() ? "an empty list" : found,
              "one or more of \"divide\", \"flat\", \"cast\", each once",
              "write otherwise = [\"flat\", \"cast\"]");
}

}  // namespace

void check_print(Draft& draft) {
  const PrintRequest& p = draft.brief.print;
  draft.brief.print.wanted = draft.spots.contains("print");
  const auto sound = [&](const char* key) {
    return !draft.spots.contains(std::string("print.") + key) ||
           draft.has(std::string("print.") + key);
  };
  const Pair pairs[] = {
      {"layer_min", "layer_max", p.layer_min_m, p.layer_max_m, "mm", 1e3},
      {"bead_min", "bead_max", p.bead_min_m, p.bead_max_m, "mm", 1e3},
      {"speed_min", "speed_max", p.speed_min_m_s, p.speed_max_m_s, "mm/s", 1e3},
      {"layer_time_min", "layer_time_max", p.layer_time_min_s, p.layer_time_max_s, "s", 1},
      {"reach_min", "reach_max", p.reach_min_m, p.reach_max_m, "m", 1},
      {"nozzle", "wrist", p.nozzle_m, p.wrist_m, "mm", 1e3},
  };
  bool all = true;
  for (const Pair& pair : pairs) {
    if (!sound(pair.low) || !sound(pair.high)) continue;
    check_pair(draft, pair);
    all = all && pair.low_value < pair.high_value;
  }
  check_bead(draft);
  if (all && sound("flow")) check_flow(draft);
  if (all && sound("robot") && sound("nozzle_length") && sound("wrist_length") &&
      draft.brief.print.wanted)
    check_robot(draft);
  check_otherwise(draft);
}

}  // namespace skewback
