#include "form/pattern_forces.hpp"

#include <algorithm>
#include <cmath>

#include "form/shape_fit.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 8, kSteps = 6;  // of weights; of the fit in each
constexpr double kFloor = 0.02;         // of a strut's force under the form's own load
constexpr double kInPlan = 3;           // weight of a move along the surface, per half depth
constexpr double kKeep = 1e-4;          // pull of each force to its share of the form's own
constexpr double kSmallWeight = 0.02;   // of the mean: no point is let go of

std::vector<Vec3> normals(const Form& form) {
  std::vector<Vec3> n(form.vertices.size(), Vec3::Zero());
  for (const auto& t : form.triangles) {
    const Vec3 &a = form.vertices[t[0]], &b = form.vertices[t[1]], &c = form.vertices[t[2]];
    for (int v : t) n[v] += (b - a).cross(c - a);
  }
  // a net without triangles is a chain: square to it, as far up as can be
  for (const NetEdge& e : form.edges) {
    if (!form.triangles.empty()) break;
    const Vec3 along = (form.vertices[e.b] - form.vertices[e.a]).normalized();
    for (int v : {e.a, e.b}) n[v] += Vec3::UnitZ() - along.z() * along;
  }
  for (Vec3& v : n) v.normalize();
  return n;
}

double total(const std::vector<double>& load) {
  double sum = 0;
  for (double p : load) sum += p;
  return sum;
}

// Distances from the middle surface by half the depth, and what brings them about.
class Within {
 public:
  Within(const Form& form, const std::vector<double>& depth_m, double ratio)
      : form_(form), depth_(depth_m), normal_(normals(form)) {
    net_.points = form.vertices;
    net_.edges = form.edges;
    for (NetEdge& e : net_.edges) e.q *= ratio;
    for (int s : form.support_of) net_.fixed.push_back(s >= 0);
    wish_.level.resize(0, Eigen::Index(form.vertices.size()));
    wish_.keep = kKeep;
    for (const NetEdge& e : net_.edges) {
      wish_.unit_q.push_back(e.q);
      wish_.floor_q.push_back(kFloor * e.q);
      wish_.first.push_back(std::log(1 - kFloor));
    }
    for (int v = 0; v < int(form.vertices.size()); ++v) {
      const double half = depth_[v] / 2;
      wish_.place.push_back(
          {form.vertices[v].head<2>(), kInPlan / half * Eigen::Matrix2d::Identity()});
      if (net_.fixed[v]) continue;
      wish_.crown.push_back(v);
      const Vec3& n = normal_[v];
      wish_.spots.push_back({{v, v, v},
                             Vec3(1, 0, 0),
                             form.vertices[v],
                             Vec2(-n.x() / n.z(), -n.y() / n.z()),
                             n.z() / half});
    }
    wish_.crown_z = mean_height(form.vertices, wish_.crown);
    weight_.assign(wish_.spots.size(), 1);
  }

  [[nodiscard]] const Net& net() const { return net_; }
  [[nodiscard]] const ShapeWish& wish() const { return wish_; }

  // Per free point, signed.
  [[nodiscard]] std::vector<double> distances(const Net& net) const {
    std::vector<double> out;
    for (int v : wish_.crown)
      out.push_back(normal_[v].dot(net.points[v] - form_.vertices[v]) / (depth_[v] / 2));
    return out;
  }

  // What is far gets more weight in the next round.
  void weigh(const std::vector<double>& distance) {
    double most = 0, sum = 0;
    for (double d : distance) most = std::max(most, std::abs(d));
    for (std::size_t i = 0; i < weight_.size(); ++i) {
      weight_[i] *= std::abs(distance[i]) / most;
      sum += weight_[i] / double(weight_.size());
    }
    for (std::size_t i = 0; i < weight_.size(); ++i) {
      weight_[i] = std::max(weight_[i] / sum, kSmallWeight);
      const int v = wish_.crown[i];
      wish_.spots[i].weight = std::sqrt(weight_[i]) * normal_[v].z() / (depth_[v] / 2);
    }
  }

 private:
  const Form& form_;
  const std::vector<double>& depth_;
  std::vector<Vec3> normal_;
  Net net_;
  ShapeWish wish_;
  std::vector<double> weight_;
};

void measure(const Form& form, const Net& net, const std::vector<double>& downward_n,
             PatternForces& out) {
  const std::vector<Vec3> rest = unbalanced(net, as_forces(downward_n));
  const double whole = total(downward_n);
  std::vector<Vec3> sum(form.vertices.size(), Vec3::Zero());
  for (std::size_t v = 0; v < rest.size(); ++v) {
    const int s = form.support_of[v];
    if (s >= 0)
      sum[std::size_t(s)] -= rest[v];
    else
      out.residual_rel = std::max(out.residual_rel, rest[v].norm() / whole);
    out.plan_shift_m =
        std::max(out.plan_shift_m, (net.points[v] - form.vertices[v]).head<2>().norm());
  }
  for (const Vec3& r : sum) out.thrust_max_n = std::max(out.thrust_max_n, r.head<2>().norm());
  out.points = net.points;
  for (const NetEdge& e : net.edges) out.q.push_back(e.q);
}

}  // namespace

Result<PatternForces> pattern_forces(const Form& form, const std::vector<double>& depth_m,
                                     const std::vector<double>& downward_n) {
  Within within(form, depth_m, total(downward_n) / total(form.load_n));
  Net net = within.net(), best = net;
  PatternForces out;
  out.share = HUGE_VAL;
  for (int round = 0; round < kRounds; ++round) {
    auto fit = fit_shape(net, downward_n, within.wish(), {.steps_max = kSteps});
    if (!fit) return fit.faults();
    net = std::move(fit->net);
    const std::vector<double> distance = within.distances(net);
    const auto far = std::max_element(distance.begin(), distance.end(),
                                      [](double a, double b) { return std::abs(a) < std::abs(b); });
    if (std::abs(*far) < out.share) {
      out.share = std::abs(*far);
      out.worst = within.wish().crown[std::size_t(far - distance.begin())];
      best = net;
    }
    if (out.share < 1e-9) break;
    within.weigh(distance);
  }
  measure(form, best, downward_n, out);
  return out;
}

}  // namespace skewback
