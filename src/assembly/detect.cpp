// Joints found from the shapes of the blocks alone.

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numeric>

#include "assembly/assembly.hpp"
#include "base/parallel.hpp"

namespace skewback {
namespace {

constexpr double kFlat = 1e-5;           // m: faces this near one plane are one flat piece
constexpr double kSameWay = 0.99;        // cosine; generous, for a sliver's normal is noise
constexpr double kOpposed = -0.9999995;  // cosine: 1e-3 rad
constexpr double kThinnest = 1e-6;       // m: a narrower overlap is two edges that touch

struct Box {
  Vec3 low, high;
  static Box nothing() { return {Vec3::Constant(1e300), Vec3::Constant(-1e300)}; }
  void include(const Box& o) {
    low = low.cwiseMin(o.low);
    high = high.cwiseMax(o.high);
  }
  [[nodiscard]] bool near(const Box& o, double gap) const {
    return (low.array() <= o.high.array() + gap).all() &&
           (o.low.array() <= high.array() + gap).all();
  }
};

Box box_of(const Solid& solid, const std::vector<int>& corners) {
  Box box = Box::nothing();
  for (int i : corners) box.include({solid.vertices[i], solid.vertices[i]});
  return box;
}

Vec3 area_vector(const Solid& solid, const std::vector<int>& face) {
  const Vec3& first = solid.vertices[face[0]];
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 1; i + 1 < face.size(); ++i) {
    sum += (solid.vertices[face[i]] - first).cross(solid.vertices[face[i + 1]] - first);
  }
  return sum / 2;
}

struct FlatPiece {  // adjacent faces in one plane
  std::vector<int> faces;
  Plane plane;
  Box box;
};

struct Shape {
  const Solid* solid;
  std::vector<FlatPiece> pieces;
  Box box;
};

std::vector<std::vector<int>> neighbours_of_faces(const Solid& solid) {
  std::map<std::pair<int, int>, int> owner;
  for (std::size_t f = 0; f < solid.faces.size(); ++f) {
    const auto& face = solid.faces[f];
    for (std::size_t i = 0; i < face.size(); ++i) {
      owner[{face[i], face[(i + 1) % face.size()]}] = static_cast<int>(f);
    }
  }
  std::vector<std::vector<int>> neighbours(solid.faces.size());
  for (const auto& [edge, f] : owner) {
    const auto twin = owner.find({edge.second, edge.first});
    if (twin != owner.end() && twin->second != f) neighbours[f].push_back(twin->second);
  }
  return neighbours;
}

// Floods from the largest face outwards, always comparing with that first face.
std::vector<FlatPiece> flat_pieces(const Solid& solid) {
  const std::size_t n = solid.faces.size();
  std::vector<Vec3> areas(n);
  for (std::size_t f = 0; f < n; ++f) areas[f] = area_vector(solid, solid.faces[f]);
  std::vector<int> order(n);
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return areas[a].squaredNorm() > areas[b].squaredNorm(); });
  const auto neighbours = neighbours_of_faces(solid);
  std::vector<char> taken(n, 0);
  std::vector<FlatPiece> pieces;
  for (int seed : order) {
    if (taken[seed] || areas[seed].norm() == 0) continue;
    const Plane plane{solid.vertices[solid.faces[seed][0]], areas[seed].normalized()};
    const auto flush = [&](int f) {
      return areas[f].dot(plane.normal) >= kSameWay * areas[f].norm() &&
             std::all_of(solid.faces[f].begin(), solid.faces[f].end(), [&](int i) {
               return std::abs(plane.distance(solid.vertices[i])) <= kFlat;
             });
    };
    FlatPiece piece{{seed}, plane, box_of(solid, solid.faces[seed])};
    taken[seed] = 1;
    Vec3 sum = Vec3::Zero();
    for (std::size_t k = 0; k < piece.faces.size(); ++k) {
      const int at = piece.faces[k];
      sum += areas[at];
      piece.box.include(box_of(solid, solid.faces[at]));
      for (int next : neighbours[at]) {
        if (taken[next] || !flush(next)) continue;
        taken[next] = 1;
        piece.faces.push_back(next);
      }
    }
    piece.plane.normal = sum.normalized();
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

struct Meeting {  // flat pieces of two blocks on either side of one plane
  Plane middle;
  std::vector<int> faces_a, faces_b;
};

void gather(std::vector<int>& all, const std::vector<int>& more) {
  for (int f : more) {
    if (std::find(all.begin(), all.end(), f) == all.end()) all.push_back(f);
  }
}

std::vector<Meeting> meetings(const Shape& a, const Shape& b, double tolerance) {
  std::vector<Meeting> all;
  for (const FlatPiece& pa : a.pieces) {
    if (!pa.box.near(b.box, tolerance)) continue;
    for (const FlatPiece& pb : b.pieces) {
      if (pa.plane.normal.dot(pb.plane.normal) > kOpposed || !pa.box.near(pb.box, tolerance))
        continue;
      const Vec3 normal = (pa.plane.normal - pb.plane.normal).normalized();
      // Heights of both planes over the middle of the overlap of the boxes, along the normal.
      const Vec3 here = (pa.box.low.cwiseMax(pb.box.low) + pa.box.high.cwiseMin(pb.box.high)) / 2;
      const double height_a = -pa.plane.distance(here) / pa.plane.normal.dot(normal);
      const double height_b = -pb.plane.distance(here) / pb.plane.normal.dot(normal);
      if (std::abs(height_b - height_a) > tolerance) continue;
      const Plane middle{here + normal * (height_a + height_b) / 2, normal};
      const auto same = std::find_if(all.begin(), all.end(), [&](const Meeting& m) {
        return m.middle.normal.dot(normal) > -kOpposed &&
               std::abs(m.middle.distance(middle.point)) <= kFlat;
      });
      Meeting& meeting = same != all.end() ? *same : all.emplace_back(Meeting{middle, {}, {}});
      gather(meeting.faces_a, pa.faces);
      gather(meeting.faces_b, pb.faces);
    }
  }
  return all;
}

Regions projected(const Solid& solid, const std::vector<int>& faces, const Frame& frame) {
  Regions regions;
  for (int f : faces) {
    Polygon outline;
    for (int i : solid.faces[f]) outline.push_back(frame.to_local(solid.vertices[i]).head<2>());
    if (area(outline) < 0) std::reverse(outline.begin(), outline.end());
    regions.push_back({std::move(outline), {}});
  }
  return regions;
}

double perimeter(const Polygon& p) {
  double sum = 0;
  for (std::size_t i = 0; i < p.size(); ++i) sum += (p[(i + 1) % p.size()] - p[i]).norm();
  return sum;
}

std::optional<Joint> joint_of(const Meeting& meeting, const Solid& a, const Solid& b) {
  Joint joint;
  joint.frame = frame_on(meeting.middle);
  for (Region& part : intersect(unite(projected(a, meeting.faces_a, joint.frame)),
                                unite(projected(b, meeting.faces_b, joint.frame)))) {
    if (2 * area(part) > kThinnest * perimeter(part.outer))
      joint.contact.push_back(std::move(part));
  }
  if (joint.contact.empty()) return std::nullopt;
  const Vec2 centre = centroid(joint.contact);
  joint.frame.origin = joint.frame.to_world(centre);
  for (Region& part : joint.contact) {
    for (Vec2& p : part.outer) p -= centre;
    for (Polygon& hole : part.holes) {
      for (Vec2& p : hole) p -= centre;
    }
  }
  return joint;
}

/// Per shape, those after it whose boxes come near: a sweep along the longest axis of them all.
std::vector<std::vector<int>> near_boxes(const std::vector<Shape>& shapes, double tolerance) {
  Box whole = Box::nothing();
  for (const Shape& shape : shapes) whole.include(shape.box);
  Eigen::Index axis = 0;
  if (!shapes.empty()) (whole.high - whole.low).maxCoeff(&axis);
  std::vector<int> order(shapes.size());
  std::iota(order.begin(), order.end(), 0);
  std::ranges::stable_sort(order, {}, [&](int i) { return shapes[i].box.low[axis]; });
  std::vector<std::vector<int>> near(shapes.size());
  std::vector<int> open;  // those that the sweep has not left behind
  for (const int i : order) {
    const Box& box = shapes[i].box;
    std::erase_if(open,
                  [&](int k) { return shapes[k].box.high[axis] + tolerance < box.low[axis]; });
    for (const int k : open) {
      if (box.near(shapes[k].box, tolerance)) near[std::min(i, k)].push_back(std::max(i, k));
    }
    open.push_back(i);
  }
  for (auto& list : near) std::ranges::sort(list);
  return near;
}

}  // namespace

std::vector<Joint> detect_joints(const std::vector<Block>& blocks, double friction,
                                 double tolerance_m) {
  std::vector<Shape> shapes(blocks.size());
  for_each_index(blocks.size(), [&](std::size_t i) {
    Shape shape{&blocks[i].solid, flat_pieces(blocks[i].solid), Box::nothing()};
    for (const FlatPiece& piece : shape.pieces) shape.box.include(piece.box);
    shapes[i] = std::move(shape);
  });
  const auto near = near_boxes(shapes, tolerance_m);
  std::vector<std::vector<Joint>> of_block(shapes.size());
  for_each_index(shapes.size(), [&](std::size_t a) {
    for (const int b : near[a]) {
      const auto other = static_cast<std::size_t>(b);
      if (blocks[a].fixed && blocks[other].fixed) continue;
      for (const Meeting& meeting : meetings(shapes[a], shapes[other], tolerance_m)) {
        auto joint = joint_of(meeting, *shapes[a].solid, *shapes[other].solid);
        if (!joint) continue;
        joint->a = static_cast<int>(a);
        joint->b = b;
        joint->friction = friction;
        of_block[a].push_back(std::move(*joint));
      }
    }
  });
  std::size_t count = 0;
  for (const auto& own : of_block) count += own.size();
  std::vector<Joint> joints;
  joints.reserve(count);
  for (auto& own : of_block) std::ranges::move(own, std::back_inserter(joints));
  return joints;
}

}  // namespace skewback
