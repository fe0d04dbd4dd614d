#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr double kHalf = 0.2;      // m, of a splice plate to each side
constexpr double kClear = 0.025;   // m, of a plate from the rib that crosses
constexpr double kShortest = 0.5;  // m, of a piece
constexpr double kGrid = 0.01;     // m
constexpr double kOffSeat = 0.02;  // m, of a cut from the middle of a seat, least

/// Would the piece between two x lie on a sheet, its top edge's chord along the grain?
bool fits(const CentringRequest& request, const RibDraft& rib, double from, double to) {
  const Edge top = between(rib.rib.top, from, to), bottom = between(rib.rib.bottom, from, to);
  const Vec2 way = (top.back() - top.front()).normalized(), up(-way.y(), way.x());
  Vec2 low(1e9, 1e9), high(-1e9, -1e9);
  for (const Edge* edge : {&top, &bottom}) {
    for (const Vec2& p : *edge) {
      const Vec2 q(p.dot(way), p.dot(up));
      low = low.cwiseMin(q);
      high = high.cwiseMax(q);
    }
  }
  return high.x() - low.x() <= request.sheet_length_m - 2 * request.part_gap_m &&
         high.y() - low.y() <= request.sheet_width_m - 2 * request.part_gap_m;
}

double nearest(const std::vector<double>& xs, double x) {
  double best = 1e9;
  for (const double v : xs) best = std::min(best, std::abs(v - x));
  return best;
}

struct Places {
  std::vector<double> crossings, seats, quarters, feet;
};

/// How unwelcome a cut is at x: metres from a quarter of a bay, more where it would be in the way.
double unwelcome(const CentringRequest& request, const Places& places, double x) {
  double cost = places.quarters.empty() ? 0 : nearest(places.quarters, x);
  const double half_slot = request.sheet_thickness_m;
  const double free = nearest(places.crossings, x) - half_slot - kClear;
  if (free < kHalf) cost += 10 * (kHalf - free);
  if (nearest(places.seats, x) < kOffSeat) cost += 5;
  if (nearest(places.feet, x) < request.post_m) cost += 5;
  return cost;
}

double along_top(const RibDraft& rib, double from, double to) {
  return std::hypot(to - from, height(rib.rib.top, to) - height(rib.rib.top, from));
}

std::optional<std::vector<double>> split(const CentringRequest& request, const RibDraft& rib,
                                         const Places& places) {
  const double length = rib.run.length;
  std::vector<double> cuts;
  double from = 0;
  while (!fits(request, rib, from, length)) {
    std::vector<double> may;
    for (double x = from + kGrid; x < length && fits(request, rib, from, x); x += kGrid) {
      if (along_top(rib, from, x) < kShortest || along_top(rib, x, length) < kShortest) continue;
      may.push_back(x);
    }
    if (may.empty()) return std::nullopt;
    const double longest = along_top(rib, from, may.back());
    const auto cost = [&](double x) {
      const double lost = longest - along_top(rib, from, x);
      return unwelcome(request, places, x) + 0.3 * lost + (lost > longest / 2 ? 100 : 0);
    };
    from = *std::ranges::min_element(may, {}, cost);
    cuts.push_back(from);
  }
  return cuts;
}

}  // namespace

double splice_half_m(const RibDraft& rib, double x) {
  const double rise = height(rib.rib.top, x + 0.1) - height(rib.rib.top, x - 0.1);
  const double along = kHalf * 0.2 / std::hypot(0.2, rise);  // of x, for the length of a plate
  double half = std::min({along, x - 0.05, rib.run.length - x - 0.05});
  for (const Crossing& c : rib.crossings) {
    half = std::min(half, std::abs(c.x - x) - c.slot_width_m / 2 - kClear);
  }
  return half;
}

void set_splices(CentringDraft& draft, std::size_t from) {
  for (std::size_t r = from; r < draft.ribs.size(); ++r) {
    RibDraft& rib = draft.ribs[r];
    if (rib.rib.top.empty()) continue;
    Places places;
    places.crossings = rib.rib.crossings;
    places.feet = rib.rib.feet;
    for (std::size_t i = 1; i < places.feet.size(); ++i) {
      const double a = places.feet[i - 1], b = places.feet[i];
      places.quarters.push_back(a + (b - a) / 4);
      places.quarters.push_back(b - (b - a) / 4);
    }
    for (const Seat& seat : draft.out.seats) {
      if (seat.rib == rib.rib.id) places.seats.push_back(seat.along_m);
    }
    const auto cuts = split(draft.request(), rib, places);
    if (!cuts) {
      draft.out.remarks.push_back(rib.rib.id + " cannot be divided into pieces that fit a sheet");
      continue;
    }
    rib.rib.splices = *cuts;
    for (const double x : *cuts) {
      char text[200];
      if (splice_half_m(rib, x) < 0.06) {
        std::snprintf(text, sizeof text,
                      "%s is spliced %.2f m from its start, too near a crossing for full plates",
                      rib.rib.id.c_str(), x);
        draft.out.remarks.emplace_back(text);
      } else if (nearest(places.seats, x) < kOffSeat) {
        std::snprintf(text, sizeof text, "%s is spliced under a seat, %.2f m from its start",
                      rib.rib.id.c_str(), x);
        draft.out.remarks.emplace_back(text);
      }
    }
  }
}

}  // namespace skewback
