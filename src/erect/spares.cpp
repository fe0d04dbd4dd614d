#include "erect/spares.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/parallel.hpp"
#include "erect/draw.hpp"
#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

constexpr int kTrialDraws = 10000;  // at most, for the choice

/// What plan_spares was given.
struct Given {
  const Brief& brief;
  const Assembly& assembly;
  const Programme& programme;
  const PrintSet* print;
  const LiftPlan* lifts;
  const Transport* transport;
  [[nodiscard]] Network network(const std::set<int>& twice) const {
    return network_with_spares(brief, assembly, programme, print, transport, twice);
  }
};

std::size_t at(int index) { return static_cast<std::size_t>(index); }
double mean(const Vec3& times_s) { return pert_mean(times_s.x(), times_s.y(), times_s.z()); }

/// Of a new one of this block; none unless what it is made by is priced.
std::optional<double> cost_of_another(const Brief& brief, const Block& block,
                                      const PrintSet* print) {
  const Rates& rates = brief.rates;
  if (!(rates.concrete_per_m3 > 0) && !(rates.print_per_h > 0)) return {};
  double volume_m3 = block.mass.volume, time_s = 0;
  if (print != nullptr) {
    if (std::ranges::find(print->blocks, block.id, &BlockPrint::id) == print->blocks.end())
      time_s = volume_m3 / brief.print.flow_m3_s;
    for (const BlockPrint& b : print->blocks) {
      if (b.id != block.id || b.poses.empty()) continue;
      volume_m3 = b.volume_m3 / (1 + brief.print.accelerator);  // of mix, as quantities count it
      time_s = b.time_s;
    }
  }
  return volume_m3 * rates.concrete_per_m3 + time_s / 3600 * rates.print_per_h;
}

/// How much later the whole is done, by mean times, if this activity waits so long.
double delay_by_means(const Network& network, const PertResult& plan, int activity,
                      const Wait& wait) {
  std::vector<Wait> waits(network.activities.size());
  std::vector<double> finish;
  waits[at(activity)] = wait;
  earliest_finishes(network, plan.mean_s, waits, finish);
  return latest(finish) - plan.duration_s;
}

int placing_of(const Network& network, const std::string& block) {
  const auto found = std::ranges::find_if(
      network.activities, [&](const Activity& a) { return a.kind == "place" && a.block == block; });
  return static_cast<int>(found - network.activities.begin());
}

std::vector<BlockRisk> risks_of(const Given& given, const Network& network, double broken_share) {
  const auto& [brief, assembly, programme, print, lifts, transport] = given;
  const std::vector<int> order = placing_order(assembly, programme);
  const std::vector<double> worst = handling_utilisations(assembly, lifts, transport);
  std::vector<double> utilisations;
  for (const int i : order) utilisations.push_back(worst.empty() ? 1 : worst[at(i)]);
  const std::vector<double> shares = break_shares(utilisations, broken_share, kStrengthVariation);
  const std::vector<Making> making = makings(brief, assembly, print);
  const PertResult plan = pert(network);
  std::vector<BlockRisk> risks;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const Block& block = assembly.blocks[at(order[k])];
    const Making& how = making[at(order[k])];
    BlockRisk risk;
    risk.block = order[k];
    risk.id = block.id;
    risk.utilisation = worst.empty() ? 0 : utilisations[k];
    risk.share = shares[k];
    risk.cure_s = how.cure_s;
    risk.journey_s = mean(brief.transport.journey_s);
    risk.again_s = mean(how.again_s) + how.cure_s + risk.journey_s;
    risk.delay_s = delay_by_means(network, plan, placing_of(network, block.id),
                                  {mean(how.again_s), risk.cure_s, risk.journey_s});
    risk.expected_s = risk.share * risk.delay_s;
    risk.again_cost = cost_of_another(brief, block, print);
    risks.push_back(std::move(risk));
  }
  return risks;
}

std::vector<Breakage> breakages_of(const Brief& brief, const Network& network,
                                   const std::vector<BlockRisk>& risks) {
  const ProgrammeRequest& p = brief.programme;
  std::vector<Breakage> breakages;
  for (const BlockRisk& risk : risks) {
    Breakage b;
    b.place = placing_of(network, risk.id);
    b.share = risk.share;
    b.again_s = risk.again_s;
    b.cure_s = risk.cure_s;
    b.journey_s = risk.journey_s;
    b.spare = risk.spare;
    b.swap_s = mean(p.placing_s) * kDay_s / p.site_day_s;  // it is on site: one more lift
    breakages.push_back(b);
  }
  return breakages;
}

std::vector<double> masses_of(const Assembly& assembly, const std::vector<BlockRisk>& risks) {
  std::vector<double> mass_kg;
  for (const BlockRisk& risk : risks)
    mass_kg.push_back(concrete_mass_kg(assembly.blocks[at(risk.block)]));
  return mass_kg;
}

std::set<int> first_of(const std::vector<BlockRisk>& risks, int count) {
  std::set<int> blocks;
  for (int k = 0; k < count; ++k) blocks.insert(risks[at(k)].block);
  return blocks;
}

void count_table_time(const Given& given, Spares& spares) {
  const double single_s = pert(given.network({})).duration_s;
  for_each_index(spares.trials.size(), [&](std::size_t s) {
    const Network twice = given.network(first_of(spares.risks, static_cast<int>(s)));
    spares.trials[s].table_s = pert(twice).duration_s - single_s;
  });
}

void price(const Brief& brief, Spares& spares) {
  const auto has_none = [](const BlockRisk& risk) { return !risk.again_cost; };
  if (!(brief.spares.delay_cost > 0) || std::ranges::any_of(spares.risks, has_none)) return;
  double made = 0;
  for (std::size_t s = 0; s < spares.trials.size(); ++s) {
    if (s > 0) made += *spares.risks[s - 1].again_cost;
    SparesTrial& trial = spares.trials[s];
    trial.cost = made + brief.spares.delay_cost * (trial.expected_delay_s + trial.table_s) / kDay_s;
  }
}

void choose(const Brief& brief, Spares& spares) {
  const int n = static_cast<int>(spares.risks.size());
  spares.chosen = brief.spares.count >= 0 ? std::min(brief.spares.count, n) : n;
  if (brief.spares.count < 0) {
    for (const SparesTrial& trial : spares.trials) {
      if (trial.late_share > brief.spares.late_risk) continue;
      spares.chosen = trial.spares;
      break;
    }
  }
  const auto [least, most] = std::ranges::minmax_element(spares.risks, {}, &BlockRisk::share);
  spares.shares_alike = n == 0 || least->share == most->share;
  for (int k = 0; k < spares.chosen; ++k) spares.risks[at(k)].spare = true;
  // n alike, s of them twice: 1 - (1 - p)^(n - s) <= risk
  const double p = spares.broken_share, risk = brief.spares.late_risk;
  while (spares.needed_if_alike < n && 1 - std::pow(1 - p, n - spares.needed_if_alike) > risk)
    ++spares.needed_if_alike;
  const auto late_s = [](const SparesTrial& t) { return t.expected_delay_s + t.table_s; };
  spares.soonest = std::ranges::min_element(spares.trials, {}, late_s)->spares;
}

}  // namespace

Spares plan_spares(const Brief& brief, const Assembly& assembly, const Programme& programme,
                   const PrintSet* print, const LiftPlan* lifts, Transport* transport,
                   const BreakCount& count, const Progress& progress) {
  const auto seed = static_cast<std::uint64_t>(brief.programme.seed);
  const int draws = brief.programme.draws, trial_draws = std::min(draws, kTrialDraws);
  const Given given{brief, assembly, programme, print, lifts, transport};
  const Network single = given.network({});
  Spares spares;
  spares.broken_share = updated_share(brief.spares.broken_share, brief.spares.known_blocks, count);
  spares.risks = risks_of(given, single, spares.broken_share);
  progress.checkpoint("erect: spares", 0);
  value_spares(single, breakages_of(brief, single, spares.risks), trial_draws, seed, spares.risks);
  std::ranges::stable_sort(spares.risks, std::greater<>(), &BlockRisk::spared_s);
  progress.checkpoint("erect: spares", 0.3);

  const std::vector<Breakage> none = breakages_of(brief, single, spares.risks);
  spares.trials = try_spares(single, none, masses_of(assembly, spares.risks), trial_draws, seed);
  count_table_time(given, spares);
  price(brief, spares);
  choose(brief, spares);
  progress.checkpoint("erect: spares", 0.6);
  const std::set<int> twice = first_of(spares.risks, spares.chosen);
  if (transport != nullptr && !twice.empty())
    *transport = plan_transport(brief, assembly, programme, print, twice);
  if (print != nullptr) spares.printing = with_spares(brief.print, *print, twice);
  spares.network = given.network(twice);
  spares.plan = pert(spares.network);
  spares.breakages = breakages_of(brief, spares.network, spares.risks);
  spares.without = draw_programme(single, none, draws, seed, progress);
  spares.with = draw_programme(spares.network, spares.breakages, draws, seed, progress);
  add_spares_remarks(brief, print, lifts, transport, count, spares);
  return spares;
}

}  // namespace skewback
