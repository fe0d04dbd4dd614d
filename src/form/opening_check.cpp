#include "form/opening_check.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>
#include <optional>

#include "form/leg_opening.hpp"
#include "form/mesh.hpp"
#include "form/opening.hpp"
#include "form/plan_check.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr double kDentAllowed = 0.002;  // of an opening's length round
constexpr double kBesideOpening = 0.3;  // m of material, at least
constexpr double kMoveStep = 0.01;      // m, of a move that is tried

std::string put(const char* format, double a, double b = 0, double c = 0) {
  char buffer[160];
  const auto plain = [](double v) { return std::abs(v) < 5e-4 ? 0.0 : v; };  // no "-0.000"
  std::snprintf(buffer, sizeof buffer, format, plain(a), plain(b), plain(c));
  return buffer;
}

std::string opening_name(std::size_t k) { return "plan.openings[" + std::to_string(k + 1) + "]"; }

// An opening's edge is a hoop in compression: convex seen from inside.
std::optional<Fault> dent_fault(const Polygon& opening, std::size_t k) {
  std::vector<Vec2> hull = convex_hull(opening);
  hull.push_back(hull.front());
  Bulge worst;
  Vec2 onto = Vec2::Zero();
  for (const Vec2& p : opening)
    if (const OnLine on = nearest(hull, p); on.distance > worst.depth_m) {
      worst = {on.distance, p};
      onto = on.point;
    }
  if (worst.depth_m <= kDentAllowed * length(hull)) return std::nullopt;
  Fault fault;
  fault.key = opening_name(k);
  fault.found = put("an edge that bends into the opening by %.3f m at (%.3f, %.3f)", worst.depth_m,
                    worst.place.x(), worst.place.y());
  fault.expected = "a convex opening: its edge is a hoop that carries by compression";
  fault.change = put("move that corner to (%.3f, %.3f)", onto.x(), onto.y());
  return fault;
}

// Nearest approach of the edge of opening k to another line.
std::optional<Fault> near_fault(const Polygon& opening, std::size_t k, Polygon other,
                                const std::string& what, double least) {
  other.push_back(other.front());
  std::vector<Vec2> own = loop_of(opening);
  OnLine worst{0, least, {}};
  Vec2 from = Vec2::Zero(), to = Vec2::Zero();
  for (const Vec2& p : own)
    if (const OnLine on = nearest(other, p); on.distance < worst.distance)
      worst = on, from = p, to = on.point;
  for (const Vec2& p : other)
    if (const OnLine on = nearest(own, p); on.distance < worst.distance)
      worst = on, from = on.point, to = p;
  if (worst.distance >= least) return std::nullopt;
  Fault fault;
  fault.key = opening_name(k);
  fault.found = put("%.3f m of material at (%.3f, %.3f) between the opening and ", worst.distance,
                    from.x(), from.y()) +
                what;
  fault.expected = put("at least %.3f m", least);
  fault.change = put("draw the opening further in there by %.3f m", least - worst.distance);
  return fault;
}

Plan with_opening_moved(Plan plan, std::size_t k, const Vec2& by) {
  for (Vec2& p : plan.openings[k]) p += by;
  return plan;
}

// Whether nothing is said against where an opening off the meeting lies.
bool lies_well(const Plan& plan, std::size_t k, double least) {
  if (eye_of(plan) == k || near_fault(plan.openings[k], k, plan.outline, "", least)) return false;
  for (std::size_t j = 0; j < plan.openings.size(); ++j)
    if (j != k && near_fault(plan.openings[k], k, plan.openings[j], "", least)) return false;
  for (const LegOpening& o : leg_openings(plan)) {
    if (o.opening != k) continue;
    return out_of_leg(plan, o).most_m == 0 &&
           (eye_of(plan) || nearest(o.loop, leg_axis(plan, o.leg).second).distance >= least);
  }
  return false;
}

// Moves of an opening along `way`, the least first.
std::optional<Vec2> least_move(const Vec2& way, const std::function<bool(const Vec2&)>& mends) {
  const double whole = way.norm();
  for (double far = kMoveStep; far <= whole; far += kMoveStep)
    if (mends(far / whole * way)) return Vec2(far / whole * way);
  return std::nullopt;
}

std::string move_text(std::size_t k, const std::optional<Vec2>& by) {
  const std::string name = opening_name(k);
  return by ? "move " + name + put(" by (%.3f, %.3f) m", by->x(), by->y()) + ", or leave it out"
            : "leave it out, or draw it smaller";
}

// An opening off the meeting has a leg to itself, and is all in it.
std::optional<Fault> leg_fault(const Plan& plan, const LegOpening& o, double least) {
  const auto [foot, end] = leg_axis(plan, o.leg);
  const std::string leg = plan.supports[o.leg].id;
  Fault fault;
  fault.key = opening_name(o.opening);
  const auto mends = [&](const Vec2& by) {
    return lies_well(with_opening_moved(plan, o.opening, by), o.opening, least);
  };
  if (const OutOfLeg out = out_of_leg(plan, o); out.most_m > 0) {
    fault.found = put("an opening that reaches %.3f m over the ridge at (%.3f, %.3f), ", out.most_m,
                      out.place.x(), out.place.y()) +
                  "out of leg " + leg + " and not round the meeting";
    fault.expected = "an opening within one leg, or round the meeting";
  } else if (const OnLine on = nearest(o.loop, end); !eye_of(plan) && on.distance < least) {
    fault.found = put("%.3f m of material at (%.3f, %.3f) between the opening and ", on.distance,
                      on.point.x(), on.point.y()) +
                  "the meeting";
    fault.expected = put("at least %.3f m, or an opening round the meeting", least);
  } else {
    return std::nullopt;
  }
  fault.change = move_text(o.opening, least_move(foot - end, mends));
  return fault;
}

Fault second_in_leg(const Plan& plan, const LegOpening& first, const LegOpening& o) {
  const Vec2 middle = centroid(Region{{o.loop.begin(), o.loop.end() - 1}, {}});
  Fault fault;
  fault.key = opening_name(o.opening);
  fault.found = put("an opening round (%.3f, %.3f) in leg ", middle.x(), middle.y()) +
                plan.supports[o.leg].id + ", which has " + opening_name(first.opening);
  fault.expected = "one opening at most in each leg";
  fault.change = "leave one out, make them one, or move one to another leg";
  return fault;
}

}  // namespace

Faults check_openings(const Plan& plan, const Section& section) {
  const double least = std::max(2 * section.leaf_m, kBesideOpening);
  Faults faults;
  const auto note = [&](std::optional<Fault> fault) {
    if (fault) faults.push_back(*fault);
  };
  for (std::size_t k = 0; k < plan.openings.size(); ++k) {
    note(dent_fault(plan.openings[k], k));
    note(near_fault(plan.openings[k], k, plan.outline, "the outline", least));
    for (std::size_t j = 0; j < k; ++j)
      note(near_fault(plan.openings[k], k, plan.openings[j], opening_name(j), least));
  }
  if (plan.second_meeting) return faults;  // refused as such
  const std::vector<LegOpening> in_legs = leg_openings(plan);
  for (std::size_t i = 0; i < in_legs.size(); ++i) {
    note(leg_fault(plan, in_legs[i], least));
    for (std::size_t j = 0; j < i; ++j)
      if (in_legs[j].leg == in_legs[i].leg) {
        faults.push_back(second_in_leg(plan, in_legs[j], in_legs[i]));
        break;
      }
  }
  return faults;
}

Faults with_openings_moved(const Plan& plan, const Section& section, double mesh_size_m,
                           Faults faults) {
  const double least = std::max(2 * section.leaf_m, kBesideOpening);
  for (const LegOpening& o : leg_openings(plan)) {
    Plan alone = plan;
    alone.openings = {plan.openings[o.opening]};
    if (fibre_mesh(alone, mesh_size_m).ok()) continue;
    const auto [foot, end] = leg_axis(plan, o.leg);
    const Vec2 middle = centroid(Region{{o.loop.begin(), o.loop.end() - 1}, {}});
    const auto by = least_move(nearest({foot, end}, middle).point - middle, [&](const Vec2& move) {
      return lies_well(with_opening_moved(plan, o.opening, move), o.opening, least) &&
             fibre_mesh(with_opening_moved(alone, 0, move), mesh_size_m).ok();
    });
    faults.front().found +=
        put(", beside the opening round (%.3f, %.3f) in leg ", middle.x(), middle.y()) +
        plan.supports[o.leg].id;
    faults.front().expected = "an opening that the leg's fibres pass on either side";
    faults.front().change =
        by ? move_text(o.opening, by)
           : "draw " + opening_name(o.opening) + " more pointed along the leg, or leave it out";
    break;
  }
  return faults;
}

}  // namespace skewback
