#include "centring/nest_search.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <random>

namespace skewback::nest {
namespace {

// To the sheet's lower edge, to its left end, with the weight low, into the corner.
constexpr std::array<Liking, 4> kLikings = {
    {{1, 0.05, 0}, {0.05, 1, 0}, {0, 0.05, 1}, {0.5, 0.5, 0}}};
constexpr int kTrials = 8;
constexpr double kLongWorth = 0.3;  // a part of one metre is worth so much more than its area

struct Shaker {
  std::mt19937_64 random{1};
  double share() { return static_cast<double>(random() >> 11) * 0x1p-53; }
  std::size_t one_of(std::size_t n) { return random() % n; }
};

const Item& item_of(const Job& job, const Placed& placed) {
  return job.items[static_cast<std::size_t>(placed.item)];
}

double share_of(const Job& job, const LaidSheet& sheet) {
  double sum = 0;
  for (const Placed& placed : sheet.placed()) sum += item_of(job, placed).area_m2;
  return sum / job.sheet_m2;
}

double worth(const Job& job, const LaidSheet& sheet) {
  double sum = 0;
  for (const Placed& placed : sheet.placed()) {
    const Item& item = item_of(job, placed);
    sum += item.area_m2 * (1 + kLongWorth * item.length_m);
  }
  return sum;
}

std::vector<std::size_t> by_size(const std::vector<double>& size) {
  std::vector<std::size_t> order(size.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) { return size[a] > size[b]; });
  return order;
}

bool put_on(const Job& job, NoFit& no_fit, std::size_t i, const Liking& liking, LaidSheet& sheet) {
  const Item& item = job.items[i];
  auto placed = sheet.place_for(job.shapes, no_fit, item.shape, item.turns, liking);
  if (!placed) return false;
  placed->item = static_cast<int>(i);
  sheet.put(*placed);
  return true;
}

/// Part after part, each on the first sheet that has room. Empty where more sheets were needed.
Layout lay_by_parts(const Job& job, NoFit& no_fit, const std::vector<std::size_t>& order,
                    const Liking& liking, std::size_t sheets_most, const Progress& progress) {
  Layout layout;
  std::vector<double> left_m2;
  for (const std::size_t i : order) {
    progress.checkpoint("cutting sheets", 0.1);
    const double needs = job.items[i].area_m2;
    std::size_t s = 0;
    while (s < layout.sheets.size() &&
           (left_m2[s] < needs || !put_on(job, no_fit, i, liking, layout.sheets[s])))
      ++s;
    if (s == layout.sheets.size()) {
      if (s == sheets_most) return {};
      layout.sheets.emplace_back(job.stock);
      left_m2.push_back(job.sheet_m2);
      if (!put_on(job, no_fit, i, liking, layout.sheets[s])) return {};
    }
    left_m2[s] -= needs;
  }
  return layout;
}

LaidSheet filled(const Job& job, NoFit& no_fit, const std::vector<std::size_t>& order,
                 const Liking& liking) {
  LaidSheet sheet(job.stock);
  double left_m2 = job.sheet_m2;
  for (const std::size_t i : order) {
    if (left_m2 >= job.items[i].area_m2 && put_on(job, no_fit, i, liking, sheet))
      left_m2 -= job.items[i].area_m2;
  }
  return sheet;
}

/// Of the orders of what is left, shaken more or less, the one that fills a sheet best.
LaidSheet best_filled(const Job& job, NoFit& no_fit, const std::vector<double>& size,
                      const std::vector<std::size_t>& left, Shaker& shaker) {
  std::optional<LaidSheet> best;
  double most = 0;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<double> shaken(size.size(), -1);  // those gone come last
    const double shake = trial == 0 ? 0 : trial % 2 == 0 ? 0.2 : 0.8;
    for (const std::size_t i : left) shaken[i] = size[i] * (1 + shake * (shaker.share() - 0.5));
    std::vector<std::size_t> order = by_size(shaken);
    order.resize(left.size());
    LaidSheet sheet = filled(job, no_fit, order, kLikings[shaker.one_of(kLikings.size())]);
    if (best && worth(job, sheet) <= most) continue;
    most = worth(job, sheet);
    best = std::move(sheet);
  }
  return *std::move(best);
}

/// Sheet after sheet. Empty where more sheets were needed.
Layout lay_by_sheets(const Job& job, NoFit& no_fit, const std::vector<double>& size, Shaker& shaker,
                     std::size_t sheets_most, const Progress& progress, double done) {
  Layout layout;
  std::vector<std::size_t> left = by_size(size);
  while (!left.empty()) {
    progress.checkpoint("cutting sheets", done);
    if (layout.sheets.size() == sheets_most) return {};
    layout.sheets.push_back(best_filled(job, no_fit, size, left, shaker));
    const auto& placed = layout.sheets.back().placed();
    if (placed.empty()) return {};
    std::erase_if(left, [&](std::size_t i) {
      return std::ranges::find(placed, static_cast<int>(i), &Placed::item) != placed.end();
    });
  }
  return layout;
}

void keep_better(const Job& job, Layout found, Layout& best) {
  if (found.sheets.empty()) return;
  for (const LaidSheet& sheet : found.sheets)
    found.concentration += std::pow(share_of(job, sheet), 2);
  if (best.sheets.empty() || found.sheets.size() < best.sheets.size() ||
      found.concentration > best.concentration + 1e-12)
    best = std::move(found);  // never more sheets: lay_... are told how many there may be
}

}  // namespace

Layout search(const Job& job, const Progress& progress) {
  NoFit no_fit(job.shapes);
  Shaker shaker;
  std::vector<double> length, side;
  for (const Item& item : job.items) {
    length.push_back(item.length_m);
    side.push_back(std::sqrt(item.area_m2));
  }
  Layout best;
  const auto most = [&] { return best.sheets.empty() ? job.items.size() : best.sheets.size(); };
  for (const auto& size : {length, side}) {
    for (const Liking& liking : kLikings)
      keep_better(job, lay_by_parts(job, no_fit, by_size(size), liking, most(), progress), best);
  }
  const int rounds = std::clamp(480 / static_cast<int>(job.items.size()), 4, 16);
  for (int round = 0; round < rounds && best.sheets.size() > job.sheets_least; ++round) {
    const double done = 0.2 + 0.8 * round / rounds;
    keep_better(
        job,
        lay_by_sheets(job, no_fit, round % 2 == 0 ? length : side, shaker, most(), progress, done),
        best);
  }
  return best;
}

}  // namespace skewback::nest
