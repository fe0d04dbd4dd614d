#include "survey/backs.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "survey/beds.hpp"

namespace skewback {
namespace {

constexpr int kGrid = 14;        // places tried along each side of the back
constexpr double kFacing = 0.8;  // cosine between a place's face and the back

/// A face as seen along the back's normal: height = at0 + slope . (x, y).
struct SeenFace {
  Polygon outline;
  Vec2 low, high, slope;
  double at0 = 0, facing = 0;
};

class Back {
 public:
  Back(const Solid& solid, const Frame& frame) {
    for (const auto& face : solid.faces) add(solid, face, frame);
  }
  /// Height of the outermost face there; none beside the block.
  [[nodiscard]] const SeenFace* top(const Vec2& p, double& height) const {
    const SeenFace* best = nullptr;
    for (const SeenFace& face : faces_) {
      if ((p.array() < face.low.array()).any() || (p.array() > face.high.array()).any()) continue;
      const double h = face.at0 + face.slope.dot(p);
      if ((best && h <= height) || !contains({face.outline, {}}, p)) continue;
      best = &face;
      height = h;
    }
    return best;
  }
  [[nodiscard]] bool clear(const Vec2& p, double margin, double& height) const {
    const SeenFace* face = top(p, height);
    if (!face || face->facing < kFacing) return false;
    for (int k = 0; k < 8; ++k) {
      const double angle = k * std::numbers::pi / 4;
      double beside = 0;
      if (!top(p + margin * Vec2(std::cos(angle), std::sin(angle)), beside)) return false;
      if (std::abs(beside - height) > margin) return false;
    }
    return true;
  }

 private:
  void add(const Solid& solid, const std::vector<int>& face, const Frame& frame) {
    SeenFace seen;
    std::vector<Vec3> corners;
    for (const int v : face) corners.push_back(frame.to_local(solid.vertices[v]));
    Vec3 normal = Vec3::Zero();
    for (std::size_t i = 0; i < corners.size(); ++i)
      normal += corners[i].cross(corners[(i + 1) % corners.size()]);
    if (normal.norm() == 0 || normal.z() <= 1e-6 * normal.norm()) return;
    normal.normalize();
    seen.facing = normal.z();
    seen.slope = -normal.head<2>() / normal.z();
    seen.at0 = corners[0].z() - seen.slope.dot(corners[0].head<2>());
    seen.low = seen.high = corners[0].head<2>();
    for (const Vec3& c : corners) {
      seen.outline.push_back(c.head<2>());
      seen.low = seen.low.cwiseMin(c.head<2>());
      seen.high = seen.high.cwiseMax(c.head<2>());
    }
    faces_.push_back(std::move(seen));
  }
  std::vector<SeenFace> faces_;
};

std::vector<Vec3> candidates(const Solid& solid, const Frame& frame, double margin) {
  Vec2 low = frame.to_local(solid.vertices[0]).head<2>(), high = low;
  for (const Vec3& v : solid.vertices) {
    low = low.cwiseMin(frame.to_local(v).head<2>());
    high = high.cwiseMax(frame.to_local(v).head<2>());
  }
  const Back back(solid, frame);
  std::vector<Vec3> out;
  const Vec2 from = low.array() + margin, step = (high - low).array() - 2 * margin;
  if (step.minCoeff() <= 0) return out;
  for (int i = 0; i <= kGrid; ++i) {
    for (int j = 0; j <= kGrid; ++j) {
      // Just inside, or the outermost ring would be on the edge itself.
      const Vec2 share(0.002 + 0.996 * i / kGrid, 0.002 + 0.996 * j / kGrid);
      const Vec2 p = from + share.cwiseProduct(step);
      double height = 0;
      if (back.clear(p, margin, height)) out.push_back(frame.to_world(Vec3(p.x(), p.y(), height)));
    }
  }
  return out;
}

/// Farthest pair, then the farthest from their line.
std::optional<std::array<Vec3, 3>> widest(const std::vector<Vec3>& points) {
  std::array<Vec3, 3> out;
  double most = 0;
  for (std::size_t a = 0; a < points.size(); ++a) {
    for (std::size_t b = a + 1; b < points.size(); ++b) {
      const double d = (points[a] - points[b]).norm();
      if (d <= most + 1e-9) continue;
      most = d;
      out[0] = points[a];
      out[1] = points[b];
    }
  }
  if (most <= 0) return std::nullopt;
  const Vec3 along = (out[1] - out[0]) / most;
  double off = 0;
  for (const Vec3& p : points) {
    const double d = (p - out[0]).cross(along).norm();
    if (d <= off + 1e-9) continue;
    off = d;
    out[2] = p;
  }
  return off > 0.05 * most ? std::optional(out) : std::nullopt;
}

}  // namespace

Vec3 back_normal(const Assembly& assembly, int index) {
  const Block& block = assembly.blocks[index];
  const auto middle = [](const Bed& bed) { return bed.on(bed.middle); };
  const std::vector<Bed> beds = beds_of(assembly, index);
  if (block.place.arm < 0 || beds.size() < 2) return Vec3::UnitZ();
  const Vec3 flow = (middle(beds[1]) - middle(beds[0])).normalized();
  Vec3 up = Vec3::UnitZ() - flow.z() * flow;
  constexpr double kUpright = 0.2;
  if (up.norm() > kUpright) return up.normalized();
  Vec3 all = Vec3::Zero();
  for (const Block& other : assembly.blocks) all += other.mass.centroid;
  Vec3 out = block.mass.centroid - all / static_cast<double>(assembly.blocks.size());
  out.z() = 0;
  out -= out.dot(flow) * flow;
  return out.norm() > 0 ? out.normalized() : Vec3(Vec3::UnitZ());
}

std::optional<std::array<Vec3, 3>> places_on_back(const Solid& solid, const Vec3& normal) {
  if (solid.vertices.empty()) return std::nullopt;
  const Frame frame = frame_on({solid.vertices[0], normal});
  for (const double margin : {0.03, 0.015, 0.005}) {
    if (const auto found = widest(candidates(solid, frame, margin))) return found;
  }
  return std::nullopt;
}

}  // namespace skewback
