#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/text.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {

using deliver::fixed;

void Told::tell(double weight, Change change) {
  change.of = of_;
  told_.emplace_back(weight, std::move(change));
}

std::vector<Change> Told::in_order() {
  std::stable_sort(told_.begin(), told_.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Change> list;
  for (auto& [weight, change] : told_) list.push_back(std::move(change));
  told_.clear();
  return list;
}

std::optional<std::string> more_or_less(const std::string& name, double before, double now,
                                        int decimals, const std::string& unit) {
  if (!std::isfinite(before) || !std::isfinite(now)) return {};
  const std::string by = fixed(std::abs(now - before), decimals);
  if (by.find_first_of("123456789") == std::string::npos) return {};
  const std::string of = unit.empty() ? "" : " " + unit;
  return name + (name.ends_with(':') ? " " : " is ") + fixed(now, decimals) + of + ", " + by + of +
         (now > before ? " more" : " less");
}

std::optional<std::string> more_or_less(const std::string& name, double before, double now,
                                        const std::string& unit) {
  return more_or_less(name, before, now, decimals_of(std::max(std::abs(before), std::abs(now))),
                      unit);
}

int decimals_of(double value, int figures) {
  if (value == 0 || !std::isfinite(value)) return 0;
  return std::max(0, figures - 1 - static_cast<int>(std::floor(std::log10(std::abs(value)))));
}

double share_changed(double before, double now) {
  const double most = std::max(std::abs(before), std::abs(now));
  return most > 0 ? std::abs(now - before) / most : 0;
}

std::string named(const std::vector<std::string>& ids, std::size_t most) {
  const std::size_t shown = std::min(ids.size(), most);
  std::string text =
      deliver::joined({ids.begin(), ids.begin() + static_cast<std::ptrdiff_t>(shown)}, ", ");
  if (ids.size() > shown) text += " and " + std::to_string(ids.size() - shown) + " more";
  return text;
}

std::vector<Pair> paired(const std::vector<std::string>& before,
                         const std::vector<std::string>& now) {
  std::map<std::string, std::vector<std::size_t>> places;
  for (std::size_t i = before.size(); i-- > 0;) places[before[i]].push_back(i);
  std::vector<Pair> pairs;
  std::vector<char> used(before.size(), 0);
  for (std::size_t i = 0; i < now.size(); ++i) {
    Pair pair{{}, i};
    if (auto& at = places[now[i]]; !at.empty()) {
      pair.before = at.back();
      used[at.back()] = 1;
      at.pop_back();
    }
    pairs.push_back(pair);
  }
  for (std::size_t i = 0; i < before.size(); ++i)
    if (used[i] == 0) pairs.push_back({i, {}});
  return pairs;
}

}  // namespace skewback::lodge
