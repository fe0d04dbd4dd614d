#include "verify/absorb.hpp"

#include <Eigen/Geometry>
#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

namespace skewback::audit {
namespace {

using Long3 = Eigen::Matrix<long double, 3, 1>;
using Sparse = Eigen::SparseMatrix<double>;

constexpr int kPasses = 4;
constexpr double kRounding = 1e-15;  // left over, in largest block weights

struct Push {          // a force of the evidence, and what may be added to it
  int a = -1, b = -1;  // b feels it; a may be a prop's nothing, -1
  Vec3 at, force;
  double room = 0;  // distance to the edge of its cone, N
  std::string where;
  Vec3 change = Vec3::Zero();
};

double room_in_cone(const Vec3& force, const Vec3& normal, double mu) {
  const double n = force.dot(normal), t = (force - n * normal).norm();
  return std::max(0.0, (mu * n - t) / std::sqrt(1 + mu * mu));
}

std::vector<Push> pushes_of(const Model& model, const std::vector<Contact>& contacts,
                            const Evidence& evidence, double weight) {
  std::vector<Push> out;
  for (const Evidence::Force& f : evidence.contacts) {
    Push push{f.a, f.b, f.at, f.newtons, 0, "", Vec3::Zero()};
    if (const Contact* c = contact_of(contacts, evidence, f, weight)) {
      const Vec3 on_b = c->b == f.b ? f.newtons : Vec3(-f.newtons);
      push.room = room_in_cone(on_b, c->normal, evidence.friction.value_or(c->friction_low));
    }
    push.where = model.bodies[f.a].id + " | " + model.bodies[f.b].id;
    out.push_back(std::move(push));
  }
  for (const auto& [index, force] : evidence.prop_forces) {
    const Prop& prop = evidence.props[index];
    out.push_back({-1, prop.body, prop.at, force,
                   room_in_cone(force, prop.direction, prop.friction),
                   "prop under " + model.bodies[prop.body].id, Vec3::Zero()});
  }
  return out;
}

class Balance {
 public:
  Balance(const Model& model, const Evidence& evidence, const LoadSet& loads, double load_factor,
          double weight)
      : model_(model), evidence_(evidence), loads_(loads), factor_(load_factor), weight_(weight) {
    for (std::size_t i = 0; i < model.bodies.size(); ++i) {
      const bool held = model.bodies[i].fixed || evidence.present[i] == 0;
      row_.push_back(held ? -1 : rows);
      if (!held) rows += 6;
    }
  }

  /// In largest block weights; moments over half the body's diagonal. Sums in long double.
  [[nodiscard]] Eigen::VectorXd left(const std::vector<Push>& pushes) const {
    std::vector<Long3> force(model_.bodies.size(), Long3::Zero()), moment = force;
    const auto act = [&](int body, const Long3& f, const Vec3& at) {
      if (body < 0) return;
      force[body] += f;
      moment[body] += (at - model_.bodies[body].middle()).cast<long double>().cross(f);
    };
    for (const Push& p : pushes) {
      const Long3 f = p.force.cast<long double>() + p.change.cast<long double>();
      act(p.b, f, p.at);
      act(p.a, -f, p.at);
    }
    Eigen::VectorXd r(rows);
    for (std::size_t i = 0; i < row_.size(); ++i) {
      if (row_[i] < 0) continue;
      const Body& body = model_.bodies[i];
      const Wrench load =
          load_on(model_, evidence_, static_cast<int>(i), loads_, factor_, body.middle());
      const Long3 f = force[i] + load.force.cast<long double>(),
                  m = moment[i] + load.moment.cast<long double>();
      r.segment<3>(row_[i]) = (f / static_cast<long double>(weight_)).cast<double>();
      r.segment<3>(row_[i] + 3) =
          (m / static_cast<long double>(weight_ * body.radius())).cast<double>();
    }
    return r;
  }

  /// Columns: changes of the forces over their room.
  [[nodiscard]] Sparse columns(const std::vector<Push>& pushes) const {
    std::vector<Eigen::Triplet<double>> entries;
    for (std::size_t k = 0; k < pushes.size(); ++k) {
      const Push& p = pushes[k];
      for (const auto& [body, sign] : {std::pair(p.b, 1.0), std::pair(p.a, -1.0)}) {
        if (body < 0 || row_[static_cast<std::size_t>(body)] < 0) continue;
        const Vec3 lever = (p.at - model_.bodies[body].middle()) / model_.bodies[body].radius();
        for (int axis = 0; axis < 3; ++axis) {
          const Vec3 f = sign * p.room / weight_ * Vec3::Unit(axis), m = lever.cross(f);
          for (int i = 0; i < 3; ++i) {
            const int row = row_[static_cast<std::size_t>(body)], column = 3 * static_cast<int>(k);
            if (f[i] != 0) entries.emplace_back(row + i, column + axis, f[i]);
            if (m[i] != 0) entries.emplace_back(row + 3 + i, column + axis, m[i]);
          }
        }
      }
    }
    Sparse out(rows, 3 * static_cast<int>(pushes.size()));
    out.setFromTriplets(entries.begin(), entries.end());
    return out;
  }

  int rows = 0;

 private:
  const Model& model_;
  const Evidence& evidence_;
  const LoadSet& loads_;
  double factor_, weight_;
  std::vector<int> row_;  // per body; -1: nothing to balance
};

}  // namespace

void absorb_residual(const Model& model, const std::vector<Contact>& contacts,
                     const Evidence& evidence, const LoadSet& loads, double load_factor,
                     EvidenceVerdict& verdict) {
  const double weight = largest_weight(model, evidence, loads);
  std::vector<Push> pushes = pushes_of(model, contacts, evidence, weight);
  const Balance balance(model, evidence, loads, load_factor, weight);
  verdict.rigorous = false;
  verdict.left_rel = balance.rows > 0 ? balance.left(pushes).lpNorm<Eigen::Infinity>() : 0;
  if (verdict.left_rel <= kRounding) {
    verdict.rigorous = true;
    return;
  }
  const Sparse columns = balance.columns(pushes);
  Sparse normal = columns * columns.transpose();
  Eigen::VectorXd scale(balance.rows);
  for (int i = 0; i < balance.rows; ++i) {
    const double d = normal.coeff(i, i);
    if (!(d > 0)) {
      verdict.not_rigorous = "a block whose every contact is at its limit";
      return;
    }
    scale[i] = 1 / std::sqrt(d);
  }
  normal = scale.asDiagonal() * normal * scale.asDiagonal();
  const Eigen::SimplicialLDLT<Sparse> factor(normal);
  if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > 0)) {
    verdict.not_rigorous = "the contacts leave a block without room in some direction";
    return;
  }
  for (int pass = 0; pass < kPasses; ++pass) {
    const Eigen::VectorXd r = balance.left(pushes);
    const Eigen::VectorXd y = factor.solve(scale.cwiseProduct(-r));
    const Eigen::VectorXd x = columns.transpose() * scale.cwiseProduct(y);
    for (std::size_t k = 0; k < pushes.size(); ++k) {
      pushes[k].change += pushes[k].room * x.segment<3>(3 * static_cast<Eigen::Index>(k));
    }
  }
  verdict.left_rel = balance.left(pushes).lpNorm<Eigen::Infinity>();
  const Push* worst = nullptr;
  for (const Push& push : pushes) {
    const double size = push.change.norm();
    if (size == 0) continue;
    const double used = push.room > 0 ? size / push.room : HUGE_VAL;
    if (worst == nullptr || used > verdict.margin_used) {
      worst = &push;
      verdict.margin_used = used;
    }
  }
  verdict.rigorous = verdict.margin_used < 1 && verdict.left_rel <= kRounding;
  if (verdict.rigorous) return;
  verdict.not_rigorous =
      verdict.margin_used < 1 || worst == nullptr
          ? "balance improves to " + number(verdict.left_rel) + " of a block weight only"
          : "balance would need " + number(verdict.margin_used) + " times the room that " +
                worst->where + " has in its cone";
}

}  // namespace skewback::audit
