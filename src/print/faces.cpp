#include <Eigen/Dense>
#include <cmath>

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

class Faces : public LayerField {
 public:
  Frame base;
  Eigen::Matrix<double, kTerms, 1> low, high;

  [[nodiscard]] double level(const Vec3& p) const override {
    const Vec3 q = base.to_local(p);
    const Row r = terms(q.x(), q.y());
    const double z0 = r.dot(low), z1 = r.dot(high);
    return (q.z() - z0) / (z1 - z0);
  }
  [[nodiscard]] Vec3 gradient(const Vec3& p) const override {
    const Vec3 q = base.to_local(p);
    const Row r = terms(q.x(), q.y()), rx = terms(q.x(), q.y(), 0), ry = terms(q.x(), q.y(), 1);
    const double z0 = r.dot(low), height = r.dot(high) - z0, t = (q.z() - z0) / height;
    const auto slope = [&](const Row& d) {
      return -(d.dot(low) + t * (d.dot(high) - d.dot(low))) / height;
    };
    return slope(rx) * base.x + slope(ry) * base.y + base.z / height;
  }
  [[nodiscard]] Frame frame_at(double level, const Vec3& along) const override {
    Vec3 x = along - along.dot(base.z) * base.z;
    if (x.norm() < 1e-9) x = base.x;
    x.normalize();
    const double z = (1 - level) * low[0] + level * high[0];
    return {base.origin + z * base.z, x, base.z.cross(x), base.z};
  }
};

/// Fits z = f(x, y) to the corners of the faces that look along `sign` z; the greatest misfit.
double fit(const Solid& solid, const Frame& base, double sign,
           Eigen::Matrix<double, kTerms, 1>& f) {
  std::vector<Vec3> points;
  for (const auto& face : solid.faces) {
    const Vec3 a = solid.vertices[static_cast<std::size_t>(face[0])],
               b = solid.vertices[static_cast<std::size_t>(face[1])],
               c = solid.vertices[static_cast<std::size_t>(face[2])];
    const Vec3 normal = (b - a).cross(c - a);
    if (sign * normal.dot(base.z) < normal.norm() * std::sqrt(0.5)) continue;
    for (const Vec3& p : {a, b, c, Vec3((a + b + c) / 3)}) points.push_back(base.to_local(p));
  }
  if (points.size() < 3 * kTerms) return -1;
  Eigen::Matrix<double, Eigen::Dynamic, kTerms> rows(static_cast<Eigen::Index>(points.size()),
                                                     static_cast<Eigen::Index>(kTerms));
  Eigen::VectorXd z(static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) {
    rows.row(static_cast<Eigen::Index>(i)) = terms(points[i].x(), points[i].y());
    z[static_cast<Eigen::Index>(i)] = points[i].z();
  }
  f = rows.colPivHouseholderQr().solve(z);
  return (rows * f - z).cwiseAbs().maxCoeff();
}

}  // namespace

Result<FacesField> faces_field(const Solid& solid, const Vec3& up) {
  auto field = std::make_shared<Faces>();
  const Vec3 x = up.unitOrthogonal();
  field->base = {mass_properties(solid).centroid, x, up.cross(x), up};
  const Solid fine = refined(solid, 0.08);
  FacesField out;
  out.low_misfit_m = fit(fine, field->base, -1, field->low);
  out.high_misfit_m = fit(fine, field->base, 1, field->high);
  bool sound = out.low_misfit_m >= 0 && out.high_misfit_m >= 0;
  for (const Vec3& v : solid.vertices) {
    const Vec3 q = field->base.to_local(v);
    sound = sound && terms(q.x(), q.y()).dot(field->high - field->low) > 0;
  }
  if (!sound)
    return Fault{
        .key = "print: layers laid flat",
        .found = "no intrados and extrados that stay apart all over it (tubes and upstands)",
        .expected = "an intrados and an extrados to lay it between",
        .change = "print.otherwise = [\"cast\"]"};
  out.field = field;
  return out;
}

}  // namespace skewback
