#include <Eigen/Dense>
#include <array>
#include <cmath>

#include "print/field.hpp"

namespace skewback {
namespace {

/// All products x^i y^j z^k to a degree, in coordinates scaled to the solid.
class Polynomials {
 public:
  Polynomials(const Vec3& middle, double scale, int degree) : middle_(middle), scale_(scale) {
    for (int n = 0; n <= degree; ++n)
      for (int i = n; i >= 0; --i)
        for (int j = n - i; j >= 0; --j) powers_.push_back({i, j, n - i - j});
  }
  [[nodiscard]] Eigen::Index count() const { return static_cast<Eigen::Index>(powers_.size()); }
  void at(const Vec3& p, Eigen::VectorXd& value, Eigen::Matrix3Xd& slope) const {
    const Vec3 q = (p - middle_) / scale_;
    for (Eigen::Index k = 0; k < count(); ++k) {
      const auto& e = powers_[static_cast<std::size_t>(k)];
      const std::array<double, 3> v = {power(q.x(), e[0]), power(q.y(), e[1]), power(q.z(), e[2])};
      const std::array<double, 3> d = {slope_of(q.x(), e[0]), slope_of(q.y(), e[1]),
                                       slope_of(q.z(), e[2])};
      value[k] = v[0] * v[1] * v[2];
      slope.col(k) = Vec3(d[0] * v[1] * v[2], v[0] * d[1] * v[2], v[0] * v[1] * d[2]) / scale_;
    }
  }

 private:
  static double power(double x, int n) {
    double out = 1;
    while (n-- > 0) out *= x;
    return out;
  }
  static double slope_of(double x, int n) { return n == 0 ? 0 : n * power(x, n - 1); }
  Vec3 middle_;
  double scale_;
  std::vector<std::array<int, 3>> powers_;
};

class Harmonic : public LayerField {
 public:
  Harmonic(Fan beds, const Vec3& middle, double scale, int degree)
      : beds_(std::move(beds)), basis_(middle, scale, degree), scale_(scale), middle_(middle) {}

  struct Trial {
    double fixed = 0;
    Vec3 fixed_slope = Vec3::Zero();
    Eigen::VectorXd value;
    Eigen::Matrix3Xd slope;
  };
  void trial(const Vec3& p, Trial& t) const {
    const double up = beds_.low.distance(p), down = -beds_.high.distance(p), sum = up + down;
    const Vec3 rise = beds_.low.normal, fall = -beds_.high.normal;
    t.fixed = up / sum;
    t.fixed_slope = (rise * down - fall * up) / (sum * sum);
    t.value.resize(basis_.count());
    t.slope.resize(3, basis_.count());
    basis_.at(p, t.value, t.slope);
    const double bubble = up * down / (scale_ * scale_);
    const Vec3 bubble_slope = (rise * down + fall * up) / (scale_ * scale_);
    t.slope = bubble * t.slope + bubble_slope * t.value.transpose();
    t.value *= bubble;
  }

  [[nodiscard]] double level(const Vec3& p) const override {
    Trial t;
    trial(p, t);
    return t.fixed + t.value.dot(weights);
  }
  [[nodiscard]] Vec3 gradient(const Vec3& p) const override {
    Trial t;
    trial(p, t);
    return t.fixed_slope + t.slope * weights;
  }
  [[nodiscard]] Frame frame_at(double level, const Vec3& along) const override {
    const Vec3 up = beds_.surface(0.5).normal;
    Vec3 x = along - along.dot(up) * up;
    if (x.norm() < 1e-9) x = up.unitOrthogonal();
    x.normalize();
    const Vec3 origin = middle_ + (level - beds_.level(middle_)) * beds_.way(middle_) * up;
    return {origin, x, up.cross(x), up};
  }
  [[nodiscard]] Eigen::Index count() const { return basis_.count(); }
  Eigen::VectorXd weights;

 private:
  Fan beds_;
  Polynomials basis_;
  double scale_;
  Vec3 middle_;
};

constexpr std::array<double, 5> kGauss = {-0.906179845938664, -0.538469310105683, 0,
                                          0.538469310105683, 0.906179845938664};
constexpr std::array<double, 5> kWeight = {0.236926885056189, 0.478628670499366, 0.568888888888889,
                                           0.478628670499366, 0.236926885056189};

/// Integral over the solid of body(point, weight): cones from its middle over every triangle,
/// signed, with Gauss points in collapsed coordinates.
template <class Body>
void integrate(const Solid& solid, const Vec3& middle, Body body) {
  const auto half = [](double g) { return (1 + g) / 2; };
  for (const auto& face : solid.faces) {
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      const Vec3 a = solid.vertices[static_cast<std::size_t>(face[0])] - middle,
                 b = solid.vertices[static_cast<std::size_t>(face[i])] - middle,
                 c = solid.vertices[static_cast<std::size_t>(face[i + 1])] - middle;
      const double volume6 = a.dot(b.cross(c));
      for (std::size_t r = 0; r < 5; ++r)
        for (std::size_t s = 0; s < 5; ++s)
          for (std::size_t t = 0; t < 5; ++t) {
            const double u = half(kGauss[r]), v = half(kGauss[s]), w = half(kGauss[t]);
            const Vec3 p = u * ((1 - v) * a + v * ((1 - w) * b + w * c));
            body(middle + p, volume6 * u * u * v * kWeight[r] * kWeight[s] * kWeight[t] / 8);
          }
    }
  }
}

}  // namespace

Result<FieldPtr> harmonic_field(const Solid& solid, const Fan& beds, int degree) {
  const MassProperties mass = mass_properties(solid);
  double scale = 0;
  for (const Vec3& v : solid.vertices) scale = std::max(scale, (v - mass.centroid).norm());
  auto field = std::make_shared<Harmonic>(beds, mass.centroid, scale, degree);
  const Eigen::Index n = field->count();
  Eigen::MatrixXd stiff = Eigen::MatrixXd::Zero(n, n);
  Eigen::VectorXd load = Eigen::VectorXd::Zero(n);
  Harmonic::Trial t;
  integrate(solid, mass.centroid, [&](const Vec3& p, double weight) {
    field->trial(p, t);
    stiff.selfadjointView<Eigen::Lower>().rankUpdate(t.slope.transpose(), weight);
    load -= weight * t.slope.transpose() * t.fixed_slope;
  });
  const Eigen::MatrixXd whole = stiff.selfadjointView<Eigen::Lower>();
  const Eigen::LDLT<Eigen::MatrixXd> factor(whole);
  field->weights = factor.solve(load);
  const Fault fault{.key = "print: harmonic layers",
                    .found = "a field whose levels turn back inside the block",
                    .expected = "levels that rise from bed to bed",
                    .change = "beds nearer to parallel, or a shorter block"};
  if (!field->weights.allFinite()) return fault;
  const Solid fine = refined(solid, 0.05);
  for (const auto& face : fine.faces) {  // not at corners, where the slope may rightly vanish
    Vec3 middle = Vec3::Zero();
    for (const int i : face) middle += fine.vertices[static_cast<std::size_t>(i)] / 3;
    if (!(field->gradient(middle).dot(beds.low.normal + beds.high.normal) > 0)) return fault;
  }
  return FieldPtr(field);
}

}  // namespace skewback
