#include "form/phi.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <functional>

#include "base/constants.hpp"
#include "solve/solve.hpp"

namespace skewback {
namespace {

constexpr double kLeastWeight = 1e-3;  // of the mean

std::vector<double> weights(const Form& form, const Flow& flow) {
  std::vector<double> w(form.triangles.size());
  double sum = 0, area = 0;
  for (std::size_t t = 0; t < w.size(); ++t) {
    w[t] = flow.weight[t].norm() * flow.anisotropy[t];
    sum += w[t] * plan_area(form, t);
    area += plan_area(form, t);
  }
  for (double& value : w) value = std::max(value / (sum / area), kLeastWeight);
  return w;
}

// phi of one arm, per vertex (vertices outside it stay 0); `zero`: whether it is held at 0 there.
VectorX solve_arm(const Form& form, const Flow& flow, const std::vector<double>& w, int arm,
                  double mu, const std::function<bool(int)>& zero) {
  std::vector<int> index(form.vertices.size(), -1);
  int count = 0;
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    if (form.arm[t] != arm) continue;
    for (int v : form.triangles[t])
      if (index[v] < 0 && !zero(v)) index[v] = count++;
  }
  std::vector<Eigen::Triplet<double>> entries;
  VectorX rhs = VectorX::Zero(count);
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    if (form.arm[t] != arm) continue;
    const Vec2 d = -flow.direction[t], across(-d.y(), d.x());
    const double weight = w[t] * plan_area(form, t);
    const auto g = corner_gradients(form, t);
    for (int i = 0; i < 3; ++i) {
      const int a = index[form.triangles[t][i]];
      if (a < 0) continue;
      rhs[a] += weight * d.dot(g[i]);
      for (int j = 0; j < 3; ++j)
        if (const int b = index[form.triangles[t][j]]; b >= 0)
          entries.emplace_back(
              a, b,
              weight * (d.dot(g[i]) * d.dot(g[j]) + mu * across.dot(g[i]) * across.dot(g[j])));
    }
  }
  SparseMatrix K(count, count);
  K.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<SparseMatrix> factor(K);
  const VectorX x = factor.solve(rhs);
  VectorX phi = VectorX::Zero(Eigen::Index(form.vertices.size()));
  for (std::size_t v = 0; v < index.size(); ++v)
    if (index[v] >= 0) phi[Eigen::Index(v)] = x[index[v]];
  return phi;
}

// Value below which `share` of the total weight lies.
double quantile(std::vector<std::pair<double, double>> value_weight, double share) {
  std::sort(value_weight.begin(), value_weight.end());
  double total = 0, sum = 0;
  for (const auto& vw : value_weight) total += vw.second;
  for (const auto& vw : value_weight)
    if ((sum += vw.second) >= share * total) return vw.first;
  return value_weight.empty() ? 0.0 : value_weight.back().first;
}

ArmQuality quality(const Form& form, const Flow& flow,
                   const std::vector<std::array<double, 3>>& phi, int arm) {
  ArmQuality out;
  double area = 0;
  std::vector<std::pair<double, double>> angles;
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    if (form.arm[t] != arm) continue;
    const auto g = corner_gradients(form, t);
    const Vec2 d = -flow.direction[t];
    const Vec2 grad = phi[t][0] * g[0] + phi[t][1] * g[1] + phi[t][2] * g[2];
    const double a = plan_area(form, t);
    out.scale += a * d.dot(grad);
    area += a;
    angles.emplace_back(
        std::atan2(std::abs(d.x() * grad.y() - d.y() * grad.x()), d.dot(grad)) * 180 / kPi, a);
  }
  if (area > 0) out.scale /= area;
  out.angle_median_deg = quantile(angles, 0.5);
  out.angle_p90_deg = quantile(angles, 0.9);
  return out;
}

// Mean phi at a vertex over the corners of arms already fitted.
double mean_at(const Form& form, const std::vector<std::array<double, 3>>& phi, int vertex,
               int supports) {
  double sum = 0, count = 0;
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int i = 0; i < 3 && form.arm[t] < supports; ++i)
      if (form.triangles[t][i] == vertex) sum += phi[t][i], count += 1;
  return sum / std::max(count, 1.0);
}

}  // namespace

PhiField fit_phi(const Form& form, const Flow& flow, int supports, double mu,
                 const std::optional<SpineField>& spine) {
  PhiField out;
  out.phi.resize(form.triangles.size());
  const std::vector<double> w = weights(form, flow);
  for (int arm = 0; arm < supports + (spine ? 2 : 0); ++arm) {
    VectorX phi = solve_arm(form, flow, w, arm, mu, [&](int v) {
      return arm < supports ? form.support_of[v] == arm : spine->middle[v] != 0;
    });
    if (arm >= supports) {
      const int meeting = spine->meeting[std::size_t(arm - supports)];
      phi.array() += mean_at(form, out.phi, meeting, supports) - phi[meeting];
    }
    for (std::size_t t = 0; t < form.triangles.size(); ++t)
      if (form.arm[t] == arm)
        for (int i = 0; i < 3; ++i) out.phi[t][i] = phi[form.triangles[t][i]];
    out.arms.push_back(quality(form, flow, out.phi, arm));
  }
  return out;
}

std::vector<double> greatest_phi(const Form& form) {
  const int legs = int(form.arms.size()) - form.spine_arms;
  std::vector<double> top(form.arms.size(), 1e-12);
  std::vector<int> half_at(form.vertices.size(), -1);
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    for (double phi : form.phi[t]) top[form.arm[t]] = std::max(top[form.arm[t]], phi);
    for (int v : form.triangles[t])
      if (form.arm[t] >= legs) half_at[v] = form.arm[t];
  }
  if (form.spine_arms == 0) return top;
  std::vector<int> goes_on(top.size(), -1);
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int v : form.triangles[t])
      if (form.arm[t] < legs && half_at[v] >= 0) goes_on[form.arm[t]] = half_at[v];
  for (int arm = 0; arm < legs; ++arm)
    if (goes_on[arm] >= 0) top[arm] = top[goes_on[arm]];
  return top;
}

}  // namespace skewback
