#include "form/flow.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace skewback {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

Vec2 plan(const Form& form, int vertex) { return form.vertices[vertex].head<2>(); }

}  // namespace

double plan_area(const Form& form, std::size_t t) {
  const auto& c = form.triangles[t];
  return 0.5 * cross(plan(form, c[1]) - plan(form, c[0]), plan(form, c[2]) - plan(form, c[0]));
}

std::array<Vec2, 3> corner_gradients(const Form& form, std::size_t t) {
  const auto& c = form.triangles[t];
  std::array<Vec2, 3> g;
  for (int i = 0; i < 3; ++i) {
    const Vec2 side = plan(form, c[(i + 2) % 3]) - plan(form, c[(i + 1) % 3]);
    g[i] = Vec2(-side.y(), side.x()) / (2 * plan_area(form, t));
  }
  return g;
}

std::vector<std::array<int, 3>> neighbours(const Form& form) {
  std::map<std::pair<int, int>, std::pair<int, int>> half;  // directed side -> triangle, side
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int i = 0; i < 3; ++i) {
      const auto& c = form.triangles[t];
      half[{c[(i + 1) % 3], c[(i + 2) % 3]}] = {int(t), i};
    }
  std::vector<std::array<int, 3>> out(form.triangles.size(), {-1, -1, -1});
  for (const auto& [side, where] : half)
    if (const auto other = half.find({side.second, side.first}); other != half.end())
      out[where.first][where.second] = other->second.first;
  return out;
}

Membrane membrane_forces(const Form& form, int smoothings) {
  const std::size_t n = form.vertices.size();
  std::vector<double> area(n, 0.0);
  std::vector<Eigen::Matrix2d> sum(n, Eigen::Matrix2d::Zero());  // N times area
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int v : form.triangles[t]) area[v] += plan_area(form, t) / 3;
  for (const NetEdge& e : form.edges) {
    const Vec2 l = plan(form, e.b) - plan(form, e.a);
    const Eigen::Matrix2d part = 0.5 * e.q * l * l.transpose();
    sum[e.a] += part;
    sum[e.b] += part;
  }
  // forces times area are passed on, so that their total is kept
  for (int s = 0; s < smoothings; ++s) {
    std::vector<Eigen::Matrix2d> per_triangle(form.triangles.size());
    std::vector<Eigen::Matrix2d> next(n, Eigen::Matrix2d::Zero());
    for (std::size_t t = 0; t < form.triangles.size(); ++t) {
      Eigen::Matrix2d mean = Eigen::Matrix2d::Zero();
      for (int v : form.triangles[t]) mean += sum[v] / area[v] / 3;
      for (int v : form.triangles[t]) next[v] += mean * plan_area(form, t) / 3;
    }
    sum = std::move(next);
  }
  Membrane out;
  for (std::size_t v = 0; v < n; ++v) out.N.push_back(sum[v] / area[v]);
  return out;
}

Flow flow_of_weight(const Form& form, const Membrane& membrane) {
  Flow flow;
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    const auto g = corner_gradients(form, t);
    Eigen::Matrix2d N = Eigen::Matrix2d::Zero();
    Vec2 slope = Vec2::Zero();
    for (int i = 0; i < 3; ++i) {
      N += membrane.N[form.triangles[t][i]] / 3;
      slope += form.vertices[form.triangles[t][i]].z() * g[i];
    }
    const Vec2 downhill = -N * slope;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> principal(N);
    const Vec2 small = principal.eigenvectors().col(0), great = principal.eigenvectors().col(1);
    const Vec2 nearest =
        std::abs(great.dot(downhill)) >= std::abs(small.dot(downhill)) ? great : small;
    flow.direction.push_back(nearest.dot(downhill) >= 0 ? nearest : Vec2(-nearest));
    flow.weight.push_back(downhill);
    const double low = principal.eigenvalues()[0], high = principal.eigenvalues()[1];
    flow.anisotropy.push_back((high - low) / std::max(1e-300, std::abs(high) + std::abs(low)));
  }
  return flow;
}

namespace {

// Shares of each triangle's weight per support, passed downhill through its sides in proportion to
// the flow through them; sides on the outline let nothing out.
class Shares {
 public:
  Shares(const Form& form, const Flow& flow, int supports)
      : form_(form), sides_(neighbours(form)), share_(form.triangles.size()) {
    out_.resize(form.triangles.size());
    for (std::size_t t = 0; t < form.triangles.size(); ++t) {
      share_[t].assign(supports, 1.0 / supports);
      if (const int k = support_side(t); k >= 0) {
        share_[t].assign(supports, 0.0);
        share_[t][k] = 1;
        settled_.push_back(1);
        continue;
      }
      settled_.push_back(0);
      out_[t] = outflow(t, flow.weight[t]);
    }
  }

  [[nodiscard]] std::vector<std::vector<double>> settle() {
    std::vector<int> order(form_.triangles.size());
    std::iota(order.begin(), order.end(), 0);
    const auto height = [&](int t) {
      const auto& c = form_.triangles[t];
      return form_.vertices[c[0]].z() + form_.vertices[c[1]].z() + form_.vertices[c[2]].z();
    };
    std::stable_sort(order.begin(), order.end(),
                     [&](int a, int b) { return height(a) < height(b); });
    for (int sweep = 0; sweep < 500; ++sweep) {
      double change = 0;
      for (int t : order) change = std::max(change, update(t));
      if (change < 1e-9) break;
    }
    return share_;
  }

  [[nodiscard]] const std::vector<std::array<int, 3>>& sides() const { return sides_; }

 private:
  // Support whose line one side of the triangle lies on, or -1.
  [[nodiscard]] int support_side(std::size_t t) const {
    for (int i = 0; i < 3; ++i) {
      if (sides_[t][i] >= 0) continue;
      const int a = form_.triangles[t][(i + 1) % 3], b = form_.triangles[t][(i + 2) % 3];
      if (form_.support_of[a] >= 0 && form_.support_of[a] == form_.support_of[b])
        return form_.support_of[a];
    }
    return -1;
  }

  [[nodiscard]] std::array<double, 3> outflow(std::size_t t, const Vec2& direction) const {
    const auto g = corner_gradients(form_, t);  // -g is the outward normal times side / (2 area)
    std::array<double, 3> out{};
    double sum = 0;
    for (int i = 0; i < 3; ++i) {
      if (sides_[t][i] >= 0) out[i] = std::max(0.0, -direction.dot(g[i]));
      sum += out[i];
    }
    for (int i = 0; i < 3; ++i)
      if (sum <= 0) out[i] = sides_[t][i] >= 0;
    sum = out[0] + out[1] + out[2];
    for (double& o : out) o /= sum;
    return out;
  }

  double update(int t) {
    if (settled_[t]) return 0;
    double change = 0;
    for (std::size_t k = 0; k < share_[t].size(); ++k) {
      double value = 0;
      for (int i = 0; i < 3; ++i)
        if (sides_[t][i] >= 0) value += out_[t][i] * share_[sides_[t][i]][k];
      change = std::max(change, std::abs(value - share_[t][k]));
      share_[t][k] = value;
    }
    return change;
  }

  const Form& form_;
  std::vector<std::array<int, 3>> sides_;
  std::vector<std::vector<double>> share_;
  std::vector<std::array<double, 3>> out_;
  std::vector<char> settled_;
};

// Pieces of equal label; each triangle gets the number of its piece.
std::vector<int> pieces(const std::vector<int>& label, const std::vector<std::array<int, 3>>& sides,
                        std::vector<int>& sizes) {
  std::vector<int> piece(label.size(), -1), stack;
  for (std::size_t seed = 0; seed < label.size(); ++seed) {
    if (piece[seed] >= 0) continue;
    const int id = int(sizes.size());
    sizes.push_back(0);
    stack.assign(1, int(seed));
    piece[seed] = id;
    while (!stack.empty()) {
      const int t = stack.back();
      stack.pop_back();
      ++sizes[id];
      for (int s : sides[t])
        if (s >= 0 && piece[s] < 0 && label[s] == label[t]) {
          piece[s] = id;
          stack.push_back(s);
        }
    }
  }
  return piece;
}

// Keeps the largest piece of each label; the rest takes the label of a kept neighbour, from the
// border in.
void join_islands(std::vector<int>& label, const std::vector<std::array<int, 3>>& sides,
                  int labels) {
  std::vector<int> sizes;
  const std::vector<int> piece = pieces(label, sides, sizes);
  std::vector<int> main(labels, -1);
  for (std::size_t t = 0; t < label.size(); ++t)
    if (main[label[t]] < 0 || sizes[piece[t]] > sizes[main[label[t]]]) main[label[t]] = piece[t];
  for (std::size_t t = 0; t < label.size(); ++t)
    if (piece[t] != main[label[t]]) label[t] = -1;
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t t = 0; t < label.size(); ++t) {
      if (label[t] >= 0) continue;
      for (int s : sides[t])
        if (s >= 0 && label[s] >= 0) label[t] = label[s], changed = true;
    }
  }
}

}  // namespace

std::vector<int> watershed(const Form& form, const Flow& flow, int supports,
                           const std::optional<SpineField>& spine) {
  Shares shares(form, flow, supports);
  const auto share = shares.settle();
  const auto& sides = shares.sides();
  std::vector<int> label(share.size());
  for (std::size_t t = 0; t < share.size(); ++t)
    label[t] = spine && spine->half[t] >= 0
                   ? supports + spine->half[t]
                   : int(std::max_element(share[t].begin(), share[t].end()) - share[t].begin());
  // smooth the borders: a triangle with two sides in one other arm joins it
  for (int pass = 0; pass < 3; ++pass)
    for (std::size_t t = 0; t < label.size(); ++t)
      for (int k = 0; k < supports && label[t] < supports; ++k) {
        int beside = 0;
        for (int s : sides[t]) beside += s >= 0 && label[s] == k;
        if (beside >= 2) label[t] = k;
      }
  join_islands(label, sides, spine ? supports + 2 : supports);
  return label;
}

void turn_to_meetings(const SpineField& spine, Flow& flow) {
  for (std::size_t t = 0; t < flow.direction.size(); ++t)
    if (const int half = spine.half[t];
        half >= 0 && flow.direction[t].dot(spine.to_middle[std::size_t(half)]) > 0)
      flow.direction[t] = -flow.direction[t];
}

}  // namespace skewback
