#include "survey/suspect.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <numeric>

namespace skewback {
namespace {

constexpr double kNearUnit = 0.01;
constexpr std::size_t kMostSwapped = 40;  // points among which exchanges are tried

bool good(const WeightedFit& fit, double gate) {
  return fit.determined && !too_far(fit, gate) && !upside_down(fit);
}

struct Unit {
  double factor;  // that puts it right
  const char* words;
};
constexpr std::array<Unit, 7> kUnits = {{
    {0.3048, "measured in feet and read as metres"},
    {1 / 0.3048, "measured in metres and read as feet"},
    {0.001, "measured in millimetres and read as metres"},
    {1000, "measured in metres and read as millimetres"},
    {0.01, "measured in centimetres and read as metres"},
    {100, "measured in metres and read as centimetres"},
    {0.0254, "measured in inches and read as metres"},
}};

PointPairs scaled(PointPairs pairs, double factor) {
  for (Vec3& p : pairs.measured) p *= factor;
  return pairs;
}

/// A known unit, or else a scale that nothing explains but the instrument.
std::string wrong_scale(const PointPairs& pairs, const std::vector<char>& all, double scale,
                        double gate) {
  for (const Unit& unit : kUnits) {
    if (good(weighted_fit(scaled(pairs, unit.factor), all), gate))
      return std::string("the points look ") + unit.words;
  }
  // with a mark out of its place too, the scale alone tells the unit
  for (const Unit& unit : kUnits) {
    if (scale > 0 && std::abs(scale * unit.factor - 1) < kNearUnit)
      return std::string("the points look ") + unit.words +
             ", and not all lie where they are drawn";
  }
  if (scale <= 0 || !good(weighted_fit(scaled(pairs, 1 / scale), all), gate)) return "";
  char text[120];
  std::snprintf(text, sizeof text, "all distances come out %.3f %% too %s: is a scale factor on?",
                100 * std::abs(scale - 1), scale > 1 ? "long" : "short");
  return text;
}

/// The points that are farthest off, at most kMostSwapped of them.
std::vector<std::size_t> farthest(const PointPairs& pairs, const Rigid& X) {
  std::vector<double> off(pairs.size());
  for (std::size_t i = 0; i < off.size(); ++i)
    off[i] = (pairs.measured[i] - X(pairs.designed[i])).norm() / pairs.accuracy_m[i];
  std::vector<std::size_t> order(pairs.size());
  std::iota(order.begin(), order.end(), 0);
  std::ranges::stable_sort(order, std::greater(), [&](std::size_t i) { return off[i]; });
  order.resize(std::min(order.size(), kMostSwapped));
  std::ranges::sort(order);
  return order;
}

std::string swapped(const PointPairs& pairs, const std::vector<char>& all, const Rigid& X,
                    double gate, const std::vector<std::string>& names) {
  const std::vector<std::size_t> order = farthest(pairs, X);
  std::string best;
  double least = 0;
  for (std::size_t a = 0; a < order.size(); ++a) {
    for (std::size_t b = a + 1; b < order.size(); ++b) {
      PointPairs other = pairs;
      std::swap(other.measured[order[a]], other.measured[order[b]]);
      std::swap(other.accuracy_m[order[a]], other.accuracy_m[order[b]]);
      const WeightedFit fit = weighted_fit(other, all);
      if (!good(fit, gate) || (!best.empty() && fit.squares >= least)) continue;
      least = fit.squares;
      best = "marks " + names[order[a]] + " and " + names[order[b]] + " look swapped";
    }
  }
  return best;
}

}  // namespace

bool too_far(const WeightedFit& fit, double gate) {
  return fit.determined && as_deviations(fit.squares, fit.redundancy()) > gate;
}

bool upside_down(const WeightedFit& fit) {
  return fit.determined && fit.off_plane <= kSpread && fit.X.R(2, 2) < 0;
}

Suspicion suspect(const PointPairs& pairs, const WeightedFit& fit, double gate,
                  const std::vector<std::string>& names) {
  const std::vector<char> all(pairs.size(), 1);
  const bool turned = upside_down(fit);
  Suspicion out;
  const auto add = [&](const std::string& text, bool of_all) {
    if (text.empty()) return;
    out.text += (out.text.empty() ? "" : "; or ") + text;
    out.of_all = out.of_all || of_all;
  };
  const WeightedFit mirror = weighted_fit(pairs, all, Hand::kMirror);
  if (!too_far(mirror, gate) && (turned ? !too_far(fit, gate) : fit.off_plane > kSpread)) {
    add("the points look mirrored: two axes exchanged (east and north, x and y), or one negated",
        true);
  }
  if (!turned) add(wrong_scale(pairs, all, fit.scale, gate), true);
  add(swapped(pairs, all, fit.X, gate, names), false);
  return out;
}

}  // namespace skewback
