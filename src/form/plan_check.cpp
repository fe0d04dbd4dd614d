#include "form/plan_check.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

#include "brief/meetings.hpp"
#include "form/meeting_search.hpp"
#include "form/mesh.hpp"
#include "form/opening_check.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr double kBulgeAllowed = 0.015;  // of the edge's length: the wiggle of a drawn curve

constexpr double kOffTheWay = 1e-3;  // m

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

std::string text(const char* format, double a, double b = 0, double c = 0) {
  char buffer[160];
  std::snprintf(buffer, sizeof buffer, format, a, b, c);
  return buffer;
}

std::string edge_name(const Plan& plan, const FreeEdge& edge) {
  return "form: free edge " + plan.supports[edge.from].id + "-" + plan.supports[edge.to].id;
}

Fault bulge_fault(const Plan& plan, const FreeEdge& edge, const Bulge& bulge) {
  const double chord = (edge.line.back() - edge.line.front()).norm();
  Fault fault;
  fault.key = edge_name(plan, edge);
  fault.found = text("an edge that bulges outward by %.3f m at (%.3f, %.3f)", bulge.depth_m,
                     bulge.place.x(), bulge.place.y());
  if (bulge.depth_m > 0.25 * chord)
    fault.found += ": a part of the plan that hangs free of any support";
  fault.expected = "an edge that is straight or curves inward all along: it carries by compression";
  fault.change = text("move the outline at (%.3f, %.3f) inward by %.3f m", bulge.place.x(),
                      bulge.place.y(), bulge.depth_m) +
                 ", or give that part a support";
  return fault;
}

// The way from a support to where the arms meet, where it leaves the plan.
std::optional<Fault> way_fault(const Plan& plan, const Support& support, const Vec2& meeting) {
  constexpr int kSteps = 400;
  const Vec2 foot = 0.5 * (support.a + support.b);
  const FreeEdge* edge = nullptr;
  Bulge worst;
  for (int i = 1; i < kSteps; ++i) {
    const Vec2 p = foot + double(i) / kSteps * (meeting - foot);
    if (contains({plan.outline, {}}, p)) continue;
    OnLine on{0, HUGE_VAL, {}};
    const FreeEdge* beside = nullptr;
    for (const FreeEdge& e : plan.free_edges)
      if (const OnLine here = nearest(e.line, p); here.distance < on.distance)
        on = here, beside = &e;
    if (on.distance > worst.depth_m) worst = {on.distance, p}, edge = beside;
  }
  if (worst.depth_m <= kOffTheWay) return std::nullopt;
  Fault fault;
  fault.key = "form: support " + support.id;
  fault.found = text("a straight way to the meeting at (%.3f, %.3f) ", meeting.x(), meeting.y()) +
                text("that leaves the plan by %.3f m at (%.3f, %.3f)", worst.depth_m,
                     worst.place.x(), worst.place.y());
  fault.expected = "one meeting that every support reaches straight inside the plan";
  fault.change = "draw free edge " + plan.supports[edge->from].id + "-" +
                 plan.supports[edge->to].id +
                 text(" more than %.3f m further out there, or move plan.meeting", worst.depth_m);
  return fault;
}

}  // namespace

std::vector<Vec2> taut(const std::vector<Vec2>& line) {
  std::vector<Vec2> chain;
  for (const Vec2& p : line) {
    while (chain.size() >= 2 &&
           cross(chain.back() - chain[chain.size() - 2], p - chain.back()) >= 0)
      chain.pop_back();
    chain.push_back(p);
  }
  return chain;
}

Bulge outward_bulge(const std::vector<Vec2>& line) {
  const std::vector<Vec2> chain = taut(line);
  Bulge worst{0, line.front()};
  for (const Vec2& p : line) {
    const double d = nearest(chain, p).distance;
    if (d > worst.depth_m) worst = {d, p};
  }
  return worst;
}

Plan pulled_taut(const Plan& plan) {
  Plan out = plan;
  for (FreeEdge& edge : out.free_edges) edge.line = taut(edge.line);
  for (Polygon& opening : out.openings) {
    opening = convex_hull(opening);
    std::reverse(opening.begin(), opening.end());
  }
  return out;
}

Faults check_plan(const Plan& plan, const Section& section) {
  Faults faults;
  if (plan.supports.size() < 2 || plan.free_edges.size() != plan.supports.size()) {
    Fault fault;
    fault.key = "plan.support";
    fault.found = std::to_string(plan.supports.size()) + " support(s), " +
                  std::to_string(plan.free_edges.size()) + " free edge(s)";
    fault.expected = "two supports or more, with one free edge between each and the next";
    fault.change = "add a support";
    faults.push_back(fault);
    return faults;
  }
  for (const FreeEdge& edge : plan.free_edges) {
    const Bulge bulge = outward_bulge(edge.line);
    if (bulge.depth_m > kBulgeAllowed * length(edge.line))
      faults.push_back(bulge_fault(plan, edge, bulge));
  }
  if (auto fault = spine_fault(plan)) faults.push_back(*fault);
  if (faults.empty()) {
    const Vec2 centre = meeting_point(plan);
    for (std::size_t k = 0; k < plan.supports.size(); ++k) {
      const Vec2 meeting = plan.second_meeting ? *meeting_of(plan, k) : centre;
      if (auto fault = way_fault(plan, plan.supports[k], meeting)) faults.push_back(*fault);
    }
    if (!faults.empty() && !plan.second_meeting) {
      if (const auto place = meeting_for(plan))
        for (Fault& fault : faults)
          fault.change =
              as_written(*place) + " under [plan], which every support reaches; or " + fault.change;
      if (const auto pair = two_meetings_for(plan)) {
        for (Fault& fault : faults)
          fault.change +=
              ", or let the arms meet at both ends of what joins them: " + as_written(*pair) +
              " under [plan]";
      }
    }
  }
  for (Fault& fault : check_openings(plan, section)) faults.push_back(std::move(fault));
  return faults;
}

}  // namespace skewback
