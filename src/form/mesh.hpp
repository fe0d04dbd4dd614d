#pragma once
// Fibre mesh of a star plan: every free edge k owns a bundle of fibres that run from support k past
// the meeting point to support k + 1. The outermost fibre is the free edge, the innermost the two
// centrelines, which neighbouring bundles share. With an eye the innermost fibre runs up the
// centreline to the eye, along its edge and down the next centreline. An opening in a leg parts its
// centreline in two, one round either side, from tip to tip. With two meetings the two
// bundles that pass from one to the other share the straight spine between them as part of their
// innermost fibre; their ridge crosses it in its middle. Plan only; metres.

#include <array>
#include <optional>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

struct MeshEdge {
  int a = 0, b = 0;
  bool along = false;  // follows a fibre; else crosses the arm
  int free_edge = -1;  // as NetEdge::free_edge
  bool brace = false;  // the shorter diagonal of a slanted quad
};

// Half fibres from a support up to the ridges, from the centreline outwards to the free edge before
// the support and to the one after it; on one side all of the same count of points. The first of
// each side is the centreline; with an eye it goes on along the eye's edge, to either side; on the
// side of a spine it goes on along that to its middle. Points on ridges belong to two arms.
struct Arm {
  std::vector<std::vector<int>> before, after;
  int trunk = 0;  // the two centrelines share their points 0 to trunk
  // but for those between these two, where they pass an opening in the leg on either side of it
  int parts = 0, joins = 0;
  [[nodiscard]] bool parted(int i) const { return i > parts && i < joins; }
};

// What joins two meetings.
struct Spine {
  std::vector<int> chain;         // from the first meeting to the second, an odd count
  std::vector<int> right, left;   // per point of the chain: its neighbours across
  std::vector<int> middle;        // all points across its middle, where the halves meet
  std::vector<int> half_of_quad;  // per quad: 0 beside the first meeting, 1; -1 off the spine
};

struct FibreMesh {
  std::vector<Vec2> points;
  std::vector<std::array<int, 4>> quads;      // counter-clockwise
  std::vector<MeshEdge> edges;                // none between two supported points
  std::vector<int> support_of, free_edge_of;  // per point, -1 if none; as in Form
  int meeting = -1;                           // -1 with an eye; the first of two
  std::optional<Spine> spine;                 // with two meetings
  // Their mean height is the rise: the meeting point, the eye's edge, the middle of the spine.
  std::vector<int> crown;
  std::vector<Arm> arms;  // per support
  // per free edge: its fibres from the innermost to the free edge, all of the same count of points
  std::vector<std::vector<std::vector<int>>> bundles;
  // rows: chains of points from a free edge inwards to the centreline (the meeting point, the
  // eye's edge)
  std::vector<std::vector<int>> rows;
};

/// Laws: quads cover the plan without its openings once, every quad convex with positive area.
/// Faults name the place where a plan cannot be meshed.
[[nodiscard]] Result<FibreMesh> fibre_mesh(const Plan& plan, double mesh_size_m);

/// Whether arms meet at this point: it is held where it is drawn.
[[nodiscard]] inline bool at_meeting(const FibreMesh& mesh, int point) {
  return point == mesh.meeting || (mesh.spine && point == mesh.spine->chain.back());
}

/// Where the arms meet: as drawn, the first of two; else the centroid of the waists.
[[nodiscard]] Vec2 meeting_point(const Plan& plan);

/// Each quad split along its shorter diagonal.
[[nodiscard]] std::vector<std::array<int, 3>> triangles_of(const FibreMesh& mesh);

}  // namespace skewback
