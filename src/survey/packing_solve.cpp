#include <algorithm>
#include <cmath>

#include "survey/packing_program.hpp"

namespace skewback {
namespace {

constexpr double kMm = 1e3;
constexpr int kMostSteps = 80;
constexpr double kGapRel = 1e-9;  // of complementarity, over 1 mm and the objective

/// Slacks and multipliers of one hinge.
struct Side {
  double tau = 0, tau_dual = 0;
  std::array<double, 16> s{}, z{};
  double d_tau = 0, d_tau_dual = 0;
  std::array<double, 16> ds{}, dz{};
};

/// What elimination of a hinge's tau leaves: see Newton::eliminate.
struct Eliminated {
  Vec3 mean = Vec3::Zero();      // sum of w a over sum of w, w = z / s
  double sum = 0, with_own = 0;  // of w; and with tau's own
};

Vec3 part(const Vec6& r, HingeKind kind) {
  const auto& at = parts_of(kind);
  return {r[at[0]], r[at[1]], r[at[2]]};
}

class Newton {
 public:
  Newton(const PackProgram& program, const std::vector<SmallMove>& from)
      : program_(program), plan_(program.model->plan()), factor_(plan_.pattern) {
    x_ = VectorX::Zero(6 * static_cast<Eigen::Index>(plan_.block.size()));
    for (std::size_t i = 0; i < plan_.block.size(); ++i)
      x_.segment<6>(6 * static_cast<Eigen::Index>(i)) =
          kMm * coordinates(from[static_cast<std::size_t>(plan_.block[i])]);
    sides_.resize(program.hinges.size());
    eliminated_.resize(program.hinges.size());
    for (std::size_t h = 0; h < sides_.size(); ++h) rows_ += 1 + program.hinges[h].rows;
    start();
  }

  int run() {
    for (int step = 0; step < kMostSteps; ++step) {
      if (done()) {
        converged_ = true;
        return step;
      }
      if (!eliminate()) return step;
      const double mu = complementarity() / rows_;
      direction(0, false);
      const auto [primal, dual] = longest(1.0);
      const double left = after(primal, dual) / rows_;
      direction(std::pow(left / mu, 3) * mu, true);
      const auto [p, d] = longest(0.995);
      advance(p, d);
    }
    return kMostSteps;
  }

  [[nodiscard]] bool converged() const { return converged_; }
  [[nodiscard]] const VectorX& x() const { return x_; }
  [[nodiscard]] std::vector<double> least_tau() const {
    std::vector<double> out;
    for (std::size_t j = 0; j < plan_.rows.size(); ++j) {
      const Vec6 r = movement(j, x_) + program_.fixed[j];
      for (std::size_t h = 3 * j; h < 3 * j + 3; ++h)
        out.push_back(over(h, part(r, program_.hinges[h].kind)));
    }
    return out;
  }
  [[nodiscard]] std::vector<std::array<double, 16>> multipliers() const {
    std::vector<std::array<double, 16>> out;
    for (const Side& side : sides_) out.push_back(side.z);
    return out;
  }
  [[nodiscard]] double dual_objective() const {
    double sum = 0;
    for (std::size_t h = 0; h < sides_.size(); ++h) {
      const Hinge& hinge = program_.hinges[h];
      const Vec3 fixed = part(program_.fixed[static_cast<std::size_t>(hinge.joint)], hinge.kind);
      for (std::size_t k = 0; k < hinge.rows; ++k)
        sum += sides_[h].z[k] * (hinge.a[k].dot(fixed) - hinge.most[k]);
    }
    return sum;
  }

 private:
  /// Of a joint, from the moves x of free blocks alone.
  [[nodiscard]] Vec6 movement(std::size_t j, const VectorX& x) const {
    const JointRows& rows = plan_.rows[j];
    Vec6 r = Vec6::Zero();
    if (rows.b >= 0) r += rows.to_b * x.segment<6>(6 * rows.b);
    if (rows.a >= 0) r -= rows.to_a * x.segment<6>(6 * rows.a);
    return r;
  }

  [[nodiscard]] double over(std::size_t h, const Vec3& r) const {
    const Hinge& hinge = program_.hinges[h];
    double most = 0;
    for (std::size_t k = 0; k < hinge.rows; ++k)
      most = std::max(most, hinge.a[k].dot(r) - hinge.most[k]);
    return most;
  }

  void start() {
    for (std::size_t j = 0; j < plan_.rows.size(); ++j) {
      const Vec6 r = movement(j, x_) + program_.fixed[j];
      for (std::size_t h = 3 * j; h < 3 * j + 3; ++h)
        start(program_.hinges[h], part(r, program_.hinges[h].kind),
              over(h, part(r, program_.hinges[h].kind)), sides_[h]);
    }
  }

  /// Multipliers that balance the hinge's cost, slacks as they are.
  static void start(const Hinge& hinge, const Vec3& r, double over, Side& side) {
    const double share = std::min(1.0, hinge.cost / static_cast<double>(hinge.rows + 1));
    side.tau = over + std::min(1.0, share * 10 / hinge.cost);
    side.tau_dual = hinge.cost - share * static_cast<double>(hinge.rows);
    for (std::size_t k = 0; k < hinge.rows; ++k) {
      side.s[k] = hinge.most[k] + side.tau - hinge.a[k].dot(r);
      side.z[k] = share;
    }
  }

  [[nodiscard]] double complementarity() const {
    double sum = 0;
    for (std::size_t h = 0; h < sides_.size(); ++h) {
      sum += sides_[h].tau * sides_[h].tau_dual;
      for (std::size_t k = 0; k < program_.hinges[h].rows; ++k)
        sum += sides_[h].s[k] * sides_[h].z[k];
    }
    return sum;
  }

  [[nodiscard]] bool done() const {
    double objective = 0;
    for (std::size_t h = 0; h < sides_.size(); ++h)
      objective += program_.hinges[h].cost * sides_[h].tau;
    return dual_share_ <= 1e-10 && complementarity() <= kGapRel * (1 + objective);
  }

  /// tau leaves w (a - mean)(a - mean)' and a part of mean mean' (no cancellation in it), w = z /
  /// s.
  bool eliminate() {
    factor_.set_zero();
    for (std::size_t j = 0; 3 * j < sides_.size(); ++j) {
      Mat3 gaps = Mat3::Zero(), steps = Mat3::Zero();
      for (std::size_t h = 3 * j; h < 3 * j + 3; ++h)
        add_local(h, program_.hinges[h].kind == HingeKind::kStep ? steps : gaps);
      const JointRows& rows = plan_.rows[j];
      if (rows.a >= 0) {
        const Rows3x6 gap = gaps * rows.gap_a, step = steps * rows.step_a;
        factor_.add_diagonal(rows.a, both(rows.gap_a, gap, rows.step_a, step));
        if (rows.b >= 0)
          factor_.add_pair(rows.b, rows.a, both(rows.gap_b, -gap, rows.step_b, -step));
      }
      if (rows.b >= 0)
        factor_.add_diagonal(rows.b,
                             both(rows.gap_b, gaps * rows.gap_b, rows.step_b, steps * rows.step_b));
    }
    for (const double more : {0.0, 1e-14, 1e-12, 1e-10, 1e-8})
      if (factor_.factorise(more)) return true;
    return false;
  }

  static Block6 both(const Rows3x6& gap, const Rows3x6& its_gaps, const Rows3x6& step,
                     const Rows3x6& its_steps) {
    Block6 out;
    out.noalias() = gap.transpose() * its_gaps;
    out.noalias() += step.transpose() * its_steps;
    return out;
  }

  void add_local(std::size_t h, Mat3& local) {
    const Hinge& hinge = program_.hinges[h];
    const Side& side = sides_[h];
    Eliminated& out = eliminated_[h];
    std::array<double, 16> w;
    out.sum = 0;
    out.mean.setZero();
    for (std::size_t k = 0; k < hinge.rows; ++k) {
      w[k] = side.z[k] / side.s[k];
      out.sum += w[k];
      out.mean += w[k] * hinge.a[k];
    }
    out.mean /= out.sum;
    const double own = side.tau_dual / side.tau;
    out.with_own = out.sum + own;
    local += (out.sum * own / out.with_own) * out.mean * out.mean.transpose();
    for (std::size_t k = 0; k < hinge.rows; ++k) {
      const Vec3 off = hinge.a[k] - out.mean;
      local += (w[k] * off) * off.transpose();
    }
  }

  /// Step towards complementarity `target`; `corrected`: with the second-order terms of the step
  /// last found.
  void direction(double target, bool corrected) {
    VectorX rhs = VectorX::Zero(x_.size());
    std::vector<double> pull(sides_.size());
    for (std::size_t j = 0; 3 * j < sides_.size(); ++j) {
      Vec6 f = Vec6::Zero();
      for (std::size_t h = 3 * j; h < 3 * j + 3; ++h) add_force(h, target, corrected, pull[h], f);
      const JointRows& rows = plan_.rows[j];
      if (rows.a >= 0) rhs.segment<6>(6 * rows.a) -= rows.to_a.transpose() * f;
      if (rows.b >= 0) rhs.segment<6>(6 * rows.b) += rows.to_b.transpose() * f;
    }
    dx_ = rhs;
    factor_.solve(dx_);
    for (std::size_t j = 0; j < plan_.rows.size(); ++j) {
      const Vec6 dr = movement(j, dx_);
      for (std::size_t h = 3 * j; h < 3 * j + 3; ++h)
        follow(h, part(dr, program_.hinges[h].kind), target, corrected, pull[h]);
    }
  }

  [[nodiscard]] double wanted(double s, double z, double ds, double dz, double target,
                              bool corrected) const {
    return target - s * z - (corrected ? ds * dz : 0.0);
  }

  void add_force(std::size_t h, double target, bool corrected, double& pull, Vec6& f) {
    const Hinge& hinge = program_.hinges[h];
    const Side& side = sides_[h];
    double p =
        wanted(side.tau, side.tau_dual, side.d_tau, side.d_tau_dual, target, corrected) / side.tau;
    double left = hinge.cost - side.tau_dual;
    Vec3 force = Vec3::Zero();
    for (std::size_t k = 0; k < hinge.rows; ++k) {
      const double c =
          wanted(side.s[k], side.z[k], side.ds[k], side.dz[k], target, corrected) / side.s[k];
      p += c;
      left -= side.z[k];
      force -= (side.z[k] + c) * hinge.a[k];
    }
    p -= left;
    force += (eliminated_[h].sum / eliminated_[h].with_own) * p * eliminated_[h].mean;
    const auto& at = parts_of(hinge.kind);
    for (int i = 0; i < 3; ++i) f[at[i]] += force[i];
    pull = p;
  }

  void follow(std::size_t h, const Vec3& dr, double target, bool corrected, double pull) {
    const Hinge& hinge = program_.hinges[h];
    Side& side = sides_[h];
    const Eliminated& e = eliminated_[h];
    const double d_tau = (pull + e.sum * e.mean.dot(dr)) / e.with_own;
    for (std::size_t k = 0; k < hinge.rows; ++k) {
      const double c = wanted(side.s[k], side.z[k], side.ds[k], side.dz[k], target, corrected);
      const double ds = d_tau - hinge.a[k].dot(dr);
      side.dz[k] = (c - side.z[k] * ds) / side.s[k];
      side.ds[k] = ds;
    }
    const double c =
        wanted(side.tau, side.tau_dual, side.d_tau, side.d_tau_dual, target, corrected);
    side.d_tau_dual = (c - side.tau_dual * d_tau) / side.tau;
    side.d_tau = d_tau;
  }

  [[nodiscard]] std::pair<double, double> longest(double share) const {
    double primal = 1 / share, dual = 1 / share;
    const auto shorten = [](double& length, double value, double change) {
      if (change < 0) length = std::min(length, -value / change);
    };
    for (std::size_t h = 0; h < sides_.size(); ++h) {
      const Side& side = sides_[h];
      shorten(primal, side.tau, side.d_tau);
      shorten(dual, side.tau_dual, side.d_tau_dual);
      for (std::size_t k = 0; k < program_.hinges[h].rows; ++k) {
        shorten(primal, side.s[k], side.ds[k]);
        shorten(dual, side.z[k], side.dz[k]);
      }
    }
    return {share * primal, share * dual};
  }

  [[nodiscard]] double after(double p, double d) const {
    double sum = 0;
    for (std::size_t h = 0; h < sides_.size(); ++h) {
      const Side& side = sides_[h];
      sum += (side.tau + p * side.d_tau) * (side.tau_dual + d * side.d_tau_dual);
      for (std::size_t k = 0; k < program_.hinges[h].rows; ++k)
        sum += (side.s[k] + p * side.ds[k]) * (side.z[k] + d * side.dz[k]);
    }
    return sum;
  }

  /// Slacks are moved, not measured again: near the end s is far smaller than what it is the
  /// difference of.
  void advance(double p, double d) {
    x_ += p * dx_;
    dual_share_ *= 1 - d;
    for (std::size_t h = 0; h < sides_.size(); ++h) {
      Side& side = sides_[h];
      side.tau += p * side.d_tau;
      side.tau_dual += d * side.d_tau_dual;
      for (std::size_t k = 0; k < program_.hinges[h].rows; ++k) {
        side.s[k] += p * side.ds[k];
        side.z[k] += d * side.dz[k];
      }
    }
  }

  const PackProgram& program_;
  const StackPlan& plan_;
  BlockCholesky factor_;
  VectorX x_, dx_;
  std::vector<Side> sides_;
  std::vector<Eliminated> eliminated_;
  double rows_ = 0, dual_share_ = 1;  // of the first dual residual that is left
  bool converged_ = false;
};

}  // namespace

PackSolution solve_packing(const PackProgram& program, const std::vector<SmallMove>& from) {
  Newton newton(program, from);
  PackSolution out;
  out.iterations = newton.run();
  out.converged = newton.converged();
  out.moves = from;
  const StackPlan& plan = program.model->plan();
  for (std::size_t i = 0; i < plan.block.size(); ++i) {
    const Vec6 u = newton.x().segment<6>(6 * static_cast<Eigen::Index>(i)) / kMm;
    out.moves[static_cast<std::size_t>(plan.block[i])] = small_move(u);
  }
  out.tau_m = newton.least_tau();
  out.dual = newton.multipliers();
  for (std::size_t h = 0; h < out.tau_m.size(); ++h) {
    out.tau_m[h] /= kMm;
    out.objective_m += program.hinges[h].cost * out.tau_m[h];
  }
  out.bound_m = newton.dual_objective() / kMm;
  return out;
}

}  // namespace skewback
