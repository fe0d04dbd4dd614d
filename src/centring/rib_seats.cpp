#include <algorithm>
#include <cmath>
#include <optional>

#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr double kIn = 0.025;        // m from a joint, least
constexpr double kShortSpan = 0.04;  // m; a block over less than this has no seat there
constexpr double kBearing = 0.12;    // m of edge, most
constexpr double kOffLine = 0.05;    // m; seats less off a line are in it

std::optional<SoffitPoint> lowest_at(const std::vector<SoffitFace>& faces, const PlanLine& line,
                                     double x) {
  for (const double nudge : {0.0, 1e-5, -1e-5, 1e-3, -1e-3}) {
    const auto points = soffit_at(faces, line, x + nudge);
    if (!points.empty()) return *std::ranges::min_element(points, {}, &SoffitPoint::height_m);
  }
  return std::nullopt;
}

void seat_block(const CentringRequest& request, const Soffits& all, const RibDraft& rib,
                const Span& span, std::vector<Seat>& seats) {
  const double length = span.to - span.from;
  if (length < kShortSpan) return;
  const double in = std::max(kIn, length / 10);
  std::vector<double> places{span.from + in, span.to - in};
  if (length < 2 * in + kIn) places = {(span.from + span.to) / 2};
  for (const double x : places) {
    const auto surface = lowest_at(all[static_cast<std::size_t>(span.block)], rib.run.line, x);
    if (!surface) continue;
    const Vec2 plan = rib.run.line.point(x);
    Seat seat;
    seat.prop = {
        span.block, {plan.x(), plan.y(), surface->height_m}, -surface->normal, request.friction};
    seat.rib = rib.rib.id;
    seat.along_m = x;
    seat.width_m = request.sheet_thickness_m;
    seat.length_m = request.seats == "laggings"
                        ? request.lagging_width_m
                        : std::min(kBearing, length / static_cast<double>(places.size()));
    seats.push_back(seat);
  }
}

}  // namespace

std::vector<Seat> seats_on(const CentringRequest& request, const Soffits& all,
                           const std::vector<RibDraft>& ribs) {
  std::vector<Seat> seats;
  for (const RibDraft& rib : ribs) {
    for (const Span& span : rib.spans) seat_block(request, all, rib, span, seats);
  }
  return seats;
}

std::vector<int> ill_seated(const Assembly& assembly, const std::vector<Seat>& seats) {
  std::vector<std::vector<Vec2>> under(assembly.blocks.size());
  for (const Seat& seat : seats) {
    under[static_cast<std::size_t>(seat.prop.block)].emplace_back(seat.prop.point.head<2>());
  }
  std::vector<int> ill;
  for (std::size_t b = 0; b < under.size(); ++b) {
    if (assembly.blocks[b].fixed) continue;
    double off = 0;
    for (const Vec2& p : under[b]) {
      for (const Vec2& q : under[b]) {
        if ((q - p).norm() < kOffLine) continue;
        const Vec2 way = (q - p).normalized();
        for (const Vec2& r : under[b]) {
          // off the line, and so from both of its ends
          off = std::max(off, std::abs(way.x() * (r - p).y() - way.y() * (r - p).x()));
        }
      }
    }
    if (under[b].size() < 3 || off < kOffLine) ill.push_back(static_cast<int>(b));
  }
  return ill;
}

}  // namespace skewback
