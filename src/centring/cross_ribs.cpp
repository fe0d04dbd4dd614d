#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "centring/rib_draft.hpp"
#include "centring/rib_top.hpp"

namespace skewback {
namespace {

constexpr double kBeyond = 0.08;    // m, of a cross rib past the outer ribs
constexpr double kUnder = 0.005;    // m, under the soffit: it carries no block
constexpr double kDepth = 0.6;      // of the depth of a rib
constexpr double kEnd = 0.07;       // m, of a rib past the slot nearest to its end
constexpr double kOffSeat = 0.05;   // m, from the middle of a seat to a slot
constexpr double kLeastGap = 0.25;  // m, between cross ribs
// m, from a splice to a slot: its plates whole; and with shorter ones
constexpr double kOffSplice = 0.25, kOffSpliceLeast = 0.18;

struct Hit {
  std::size_t rib;
  double x, v;  // along the rib, along the cross rib
};

struct Family {
  int index;
  PlanLine axis;
  double from, to;
};

Family family_of(const std::vector<RibDraft>& ribs, int index) {
  Family family{index, {}, 0, 0};
  Vec2 mean = Vec2::Zero();
  for (const RibDraft& rib : ribs) {
    if (rib.run.family != index || rib.rib.is_cross) continue;
    if (mean.isZero()) family.axis.at = rib.run.line.at;
    if (!rib.run.bridging) mean += rib.run.line.along;
  }
  family.axis.along = mean.normalized();
  family.from = std::numeric_limits<double>::infinity();
  family.to = -family.from;
  for (const RibDraft& rib : ribs) {
    if (rib.run.family != index || rib.rib.is_cross) continue;
    family.from = std::min(family.from, family.axis.x_of(rib.run.line.at));
    family.to = std::max(family.to, family.axis.x_of(rib.run.line.point(rib.run.length)));
  }
  return family;
}

PlanLine station(const Family& family, double s) {
  return {family.axis.point(s), {-family.axis.along.y(), family.axis.along.x()}};
}

std::vector<Hit> hits(const std::vector<RibDraft>& ribs, std::size_t count, const PlanLine& cross) {
  std::vector<Hit> found;
  for (std::size_t i = 0; i < count; ++i) {
    const PlanLine& line = ribs[i].run.line;
    const double turn = cross.along.x() * line.along.y() - cross.along.y() * line.along.x();
    if (std::abs(turn) < 0.3) continue;
    const Vec2 off = line.at - cross.at;
    const double v = (off.x() * line.along.y() - off.y() * line.along.x()) / turn;
    const double x = line.x_of(cross.point(v));
    if (x < kEnd || x > ribs[i].run.length - kEnd) continue;
    found.push_back({i, x, v});
  }
  std::ranges::stable_sort(found, {}, &Hit::v);
  return found;
}

/// Neighbouring ribs of the family that one cross rib ties, none of another leg between them.
std::vector<std::vector<Hit>> groups(const CentringDraft& draft, const Family& family,
                                     const std::vector<Hit>& all) {
  std::vector<std::vector<Hit>> out;
  bool open = false;
  for (const Hit& hit : all) {
    if (draft.ribs[hit.rib].run.family != family.index) {
      open = false;
      continue;
    }
    if (open && hit.v - out.back().back().v > 2 * draft.request().rib_spacing_m) open = false;
    if (!open) out.emplace_back();
    out.back().push_back(hit);
    open = true;
  }
  std::erase_if(out, [](const auto& group) { return group.size() < 2; });
  return out;
}

/// Metres from the nearest seat to the slots at a station; none: nothing to tie there.
std::optional<double> off_seats(const CentringDraft& draft, const Family& family, double s,
                                std::size_t count) {
  const auto tied = groups(draft, family, hits(draft.ribs, count, station(family, s)));
  if (tied.empty()) return std::nullopt;
  double off = 1;
  for (const auto& group : tied) {
    for (const Hit& hit : group) {
      for (const Seat& seat : draft.out.seats) {
        if (seat.rib == draft.ribs[hit.rib].rib.id) {
          off = std::min(off, std::abs(seat.along_m - hit.x));
        }
      }
    }
  }
  return off;
}

std::vector<double> stations(const CentringDraft& draft, const Family& family, std::size_t count) {
  struct Place {
    double s, off;
  };
  std::vector<Place> places;
  const double clear = kOffSeat + draft.request().sheet_thickness_m / 2;
  for (double s = family.from + kEnd; s < family.to - kEnd; s += 0.01) {
    if (const auto off = off_seats(draft, family, s, count)) {
      places.push_back({s, std::min(*off, clear)});
    }
  }
  std::vector<double> chosen;
  if (places.empty()) return chosen;
  const double step = draft.request().cross_spacing_m;
  // the farthest of the clearest places within reach of the last
  const auto pick = [&](double from, double to) -> std::optional<double> {
    std::optional<Place> best;
    for (const Place& place : places) {
      if (place.s >= from - 1e-9 && place.s <= to + 1e-9 && (!best || place.off >= best->off)) {
        best = place;
      }
    }
    return best ? std::optional(best->s) : std::nullopt;
  };
  const double first = places.front().s, last = places.back().s;
  if (const auto s = pick(first, first + step / 3)) chosen.push_back(*s);
  while (!chosen.empty() && last - chosen.back() > kLeastGap) {
    const double left = last - chosen.back(), even = left / std::ceil(left / step - 1e-9);
    const double most = std::min(step, even + 0.1);
    auto s = pick(std::max(chosen.back() + kLeastGap, chosen.back() + even - 0.15),
                  chosen.back() + most);
    if (!s) s = pick(chosen.back() + kLeastGap, last);  // a gap without ribs to tie
    if (!s) break;
    chosen.push_back(*s);
  }
  return chosen;
}

double angle_between(const PlanLine& a, const PlanLine& b) {
  return std::acos(std::clamp(std::abs(a.along.dot(b.along)), 0.0, 1.0));
}

void lay_one(CentringDraft& draft, const PlanLine& across, const std::vector<Hit>& group,
             int family, int& number) {
  const CentringRequest& request = draft.request();
  const double lower = kUnder + (request.seats == "laggings" ? request.lagging_thickness_m : 0);
  RibDraft cross;
  cross.run.line = {across.point(group.front().v - kBeyond), across.along};
  cross.run.length = group.back().v - group.front().v + 2 * kBeyond;
  cross.run.family = family;
  cross.rib.top =
      top_edge(draft.all, cross.run.line, 0, cross.run.length, request.sheet_thickness_m, lower);
  if (cross.rib.top.empty()) return;
  cross.rib.is_cross = true;
  cross.rib.place = upright(cross.run.line);
  const double bottom = std::max(
      draft.floor_m(), least(cross.rib.top, 0, cross.run.length) - kDepth * request.rib_depth_m);
  cross.rib.bottom = {{0, bottom}, {cross.run.length, bottom}};
  const int self = static_cast<int>(draft.ribs.size());
  for (const Hit& hit : group) {
    RibDraft& rib = draft.ribs[hit.rib];
    const double angle = angle_between(rib.run.line, cross.run.line);
    rib.crossings.push_back({self, hit.x, angle, 0, 0});
    cross.crossings.push_back(
        {static_cast<int>(hit.rib), hit.v - group.front().v + kBeyond, angle, 0, 0});
  }
  cross.rib.id = "C" + std::to_string(++number);
  draft.ribs.push_back(std::move(cross));
}

void lay_station(CentringDraft& draft, const Family& family, double s, std::size_t count,
                 int& number) {
  const PlanLine across = station(family, s);
  for (const auto& group : groups(draft, family, hits(draft.ribs, count, across)))
    lay_one(draft, across, group, family.index, number);
}

/// How near a station is to what is there already on the ribs it would tie; whether `rib` is one.
struct Beside {
  bool tied = false;
  double crossing = 1e9, splice = 1e9, seat = 0;
};
Beside beside(const CentringDraft& draft, const Family& family, std::size_t rib, double s,
              std::size_t count) {
  Beside out;
  for (const auto& group : groups(draft, family, hits(draft.ribs, count, station(family, s)))) {
    for (const Hit& hit : group) {
      const RibDraft& on = draft.ribs[hit.rib];
      out.tied = out.tied || hit.rib == rib;
      for (const Crossing& there : on.crossings)
        out.crossing = std::min(out.crossing, std::abs(there.x - hit.x));
      for (const double x : on.rib.splices) out.splice = std::min(out.splice, std::abs(x - hit.x));
    }
  }
  out.seat = off_seats(draft, family, s, count).value_or(0);
  return out;
}

/// Station for one more between two x of a rib, near their middle, clear of other ribs across and
/// of splices, and of seats as far as may be.
std::optional<double> place_asked(const CentringDraft& draft, const Family& family, std::size_t rib,
                                  const CentringDesign::Across& ask, std::size_t count) {
  const PlanLine& line = draft.ribs[rib].run.line;
  const double from = family.axis.x_of(line.point(ask.from_m));
  const double to = family.axis.x_of(line.point(ask.to_m)), middle = (from + to) / 2;
  const double clear = kOffSeat + draft.request().sheet_thickness_m / 2;
  for (const double off_splice : {kOffSplice, kOffSpliceLeast}) {
    std::optional<double> best;
    double least = 0;
    for (double s = std::min(from, to) + 0.01; s < std::max(from, to); s += 0.01) {
      const Beside at = beside(draft, family, rib, s, count);
      if (!at.tied || at.crossing < kLeastGap || at.splice < off_splice) continue;
      // a centimetre too near to a seat counts as five off the middle
      const double off = std::abs(s - middle) + 5 * std::max(0.0, clear - at.seat);
      if (best && off >= least - 1e-9) continue;
      best = s;
      least = off;
    }
    if (best) return best;
  }
  return std::nullopt;
}

}  // namespace

void lay_cross_ribs(CentringDraft& draft) {
  const std::size_t count = draft.ribs.size();
  int families = 0, number = 0;
  for (const RibDraft& rib : draft.ribs) families = std::max(families, rib.run.family + 1);
  for (int f = 0; f < families; ++f) {
    if (std::ranges::none_of(draft.ribs, [&](const RibDraft& r) { return r.run.family == f; })) {
      continue;
    }
    const Family family = family_of(draft.ribs, f);
    for (const double s : stations(draft, family, count))
      lay_station(draft, family, s, count, number);
  }
  for (RibDraft& rib : draft.ribs) std::ranges::stable_sort(rib.crossings, {}, &Crossing::x);
}

void lay_asked(CentringDraft& draft) {
  const auto across =
      std::ranges::find(draft.ribs, true, [](const auto& r) { return r.rib.is_cross; });
  const auto count = static_cast<std::size_t>(across - draft.ribs.begin());
  int number = static_cast<int>(draft.ribs.size() - count);
  for (const CentringDesign::Across& ask : draft.design.across) {
    const auto rib = std::ranges::find(draft.ribs, ask.rib, [](const auto& r) { return r.rib.id; });
    if (rib == draft.ribs.end()) continue;
    if (std::ranges::any_of(rib->crossings, [&](const Crossing& c) {
          return c.x > ask.from_m + 1e-6 && c.x < ask.to_m - 1e-6;
        }))
      continue;  // what was asked for a neighbour crosses it too
    const auto index = static_cast<std::size_t>(rib - draft.ribs.begin());
    const Family family = family_of(draft.ribs, rib->run.family);
    const auto s = place_asked(draft, family, index, ask, count);
    if (s) lay_station(draft, family, *s, count, number);
  }
  for (RibDraft& rib : draft.ribs) std::ranges::stable_sort(rib.crossings, {}, &Crossing::x);
}

}  // namespace skewback
