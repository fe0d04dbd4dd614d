#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>

#include "print/field.hpp"

namespace skewback {
namespace {

constexpr int kDegree = 5;
constexpr int kTerms = (kDegree + 1) * (kDegree + 2) / 2;  // of a polynomial in x, y
using Row = Eigen::Matrix<double, 1, kTerms>;

double power(double x, int n) {
  double out = 1;
  while (n-- > 0) out *= x;
  return out;
}

/// x^i y^j, or their slope along x (`along` 0) or y (1); -1: the terms themselves.
Row terms(double x, double y, int along = -1) {
  Row r;
  int k = 0;
  for (int n = 0; n <= kDegree; ++n) {
    for (int j = 0; j <= n; ++j, ++k) {
      const int i = n - j;
      if (along == 0)
        r[k] = i == 0 ? 0 : i * power(x, i - 1) * power(y, j);
      else if (along == 1)
        r[k] = j == 0 ? 0 : j * power(x, i) * power(y, j - 1);
      else
        r[k] = power(x, i) * power(y, j);
    }
  }
  return r;
}

using Weights = Eigen::Matrix<double, kTerms, 1>;

struct Height {  // of a face at a place, and its slopes
  double z = 0, along_x = 0, along_y = 0;
};

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

/// A face seen along the frame's z: its facets as they are; round them a polynomial fitted to them,
/// moved to meet their edge, for the sides may lean out over it.
class Face {
 public:
  /// False: no polynomial, or facets over one another.
  bool take(const Solid& solid, const Solid& fine, const Frame& base, double sign) {
    std::set<std::pair<int, int>> edges;
    for_facets(solid, base, sign, [&](const std::vector<int>& face) {
      Facet facet;
      for (std::size_t i = 0; i < 3; ++i) {
        facet.p[i] = base.to_local(solid.vertices[static_cast<std::size_t>(face[i])]);
        const std::pair<int, int> ends = std::minmax({face[i], face[(i + 1) % 3]});
        if (!edges.insert(ends).second) edges.erase(ends);  // between two facets
      }
      facet.low = facet.p[0].cwiseMin(facet.p[1]).cwiseMin(facet.p[2]).head<2>();
      facet.high = facet.p[0].cwiseMax(facet.p[1]).cwiseMax(facet.p[2]).head<2>();
      facets_.push_back(facet);
    });
    index();
    for (const auto& [from, to] : edges)
      rim_.emplace_back(base.to_local(solid.vertices[static_cast<std::size_t>(from)]),
                        base.to_local(solid.vertices[static_cast<std::size_t>(to)]));
    return fit(fine, base, sign) && std::ranges::all_of(facets_, [&](const Facet& f) {
             const Vec3 middle = (f.p[0] + f.p[1] + f.p[2]) / 3;
             return std::abs(at(middle.head<2>()).z - middle.z()) < 1e-6;
           });
  }

  [[nodiscard]] Height at(const Vec2& q) const {
    if (const auto* near = cell_of(q))
      for (const int i : *near)
        if (facets_[static_cast<std::size_t>(i)].over(q))
          return facets_[static_cast<std::size_t>(i)].at(q);
    Height out = polynomial(q);
    const Vec3 edge = nearest_of_rim(q);
    out.z += edge.z() - polynomial(edge.head<2>()).z;
    return out;
  }

 private:
  struct Facet {
    std::array<Vec3, 3> p;
    Vec2 low, high;  // box round it
    [[nodiscard]] bool over(const Vec2& q) const {
      if ((q - low).minCoeff() < -kNear || (high - q).minCoeff() < -kNear) return false;
      int left = 0, right = 0;
      for (std::size_t i = 0; i < 3; ++i) {
        const Vec2 a = p[i].head<2>(), b = p[(i + 1) % 3].head<2>();
        const double side = cross(b - a, q - a);
        left += side >= -kOn ? 1 : 0;
        right += side <= kOn ? 1 : 0;
      }
      return left == 3 || right == 3;
    }
    [[nodiscard]] Height at(const Vec2& q) const {
      const Vec3 n = (p[1] - p[0]).cross(p[2] - p[0]);
      Height out{0, -n.x() / n.z(), -n.y() / n.z()};
      out.z = p[0].z() + out.along_x * (q.x() - p[0].x()) + out.along_y * (q.y() - p[0].y());
      return out;
    }
    static constexpr double kOn = 1e-12, kNear = 1e-9;  // m2, m
  };

  /// Facets by the cells of a grid that their boxes reach.
  void index() {
    if (facets_.empty()) return;
    Vec2 high = low_ = facets_.front().low;
    for (const Facet& facet : facets_) {
      low_ = low_.cwiseMin(facet.low);
      high = high.cwiseMax(facet.high);
    }
    low_ -= Vec2::Constant(Facet::kNear);
    cell_ = (high + Vec2::Constant(Facet::kNear) - low_) / kCells;
    for (std::size_t f = 0; f < facets_.size(); ++f) {
      const auto first = place(facets_[f].low - Vec2::Constant(Facet::kNear)),
                 last = place(facets_[f].high + Vec2::Constant(Facet::kNear));
      for (int j = first.y(); j <= last.y(); ++j)
        for (int i = first.x(); i <= last.x(); ++i)
          cells_[static_cast<std::size_t>(j * kCells + i)].push_back(static_cast<int>(f));
    }
  }
  [[nodiscard]] Eigen::Vector2i place(const Vec2& q) const {
    return (q - low_).cwiseQuotient(cell_).array().floor().cast<int>().max(0).min(kCells - 1);
  }
  /// Null beyond all of them.
  [[nodiscard]] const std::vector<int>* cell_of(const Vec2& q) const {
    const Vec2 away = (q - low_).cwiseQuotient(cell_);
    if (facets_.empty() || away.minCoeff() < 0 || away.maxCoeff() > kCells) return nullptr;
    const Eigen::Vector2i at = place(q);
    return &cells_[static_cast<std::size_t>(at.y() * kCells + at.x())];
  }

  template <class Use>
  static void for_facets(const Solid& solid, const Frame& base, double sign, Use use) {
    for (const auto& face : solid.faces) {
      const Vec3 &a = solid.vertices[static_cast<std::size_t>(face[0])],
                 &b = solid.vertices[static_cast<std::size_t>(face[1])],
                 &c = solid.vertices[static_cast<std::size_t>(face[2])];
      const Vec3 normal = (b - a).cross(c - a);
      if (normal.norm() > 0 && sign * normal.dot(base.z) >= normal.norm() * std::sqrt(0.5))
        use(face);
    }
  }

  bool fit(const Solid& fine, const Frame& base, double sign) {
    std::vector<Vec3> points;
    for_facets(fine, base, sign, [&](const std::vector<int>& face) {
      Vec3 middle = Vec3::Zero();
      for (const int i : face) {
        points.push_back(base.to_local(fine.vertices[static_cast<std::size_t>(i)]));
        middle += points.back() / 3;
      }
      points.push_back(middle);
    });
    if (points.size() < 3 * kTerms) return false;
    Eigen::Matrix<double, Eigen::Dynamic, kTerms> rows(static_cast<Eigen::Index>(points.size()),
                                                       static_cast<Eigen::Index>(kTerms));
    Eigen::VectorXd z(static_cast<Eigen::Index>(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i) {
      rows.row(static_cast<Eigen::Index>(i)) = terms(points[i].x(), points[i].y());
      z[static_cast<Eigen::Index>(i)] = points[i].z();
    }
    weights_ = rows.colPivHouseholderQr().solve(z);
    return weights_.allFinite();
  }

  [[nodiscard]] Height polynomial(const Vec2& q) const {
    return {terms(q.x(), q.y()).dot(weights_), terms(q.x(), q.y(), 0).dot(weights_),
            terms(q.x(), q.y(), 1).dot(weights_)};
  }

  [[nodiscard]] Vec3 nearest_of_rim(const Vec2& q) const {
    Vec3 nearest = Vec3::Zero();
    double least = std::numeric_limits<double>::max();
    for (const auto& [a, b] : rim_) {
      const Vec2 d = (b - a).head<2>();
      const double t =
          std::clamp((q - a.head<2>()).dot(d) / std::max(d.squaredNorm(), 1e-30), 0.0, 1.0);
      const Vec3 on = a + t * (b - a);
      const double far = (on.head<2>() - q).squaredNorm();
      if (far < least) least = far, nearest = on;
    }
    return nearest;
  }

  static constexpr int kCells = 24;  // each way
  std::vector<Facet> facets_;
  Vec2 low_ = Vec2::Zero(), cell_ = Vec2::Ones();
  std::array<std::vector<int>, kCells * kCells> cells_;
  std::vector<std::pair<Vec3, Vec3>> rim_;
  Weights weights_ = Weights::Zero();
};

class Faces : public LayerField {
 public:
  Frame base;
  Face low, high;

  [[nodiscard]] double level(const Vec3& p) const override {
    const Vec3 q = base.to_local(p);
    const double z0 = low.at(q.head<2>()).z, z1 = high.at(q.head<2>()).z;
    return (q.z() - z0) / (z1 - z0);
  }
  [[nodiscard]] Vec3 gradient(const Vec3& p) const override {
    const Vec3 q = base.to_local(p);
    const Height z0 = low.at(q.head<2>()), z1 = high.at(q.head<2>());
    const double height = z1.z - z0.z, t = (q.z() - z0.z) / height;
    const auto slope = [&](double foot, double top) { return -(foot + t * (top - foot)) / height; };
    return slope(z0.along_x, z1.along_x) * base.x + slope(z0.along_y, z1.along_y) * base.y +
           base.z / height;
  }
  [[nodiscard]] Frame frame_at(double level, const Vec3& along) const override {
    Vec3 x = along - along.dot(base.z) * base.z;
    if (x.norm() < 1e-9) x = base.x;
    x.normalize();
    const double z = (1 - level) * low.at(Vec2::Zero()).z + level * high.at(Vec2::Zero()).z;
    return {base.origin + z * base.z, x, base.z.cross(x), base.z};
  }
};

}  // namespace

Result<FieldPtr> faces_field(const Solid& solid, const Vec3& up) {
  auto field = std::make_shared<Faces>();
  const Vec3 x = up.unitOrthogonal();
  field->base = {mass_properties(solid).centroid, x, up.cross(x), up};
  const Solid fine = refined(solid, 0.08), whole = refined(solid, 1e9);  // triangles both
  bool sound = field->low.take(whole, fine, field->base, -1) &&
               field->high.take(whole, fine, field->base, 1);
  for (const Vec3& v : solid.vertices) {
    const Vec2 q = field->base.to_local(v).head<2>();
    sound = sound && field->high.at(q).z > field->low.at(q).z;
  }
  if (!sound)
    return Fault{
        .key = "print: layers laid flat",
        .found = "no intrados and extrados that stay apart all over it (tubes and upstands)",
        .expected = "an intrados and an extrados to lay it between",
        .change = "print.otherwise = [\"cast\"]"};
  return FieldPtr(field);
}

}  // namespace skewback
