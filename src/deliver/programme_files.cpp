#include <cmath>

#include "deliver/csv.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/programme_sheets.hpp"
#include "deliver/report_spares.hpp"
#include "deliver/text.hpp"
#include "erect/dates.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDay = 86400;
constexpr double kSheet = 281;  // mm, A4 lying without its margins

Json finish_json(const Spares& spares, const Draws& draws) {
  Json out{{"mean_days", draws.mean_s / kDay},
           {"sd_days", draws.sd_s / kDay},
           {"broken_mean", draws.broken_mean}};
  for (const auto& [name, share] : {std::pair{"p10", 0.1}, {"p50", 0.5}, {"p90", 0.9}}) {
    out[std::string(name) + "_days"] = draws.at(share) / kDay;
    out[std::string(name) + "_date"] = done_date(spares.network, draws.at(share));
  }
  return out;
}

Json risks_json(const Spares& spares) {
  Json list = Json::array();
  for (const BlockRisk& r : spares.risks) {
    list.push_back({{"id", r.id},
                    {"utilisation", r.utilisation},
                    {"share", r.share},
                    {"again_days", r.again_s / kDay},
                    {"delay_days", r.delay_s / kDay},
                    {"expected_days", r.expected_s / kDay},
                    {"spared_days", r.spared_s / kDay},
                    {"spare", r.spare},
                    {"again_cost", number(r.again_cost)}});
  }
  return list;
}

Json trials_json(const Spares& spares) {
  Json list = Json::array();
  for (const SparesTrial& t : spares.trials) {
    list.push_back({{"spares", t.spares},
                    {"expected_delay_days", t.expected_delay_s / kDay},
                    {"by_mass_days", t.by_mass_s / kDay},
                    {"at_random_days", t.at_random_s / kDay},
                    {"late_share", t.late_share},
                    {"table_days", t.table_s / kDay},
                    {"cost", number(t.cost)}});
  }
  return list;
}

std::vector<double> finishes_by(const Network& network, double Activity::*time) {
  std::vector<double> duration;
  for (const Activity& a : network.activities) duration.push_back(a.*time);
  return finishes(network, duration);
}

}  // namespace

Json spares_json(const Brief& brief, const Spares& spares) {
  Json ids = Json::array(), critical = Json::array();
  for (const BlockRisk& risk : spares.risks) {
    if (risk.spare) ids.push_back(risk.id);
  }
  for (const int i : spares.plan.critical)
    critical.push_back(spares.network.activities[static_cast<std::size_t>(i)].id);
  const double delay_s =
      spares.trials.empty()
          ? 0
          : spares.trials[static_cast<std::size_t>(spares.chosen)].expected_delay_s;
  return {{"spares", std::move(ids)},
          {"expected_delay_days", delay_s / kDay},
          {"duration_days", spares.with.mean_s / kDay},
          {"start", spares.network.start},
          {"week", spares.network.calendar.week()},
          {"holidays", spares.network.calendar.holidays()},
          {"plan_days", spares.plan.duration_s / kDay},
          {"plan_sd_days", spares.plan.sd_s / kDay},
          {"critical", std::move(critical)},
          {"finish", finish_json(spares, spares.with)},
          {"finish_without_spares", finish_json(spares, spares.without)},
          {"broken_share", spares.broken_share},
          {"late_risk", brief.spares.late_risk},
          {"needed_if_alike", spares.needed_if_alike},
          {"soonest", spares.soonest},
          {"block_risks", risks_json(spares)},
          {"spares_trials", trials_json(spares)},
          {"programme_remarks", spares.remarks}};
}

std::string programme_csv(const Spares& spares) {
  const Network& network = spares.network;
  const std::vector<double> least = finishes_by(network, &Activity::least_s),
                            likely = finishes_by(network, &Activity::likely_s),
                            most = finishes_by(network, &Activity::most_s),
                            mean = finishes(network, spares.plan.mean_s);
  std::string text = csv_line({"activity", "kind", "block", "least_days", "likely_days",
                               "most_days", "start_mean", "done_mean", "done_least", "done_likely",
                               "done_most", "float_days", "critical_share"});
  for (std::size_t i = 0; i < network.activities.size(); ++i) {
    const Activity& a = network.activities[i];
    const auto date = [&](double s) { return last_date(network, s); };
    text += csv_line(
        {a.id, a.kind, a.block, fixed(a.least_s / kDay, 4), fixed(a.likely_s / kDay, 4),
         fixed(a.most_s / kDay, 4),
         date_after(network.start, begun_at(network, a, mean[i], spares.plan.mean_s[i])),
         date(mean[i]), date(least[i]), date(likely[i]), date(most[i]),
         fixed(spares.plan.float_s[i] / kDay, 3), fixed(spares.with.critical_share[i], 4)});
  }
  return text;
}

std::vector<OutputFile> programme_files(const Brief& brief, const Spares& spares) {
  std::vector<OutputFile> files{{"erect/programme.csv", programme_csv(spares)}};
  if (spares.trials.empty() || spares.with.finish_s.empty()) return files;
  files.push_back({"erect/programme.svg", svg(programme_sheet(spares, kSheet))});
  files.push_back({"erect/spares.svg", svg(spares_sheet(spares, brief.spares.late_risk, kSheet))});
  files.push_back({"erect/finish.svg", svg(finish_sheet(spares, kSheet))});
  return files;
}

}  // namespace skewback::deliver
