#include <unistd.h>

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "daybook/daybook.hpp"
#include "daybook/replan.hpp"
#include "erect/schedule.hpp"

namespace skewback::cli {
namespace {

using Json = nlohmann::ordered_json;

struct Forecast {
  Replan rest;
  PertResult plan;
  Draws draws;
  double before_s = 0;  // median of the plan as it was, nothing recorded
};

/// Not done yet, most often critical first, as far as one draw in ten.
std::vector<std::size_t> hold_most(const Forecast& f) {
  std::vector<std::size_t> out;
  if (f.rest.ended) return out;
  for (std::size_t i = 0; i < f.rest.network.activities.size(); ++i)
    if (!f.rest.network.activities[i].done && f.draws.critical_share[i] >= 0.1) out.push_back(i);
  std::ranges::stable_sort(out, [&](std::size_t a, std::size_t b) {
    return f.draws.critical_share[a] > f.draws.critical_share[b];
  });
  return out;
}

Json as_json(const Forecast& f) {
  const std::string& start = f.rest.network.start;
  const auto date = [&](double s) { return Json{{"s", s}, {"date", clock_after(start, s)}}; };
  const auto worked = [&](double s) { return date(f.rest.network.calendar.on_a_worked_day(s)); };
  const auto done = [&](double s) { return f.rest.ended ? date(s) : worked(s); };  // as it was
  Json holding = Json::array(), activities = Json::array();
  for (const std::size_t i : hold_most(f))
    holding.push_back(
        {{"id", f.rest.network.activities[i].id}, {"critical_share", f.draws.critical_share[i]}});
  for (const Activity& a : f.rest.network.activities) {
    if (a.id.empty()) continue;
    activities.push_back({{"id", a.id},
                          {"started", a.started},
                          {"done", a.done},
                          {"finish_s", a.done ? Json(a.finish_s) : Json(nullptr)}});
  }
  return {{"ok", true},
          {"start", start},
          {"now", date(f.rest.now_s)},
          {"done", f.rest.done},
          {"again", f.rest.again},
          {"spares_left_out", f.rest.spares_left_out},
          {"taken_as_done", f.rest.taken_as_done},
          {"once_more", f.rest.once_more},
          {"without_times", f.rest.without_times},
          {"all_done", f.rest.ended.has_value()},
          {"planned_median", worked(f.before_s)},
          {"finish",
           {{"p10", done(f.draws.at(0.1))},
            {"p50", done(f.draws.at(0.5))},
            {"p90", done(f.draws.at(0.9))},
            {"pert", done(f.plan.duration_s)},
            {"pert_sd_s", f.plan.sd_s}}},
          {"broken_mean", f.draws.broken_mean},
          {"critical", holding},
          {"activities", activities}};
}

void print(const DayPlan& plan, const Forecast& f) {
  const auto date = [&](double s) {
    return clock_after(f.rest.network.start, f.rest.network.calendar.on_a_worked_day(s));
  };
  std::cout << plan.title << ": " << f.rest.done << " of " << plan.network->activities.size()
            << " activities done by " << clock_after(f.rest.network.start, f.rest.now_s) << ".\n";
  if (f.rest.ended)
    std::cout << "All that is needed is done; the last of it, " << f.rest.ended->id << ", on "
              << clock_after(f.rest.network.start, f.rest.ended->finish_s) << ",\n";
  else
    std::cout << "The rest ends (of " << f.draws.finish_s.size() << " draws)\n"
              << "  one in ten by    " << date(f.draws.at(0.1)) << "\n"
              << "  half by          " << date(f.draws.at(0.5)) << "\n"
              << "  nine in ten by   " << date(f.draws.at(0.9)) << "\n";
  std::cout << "as planned at the start: half by " << date(f.before_s) << ".\n";
  std::size_t shown = 0;
  for (const std::size_t i : hold_most(f)) {
    if (shown == 0) std::cout << "What decides it, in how many draws:\n";
    if (++shown > 12) break;
    std::cout << "  " << fixed(100 * f.draws.critical_share[i], 0) << " %  "
              << f.rest.network.activities[i].id << "\n";
  }
  for (const std::string& id : f.rest.again)
    std::cout << id << ": every copy broke; one more is made in its turn on the table.\n";
  for (const std::string& id : f.rest.spares_left_out)
    std::cout << id
              << ": its spare is not made yet and nothing waits for it: it is left out, so that "
              << "what is missing is made first.\n";
  for (const std::string& id : f.rest.once_more)
    std::cout << id << ": once more, by the plan's times; it was done before.\n";
  for (const std::string& id : f.rest.without_times)
    std::cout << id
              << ": needed first, but the plan has no times for it; it is not in these dates.\n";
  for (const std::string& id : f.rest.taken_as_done)
    std::cout << id << ": nobody recorded it; taken as done, what follows it is.\n";
}

}  // namespace

int daybook_replan(const DaybookOptions& options, ProgressLine& line) {
  const Result<Daybook> book = Daybook::open(options.folder);
  if (!book) {
    print_faults(book.faults(), options.json);
    return kBadInput;
  }
  const DayPlan& plan = book->plan();
  const Moment now = now_here();
  auto rest = replanned(plan, book->events(), now);
  if (!rest) {
    print_faults({{options.folder.string(), 0, 0, "plan", "no programme in it",
                   "a plan with a network of activities",
                   "run the brief with a table [programme], then begin with the new plan"}},
                 options.json);
    return kBadInput;
  }
  const auto seed = static_cast<std::uint64_t>(options.seed);
  catch_interrupts();
  Forecast f;
  // where it cannot be taken away again no line of progress is left behind
  const Progress progress =
      ::isatty(STDERR_FILENO) == 1 ? line.progress() : Progress({}, &interrupt_flag());
  f.draws = draw_programme(rest->network, rest->breakages, options.draws, seed, progress);
  f.plan = pert(rest->network);
  std::vector<Breakage> breakages;
  for (const PlannedBreakage& b : plan.breakages) {
    const auto it = std::ranges::find(plan.network->activities, b.place, &Activity::id);
    const auto place = static_cast<int>(it - plan.network->activities.begin());
    breakages.push_back({place, b.share, b.again_s, b.spare, b.swap_s, b.cure_s, b.journey_s});
  }
  f.before_s = draw_programme(*plan.network, breakages, options.draws, seed, progress).at(0.5);
  f.rest = std::move(*rest);
  if (f.rest.ended) {
    f.plan.duration_s = f.rest.ended->finish_s;
    f.plan.sd_s = 0;
    f.draws.finish_s.assign(1, f.rest.ended->finish_s);
  }
  line.clear();
  if (options.json)
    std::cout << as_json(f).dump(2, ' ', false, Json::error_handler_t::replace) << "\n";
  else
    print(plan, f);
  return kDone;
}

}  // namespace skewback::cli
