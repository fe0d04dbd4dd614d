#pragma once
// Fibre mesh of a star plan: every free edge k owns a bundle of fibres that run from support k past
// the meeting point to support k + 1. The outermost fibre is the free edge, the innermost the two
// centrelines, which neighbouring bundles share. Plan only; metres.

#include <array>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

struct MeshEdge {
  int a = 0, b = 0;
  bool along = false;  // follows a fibre; else crosses the arm
  int free_edge = -1;
};

// Half fibres from a support up to the ridges, all of the same count of points: side by side from
// the free edge before the support to the one after it. Points on ridges belong to two arms.
struct Arm {
  std::vector<std::vector<int>> fibres;
  int centre = 0;  // the one that ends at the meeting point
};

struct FibreMesh {
  std::vector<Vec2> points;
  std::vector<std::array<int, 4>> quads;      // counter-clockwise
  std::vector<MeshEdge> edges;                // none between two supported points
  std::vector<int> support_of, free_edge_of;  // per point, -1 if none
  int meeting = -1;
  std::vector<Arm> arms;  // per support
  // rows: chains of points from a free edge inwards to the centreline (or the meeting point)
  std::vector<std::vector<int>> rows;
};

/// Laws: quads cover the plan once, every quad convex with positive area. Faults name the place
/// where a plan cannot be meshed. Openings are refused: they come later.
[[nodiscard]] Result<FibreMesh> fibre_mesh(const Plan& plan, double mesh_size_m);

/// Where the arms meet: as drawn, else the centroid of the waists.
[[nodiscard]] Vec2 meeting_point(const Plan& plan);

/// Each quad split along its shorter diagonal.
[[nodiscard]] std::vector<std::array<int, 3>> triangles_of(const FibreMesh& mesh);

}  // namespace skewback
