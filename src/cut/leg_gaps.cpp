#include "cut/leg_gaps.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "form/leg_opening.hpp"

namespace skewback {
namespace {

constexpr double kNotch = 0.03;             // m past a tip, less half a pad
constexpr double kSquare = 50 * kPi / 180;  // of the opening's wall against the bed, at least
constexpr int kLooks = 100;                 // from tip to tip

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Rim {
  const Body& body;
  const ArmField& arm;
  std::vector<const NetEdge*> edges;
  int low = -1, high = -1;  // vertices at the tips
  [[nodiscard]] double phi(int v) const { return arm.phi[at(v)]; }
};

/// Least angle of the opening's wall to a joint's plane where that meets it, sine.
double squareness(const Rim& rim, const Plane& plane, double phi) {
  double least = 1;
  for (const NetEdge* e : rim.edges) {
    if ((rim.phi(e->a) < phi) == (rim.phi(e->b) < phi)) continue;
    const Vec3 way = rim.body.form.vertices[at(e->b)] - rim.body.form.vertices[at(e->a)];
    least = std::min(least, std::abs(way.normalized().dot(plane.normal)));
  }
  return least;
}

/// phi of the first joint past a tip that meets the wall squarely enough; else the squarest.
double joint_past(const Rim& rim, int tip, double to, double notch) {
  const double from = rim.phi(tip);
  double best = from + 0.5 * (to - from), squarest = -1;
  for (int i = 1; i < kLooks; ++i) {
    const double phi = from + (to - from) * i / kLooks;
    const Plane plane = level_plane(rim.body, rim.arm, phi);
    if (std::abs(plane.distance(rim.body.form.vertices[at(tip)])) < notch) continue;
    const double square = squareness(rim, plane, phi);
    if (square > squarest) squarest = square, best = phi;
    if (square >= std::sin(kSquare)) break;
  }
  return best;
}

}  // namespace

Result<std::vector<std::optional<LegGap>>> leg_gaps(const Brief& brief, const Body& body,
                                                    const std::vector<ArmField>& arms) {
  std::vector<std::optional<LegGap>> out(arms.size());
  for (const LegOpening& opening : leg_openings(brief.plan)) {
    const int edge = static_cast<int>(brief.plan.free_edges.size() + opening.opening);
    Rim rim{body, arms[opening.leg], {}};
    for (std::size_t v = 0; v < body.form.free_edge_of.size(); ++v) {
      if (body.form.free_edge_of[v] != edge) continue;
      if (std::isnan(rim.phi(static_cast<int>(v)))) {
        const Vec3& p = body.form.vertices[v];
        char place[64];
        std::snprintf(place, sizeof place, "(%.3f, %.3f)", p.x(), p.y());
        return Fault{
            .key = "cut: plan.openings[" + std::to_string(opening.opening + 1) + "]",
            .found =
                std::string("an opening past which weight flows to another support at ") + place,
            .expected = "an opening whose sides both carry to the support of its leg",
            .change = "move it towards " + brief.plan.supports[opening.leg].id};
      }
      const int i = static_cast<int>(v);
      if (rim.low < 0 || rim.phi(i) < rim.phi(rim.low)) rim.low = i;
      if (rim.high < 0 || rim.phi(i) > rim.phi(rim.high)) rim.high = i;
    }
    for (const NetEdge& e : body.form.edges)
      if (e.free_edge == edge) rim.edges.push_back(&e);
    const double notch = kNotch + brief.joints.pad_thickness_m / 2;
    LegGap gap;
    gap.opening = static_cast<int>(opening.opening);
    gap.low_tip_phi_m = rim.phi(rim.low);
    gap.high_tip_phi_m = rim.phi(rim.high);
    gap.low_joint_phi_m = joint_past(rim, rim.low, gap.high_tip_phi_m, notch);
    gap.high_joint_phi_m = joint_past(rim, rim.high, gap.low_tip_phi_m, notch);
    out[opening.leg] = gap;
  }
  return out;
}

std::vector<double> stops_at(const LegGap& gap, const Way& way, double shortest_m) {
  const double low = way.length_at(gap.low_joint_phi_m), high = way.length_at(gap.high_joint_phi_m);
  if (high - low >= shortest_m) return {low, high};
  return {0.5 * (way.length_at(gap.low_tip_phi_m) + way.length_at(gap.high_tip_phi_m))};
}

}  // namespace skewback
