#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/constants.hpp"
#include "deliver/report.hpp"
#include "deliver/report_haul.hpp"
#include "deliver/sheet_stages.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string kn(double newton) { return fixed(newton / 1000, 2); }
std::string mm(double metre) { return fixed(metre * 1000, 1); }

std::string building_words(const Brief& brief) {
  const Loads& loads = brief.loads;
  std::vector<std::string> words;
  if (loads.working_people_pa > 0)
    words.push_back(fixed(loads.working_people_pa / 1e3, 2) +
                    " kPa of people with hand tools, everywhere and on the halves");
  if (loads.working_wind_m_s > 0)
    words.push_back("a gust of " + fixed(loads.working_wind_m_s, 1) + " m/s from four sides");
  if (words.empty()) return "no other load";
  return joined(words, ", and ") + ", each times " + fixed(brief.factors.other, 2) +
         (loads.working_wind_m_s > 0 ? "" : "; no wind was asked for");
}

bool failing(const Centring& centring) {
  return std::ranges::any_of(centring.checks,
                             [](const CentringCheck& c) { return c.utilisation > 1; });
}

std::optional<Colour> tint_of(const Stage& stage) {
  return verdict_tint(stage.working && stage.proof.verdict == Verdict::kStands
                          ? stage.working->verdict
                          : stage.proof.verdict);
}

std::string first_words(const std::string& text, std::size_t most) {
  if (text.size() <= most) return text;
  return text.substr(0, text.rfind(' ', most)) + " ...";
}

std::vector<const Stage*> of(const Programme& programme, const std::set<std::string>& what) {
  std::vector<const Stage*> stages;
  for (const Stage& stage : programme.stages) {
    if (what.contains(stage.what)) stages.push_back(&stage);
  }
  return stages;
}

void add_table(Pages& pages, const std::vector<const Stage*>& stages, bool with_seats) {
  std::vector<Row> rows;
  for (const Stage* s : stages) {
    const std::string raised = s->what == "raise" && s->lowered_m < 0
                                   ? ", by " + fixed(-1e3 * s->lowered_m, 2) + " mm"
                                   : "";
    Row row{{std::to_string(s->step), s->what, first_words(s->words, 60) + raised,
             verdict_words(s->proof), s->working ? word(s->working->verdict) : "",
             s->working ? first_words(s->working->governing, 60) : ""},
            tint_of(*s)};
    if (with_seats) {
      for (const std::string& cell : {kn(s->seat_force_max_n), fixed(s->seat_load_n / 1e3, 1),
                                      fixed(s->seat_uneven_n / 1e3, 1)})
        row.cells.push_back(cell);
    }
    rows.push_back(std::move(row));
  }
  std::vector<Column> columns{{"step", 0.65, true},   {"", 0.8},
                              {"what", 2.4},          {"weight alone", 1},
                              {"people and wind", 1}, {"nearest to failing", 2.2}};
  if (with_seats) {
    columns.push_back({"most on a seat (kN)", 0.9, true});
    columns.push_back({"all seats (kN)", 0.8, true});
    columns.push_back({"legs differ (kN)", 0.8, true});
  }
  pages.table(columns, rows);
}

void add_entries(Pages& pages, const Dossier& dossier) {
  const Entry* tightest = nullptr;
  for (const Stage& stage : dossier.programme->stages) {
    for (const Entry& entry : stage.entry) {
      if (tightest == nullptr || entry.margin < tightest->margin) tightest = &entry;
      if (entry.margin < -kSlides)
        pages.bullet("Cannot be put in: " + stuck_words(dossier.cut->assembly, entry) + ".");
    }
  }
  if (tightest == nullptr || tightest->margin < -kSlides) return;
  pages.paragraph(
      "Every block has a straight way into its place past those already there. The tightest is " +
      dossier.cut->assembly.blocks[static_cast<std::size_t>(tightest->block)].id +
      ": its way and its joints are " +
      fixed(std::asin(std::clamp(tightest->margin, 0.0, 1.0)) * 180 / kPi, 1) + " degrees apart.");
}

void add_orders(Pages& pages, const Programme& programme) {
  if (programme.orders.empty()) return;
  pages.keep(30);
  pages.subheading("One order against the other");
  std::vector<Row> rows;
  for (const OrderTrial& trial : programme.orders) {
    rows.push_back(
        {{trial.order, std::to_string(trial.standing) + " of " + std::to_string(trial.stages),
          kn(trial.seat_force_max_n), fixed(trial.seat_load_max_n / 1e3, 1),
          fixed(trial.seat_uneven_max_n / 1e3, 1), fixed(trial.seat_sideways_max_n / 1e3, 1)},
         {}});
  }
  pages.table({{"order (the first is used)", 1.6},
               {"placing steps that stand", 1.3, true},
               {"most on a seat (kN)", 1, true},
               {"all seats (kN)", 1, true},
               {"legs differ (kN)", 1, true},
               {"pushed sideways (kN)", 1, true}},
              rows);
}

std::string as_packed_words(const Dossier& dossier) {
  if (!dossier.refit || !(dossier.refit->gaps.drop_m > 5e-5)) return "";
  return " These are the bridge's as drawn. As packed on the footings found, gaps close while it "
         "is struck and the crown may drop by " +
         mm(dossier.refit->gaps.drop_m) +
         " mm more (see As built): add them to every stop limit for the crown.";
}

void add_lowering(Pages& pages, const Dossier& dossier) {
  const Programme& programme = *dossier.programme;
  const auto stages = of(programme, {"lower", "clear"});
  if (stages.empty()) return;
  pages.keep(60);
  pages.subheading("Lowering the centring");
  pages.paragraph(
      std::string(dossier.centring
                      ? "Feet row by row from the crown, every foot of a row by the same step, "
                        "round after round; ribs are taken as straight between their feet. "
                      : "Seats from the crown outwards, one step for each course in turn, round "
                        "after round: no centring is drawn. ") +
      std::string(programme.freed
                      ? "The bridge is free when the rows reached last are down by " +
                            mm(programme.lowering_m) + " mm" +
                            (dossier.centring ? ", timber taken as stiff: how many steps it takes "
                                                "for ribs that spring back is said under Centring."
                                              : ".")
                      : "By this reckoning the bridge does NOT come free: do not lower it.") +
      " Read crown, joints and rods after every step. Stop, and ask, when a reading passes its "
      "limit, or moves while nobody touches anything.");
  std::vector<Row> rows;
  for (const Stage* s : stages) {
    const StopLimits stop = stop_limits(programme, static_cast<std::size_t>(s->step - 1));
    rows.push_back(
        {{std::to_string(s->step), s->words, s->what == "clear" ? "" : mm(s->lowered_m),
          verdict_words(s->proof), fixed(s->seat_load_n / 1e3, 1), mm(s->crown_drop_m),
          mm(stop.crown_drop_m), fixed(1e3 * s->opening_max_m, 2), fixed(1e3 * stop.opening_m, 2),
          s->tie_n > 0 ? (s->tie_about ? "about " : "") + fixed(s->tie_n / 1e3, 1) : "",
          stop.tie_n > 0 ? fixed(stop.tie_n / 1e3, 1) : ""},
         verdict_tint(s->proof.verdict)});
  }
  pages.table({{"step", 0.65, true},
               {"what", 2.4},
               {"lowered to (mm)", 0.8, true},
               {"", 0.8},
               {"on seats (kN)", 0.7, true},
               {"crown drops (mm)", 0.8, true},
               {"stop at", 0.6, true},
               {"joint opens (mm)", 0.8, true},
               {"stop at", 0.6, true},
               {"rod (kN)", 0.6, true},
               {"stop at", 0.6, true}},
              rows);
  pages.paragraph(
      "Stop limits: a quarter and 1 mm more than the crown is expected to drop, 0.5 mm more than a "
      "joint is expected to open, 15 % more than a rod is expected to pull. These margins are a "
      "proposal of ours without a source; the engineer sets them. They assume feet that stay where "
      "they are: rods drawn up, before the first lowering, to what they then pull, else the crown "
      "drops further by what the rods stretch (see Ground and ties). \"About\": rods alone do not "
      "hold the feet then, something else (centring, ground) takes a part; those that come "
      "nearest." +
      as_packed_words(dossier));
  if (const std::string words = lowering_words(dossier.brief.centring, stages); !words.empty())
    pages.paragraph(words);
}

}  // namespace

std::string lowering_words(const CentringRequest& ask, const std::vector<const Stage*>& stages) {
  constexpr double kByEye = 0.5e-3, kTold = 0.05e-3;  // m, ours
  std::string words;
  for (std::size_t k = 1; k < stages.size(); ++k) {
    const double up = stages[k - 1]->crown_drop_m - stages[k]->crown_drop_m;
    if (up < kTold) continue;
    words += "In step " + std::to_string(stages[k]->step) + " the crown comes up again by " +
             fixed(1e3 * up, 1) + " mm, as the haunches go down: that is expected. ";
  }
  if (ask.strike_step_m < kByEye - 1e-9)
    words += "Steps of " + fixed(1e3 * ask.strike_step_m, 1) + " mm are finer than " +
             (ask.feet == "jacks" ? "a screw is turned" : "wedges are driven") +
             " by eye: set every foot of a row by a gauge at its head.";
  return words;
}

namespace {

void add_uneven(Pages& pages, const UnevenStriking& uneven) {
  if (uneven.steps.empty()) return;
  pages.keep(40);
  pages.subheading("Striking that goes unevenly");
  pages.paragraph(
      "In every step, each foot of the row by itself a step ahead while the others still stand, "
      "and a step behind when the others have gone, as one that hangs up: " +
      std::to_string(uneven.standing) + " of " + counted(uneven.steps.size(), "such state") +
      " stand, as the stages do. Where the state that loads a foot most is too much for the "
      "centring "
      "is said below. Two feet out of step at once, or one by more than a "
      "step, are not in it.");
  for (const std::string& words : uneven.words) pages.bullet(words);
}

void add_watch(Pages& pages, const Dossier& dossier) {
  pages.keep(50);
  pages.subheading("What to look for, and where nobody stands");
  for (const std::string& line : watch_words(dossier)) pages.bullet(line);
}

void add_taking_down(Pages& pages, const Programme& programme) {
  const auto stages = of(programme, {"unload", "raise", "take down"});
  if (stages.empty()) return;
  pages.keep(60);
  pages.subheading("Taking down, for blocks that are used again");
  pages.paragraph(
      "The centring is brought back and raised by " + fixed(1e3 * programme.raising_m, 2) +
      " mm. Friction can then hold the first block to go by up to " + kn(programme.key_pull_n) +
      " kN" +
      (programme.keys_free ? ", less than half its weight." : ": it must be jacked or drawn out.") +
      " Steps of raising are the reckoning's: on site, slowly, all feet alike. Blocks go in the "
      "opposite order.");
  add_table(pages, stages, true);
}

/// `let_go(stage)`: the stage (index) whose motion stands for it, or -1; `motion(stage)`: its own.
template <class LetGo, class MotionOf>
std::string ended_words(const Programme& programme, const std::string& under, const LetGo& let_go,
                        const MotionOf& motion) {
  std::map<Ending, int> ended;
  int covered = 0;
  for (const Stage& stage : programme.stages) {
    const int first = let_go(stage);
    if (first < 0) continue;
    ++covered;
    if (const auto& m = motion(programme.stages[static_cast<std::size_t>(first)]))
      ++ended[m->ending];
  }
  if (covered == 0) return "";
  std::vector<std::string> ways;
  for (const auto& [ending, count] : ended)
    ways.push_back(std::to_string(count) + " " + word(ending));
  return " Let go in time under " + under + ": " +
         counted(static_cast<std::size_t>(covered), "stage") + "; " + joined(ways, ", ") + ".";
}

std::string let_go_words(const Programme& programme) {
  static const std::optional<Motion> kNone;
  return ended_words(
             programme, "their weight", [](const Stage& s) { return s.let_go_as; },
             [](const Stage& s) -> const auto& { return s.proof.motion; }) +
         ended_words(
             programme, "the building load that is nearest to failing",
             [](const Stage& s) { return s.working ? s.working->let_go_as : -1; },
             [](const Stage& s) -> const auto& { return s.working ? s.working->motion : kNone; });
}

}  // namespace

std::vector<std::string> watch_words(const Dossier& dossier) {
  double top = -HUGE_VAL;
  for (const Block& block : dossier.cut->assembly.blocks) {
    if (block.fixed) continue;
    for (const Vec3& p : block.solid.vertices) top = std::max(top, p.z());
  }
  const double high = top - dossier.brief.centring.ground_level_m;
  const bool jacks = dossier.brief.centring.feet == "jacks";
  return {
      "Before the first block: centring levelled and braced, " +
          (jacks ? "lock nuts of the jacks tight, none wound beyond its travel of " +
                       fixed(1000 * dossier.brief.centring.travel_m, 0) + " mm"
                 : std::string("feet packed and locked")) +
          ", rods in and hand-tight, marks on footings read once more.",
      std::string("Each block: right name, right way up, pads whole and dry, beds clean, seated on "
                  "all its seats before the sling is slack. A cracked block is not placed."),
      "After each course: level and plumb of the ribs, seats that have lifted, " +
          std::string(jacks ? "jacks that have turned or whose lock nut is loose"
                            : "wedges that have moved") +
          ", joints that gape at one edge.",
      std::string(
          "Before the first lowering the rods are drawn up tight, then read at every step."),
      "Nobody under the blocks or the hook, at any time; while the centring is lowered nobody "
      "on the bridge, under it, or nearer to its edge than " +
          fixed(std::max(2.0, 1.5 * high), 1) +
          " m (half as much again as its height over the ground, ours), but the two at the foot "
          "being lowered, with their way out clear.",
      "Work stops at a gust of " +
          (dossier.brief.loads.working_wind_m_s > 0
               ? fixed(dossier.brief.loads.working_wind_m_s, 1) + " m/s"
               : std::string("whatever the engineer sets: none is in the brief")) +
          "; lifting at that of the crane or of the block, whichever is less" +
          (dossier.lifts ? gusts_in_words(*dossier.lifts) : "") + "."};
}

void add_work(Pages& pages, const Dossier& dossier, const Outlines& outlines) {
  const Programme& programme = *dossier.programme;
  pages.heading("Method: order of work");
  const auto standing =
      std::ranges::count_if(programme.stages, [](const Stage& stage) { return stands(stage); });
  pages.paragraph(std::to_string(standing) + " of " + counted(programme.stages.size(), "stage") +
                  " stand, under their weight and with " + building_words(dossier.brief) +
                  ". The centring's seats push and never pull. While it is lowered or raised "
                  "nobody is on it." +
                  let_go_words(programme));
  if (dossier.centring && failing(*dossier.centring))
    pages.bullet(
        "This holds only if the centring does, and as drawn it does not meet what it is held to: "
        "see Centring.");
  for (const std::string& remark : programme.remarks) pages.bullet(remark);
  if (outlines.plan.size() == dossier.cut->assembly.blocks.size()) {
    const Sheet sheet = stages_sheet(dossier.cut->assembly, programme, outlines.plan,
                                     stages_to_show(programme), pages.width_mm());
    pages.figure(sheet, "Some of the steps.");
  }
  add_watch(pages, dossier);
  pages.keep(60);
  pages.subheading("Placing");
  add_table(pages, of(programme, {"place"}), true);
  add_entries(pages, dossier);
  add_orders(pages, programme);
  add_lowering(pages, dossier);
  add_uneven(pages, programme.uneven);
  const auto laying = of(programme, {"lay"});
  if (!laying.empty()) {
    pages.keep(60);
    pages.subheading("Walkway and parapets");
    pages.paragraph(
        (dossier.access && !dossier.access->parts.empty()
             ? std::string("In the order of the list of its parts (under Walk); parapets leg "
                           "after leg, one side before the other. ")
             : std::string()) +
        "Laying it half a leg at a time, leg after leg, is as uneven as it may go: the steps of "
        "taking down try that, each with the same on the blocks as if it were laid so.");
    add_table(pages, laying, false);
  }
  add_taking_down(pages, programme);
}

}  // namespace skewback::deliver
