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

std::optional<std::vector<double>> split(const CentringRequest& request, const RibDraft& rib,
                                         const Places& places) {
  const double length = rib.run.length;
  std::vector<double> cuts;
  double from = 0;
  while (!fits(request, rib, from, length)) {
    std::optional<double> best;
    double least = 0, longest = 0;
    for (double x = from + kShortest; x < length - kShortest; x += kGrid) {
      if (!fits(request, rib, from, x)) break;
      longest = x;
    }
    for (double x = std::max(from + kShortest, from + (longest - from) / 2); x <= longest + 1e-9;
         x += kGrid) {
      const double cost = unwelcome(request, places, x) + 0.3 * (longest - x);
      if (!best || cost < least) {
        best = x;
        least = cost;
      }
    }
    if (!best) return std::nullopt;
    cuts.push_back(*best);
    from = *best;
  }
  return cuts;
}

}  // namespace

double splice_half_m(const RibDraft& rib, double x) {
  double half = std::min({kHalf, x - 0.05, rib.run.length - x - 0.05});
  for (const Crossing& c : rib.crossings) {
    half = std::min(half, std::abs(c.x - x) - c.slot_width_m / 2 - kClear);
  }
  return half;
}

void set_splices(CentringDraft& draft) {
  for (RibDraft& rib : draft.ribs) {
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
      if (splice_half_m(rib, x) < 0.1) {
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
