#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "erect/normal.hpp"
#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

constexpr double kLeast = 1e-6;  // a block that nothing strains

bool is_of_rig(const HandlingCheck& check) {
  constexpr std::array kRig{"sling", "crane", "hook", "strap", "wind"};
  return std::ranges::any_of(kRig, [&](const char* word) { return check.name.starts_with(word); });
}

void take(const std::vector<HandlingCheck>& checks, double& worst) {
  for (const HandlingCheck& check : checks) {
    if (!is_of_rig(check)) worst = std::max(worst, check.utilisation);
  }
}

double mean_of(const std::vector<double>& logs, double shift, double s) {
  double sum = 0;
  for (const double log : logs) sum += normal_chance((log + shift) / s);
  return sum / static_cast<double>(logs.size());
}

}  // namespace

std::vector<double> handling_utilisations(const Assembly& assembly, const LiftPlan* lifts,
                                          const Transport* transport) {
  if (lifts == nullptr && transport == nullptr) return {};
  std::vector<double> worst(assembly.blocks.size(), 0.0);
  const auto of = [&](int block) -> double& { return worst[static_cast<std::size_t>(block)]; };
  if (lifts != nullptr) {
    for (const BlockLift& lift : lifts->lifts) take(lift.checks, of(lift.block));
  }
  if (transport != nullptr) {
    for (const Pallet& pallet : transport->pallets) {
      for (const BeddedBlock& block : pallet.blocks) take(block.checks, of(block.block));
    }
  }
  return worst;
}

std::vector<double> break_shares(const std::vector<double>& utilisations, double mean,
                                 double variation) {
  std::vector<double> logs, shares;
  for (const double u : utilisations) logs.push_back(std::log(std::max(u, kLeast)));
  if (logs.empty() || !(mean > 0) || !(mean < 1)) {
    shares.assign(logs.size(), std::clamp(mean, 0.0, 1.0));
    return shares;
  }
  const double s = std::sqrt(std::log1p(variation * variation));
  const auto [least, most] = std::ranges::minmax(logs);
  // at these the shares are all at most, and all at least, the mean
  double low = s * normal_point(mean) - most, high = s * normal_point(mean) - least;
  for (int step = 0; step < 200 && low < high; ++step) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (mean_of(logs, middle, s) < mean ? low : high) = middle;
  }
  for (const double log : logs) shares.push_back(normal_chance((log + 0.5 * (low + high)) / s));
  return shares;
}

}  // namespace skewback
