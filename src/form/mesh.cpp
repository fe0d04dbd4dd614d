#include "form/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "base/constants.hpp"
#include "brief/meetings.hpp"
#include "form/leg_opening.hpp"
#include "form/mesh_finish.hpp"
#include "form/opening.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

Vec2 middle(const Support& s) { return 0.5 * (s.a + s.b); }

// Arc length on free edge k where its fibre passes from one arm to the next.
double waist(const Plan& plan, std::size_t k, const Vec2& centre) {
  const std::vector<Vec2>& line = plan.free_edges[k].line;
  return plan.supports.size() == 2 ? 0.5 * length(line) : nearest(line, centre).s;
}

// Stations 0..1 of a half fibre of length `outer` beside a centreline of length `inner`: spaced
// like the centreline near the support, so that rows start square, and drawn together towards the
// ridge.
double station(double t, double inner, double outer) {
  if (outer >= inner) return t;
  const double shortfall = (inner - outer) / outer;
  const double power = std::max(1.0, std::min(3.0, 0.6 * (1 + shortfall) / shortfall));
  return (1 + shortfall) * t - shortfall * std::pow(t, power);
}

constexpr double kWider = 0.4, kHoldByEye = 0.1;  // tried first; where that folds, more
constexpr int kStepsBeside = 6;                   // of an opening's edge on either side, at least

class Builder {
 public:
  // `wider`: share of the widening from an eye to the edge that rows follow
  Builder(const Plan& plan, double size, double wider)
      : plan_(plan),
        size_(size),
        wider_(wider),
        n_(plan.supports.size()),
        centre_(meeting_point(plan)),
        group_(meetings_of_supports(plan)) {
    mesh_.arms.resize(n_);
    if (const auto eye = eye_of(plan)) {
      loop_ = loop_of(plan.openings[*eye]);
      eye_edge_ = int(plan.free_edges.size() + *eye);
    }
    in_leg_.resize(n_);
    for (LegOpening& opening : leg_openings(plan)) in_leg_[opening.leg] = std::move(opening);
  }

  FibreMesh build() {
    if (loop_.empty()) {
      mesh_.meeting = add(centre_, -1, -1);
      mesh_.crown = {mesh_.meeting};
    }
    if (plan_.second_meeting) add_spine();
    for (std::size_t k = 0; k < n_; ++k) add_centreline(k);
    for (std::size_t k = 0; k < n_; ++k) add_hoop(k);
    for (std::size_t k = 0; k < n_; ++k) add_bundle(k);
    for (const auto& [pair, edge] : edges_) mesh_.edges.push_back(edge);
    return std::move(mesh_);
  }

 private:
  int add(const Vec2& p, int support, int free_edge) {
    mesh_.points.push_back(p);
    mesh_.support_of.push_back(support);
    mesh_.free_edge_of.push_back(free_edge);
    return static_cast<int>(mesh_.points.size()) - 1;
  }

  void join(int a, int b, bool along, int free_edge) {
    if (mesh_.support_of[a] >= 0 && mesh_.support_of[b] >= 0) return;
    const auto key = std::minmax(a, b);
    edges_.emplace(std::pair<int, int>{key.first, key.second}, MeshEdge{a, b, along, free_edge});
  }

  int steps_for(double length, int least) const {
    return std::max(least, static_cast<int>(std::lround(length / size_)));
  }

  // From one meeting to the other, an even count of steps so that the ridge meets a point.
  void add_spine() {
    Spine spine;
    const Vec2 way = *plan_.second_meeting - centre_;
    const int steps = 2 * std::max(2, static_cast<int>(std::lround(way.norm() / size_ / 2)));
    spine.chain = {mesh_.meeting};
    for (int i = 1; i <= steps; ++i)
      spine.chain.push_back(add(centre_ + double(i) / steps * way, -1, -1));
    spine.right.assign(spine.chain.size(), -1);
    spine.left = spine.right;
    mesh_.crown = {spine.chain[std::size_t(steps) / 2]};
    mesh_.spine = std::move(spine);
  }

  [[nodiscard]] bool passes(std::size_t k) const { return group_[k] != group_[(k + 1) % n_]; }

  // The meeting of support k.
  [[nodiscard]] int meeting_point_of(std::size_t k) const {
    return group_[k] == 0 ? mesh_.meeting : mesh_.spine->chain.back();
  }

  // Points after the last of a chain up to `to`, evenly spaced; `end`: the point there, if made.
  void lead(std::vector<int>& chain, Vec2 to, int end, int free_edge) {
    const Vec2 from = mesh_.points[chain.back()];
    const int steps = steps_for((to - from).norm(), 2);
    for (int i = 1; i < steps; ++i)
      chain.push_back(add(from + double(i) / steps * (to - from), -1, -1));
    chain.push_back(end >= 0 ? end : add(to, -1, free_edge));
  }

  // From the springing to the meeting point, or to the eye's edge, past an opening in the leg on
  // either side of it.
  void add_centreline(std::size_t k) {
    const Vec2 foot = middle(plan_.supports[k]);
    std::vector<int> chain{add(foot, int(k), -1)}, beside;
    Arm& arm = mesh_.arms[k];
    if (in_leg_[k]) {
      const LegOpening& o = *in_leg_[k];
      const int edge = int(plan_.free_edges.size() + o.opening);
      lead(chain, point_at(o.loop, o.low), -1, edge);
      arm.parts = int(chain.size()) - 1;
      const int steps = steps_for(0.5 * length(o.loop), kStepsBeside);
      beside = chain;
      const int top = add(point_at(o.loop, o.high), -1, edge);
      for (const bool right : {true, false}) {
        const std::vector<Vec2> points = side_of(o, right, steps);
        std::vector<int>& side = right ? chain : beside;
        for (int i = 1; i < steps; ++i) side.push_back(add(points[i], -1, edge));
        side.push_back(top);
      }
      arm.joins = int(chain.size()) - 1;
    }
    const std::size_t shared = chain.size();
    if (loop_.empty()) {
      const int meeting = meeting_point_of(k);
      lead(chain, mesh_.points[meeting], meeting, -1);
    } else {
      entries_.push_back(entry(loop_, mesh_.points[chain.back()], centre_));
      lead(chain, point_at(loop_, entries_.back()), -1, eye_edge_);
      mesh_.crown.push_back(chain.back());
    }
    arm.trunk = int(chain.size()) - 1;
    if (beside.empty()) beside.assign(chain.begin(), chain.begin() + long(shared));
    beside.insert(beside.end(), chain.begin() + long(shared), chain.end());
    left_.push_back(std::move(beside));
    centrelines_.push_back(std::move(chain));
  }

  // The eye's edge from centreline k to the next: points between their ends, an odd count so that
  // the ridge meets one of them.
  void add_hoop(std::size_t k) {
    hoops_.emplace_back();
    if (loop_.empty()) return;
    const double whole = length(loop_);
    double run = entries_[(k + 1) % n_] - entries_[k];
    if (run <= 0) run += whole;
    const int steps = 2 * std::max(2, static_cast<int>(std::lround(run / size_ / 2)));
    const std::vector<Vec2> points = along_loop(loop_, entries_[k], run, steps);
    for (int i = 1; i < steps; ++i) {
      hoops_[k].push_back(add(points[i], -1, eye_edge_));
      mesh_.crown.push_back(hoops_[k].back());
    }
  }

  // Innermost fibre of bundle k; `ridge`: its point where the arms meet.
  [[nodiscard]] std::vector<int> inner_chain(std::size_t k, int& ridge) const {
    const std::vector<int>& down = left_[(k + 1) % n_];
    std::vector<int> chain = centrelines_[k];
    ridge = int(chain.size()) - 1;
    if (!loop_.empty()) {
      ridge += (int(hoops_[k].size()) + 1) / 2;
      chain.insert(chain.end(), hoops_[k].begin(), hoops_[k].end());
      chain.push_back(down.back());
    }
    if (passes(k)) {
      std::vector<int> spine = mesh_.spine->chain;
      if (group_[k] == 1) std::reverse(spine.begin(), spine.end());
      ridge += int(spine.size()) / 2;
      chain.insert(chain.end(), spine.begin() + 1, spine.end());
    }
    chain.insert(chain.end(), down.rbegin() + 1, down.rend());
    return chain;
  }

  // What a step along the edge of an opening in a leg counts: half as evenly as it is walked, half
  // by how far it gets up the leg; in all the way from tip to tip.
  [[nodiscard]] double step_beside(int edge, const Vec2& step) const {
    for (const auto& o : in_leg_) {
      if (!o || int(plan_.free_edges.size() + o->opening) != edge) continue;
      const Vec2 way = point_at(o->loop, o->high) - point_at(o->loop, o->low);
      return 0.5 * std::abs(step.dot(way.normalized())) +
             way.norm() * step.norm() / length(o->loop);
    }
    return step.norm();
  }

  // Shares of the way from the first point of a chain to its last; `spread`: what a step along the
  // eye's edge counts, since outside it the plan is wider.
  [[nodiscard]] std::vector<double> shares(const std::vector<int>& chain, double spread,
                                           double& whole) const {
    std::vector<double> s{0};
    for (std::size_t i = 1; i < chain.size(); ++i) {
      const Vec2 step = mesh_.points[chain[i]] - mesh_.points[chain[i - 1]];
      const int edge = free_edge_along(chain[i - 1], chain[i]);
      const bool eye = eye_edge_ >= 0 && mesh_.free_edge_of[chain[i - 1]] == eye_edge_;
      s.push_back(s.back() + (eye         ? spread * step.norm()
                              : edge >= 0 ? step_beside(edge, step)
                                          : step.norm()));
    }
    whole = s.back();
    for (double& v : s) v /= whole;
    return s;
  }

  // Points of a free edge that passes the spine: beside it rows run square from spine to edge, as
  // far as the edge's points nearest to the meetings let them.
  [[nodiscard]] std::vector<Vec2> outer_past_spine(std::size_t k,
                                                   const std::vector<int>& inner) const {
    const std::vector<Vec2>& line = plan_.free_edges[k].line;
    const std::size_t next = (k + 1) % n_, up = centrelines_[k].size() - 1,
                      down = inner.size() - centrelines_[next].size(), last = inner.size() - 1;
    const double whole = length(line), first = nearest(line, mesh_.points[inner[up]]).s,
                 second = nearest(line, mesh_.points[inner[down]]).s;
    const auto reach = [&](std::size_t from, std::size_t to) {
      return (mesh_.points[inner[to]] - mesh_.points[inner[from]]).norm();
    };
    std::vector<Vec2> points;
    for (std::size_t i = 0; i <= last; ++i) {
      double s = 0;
      if (i < up)
        s = first * station(reach(0, i) / reach(0, up), reach(0, up), first);
      else if (i <= down)
        s = first + (second - first) * reach(up, i) / reach(up, down);
      else
        s = whole - (whole - second) * station(reach(last, i) / reach(last, down),
                                               reach(last, down), whole - second);
      points.push_back(point_at(line, s));
    }
    points.front() = line.front();
    points.back() = line.back();
    return points;
  }

  // Points of the free edge of bundle k at its rows.
  [[nodiscard]] std::vector<Vec2> outer_points(std::size_t k, const std::vector<int>& inner,
                                               int ridge) const {
    if (passes(k)) return outer_past_spine(k, inner);
    const std::vector<Vec2>& line = plan_.free_edges[k].line;
    const double whole = length(line),
                 half =
                     waist(plan_, k, loop_.empty() ? mesh_.points[meeting_point_of(k)] : centre_);
    double spread = 1, up = 0, down = 0;
    if (!loop_.empty())
      spread +=
          wider_ * kPi * (point_at(line, half) - mesh_.points[inner[ridge]]).norm() / length(loop_);
    const std::vector<double> rise = shares({inner.begin(), inner.begin() + ridge + 1}, spread, up);
    const std::vector<double> fall =
        shares({inner.rbegin(), inner.rend() - ridge}, spread, down);  // from the next support
    std::vector<Vec2> points;
    for (double t : rise) points.push_back(point_at(line, half * station(t, up, half)));
    for (std::size_t i = fall.size() - 1; i-- > 0;)
      points.push_back(
          point_at(line, whole - (whole - half) * station(fall[i], down, whole - half)));
    points.front() = line.front();
    points.back() = line.back();
    return points;
  }

  // Fibres between the innermost and the free edge: enough for the support, and with an eye for the
  // mean of that and the wider way between eye and edge.
  int fibres_across(std::size_t k, const std::vector<int>& inner, int ridge,
                    const std::vector<Vec2>& outer) const {
    const Support &from = plan_.supports[k], &to = plan_.supports[(k + 1) % n_];
    double width = 0.5 * std::max((from.b - from.a).norm(), (to.b - to.a).norm());
    if (!loop_.empty() || passes(k))
      width = std::max(width, 0.5 * (width + (outer[ridge] - mesh_.points[inner[ridge]]).norm()));
    return steps_for(width, 2);
  }

  void add_bundle(std::size_t k) {
    const std::size_t next = (k + 1) % n_;
    int ridge = 0;
    const std::vector<int> inner = inner_chain(k, ridge);
    const std::vector<Vec2> outer = outer_points(k, inner, ridge);
    const int across = fibres_across(k, inner, ridge, outer), last = int(inner.size()) - 1;
    std::vector<std::vector<int>> grid(across + 1, std::vector<int>(inner.size()));
    grid[0] = inner;
    for (int j = 1; j <= across; ++j)
      for (int i = 0; i <= last; ++i) {
        const double v = double(j) / across;
        const Vec2 p = (1 - v) * mesh_.points[grid[0][i]] + v * outer[i];
        const int support = i == 0 ? int(k) : i == last ? int(next) : -1;
        grid[j][i] = add(p, support, j == across ? int(k) : -1);
      }
    connect(grid, k);
    if (mesh_.spine) note_spine(grid, k, ridge);
    mesh_.bundles.push_back(grid);
    for (const std::vector<int>& fibre : grid) {
      mesh_.arms[k].after.emplace_back(fibre.begin(), fibre.begin() + ridge + 1);
      mesh_.arms[next].before.emplace_back(fibre.rbegin(), fibre.rend() - ridge);
    }
  }

  // The part of a bundle that is spine; called after its quads are made.
  void note_spine(const std::vector<std::vector<int>>& grid, std::size_t k, int ridge) {
    Spine& spine = *mesh_.spine;
    const int across = int(grid.size()) - 1, last = int(grid[0].size()) - 1;
    const int half = passes(k) ? int(spine.chain.size()) / 2 : 0;
    const bool forward = group_[k] == 0;
    for (int j = 0; j < across; ++j)
      for (int i = 0; i < last; ++i)
        spine.half_of_quad.push_back(i < ridge - half || i >= ridge + half ? -1
                                     : (i < ridge) == forward              ? 0
                                                                           : 1);
    for (int i = -half; half > 0 && i <= half; ++i)
      (forward ? spine.right : spine.left)[std::size_t(half + (forward ? i : -i))] =
          grid[1][ridge + i];
    for (int j = 0; half > 0 && j <= across; ++j) spine.middle.push_back(grid[j][ridge]);
  }

  [[nodiscard]] int free_edge_along(int a, int b) const {
    const int edge = mesh_.free_edge_of[a];
    return edge == mesh_.free_edge_of[b] ? edge : -1;
  }

  void connect(const std::vector<std::vector<int>>& grid, std::size_t k) {
    const int across = int(grid.size()) - 1, last = int(grid[0].size()) - 1;
    for (int j = 0; j <= across; ++j)
      for (int i = 0; i < last; ++i) {
        const int a = grid[j][i], b = grid[j][i + 1];
        join(a, b, true, j == across ? int(k) : j == 0 ? free_edge_along(a, b) : -1);
      }
    for (int i = 0; i <= last; ++i) {
      std::vector<int> row;
      for (int j = across; j >= 0; --j) row.push_back(grid[j][i]);
      for (int j = 0; j < across; ++j) join(row[j], row[j + 1], false, -1);
      mesh_.rows.push_back(row);
    }
    // seen from above, the free edge is on the right of a fibre that runs from support k to the
    // next
    for (int j = 0; j < across; ++j)
      for (int i = 0; i < last; ++i)
        mesh_.quads.push_back({grid[j + 1][i], grid[j + 1][i + 1], grid[j][i + 1], grid[j][i]});
  }

  const Plan& plan_;
  double size_, wider_;
  std::size_t n_;
  Vec2 centre_;
  std::vector<int> group_;  // per support: which meeting it reaches
  std::vector<Vec2> loop_;  // the eye's edge; empty: no eye
  int eye_edge_ = -1;
  std::vector<double> entries_;  // of the centrelines, along the loop
  FibreMesh mesh_;
  std::vector<std::optional<LegOpening>> in_leg_;  // per leg
  // up the leg, past an opening on its right; the same on its left
  std::vector<std::vector<int>> centrelines_, left_;
  std::vector<std::vector<int>> hoops_;
  std::map<std::pair<int, int>, MeshEdge> edges_;
};

}  // namespace

Vec2 meeting_point(const Plan& plan) { return plan.meeting ? *plan.meeting : found_meeting(plan); }

Result<FibreMesh> fibre_mesh(const Plan& plan, double mesh_size_m) {
  const bool eye = eye_of(plan).has_value();
  if (plan.openings.empty()) {
    FibreMesh mesh = Builder(plan, mesh_size_m, 0).build();
    round_fibres(0, mesh);
    return checked(std::move(mesh));
  }
  std::optional<Result<FibreMesh>> first;
  for (double wider = kWider; wider < (eye ? 5 : 2 * kWider); wider *= 2) {
    const FibreMesh straight = Builder(plan, mesh_size_m, wider).build();
    for (double hold = kHoldByEye; hold < 10; hold *= 3) {
      FibreMesh mesh = straight;
      round_fibres(hold, mesh);
      brace(mesh);
      auto sound = checked(std::move(mesh));
      if (sound) return sound;
      if (!first) first = std::move(sound);
    }
  }
  Faults faults = first->faults();
  faults.front().change += ", or round the corners of the opening";
  return faults;
}

}  // namespace skewback
