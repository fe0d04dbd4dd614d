#include "form/plain_tangent.hpp"

#include "form/wish.hpp"

namespace skewback::plain {
namespace {

constexpr double kCrownWeight = 30;  // the rise is put exactly right after each step anyway

double crown_share(const ShapeWish& wish) { return kCrownWeight / double(wish.crown.size()); }

using Pair = double __attribute__((vector_size(16)));  // half of a row of lanes
Pair* pairs(Lanes& lanes) { return reinterpret_cast<Pair*>(lanes.of.data()); }
const Pair* pairs(const Lanes& lanes) { return reinterpret_cast<const Pair*>(lanes.of.data()); }

}  // namespace

VectorX residuals(const std::vector<Vec3>& points, const ShapeWish& wish) {
  const Eigen::Index n = Eigen::Index(points.size()), rows = wish.level.rows();
  VectorX r(2 * n + rows + 1), z(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    r.segment<2>(2 * i) = wish.plan_weight[i] * (points[i].head<2>() - wish.drawn[i]);
    z[i] = points[i].z();
  }
  r.segment(2 * n, rows) = wish.level_weight * (wish.level * z);
  r[2 * n + rows] = kCrownWeight * (mean_height(points, wish.crown) - wish.crown_z);
  return r;
}

Tangent::Tangent(const Net& net, const ShapeWish& wish)
    : wish_(wish),
      system_(net),
      point_(std::size_t(system_.size())),
      plan_weight_(point_.size()),
      span_(net.edges.size()),
      slope_(net.edges.size()),
      sides_(system_.no_sides()),
      push_size_(net.edges.size()),
      lift_(std::size_t(wish.level.rows())) {
  for (std::size_t p = 0; p < net.points.size(); ++p) {
    if (net.fixed[p]) continue;
    point_[system_.row(int(p))] = int(p);
    plan_weight_[system_.row(int(p))] = wish.plan_weight[p];
  }
  for (int i : wish.crown) crown_.push_back(system_.row(i));
  wire_edges(net);
  wire_level();
  take_net(net);
}

void Tangent::wire_edges(const Net& net) {
  std::vector<std::vector<Entry>> at(point_.size() + 1);
  for (const NetEdge& e : net.edges) {
    const int k = int(ends_.size());
    ends_.push_back({system_.row(e.a), system_.row(e.b)});
    at[ends_.back()[0]].push_back({k, -1});
    at[ends_.back()[1]].push_back({k, 1});
  }
  for (std::size_t i = 0; i < point_.size(); ++i) {
    pushes_.entries.insert(pushes_.entries.end(), at[i].begin(), at[i].end());
    pushes_.end_row();
  }
}

void Tangent::wire_level() {
  const SparseMatrix columns = wish_.level_weight * wish_.level;
  const Eigen::SparseMatrix<double, Eigen::RowMajor> rows = columns;
  for (int r = 0; r < rows.outerSize(); ++r) {
    for (decltype(rows)::InnerIterator it(rows, r); it; ++it)
      level_.entries.push_back({system_.row(int(it.col())), it.value()});
    level_.end_row();
  }
  for (int p : point_) {
    for (SparseMatrix::InnerIterator it(columns, p); it; ++it)
      level_back_.entries.push_back({int(it.row()), it.value()});
    level_back_.end_row();
  }
}

void Tangent::move_to(const Net& net) {
  system_.refactor(net);
  take_net(net);
}

void Tangent::take_net(const Net& net) {
  for (std::size_t k = 0; k < net.edges.size(); ++k) {
    const NetEdge& e = net.edges[k];
    slope_[k] = above_floor(e.q, wish_.floor_q[k]);
    const Vec3 span = net.points[e.a] - net.points[e.b];
    span_[k] = {{span.x(), span.y(), span.z(), 0}};
  }
}

double Tangent::by_u(const FreeSystem::Sides& adjoint, std::size_t edge) const {
  const Pair *a = pairs(adjoint[ends_[edge][0]]), *b = pairs(adjoint[ends_[edge][1]]);
  const Pair* span = pairs(span_[edge]);
  const Pair xy = (b[0] - a[0]) * span[0], z = (b[1] - a[1]) * span[1];
  return slope_[edge] * (xy[0] + xy[1] + z[0]);
}

VectorX Tangent::backward(const VectorX& r) const {
  const Eigen::Index plan = 2 * Eigen::Index(wish_.drawn.size()), rows = wish_.level.rows();
  FreeSystem::Sides adjoint = system_.no_sides();
  for (std::size_t i = 0; i < point_.size(); ++i) {
    double& z = adjoint[i].of[2];
    for (int c = 0; c < 2; ++c) adjoint[i].of[c] = plan_weight_[i] * r[2 * point_[i] + c];
    for (const auto& [row, factor] : level_back_[i]) z += factor * r[plan + row];
  }
  for (int row : crown_)
    if (row < system_.size()) adjoint[row].of[2] += crown_share(wish_) * r[plan + rows];
  system_.solve_plainly_in_place(adjoint);
  VectorX du(ends_.size());
  for (std::size_t k = 0; k < ends_.size(); ++k) du[Eigen::Index(k)] = by_u(adjoint, k);
  return du;
}

// Residuals are not kept: what comes out of the first solve is weighted twice and goes into the
// second.
void Tangent::normal(const VectorX& du, double damping, VectorX& image) const {
  for (std::size_t k = 0; k < ends_.size(); ++k) push_size_[k] = du[Eigen::Index(k)] * slope_[k];
  for (std::size_t i = 0; i < point_.size(); ++i) {
    Pair xy{}, z{};
    for (const auto& [edge, sign] : pushes_[i]) {
      const Pair* span = pairs(span_[edge]);
      const double size = push_size_[edge] * sign;
      xy += size * span[0];
      z += size * span[1];
    }
    pairs(sides_[i])[0] = xy;
    pairs(sides_[i])[1] = z;
  }
  system_.solve_plainly_in_place(sides_);

  for (std::size_t r = 0; r < lift_.size(); ++r) {
    double sum = 0;
    for (const auto& [row, factor] : level_[r]) sum += factor * sides_[row].of[2];
    lift_[r] = sum;
  }
  double crown = 0;
  for (int row : crown_) crown += crown_share(wish_) * sides_[row].of[2];
  for (std::size_t i = 0; i < point_.size(); ++i) {
    for (int c = 0; c < 2; ++c)
      sides_[i].of[c] = plan_weight_[i] * (plan_weight_[i] * sides_[i].of[c]);
    double z = 0;
    for (const auto& [row, factor] : level_back_[i]) z += factor * lift_[row];
    sides_[i].of[2] = z;
  }
  for (int row : crown_)
    if (row < system_.size()) sides_[row].of[2] += crown_share(wish_) * crown;
  system_.solve_plainly_in_place(sides_);

  image.resize(Eigen::Index(ends_.size()));
  for (std::size_t k = 0; k < ends_.size(); ++k)
    image[Eigen::Index(k)] = by_u(sides_, k) + damping * du[Eigen::Index(k)];
}

}  // namespace skewback::plain
