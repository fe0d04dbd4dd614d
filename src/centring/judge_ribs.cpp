// Ribs as beams: where their feet, seats and crossings are.

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "centring/judge_parts.hpp"
#include "centring/polyline.hpp"

namespace skewback {
namespace {

constexpr double kNear = 0.05;        // m, along a rib: the same foot or crossing
constexpr double kSlotPlay = 0.5e-3;  // m, a slot is cut deeper than half
constexpr double kPiece = 0.05;       // m, longest piece of a beam
constexpr double kPieces = 200;       // most, of evenly cut ones
constexpr double kSharp = 1e-3;       // m, least depth: ends that run out to a point
constexpr double kShearShare = 12;    // E over G of birch plywood on edge (7.5 GPa, 0.62 GPa; from
                                      // memory of a maker's handbook)

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Places {  // x of the beam's points
  std::vector<double> x;
  [[nodiscard]] std::size_t nearest(double wanted) const {
    const auto after = std::ranges::lower_bound(x, wanted);
    if (after == x.begin()) return 0;
    if (after == x.end()) return x.size() - 1;
    const auto i = static_cast<std::size_t>(after - x.begin());
    return wanted - x[i - 1] < x[i] - wanted ? i - 1 : i;
  }
};

Places cut_up(const Rib& rib, std::vector<double> wanted) {
  const double from = std::max(rib.top.front().x(), rib.bottom.front().x());
  const double to = std::min(rib.top.back().x(), rib.bottom.back().x());
  for (const auto& line : {rib.top, rib.bottom}) {
    for (const Vec2& p : line) wanted.push_back(p.x());
  }
  wanted.push_back(from);
  wanted.push_back(to);
  for (double& x : wanted) x = std::clamp(x, from, to);
  std::ranges::sort(wanted);
  const double piece = std::max(kPiece, (to - from) / kPieces);
  Places out;
  for (const double x : wanted) {
    if (out.x.empty()) out.x.push_back(x);
    const double start = out.x.back(), gap = x - start;
    if (gap < 1e-6) continue;
    const int parts = std::max(1, static_cast<int>(std::ceil(gap / piece - 1e-9)));
    for (int k = 1; k <= parts; ++k) out.x.push_back(start + gap * k / parts);
  }
  return out;
}

BeamShape shape_of(const Brief& brief, const Rib& rib, const Places& places) {
  BeamShape shape;
  shape.thickness_m = brief.centring.sheet_thickness_m;
  shape.stiffness_pa = brief.centring.stiffness_pa;
  shape.shear_modulus_pa = brief.centring.stiffness_pa / kShearShare;
  for (const double x : places.x)
    shape.axis.emplace_back(x, (height(rib.top, x) + height(rib.bottom, x)) / 2);
  for (std::size_t i = 0; i < shape.axis.size(); ++i) {
    const Vec2 way =
        shape.axis[std::min(i + 1, shape.axis.size() - 1)] - shape.axis[i > 0 ? i - 1 : 0];
    const double x = places.x[i], tall = height(rib.top, x) - height(rib.bottom, x);
    shape.depth_m.push_back(std::max(tall * way.x() / way.norm(), kSharp));
  }
  return shape;
}

std::vector<double> own_weight(const Brief& brief, const Rib& rib, const Places& places) {
  std::vector<double> out(places.x.size(), 0);
  for (std::size_t i = 0; i + 1 < places.x.size(); ++i) {
    const double x = (places.x[i] + places.x[i + 1]) / 2;
    const double tall = std::max(height(rib.top, x) - height(rib.bottom, x), 0.0);
    const double n = brief.centring.density * kGravity * brief.centring.sheet_thickness_m * tall *
                     (places.x[i + 1] - places.x[i]);
    out[i] += n / 2;
    out[i + 1] += n / 2;
  }
  return out;
}

/// x of the crossing on the other rib; none if they do not meet there.
std::optional<double> meets(const Rib& rib, double x, const Rib& other) {
  const double y = (height(rib.top, x) + height(rib.bottom, x)) / 2;
  const Vec3 there = other.place.to_local(rib.place.to_world(Vec2(x, y)));
  if (std::abs(there.z()) > kNear) return std::nullopt;
  if (there.x() < other.top.front().x() - kNear || there.x() > other.top.back().x() + kNear)
    return std::nullopt;
  if (std::abs(other.place.z.dot(rib.place.z)) > 0.99) return std::nullopt;
  return there.x();
}

/// Cosine of the slope of a rib's middle line.
double slope_cosine(const Rib& rib, double x) {
  constexpr double kBeside = 0.01;  // m
  const auto middle = [&](double at_x) {
    at_x = std::clamp(at_x, std::max(rib.top.front().x(), rib.bottom.front().x()),
                      std::min(rib.top.back().x(), rib.bottom.back().x()));
    return Vec2(at_x, (height(rib.top, at_x) + height(rib.bottom, at_x)) / 2);
  };
  const Vec2 way = middle(x + kBeside) - middle(x - kBeside);
  return way.norm() > 0 ? way.x() / way.norm() : 1;
}

/// What the slots leave of a rib's depth: they part the height that both have in common. Ribs are
/// slotted from above, ribs across from below; where the other is not found, half is left.
double left_by_slot(const Centring& centring, const Rib& rib, double x) {
  const double top = height(rib.top, x), bottom = height(rib.bottom, x);
  double left = (top - bottom) / 2 - kSlotPlay;
  for (const Rib& other : centring.ribs) {
    if (&other == &rib || other.top.size() < 2 || other.bottom.size() < 2) continue;
    const auto there = meets(rib, x, other);
    if (!there) continue;
    const double level = other.place.to_local(rib.place.origin).y();  // of this rib's y = 0
    const double high = std::min(top, height(other.top, *there) - level);
    const double low = std::max(bottom, height(other.bottom, *there) - level);
    if (high <= low) continue;
    const double parted = (high + low) / 2;
    left = (rib.is_cross ? top - parted : parted - bottom) - kSlotPlay;
    break;
  }
  return std::max(left * slope_cosine(rib, x), kSharp);
}

struct Draft {
  RibBeam beam;
  Places places;
  std::vector<double> foot_x;
  bool carried = false;
};

Draft begin(const Brief& brief, const Centring& centring, int r) {
  Draft out;
  RibBeam& beam = out.beam;
  beam.rib = r;
  const Rib& rib = centring.ribs[at(r)];
  if (rib.top.size() < 2 || rib.bottom.size() < 2) return out;
  std::vector<double> wanted = rib.crossings;
  wanted.insert(wanted.end(), rib.splices.begin(), rib.splices.end());
  for (std::size_t f = 0; f < centring.feet.size(); ++f) {
    if (centring.feet[f].rib != rib.id) continue;
    beam.feet.push_back(static_cast<int>(f));
    out.foot_x.push_back(rib.place.to_local(centring.feet[f].head).x());
  }
  for (const double x : rib.feet) {
    if (std::ranges::any_of(out.foot_x, [&](double y) { return std::abs(x - y) < kNear; }))
      continue;
    beam.feet.push_back(-1);
    out.foot_x.push_back(x);
  }
  wanted.insert(wanted.end(), out.foot_x.begin(), out.foot_x.end());
  for (std::size_t s = 0; s < centring.seats.size(); ++s) {
    if (centring.seats[s].rib != rib.id) continue;
    beam.seats.push_back(static_cast<int>(s));
    wanted.push_back(centring.seats[s].along_m);
  }
  out.places = cut_up(rib, wanted);
  for (const int s : beam.seats) {
    const Seat& seat = centring.seats[at(s)];
    beam.seat_at.push_back(out.places.nearest(seat.along_m));
    const double x = out.places.x[beam.seat_at.back()];
    beam.seat_above_m.push_back(rib.place.to_local(seat.prop.point).y() -
                                (height(rib.top, x) + height(rib.bottom, x)) / 2);
  }
  for (const double x : rib.crossings) {
    beam.crossing_at.push_back(out.places.nearest(x));
    beam.crossing_left_m.push_back(left_by_slot(centring, rib, x));
  }
  for (const double x : rib.splices) beam.splice_at.push_back(out.places.nearest(x));
  beam.own_n = own_weight(brief, rib, out.places);
  return out;
}

/// On its feet; with fewer than two, on the ribs it crosses that are carried themselves.
std::vector<std::pair<double, RibBeam::Support>> lies_on(const Centring& centring,
                                                         const std::vector<Draft>& drafts,
                                                         const Draft& draft) {
  std::vector<std::pair<double, RibBeam::Support>> out;
  for (std::size_t k = 0; k < draft.foot_x.size(); ++k)
    out.push_back({draft.foot_x[k], {draft.beam.feet[k], -1, 0}});
  const Rib& rib = centring.ribs[at(draft.beam.rib)];
  for (const double x : out.size() < 2 ? rib.crossings : std::vector<double>{}) {
    for (const Draft& other : drafts) {
      if (!other.carried) continue;
      const auto there = meets(rib, x, centring.ribs[at(other.beam.rib)]);
      if (!there) continue;
      out.push_back({x, {-1, other.beam.rib, other.places.nearest(*there)}});
      break;
    }
  }
  std::ranges::stable_sort(out, {}, [](const auto& s) { return s.first; });
  const auto same = [](const auto& a, const auto& b) { return b.first - a.first < 1e-3; };
  const auto rest = std::ranges::unique(out, same);
  out.erase(rest.begin(), rest.end());
  return out;
}

void stand_on(const Brief& brief, const Centring& centring, Draft& draft,
              const std::vector<std::pair<double, RibBeam::Support>>& supports) {
  const Rib& rib = centring.ribs[at(draft.beam.rib)];
  std::vector<BeamSupport> under;
  for (const auto& [x, support] : supports) {
    const std::size_t point = draft.places.nearest(x);
    const double tall = height(rib.top, x) - height(rib.bottom, x);
    const FootHold hold =
        support.foot >= 0 ? braces_along(brief, centring, support.foot) : FootHold{};
    const bool held = support.foot >= 0 && centring.feet[at(support.foot)].held_down;
    under.push_back({point, support.on_rib < 0 ? tall / 2 : 0, hold.stiffness_n_m, held});
    draft.beam.supports.push_back(support);
  }
  draft.beam.beam.emplace(shape_of(brief, rib, draft.places), under);
  draft.carried = true;
}

}  // namespace

std::vector<RibBeam> rib_beams(const Brief& brief, const Centring& centring) {
  std::vector<Draft> drafts;
  for (std::size_t r = 0; r < centring.ribs.size(); ++r)
    drafts.push_back(begin(brief, centring, static_cast<int>(r)));
  std::vector<std::size_t> order;
  for (std::size_t before = 0;; before = order.size()) {
    // a round looks only at ribs carried before it, so that none leans on one that leans on it
    std::vector<std::pair<std::size_t, std::vector<std::pair<double, RibBeam::Support>>>> next;
    for (std::size_t d = 0; d < drafts.size(); ++d) {
      if (drafts[d].carried) continue;
      auto supports = lies_on(centring, drafts, drafts[d]);
      if (supports.size() >= 2) next.emplace_back(d, std::move(supports));
    }
    for (const auto& [d, supports] : next) {
      stand_on(brief, centring, drafts[d], supports);
      order.push_back(d);
    }
    if (order.size() == before) break;
  }
  std::vector<RibBeam> out;
  for (Draft& draft : drafts) {
    if (!draft.carried) out.push_back(std::move(draft.beam));
  }
  for (auto d = order.rbegin(); d != order.rend(); ++d) out.push_back(std::move(drafts[*d].beam));
  return out;
}

}  // namespace skewback
