#include "print/field.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace skewback {
namespace {

Frame frame_with(const Vec3& origin, const Vec3& normal, const Vec3& along) {
  Vec3 x = along - along.dot(normal) * normal;
  if (x.norm() < 1e-9) x = normal.unitOrthogonal();
  x.normalize();
  return {origin, x, normal.cross(x), normal};
}

class FanLayers : public LayerField {
 public:
  explicit FanLayers(Fan fan) : fan_(std::move(fan)) {}
  [[nodiscard]] double level(const Vec3& p) const override { return fan_.level(p); }
  [[nodiscard]] Vec3 gradient(const Vec3& p) const override {
    return fan_.surface(fan_.level(p)).normal / fan_.way(p);
  }
  [[nodiscard]] double way(const Vec3& p) const override { return fan_.way(p); }
  [[nodiscard]] Frame frame_at(double level, const Vec3& along) const override {
    const Plane plane = fan_.surface(level);
    return frame_with(plane.point, plane.normal, along);
  }
  [[nodiscard]] bool planes() const override { return true; }

 private:
  Fan fan_;
};

using Edge = std::pair<int, int>;
Edge edge_of(int a, int b) { return {std::min(a, b), std::max(a, b)}; }

}  // namespace

Vec3 LayerField::lift(const Frame& frame, const Vec2& at, double level) const {
  Vec3 p = frame.to_world(at);
  for (int i = 0; i < 20; ++i) {
    const double miss = level - this->level(p), slope = gradient(p).dot(frame.z);
    if (std::abs(miss) < 1e-12 || std::abs(slope) < 1e-9) break;
    p += miss / slope * frame.z;
  }
  return p;
}

FieldPtr fan_field(const Fan& fan) { return std::make_shared<FanLayers>(fan); }

Solid refined(const Solid& solid, double longest_m) {
  Solid out{solid.vertices, {}};
  const auto at = [&](int i) -> const Vec3& { return out.vertices[static_cast<std::size_t>(i)]; };
  std::map<Edge, int> middles;
  std::vector<std::vector<int>> open;
  for (const auto& face : solid.faces) {
    for (std::size_t i = 1; i + 1 < face.size(); ++i)
      open.push_back({face[0], face[i], face[i + 1]});
  }
  const auto longer = [&](const Edge& a, const Edge& b) {
    const double la = (at(a.first) - at(a.second)).squaredNorm(),
                 lb = (at(b.first) - at(b.second)).squaredNorm();
    return la != lb ? la > lb : a < b;  // the same choice in both faces of an edge
  };
  while (!open.empty()) {
    const std::vector<int> face = std::move(open.back());
    open.pop_back();
    std::size_t longest = 0;
    for (std::size_t i = 1; i < 3; ++i) {
      if (longer(edge_of(face[i], face[(i + 1) % 3]),
                 edge_of(face[longest], face[(longest + 1) % 3])))
        longest = i;
    }
    const int a = face[longest], b = face[(longest + 1) % 3], c = face[(longest + 2) % 3];
    if ((at(a) - at(b)).norm() <= longest_m) {
      out.faces.push_back(face);
      continue;
    }
    const auto [found, made] =
        middles.try_emplace(edge_of(a, b), static_cast<int>(out.vertices.size()));
    const int middle = found->second;
    if (made) out.vertices.push_back((at(a) + at(b)) / 2);
    open.push_back({a, middle, c});
    open.push_back({middle, b, c});
  }
  return out;
}

}  // namespace skewback
