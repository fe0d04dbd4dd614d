#include "form/force_picture.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// Sides of struts that look onto one face are joined. Side 2k is left of edge k from a to b, 2k + 1
// right.
class Faces {
 public:
  explicit Faces(std::size_t edges) : root_(2 * edges) { std::iota(root_.begin(), root_.end(), 0); }
  [[nodiscard]] int find(int side) {
    while (root_[at(side)] != side) side = root_[at(side)] = root_[at(root_[at(side)])];
    return side;
  }
  void join(int a, int b) { root_[at(find(b))] = find(a); }

 private:
  std::vector<int> root_;
};

struct Ray {  // a strut seen from one of its ends
  double angle;
  int edge;
  bool from_a;
  [[nodiscard]] int left() const { return 2 * edge + (from_a ? 0 : 1); }
  [[nodiscard]] int right() const { return 2 * edge + (from_a ? 1 : 0); }
};

// Going round a free node, the space between two struts is one face.
void join_round_nodes(const Form& form, Faces& faces) {
  std::vector<std::vector<Ray>> rays(form.vertices.size());
  for (std::size_t k = 0; k < form.edges.size(); ++k) {
    const NetEdge& e = form.edges[k];
    for (const bool from_a : {true, false}) {
      const int from = from_a ? e.a : e.b, to = from_a ? e.b : e.a;
      const Vec2 way = (form.vertices[at(to)] - form.vertices[at(from)]).head<2>();
      rays[at(from)].push_back({std::atan2(way.y(), way.x()), static_cast<int>(k), from_a});
    }
  }
  for (std::size_t v = 0; v < rays.size(); ++v) {
    if (form.support_of[v] >= 0) continue;  // the ground pushes here from outside
    std::stable_sort(rays[v].begin(), rays[v].end(),
                     [](const Ray& a, const Ray& b) { return a.angle < b.angle; });
    for (std::size_t i = 0; i < rays[v].size(); ++i)
      faces.join(rays[v][i].left(), rays[v][(i + 1) % rays[v].size()].right());
  }
}

Vec2 horizontal_force(const Form& form, const NetEdge& e) {
  return e.q * (form.vertices[at(e.b)] - form.vertices[at(e.a)]).head<2>();
}

// Face after face across their struts; a part of the net that hangs together by supports alone
// starts at the origin again.
std::vector<Vec2> placed(const Form& form, const ForcePicture& picture, std::size_t faces) {
  std::vector<std::vector<int>> beside(faces);
  for (std::size_t k = 0; k < picture.struts.size(); ++k)
    for (int face : picture.struts[k]) beside[at(face)].push_back(static_cast<int>(k));
  std::vector<Vec2> points(faces, Vec2::Zero());
  std::vector<char> seen(faces, 0);
  for (std::size_t first = 0; first < faces; ++first) {
    if (seen[first] != 0) continue;
    seen[first] = 1;
    std::vector<int> queue{static_cast<int>(first)};
    for (std::size_t i = 0; i < queue.size(); ++i)
      for (int k : beside[at(queue[i])]) {
        const auto [left, right] = picture.struts[at(k)];
        const int other = left == queue[i] ? right : left;
        if (seen[at(other)] != 0) continue;
        seen[at(other)] = 1;
        const Vec2 force = horizontal_force(form, form.edges[at(k)]);
        points[at(other)] = points[at(queue[i])] + (left == queue[i] ? force : Vec2(-force));
        queue.push_back(other);
      }
  }
  return points;
}

// The faces outside the free edges; the outline is walked counter-clockwise, so free edge k lies
// between supports k and k + 1.
std::vector<std::array<int, 2>> beside_supports(const Form& form, const ForcePicture& picture,
                                                int supports) {
  std::set<std::pair<int, int>> inside;  // directed sides of triangles, material on the left
  for (const auto& t : form.triangles)
    for (std::size_t c = 0; c < 3; ++c) inside.insert({t[c], t[(c + 1) % 3]});
  std::vector<int> outside(at(supports), -1);
  for (std::size_t k = 0; k < form.edges.size(); ++k) {
    const NetEdge& e = form.edges[k];
    if (e.free_edge < 0 || e.free_edge >= supports) continue;
    const bool material_left = inside.count({e.a, e.b}) != 0;
    outside[at(e.free_edge)] = picture.struts[k][material_left ? 1 : 0];
  }
  std::vector<std::array<int, 2>> out;
  for (int k = 0; k < supports; ++k)
    out.push_back({outside[at((k + supports - 1) % supports)], outside[at(k)]});
  return out;
}

}  // namespace

ForcePicture force_picture(const Form& form, int supports) {
  ForcePicture out;
  Faces faces(form.edges.size());
  join_round_nodes(form, faces);
  std::vector<int> number(2 * form.edges.size(), -1);
  int count = 0;
  for (std::size_t side = 0; side < number.size(); ++side) {
    const int root = faces.find(static_cast<int>(side));
    if (number[at(root)] < 0) number[at(root)] = count++;
    number[side] = number[at(root)];
  }
  for (std::size_t k = 0; k < form.edges.size(); ++k)
    out.struts.push_back({number[2 * k], number[2 * k + 1]});
  out.points = placed(form, out, at(count));
  for (std::size_t k = 0; k < form.edges.size(); ++k) {
    const auto [left, right] = out.struts[k];
    const Vec2 drawn = out.points[at(right)] - out.points[at(left)];
    out.closure_n = std::max(out.closure_n, (drawn - horizontal_force(form, form.edges[k])).norm());
  }
  out.closure_rel = form.thrust_max_n > 0 ? out.closure_n / form.thrust_max_n : 0;
  out.supports = beside_supports(form, out, supports);
  return out;
}

}  // namespace skewback
