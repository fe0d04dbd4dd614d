#include "cut/reach.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <optional>
#include <tuple>

namespace skewback {
namespace {

constexpr double kBehind = 0.02;     // m ahead of a plane that count as behind it, at least
constexpr double kBeyondPad = 0.01;  // m more than half a pad

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Per vertex whether the body is there: a part of a whole keeps all vertices of that.
std::vector<char> vertices_of(const Body& body) {
  std::vector<char> in(body.form.vertices.size(), 0);
  for (const std::array<int, 3>& t : body.form.triangles)
    for (int v : t) in[at(v)] = 1;
  return in;
}

/// Least over the body's vertices of the larger of the distances ahead of both planes.
double apart(const Body& body, const std::vector<char>& in, const Plane& a, const Plane& b) {
  double least = std::numeric_limits<double>::max();
  for (const auto* side : {&body.intrados, &body.extrados})
    for (std::size_t v = 0; v < in.size(); ++v)
      if (in[v] != 0)
        least = std::min(least, std::max(a.distance((*side)[v]), b.distance((*side)[v])));
  return least;
}

bool all_apart(const Body& body, const std::vector<char>& in, const std::vector<Plane>& last,
               double gap) {
  for (std::size_t i = 0; i < last.size(); ++i) {
    for (std::size_t j = i + 1; j < last.size(); ++j) {
      if (apart(body, in, last[i], last[j]) < gap) return false;
    }
  }
  return true;
}

/// What a leg's last plane cuts off with the leg's springing: a plane may also pass through other
/// parts of the body.
class Legs {
 public:
  /// `behind_m`: ahead of a plane what counts as behind it, for the pad takes some.
  Legs(const Body& body, double behind_m)
      : body_(body), behind_m_(behind_m), beside_(body.form.vertices.size()) {
    for (const std::array<int, 3>& t : body.form.triangles)
      for (std::size_t c = 0; c < 3; ++c) {
        beside_[at(t[c])].push_back(t[(c + 1) % 3]);
        beside_[at(t[(c + 1) % 3])].push_back(t[c]);
      }
  }

  /// Whether legs come nearer each other than `gap`, or something that is in no leg is nearer than
  /// that to being behind a plane: it would belong to nothing.
  [[nodiscard]] bool overlap_or_lose(const std::vector<Plane>& last, double gap) const {
    const std::size_t n = beside_.size();
    std::vector<int> leg(n, -1);
    std::vector<char> whole(n, 0), astray(n, 0), in(n);
    std::vector<double> near(n), far(n);
    for (std::size_t k = 0; k < last.size(); ++k) {
      for (std::size_t v = 0; v < n; ++v)
        std::tie(near[v], far[v]) =
            std::minmax({last[k].distance(body_.intrados[v]), last[k].distance(body_.extrados[v])});
      walk(static_cast<int>(k), near, gap, in);
      for (std::size_t v = 0; v < n; ++v) {
        if (beside_[v].empty()) continue;
        if (in[v] == 0) {
          astray[v] |= near[v] < gap ? 1 : 0;
          continue;
        }
        if (leg[v] >= 0) return true;
        leg[v] = static_cast<int>(k);
        whole[v] = far[v] < 0 ? 1 : 0;
      }
    }
    for (std::size_t v = 0; v < n; ++v)
      if (astray[v] != 0 && whole[v] == 0) return true;
    return share_an_edge(last, leg);
  }

 private:
  /// The vertices nearer than `gap` to being behind a plane that hang together with the springing.
  void walk(int support, const std::vector<double>& near, double gap, std::vector<char>& in) const {
    std::fill(in.begin(), in.end(), 0);
    std::vector<int> stack;
    const auto take = [&](int v) {
      if (in[at(v)] != 0 || near[at(v)] >= gap) return;
      in[at(v)] = 1;
      stack.push_back(v);
    };
    for (std::size_t v = 0; v < beside_.size(); ++v)
      if (!beside_[v].empty() && body_.form.support_of[v] == support) take(static_cast<int>(v));
    while (!stack.empty()) {
      const int v = stack.back();
      stack.pop_back();
      for (const int w : beside_[at(v)]) take(w);
    }
  }

  /// Whether part of an edge from one leg to another is behind both planes.
  [[nodiscard]] bool share_an_edge(const std::vector<Plane>& last,
                                   const std::vector<int>& leg) const {
    for (std::size_t v = 0; v < beside_.size(); ++v) {
      if (leg[v] < 0) continue;
      for (const int w : beside_[v])
        if (leg[at(w)] > leg[v] && behind_both(v, at(w), last[at(leg[v])], last[at(leg[at(w)])]))
          return true;
    }
    return false;
  }

  [[nodiscard]] bool behind_both(std::size_t v, std::size_t w, const Plane& a,
                                 const Plane& b) const {
    for (const auto* side : {&body_.intrados, &body_.extrados}) {
      const double at_v = a.distance((*side)[v]) - b.distance((*side)[v]);
      const double at_w = a.distance((*side)[w]) - b.distance((*side)[w]);
      if (at_v * at_w >= 0) continue;
      const double s = at_v / (at_v - at_w);
      if (a.distance((1 - s) * (*side)[v] + s * (*side)[w]) < behind_m_) return true;
    }
    return false;
  }

  const Body& body_;
  double behind_m_;
  std::vector<std::vector<int>> beside_;
};

using StandApart = std::function<bool(const std::vector<Plane>& last, double gap)>;

/// All together as far as they can with `gap` between last planes, then one by one.
std::optional<std::vector<double>> furthest_apart(const Body& body,
                                                  const std::vector<ArmField>& arms, double gap,
                                                  double furthest, const StandApart& apart) {
  constexpr double kStep = 0.02;
  std::vector<double> reach(arms.size(), 0);
  double shortest = std::numeric_limits<double>::max();
  for (const ArmField& arm : arms) shortest = std::min(shortest, arm.border_phi_m);
  furthest = std::min(furthest, shortest);
  const auto stand_apart = [&](const std::vector<double>& past) {
    std::vector<Plane> planes;
    for (std::size_t k = 0; k < arms.size(); ++k)
      planes.push_back(plane_past(body, arms[k], arms[k].border_phi_m + past[k]));
    return apart(planes, gap);
  };
  while (!stand_apart(reach)) {
    for (double& r : reach) r -= kStep;
    if (reach.front() < -0.8 * shortest) return std::nullopt;
  }
  for (bool moved = true; moved;) {
    moved = false;
    for (double& r : reach) {
      r += kStep;
      if (r < furthest && stand_apart(reach)) {
        moved = true;
      } else {
        r -= kStep;
      }
    }
  }
  return reach;
}

}  // namespace

Plane plane_past(const Body& body, const ArmField& arm, double phi) {
  const double within = std::min(phi, arm.border_phi_m);
  const Plane plane = level_plane(body, arm, within);
  return plane.moved(phi - within);
}

Result<Reach> reaches(const Brief& brief, const Body& body, const std::vector<ArmField>& arms,
                      double gap, double furthest, bool only_by_legs) {
  const double behind = std::max(kBehind, brief.joints.pad_thickness_m / 2 + kBeyondPad);
  const Legs legs(body, behind);
  const std::vector<char> in = vertices_of(body);
  const auto whole = [&](const std::vector<Plane>& last, double between) {
    return all_apart(body, in, last, between) && !legs.overlap_or_lose(last, behind);
  };
  const auto by_legs = [&](const std::vector<Plane>& last, double between) {
    return !legs.overlap_or_lose(last, between);
  };
  if (!only_by_legs)
    if (auto past = furthest_apart(body, arms, gap, furthest, whole)) return Reach{*past, false};
  if (auto past = furthest_apart(body, arms, gap, furthest, by_legs)) return Reach{*past, true};
  return Fault{.key = "cut: where the arms meet",
               .found = "last joint planes of neighbouring arms that cross inside the body",
               .expected = "planes that stay apart, with a key between them",
               .change =
                   "supports further apart round the meeting, longer arms, or free edges that "
                   "bow further in"};
}

}  // namespace skewback
