#include "form/meeting_search.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <vector>

#include "brief/meetings.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr int kCells = 60;       // across the longer side of the plan
constexpr double kWhole = 0.01;  // m
constexpr int kTries = 100;      // of places, for what else they must be for

struct Candidate {
  double clear = 0;  // m to the outline
  Vec2 place = Vec2::Zero();
};

// Places on a grid inside the plan, the clearest first.
std::vector<Candidate> clear_places(const Plan& plan) {
  Vec2 low = plan.outline.front(), high = low;
  for (const Vec2& p : plan.outline) low = low.cwiseMin(p), high = high.cwiseMax(p);
  const double step =
      std::max(kWhole, std::ceil((high - low).maxCoeff() / kCells / kWhole) * kWhole);
  std::vector<Vec2> loop = plan.outline;
  loop.push_back(loop.front());
  std::vector<Candidate> out;
  for (double x = std::ceil(low.x() / step) * step; x < high.x(); x += step)
    for (double y = std::ceil(low.y() / step) * step; y < high.y(); y += step) {
      const Vec2 p(std::round(x / kWhole) * kWhole + 0.0, std::round(y / kWhole) * kWhole + 0.0);
      if (contains({plan.outline, {}}, p)) out.push_back({nearest(loop, p).distance, p});
    }
  std::stable_sort(out.begin(), out.end(),
                   [](const Candidate& a, const Candidate& b) { return a.clear > b.clear; });
  return out;
}

}  // namespace

std::optional<std::array<Vec2, 2>> two_meetings_for(const Plan& plan) {
  const int n = int(plan.supports.size());
  if (n < 4 || !plan.openings.empty()) return std::nullopt;
  const std::vector<Candidate> all = clear_places(plan);
  const Region whole{plan.outline, {}};
  std::vector<std::vector<char>> reached(all.size());
  const auto reaches = [&](std::size_t i, int k) {
    if (reached[i].empty()) reached[i].assign(std::size_t(n), -1);
    char& known = reached[i][std::size_t(k)];
    const Support& s = plan.supports[std::size_t(k)];
    if (known < 0) known = straight_inside(whole, 0.5 * (s.a + s.b), all[i].place);
    return known == 1;
  };
  // the clearest place that these supports reach
  const auto place_for = [&](int from, int count) -> const Candidate* {
    for (std::size_t i = 0; i < all.size(); ++i) {
      bool good = true;
      for (int k = 0; k < count && good; ++k) good = reaches(i, (from + k) % n);
      if (good) return &all[i];
    }
    return nullptr;
  };
  std::optional<std::array<Vec2, 2>> best;
  double clearest = 0;
  for (int from = 0; from < n; ++from)
    for (int count = 2; count <= n - 2; ++count) {
      const Candidate *first = place_for(from, count),
                      *second = place_for((from + count) % n, n - count);
      if (first == nullptr || second == nullptr) continue;
      Plan with = plan;
      with.meeting = first->place;
      with.second_meeting = second->place;
      if (spine_fault(with)) continue;
      if (const double clear = std::min(first->clear, second->clear); clear > clearest) {
        clearest = clear;
        best = {first->place, second->place};
      }
    }
  return best;
}

std::optional<Vec2> meeting_for(const Plan& plan, const std::function<bool(const Vec2&)>& sound) {
  const Region whole{plan.outline, {}};
  const auto reached = [&](const Vec2& place) {
    return std::ranges::all_of(plan.supports, [&](const Support& s) {
      return straight_inside(whole, 0.5 * (s.a + s.b), place);
    });
  };
  int tries = 0;
  for (const Candidate& place : clear_places(plan)) {
    if (!reached(place.place)) continue;
    if (!sound || sound(place.place)) return place.place;
    if (++tries == kTries) break;
  }
  return std::nullopt;
}

std::string as_written(const Vec2& m) {
  char text[80];
  std::snprintf(text, sizeof text, "meeting = [\"%.2f m\", \"%.2f m\"]", m.x(), m.y());
  return text;
}

std::string as_written(const std::array<Vec2, 2>& m) {
  char text[120];
  std::snprintf(text, sizeof text, "meeting = [[\"%.2f m\", \"%.2f m\"], [\"%.2f m\", \"%.2f m\"]]",
                m[0].x(), m[0].y(), m[1].x(), m[1].y());
  return text;
}

}  // namespace skewback
