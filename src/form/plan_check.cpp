#include "form/plan_check.hpp"

#include <algorithm>
#include <cstdio>

#include "form/polyline.hpp"

namespace skewback {
namespace {

constexpr double kBulgeAllowed = 0.015;  // of the edge's length: the wiggle of a drawn curve

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

Faults check_plan(const Plan& plan) {
  Faults faults;
  if (!plan.openings.empty()) {
    Fault fault;
    fault.key = "plan.openings";
    fault.found = std::to_string(plan.openings.size()) + " opening(s)";
    fault.expected = "none: openings come later, this version forms whole plans only";
    fault.change = "leave the openings out";
    faults.push_back(fault);
  }
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
  return faults;
}

}  // namespace skewback
