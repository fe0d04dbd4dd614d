#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "erect/normal.hpp"
#include "vary/amount.hpp"
#include "vary/plan.hpp"

namespace skewback {
namespace {

constexpr std::uint32_t kFirstStream = 0x76617279;  // away from the streams of other draws

VaryValue drawn(const Varied& varied, double chance) {
  const Spread& s = *varied.spread;
  double value =
      s.kind == Spread::Kind::kEven ? s.a + (s.b - s.a) * chance : s.a + s.b * normal_point(chance);
  if (s.whole) {
    // each whole number from a to b as likely
    if (s.kind == Spread::Kind::kEven)
      value = std::min(s.b, std::floor(s.a + (s.b - s.a + 1) * chance));
    const std::string text = std::to_string(std::llround(value));
    return {text, text};
  }
  if (!varied.unit.empty()) {
    const std::string text = plain(value) + " " + varied.unit;
    return {"\"" + text + "\"", text};
  }
  const std::string text = plain(value);
  // TOML tells 2 from 2.0
  return {text.find_first_of(".e") == std::string::npos ? text + ".0" : text, text};
}

}  // namespace

std::uint64_t runs_of(const VaryPlan& plan) {
  if (plan.how == How::kRandom) return plan.count;
  if (plan.varied.empty()) return 1;
  if (plan.how == How::kList) return plan.varied.front().values.size();
  std::uint64_t runs = 1;
  for (const Varied& v : plan.varied) runs *= v.values.size();
  return runs;
}

std::vector<VaryValue> values_of(const VaryPlan& plan, std::uint64_t run) {
  std::vector<VaryValue> out(plan.varied.size());
  std::uint64_t left = run;
  for (std::size_t k = plan.varied.size(); k-- > 0;) {
    const Varied& v = plan.varied[k];
    const std::size_t n = v.values.size();
    switch (plan.how) {
      case How::kGrid:
        out[k] = v.values[left % n];
        left /= n;
        break;
      case How::kList:
        out[k] = v.values[run];
        break;
      case How::kRandom: {
        const double chance = even(static_cast<std::uint64_t>(plan.seed), run,
                                   kFirstStream + static_cast<std::uint32_t>(k), 0);
        const auto pick = static_cast<std::size_t>(chance * static_cast<double>(n));
        out[k] = v.spread ? drawn(v, chance) : v.values[std::min(pick, n - 1)];
        break;
      }
    }
  }
  return out;
}

}  // namespace skewback
