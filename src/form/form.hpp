#pragma once
// The surface in compression-only equilibrium: a net of force densities (Schek 1974), its flow of
// weight, the arms (watershed of the flow) and phi, metres along the flow from each support.
// Theory: docs/theory/form.md.

#include <array>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "brief/brief.hpp"

namespace skewback {

struct NetEdge {
  int a = 0, b = 0;
  double q = 0;  // force density, N/m; > 0 compresses; axial force = q * length
  // Free edge it lies on, or -1: below plan.free_edges.size() one of these, from there on the edge
  // of plan.openings[free_edge - plan.free_edges.size()].
  int free_edge = -1;
};

struct ArmQuality {
  double scale = 0;             // mean of d.grad(phi): phi metres per true metre
  double angle_median_deg = 0;  // between grad(phi) and the flow
  double angle_p90_deg = 0;
};

struct Achieved {  // one wish of the brief
  std::string name;
  double asked = 0, got = 0;
  std::string unit;  // "m", "N"
  bool met = false;
};

struct SearchCost {
  int steps = 0, inner_steps = 0;  // Gauss-Newton; conjugate gradients inside them
};

struct Form {
  std::vector<Vec3> vertices;                 // middle surface
  std::vector<std::array<int, 3>> triangles;  // counter-clockwise seen from above
  std::vector<NetEdge> edges;
  std::vector<int> support_of;    // per vertex: support index, -1 if free
  std::vector<int> free_edge_of;  // per vertex: as NetEdge::free_edge, -1 if none
  std::vector<double> load_n;     // per vertex, downward
  std::vector<Vec3> reaction_n;   // per vertex: force of the support on the surface, 0 if free
  // per triangle
  // Support index its weight goes to. Between two meetings: on the half of the spine beside the
  // first the count of supports, beside the second one more.
  std::vector<int> arm;
  std::vector<Vec2> flow;             // unit, plan, downhill towards the support
  std::vector<double> flow_strength;  // |v|
  // At its corners; doubled along arm borders. On the spine it goes on from the meeting up to its
  // middle.
  std::vector<std::array<double, 3>> phi;
  std::vector<ArmQuality> arms;  // per support, then the halves of a spine
  int spine_arms = 0;            // how many of them are halves of a spine: 0 or 2

  double residual_rel = 0;   // largest node residual over the whole load
  double tension_max_n = 0;  // largest axial tension in an edge, 0 if none
  // at the meeting; mean of the eye's edge if there is an eye; in the middle of a spine
  double rise_asked_m = 0, rise_m = 0;
  double plan_shift_max_m = 0;  // how far equilibrium moved vertices from the drawn plan
  double thrust_max_n = 0;      // horizontal, largest support
  double fit_rms_m = 0;         // rms plan distance of the free edges from the drawn ones
  // rms of the change of horizontal force from edge to edge along fibres, by the mean force
  double unevenness_rel = 0;
  std::vector<Achieved> achieved;  // the rise first, then in the order of the brief
  SearchCost cost;
  bool by_load_path = false;  // the search began at the least load path
  bool plain_kept = false;    // not all wishes can be had; the form without them is nearer to them
};

/// True if anything is asked for beside the rise: heights, lines, ceilings, a target, an edge
/// distance, or an evenness other than 1. Only then does the fit follow wishes; else a plainer one
/// serves.
[[nodiscard]] bool has_wishes(const FormRequest& asked);

/// Finds the form. `vertex_load_n` (per vertex, downward) replaces the first guess of the weight;
/// its length must be that of an earlier Form of the same brief. Faults: a plan that cannot work,
/// with the place and the least change that mends it.
[[nodiscard]] Result<Form> find_form(const Brief& brief,
                                     const std::vector<double>& vertex_load_n = {},
                                     const Progress& progress = {});

/// Per arm the greatest phi of the flow that runs down it, m: its own, of a leg at a spine that of
/// the half that goes on from it.
[[nodiscard]] std::vector<double> greatest_phi(const Form& form);

/// Line of a free edge as drawn, by the index of NetEdge::free_edge; an opening's edge is closed,
/// counter-clockwise, its first point repeated.
[[nodiscard]] std::vector<Vec2> drawn_edge(const Plan& plan, int free_edge);

/// Force polygon of a node in plan: the horizontal forces on it, in cyclic order; they close.
struct ForcePolygon {
  int vertex = -1;
  std::vector<Vec3> forces;  // edge forces on the node then the load, N; sum = closure error
  double closure_rel = 0;
};
[[nodiscard]] ForcePolygon force_polygon(const Form& form, int vertex);

}  // namespace skewback
