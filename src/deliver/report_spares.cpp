#include "deliver/report_spares.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "deliver/programme_sheets.hpp"
#include "deliver/text.hpp"
#include "erect/dates.hpp"

namespace skewback::deliver {
namespace {

constexpr double kDay = 86400;
constexpr Colour kChosen{222, 235, 247};

std::string days(double seconds, int decimals = 1) { return fixed(seconds / kDay, decimals); }

const SparesTrial& chosen(const Spares& spares) {
  return spares.trials[static_cast<std::size_t>(spares.chosen)];
}

void add_dates(Pages& pages, const Spares& spares) {
  const auto row = [&](const std::string& words, double seconds, const std::string& note) {
    return Row{{words, done_date(spares.network, seconds), days(seconds), note}, {}};
  };
  const Draws& with = spares.with;
  pages.table({{"done", 2.4}, {"on", 1.1}, {"days", 0.7, true}, {"", 3}},
              {row("by mean times", spares.plan.duration_s,
                   "the spares printed, none needed; standard deviation along the critical path " +
                       days(spares.plan.sd_s) + " days"),
               row("one in ten", with.at(0.1), "draws with breakages and the chosen spares"),
               row("half", with.at(0.5), ""), row("nine in ten", with.at(0.9), ""),
               row("nine in ten, no spares", spares.without.at(0.9), "nothing is printed twice")});
  pages.paragraph(
      "The mean over the draws is " + days(with.mean_s) + " days with the chosen spares and " +
      days(spares.without.mean_s) + " without. " +
      against_means(with.mean_s - spares.plan.duration_s, !spares.network.calendar.every_day()));
}

/// First and last day of each kind of work, in the order of the first.
void add_works(Pages& pages, const Spares& spares) {
  struct Work {
    std::string kind;
    int count = 0;
    double from_s = 0, to_s = 0;
  };
  const Network& network = spares.network;
  const std::vector<double> finish_s = finishes(network, spares.plan.mean_s);
  std::vector<Work> works;
  for (std::size_t i = 0; i < finish_s.size(); ++i) {
    const Activity& a = network.activities[i];
    const double from_s = begun_at(network, a, finish_s[i], spares.plan.mean_s[i]);
    auto same = std::ranges::find(works, a.kind, &Work::kind);
    if (same == works.end()) same = works.insert(works.end(), {a.kind, 0, from_s, finish_s[i]});
    ++same->count;
    same->from_s = std::min(same->from_s, from_s);
    same->to_s = std::max(same->to_s, finish_s[i]);
  }
  std::ranges::stable_sort(works, {}, &Work::from_s);
  std::vector<Row> rows;
  for (const Work& w : works)
    rows.push_back({{kind_words(w.kind), std::to_string(w.count),
                     date_after(network.start, w.from_s), last_date(network, w.to_s)},
                    {}});
  pages.table(
      {{"work, by mean times", 2.4}, {"activities", 0.8, true}, {"begins", 1.2}, {"ends", 1.2}},
      rows);
}

constexpr double kSeldom = 0.02;  // of the draws: not worth a word
struct Sometimes {
  std::string kind, id;
  int count = 0;
  double share = 0;
};

void add_critical(Pages& pages, const Spares& spares) {
  pages.subheading("What holds the works back");
  pages.paragraph("By mean times: " + critical_words(spares) + ".");
  std::vector<Sometimes> others;  // by kind
  for (std::size_t i = 0; i < spares.network.activities.size(); ++i) {
    const double share = spares.with.critical_share[i];
    const auto& on = spares.plan.critical;
    if (share < kSeldom || std::ranges::find(on, static_cast<int>(i)) != on.end()) continue;
    const Activity& activity = spares.network.activities[i];
    auto same = std::ranges::find(others, activity.kind, &Sometimes::kind);
    if (same == others.end())
      same = others.insert(others.end(), {activity.kind, activity.id, 0, 0});
    ++same->count;
    same->share = std::max(same->share, share);
  }
  std::ranges::stable_sort(others, std::greater<>(), &Sometimes::share);
  std::vector<std::string> words;
  for (const Sometimes& o : others)
    words.push_back((o.count == 1 ? o.id : std::to_string(o.count) + " of " + o.kind) +
                    (o.count == 1 ? " (" : " (up to ") + fixed(100 * o.share, 0) + " %)");
  if (!words.empty())
    pages.paragraph(
        "Critical in some of the draws, though not by mean times: " + joined(words, ", ") + ".");
}

/// "8.1" where every block that is shown has it; none: they differ.
std::optional<std::string> same_in_all(const std::vector<Row>& rows, std::size_t column) {
  const auto differs = [&](const Row& row) { return row.cells[column] != rows[0].cells[column]; };
  if (rows.empty() || std::ranges::any_of(rows, differs)) return {};
  return rows[0].cells[column];
}

constexpr std::size_t kAgain = 5, kDelay = 6;  // columns that may be the same in every row

std::string risk_words(const std::vector<Row>& rows) {
  std::string text =
      "Worst use: of the block's own strength, in lifting and on the road. Breaks: chance between "
      "leaving the table and standing in its place. ";
  const auto again = same_in_all(rows, kAgain), delay = same_in_all(rows, kDelay);
  if (again) text += "A new one of any of these takes " + *again + " days. ";
  text += delay
              ? "If one breaks as it is placed and there is no spare, the whole is held back by " +
                    *delay +
                    " days by mean times, whichever it is. A spare saves: chance times "
                    "that, over the draws."
              : "Holds back: the whole, by mean times, if it breaks as it is placed and there is "
                "no spare. A spare saves: chance times that, over the draws.";
  return text;
}

void add_risks(Pages& pages, const Assembly& assembly, const Spares& spares) {
  constexpr std::size_t kMore = 5, kMost = 40;
  std::vector<Row> rows;
  const std::size_t shown =
      std::min({spares.risks.size(), static_cast<std::size_t>(spares.chosen) + kMore, kMost});
  for (std::size_t k = 0; k < shown; ++k) {
    const BlockRisk& r = spares.risks[k];
    const Block& block = assembly.blocks[static_cast<std::size_t>(r.block)];
    rows.push_back(
        {{std::to_string(k + 1), r.id, fixed(concrete_mass_kg(block), 0),
          r.utilisation > 0 ? fixed(r.utilisation, 2) : "", figures(100 * r.share, 2),
          days(r.again_s), days(r.delay_s), figures(r.spared_s / kDay, 2), r.spare ? "yes" : ""},
         r.spare ? std::optional(kChosen) : std::nullopt});
  }
  const std::string words = risk_words(rows);
  std::vector<Column> columns{{"", 0.4, true},
                              {"block", 1.3},
                              {"kg", 0.7, true},
                              {"worst use", 0.8, true},
                              {"breaks (%)", 0.8, true},
                              {"a new one (days)", 0.9, true},
                              {"holds back (days)", 0.9, true},
                              {"a spare saves (days)", 1, true},
                              {"twice", 0.6}};
  for (const std::size_t c : {kDelay, kAgain}) {  // the later first, so that indices hold
    if (!same_in_all(rows, c)) continue;
    columns.erase(columns.begin() + static_cast<std::ptrdiff_t>(c));
    for (Row& row : rows) row.cells.erase(row.cells.begin() + static_cast<std::ptrdiff_t>(c));
  }
  pages.keep(45);
  pages.subheading("Blocks worth making twice");
  pages.table(columns, rows);
  pages.paragraph(words +
                  std::string(shown < spares.risks.size()
                                  ? " The other " + std::to_string(spares.risks.size() - shown) +
                                        " blocks come after these."
                                  : ""));
}

void add_choice(Pages& pages, const Brief& brief, const Spares& spares) {
  const SparesTrial &none = spares.trials.front(), &now = chosen(spares);
  pages.paragraph("With " + counted(static_cast<std::size_t>(spares.chosen), "spare") +
                  " the expected delay by breakages falls from " + days(none.expected_delay_s) +
                  " to " + days(now.expected_delay_s) +
                  " days; the same number of the heaviest blocks would leave " +
                  days(now.by_mass_s) + ", taken at random " + days(now.at_random_s) +
                  ". The risk that a broken block is waited for falls from " +
                  fixed(100 * none.late_share, 1) + " % to " + fixed(100 * now.late_share, 1) +
                  " % (allowed: " + fixed(100 * brief.spares.late_risk, 1) + " %).");
  pages.figure(spares_sheet(spares, brief.spares.late_risk, pages.width_mm()), "");
  pages.figure(finish_sheet(spares, pages.width_mm()), "");
}

void add_cautions(Pages& pages, const Brief& brief, const Spares& spares) {
  pages.subheading("What this rests on");
  for (const std::string& remark : spares.remarks) pages.bullet(remark);
  pages.bullet("Three times of an activity are guesses of whoever wrote the brief; " +
               std::to_string(brief.programme.draws) +
               " draws do not make them better. Ask those who will do the work.");
  pages.bullet(
      "That a strained block breaks more often is sure; by how much is a form of our own "
      "(docs/theory/spares.md). Knocks, which come to every block alike, are not in it.");
  pages.bullet(
      "Weather, wind over the crane's limit, and a table or mixer that stops are not drawn, and "
      "activities are drawn without regard to each other: a bad week makes all of them late.");
}

}  // namespace

std::string against_means(double later_s, bool idle_days) {
  const std::string by = days(std::abs(later_s));
  if (by == days(0)) return "That is as by mean times.";
  if (later_s > 0)
    return "That is " + by +
           " days later than by mean times: where several ways run side by side the longest of "
           "them rules each draw, and some blocks break.";
  return "That is " + by + " days earlier than by mean times" +
         (idle_days ? ": work that by them just runs into idle days is put off by all of these, in "
                      "the draws only at times."
                    : ".");
}

std::string calendar_words(const Calendar& calendar) {
  constexpr std::array kNames{"Monday", "Tuesday",  "Wednesday", "Thursday",
                              "Friday", "Saturday", "Sunday"};
  std::vector<std::string> days;
  for (std::size_t k = 0; k < kNames.size(); ++k)
    if (std::ranges::find(calendar.week(), kWeekdays[k]) != calendar.week().end())
      days.emplace_back(kNames[k]);
  std::string text = days.size() == kNames.size() ? "Every day is worked."
                                                  : "Worked on " + joined(days, ", ") + ".";
  if (!calendar.holidays().empty()) text += " Not on " + joined(calendar.holidays(), ", ") + ".";
  return text + (calendar.every_day() ? "" : " Curing runs on.");
}

std::string critical_words(const Spares& spares) {
  const auto& path = spares.plan.critical;
  std::vector<std::string> words;
  for (std::size_t from = 0; from < path.size();) {
    const auto of = [&](std::size_t k) -> const Activity& {
      return spares.network.activities[static_cast<std::size_t>(path[k])];
    };
    std::size_t to = from + 1;
    while (to < path.size() && of(to).kind == of(from).kind) ++to;
    words.push_back(to - from == 1 ? of(from).id
                                   : of(from).id + " to " + of(to - 1).block + " (" +
                                         std::to_string(to - from) + ")");
    from = to;
  }
  return joined(words, ", ");
}

void add_programme(Pages& pages, const Brief& brief, const Assembly& assembly,
                   const Spares& spares) {
  pages.new_page();
  pages.heading("Programme and spares");
  pages.paragraph("It starts on " + spares.network.start + ". " +
                  std::to_string(spares.network.activities.size()) +
                  " activities, each with a least, a likely and a most time. " +
                  calendar_words(spares.network.calendar));
  if (spares.trials.empty() || spares.with.finish_s.empty()) return;
  add_dates(pages, spares);
  add_works(pages, spares);
  pages.figure(programme_sheet(spares, pages.width_mm()), "");
  add_critical(pages, spares);
  if (!spares.risks.empty()) {
    add_risks(pages, assembly, spares);
    add_choice(pages, brief, spares);
  }
  add_cautions(pages, brief, spares);
}

}  // namespace skewback::deliver
