#include "cut/arm_planes.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <tuple>

namespace skewback {
namespace {

constexpr double kApart = 0.06;   // m the last planes of two arms must stay apart inside the body
constexpr double kBehind = 0.02;  // m ahead of a plane that count as behind it, at least
constexpr double kBeyondPad = 0.01;  // m more than half a pad
constexpr int kSamples = 48;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// The plane of a level; past the border it is moved on along its normal.
Plane plane_past(const Body& body, const ArmField& arm, double phi) {
  const double within = std::min(phi, arm.border_phi_m);
  const Plane plane = level_plane(body, arm, within);
  return plane.moved(phi - within);
}

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

struct Reach {
  std::vector<double> past_m;  // of each arm's least border phi; negative: must stay short of it
  bool by_legs = false;
};

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

/// By whole planes, which cut most simply; where those cross, by legs.
Result<Reach> reaches(const Brief& brief, const Body& body, const std::vector<ArmField>& arms,
                      double gap, double furthest) {
  const double behind = std::max(kBehind, brief.joints.pad_thickness_m / 2 + kBeyondPad);
  const Legs legs(body, behind);
  const std::vector<char> in = vertices_of(body);
  const auto whole = [&](const std::vector<Plane>& last, double between) {
    return all_apart(body, in, last, between) && !legs.overlap_or_lose(last, behind);
  };
  const auto by_legs = [&](const std::vector<Plane>& last, double between) {
    return !legs.overlap_or_lose(last, between);
  };
  if (auto past = furthest_apart(body, arms, gap, furthest, whole)) return Reach{*past, false};
  if (auto past = furthest_apart(body, arms, gap, furthest, by_legs)) return Reach{*past, true};
  return Fault{.key = "cut: where the arms meet",
               .found = "last joint planes of neighbouring arms that cross inside the body",
               .expected = "planes that stay apart, with a key between them",
               .change =
                   "supports further apart round the meeting, longer arms, or free edges that "
                   "bow further in"};
}

struct Profile {  // mass along a way
  std::vector<double> along, mass_per_metre;
};

Profile profile_of(const Body& body, const ArmField& arm, const Way& way) {
  Profile out;
  for (int i = 0; i <= kSamples; ++i) {
    const double s = way.length() * i / kSamples;
    const double phi =
        std::clamp(way.phi_at(s), 0.02 * arm.top_phi_m, std::min(arm.border_phi_m, arm.top_phi_m));
    out.along.push_back(s);
    out.mass_per_metre.push_back(mass_per_metre(body, level_at(body, arm, phi)));
  }
  return out;
}

void add_plane(const Body& body, const ArmField& arm, double phi, ArmCuts& cuts) {
  cuts.planes.push_back(plane_past(body, arm, phi));
  cuts.phi_m.push_back(phi);
  cuts.width_max_m =
      std::max(cuts.width_max_m, level_at(body, arm, std::min(phi, arm.border_phi_m)).width_m);
}

ArmCuts begun(const Brief& brief, const Body& body, const ArmField& arm) {
  ArmCuts cuts;
  cuts.support = arm.support;
  cuts.name = brief.plan.supports[at(arm.support)].id;
  cuts.planes.push_back(body.springing[at(arm.support)]);
  cuts.phi_m.push_back(0);
  cuts.width_max_m = level_at(body, arm, 0.02 * arm.top_phi_m).width_m;
  return cuts;
}

/// From springing to springing as one way; the course on the ridge is the key.
std::vector<ArmCuts> two_arms(const Brief& brief, const Body& body,
                              const std::vector<ArmField>& arms,
                              const std::vector<ArmLimits>& limits) {
  const Way ways[2] = {{body, arms[0], arms[0].top_phi_m}, {body, arms[1], arms[1].top_phi_m}};
  const double first = ways[0].length(), whole = first + ways[1].length();
  const Profile up = profile_of(body, arms[0], ways[0]), down = profile_of(body, arms[1], ways[1]);
  Profile profile = up;
  for (std::size_t i = down.along.size(); i-- > 0;) {
    if (whole - down.along[i] <= profile.along.back() + 1e-9) continue;
    profile.along.push_back(whole - down.along[i]);
    profile.mass_per_metre.push_back(down.mass_per_metre[i]);
  }
  Spacing spacing{brief.blocks.length_m,
                  std::min(limits[0].course_mass_most_kg, limits[1].course_mass_most_kg),
                  brief.blocks.count};
  std::vector<double> joints = even_courses(profile.along, profile.mass_per_metre, spacing);
  if (spacing.count == 0 &&
      joints.size() % 2 == 1) {  // an odd number of courses: a key on the ridge
    const double n = static_cast<double>(joints.size());
    spacing.length_most_m = std::min(spacing.length_most_m, whole / (n - 1e-6));
    double mass = 0;
    for (std::size_t i = 1; i < profile.along.size(); ++i)
      mass += (profile.along[i] - profile.along[i - 1]) * profile.mass_per_metre[i];
    joints = even_courses(profile.along, profile.mass_per_metre, spacing);
    if (joints.size() % 2 == 1) {
      spacing.length_most_m = 0;
      spacing.mass_most_kg = mass / (n - 0.5);
      joints = even_courses(profile.along, profile.mass_per_metre, spacing);
    }
  }
  std::vector<ArmCuts> out{begun(brief, body, arms[0]), begun(brief, body, arms[1])};
  const std::size_t count = joints.size() - 1;
  for (std::size_t i = 1; i <= count / 2; ++i)
    add_plane(body, arms[0], ways[0].phi_at(joints[i]), out[0]);
  for (std::size_t i = count - 1; i > count / 2; --i)
    add_plane(body, arms[1], ways[1].phi_at(whole - joints[i]), out[1]);
  for (ArmCuts& cuts : out) cuts.trunk = cuts.planes.size() - 1;
  return out;
}

std::vector<ArmCuts> trunks(const Brief& brief, const Body& body, const std::vector<ArmField>& arms,
                            const std::vector<double>& reach,
                            const std::vector<ArmLimits>& limits) {
  std::vector<ArmCuts> out;
  for (std::size_t k = 0; k < arms.size(); ++k) {
    const double within = std::min(arms[k].border_phi_m, arms[k].border_phi_m + reach[k]);
    const double past = std::max(0.0, reach[k]);
    const Way way(body, arms[k], within);
    Profile profile = profile_of(body, arms[k], way);
    if (past > 0) {
      profile.along.push_back(way.length() + past);
      profile.mass_per_metre.push_back(profile.mass_per_metre.back());
    }
    const std::vector<double> joints =
        even_courses(profile.along, profile.mass_per_metre,
                     {brief.blocks.length_m, limits[k].course_mass_most_kg, 0});
    ArmCuts cuts = begun(brief, body, arms[k]);
    for (std::size_t i = 1; i < joints.size(); ++i) {
      // without `past` the last joint may lie beyond the way by a rounding
      const double phi = past > 0 && joints[i] > way.length()
                             ? arms[k].border_phi_m + joints[i] - way.length()
                             : way.phi_at(std::min(joints[i], way.length()));
      add_plane(body, arms[k], phi, cuts);
    }
    cuts.trunk = cuts.planes.size() - 1;
    out.push_back(std::move(cuts));
  }
  return out;
}

/// Mass of what lies ahead of all planes if it were solid.
Result<double> key_mass(const Body& body, const std::vector<ArmField>& arms, const Reach& reach) {
  std::vector<Plane> last;
  for (std::size_t k = 0; k < arms.size(); ++k)
    last.push_back(plane_past(body, arms[k], arms[k].border_phi_m + reach.past_m[k]));
  const Result<Solid> key = ahead_of_all(body.outer, last, reach.by_legs);
  if (!key) return key.faults();
  return mass_properties(*key).volume * body.density;
}

bool has_eye(const Plan& plan, const Vec2& middle) {
  return std::any_of(plan.openings.begin(), plan.openings.end(), [&](const Polygon& opening) {
    return contains({Polygon(opening.rbegin(), opening.rend()), {}}, middle);
  });
}

/// Where the ridges come together: the middle of what all arms' borders enclose.
Vec2 middle_of(const Brief& brief, const Body& body, const std::vector<ArmField>& arms) {
  if (brief.plan.meeting) return *brief.plan.meeting;
  Vec2 sum = Vec2::Zero();
  for (const ArmField& arm : arms) {
    Vec2 top = Vec2::Zero();
    double most = -1;
    for (std::size_t v = 0; v < arm.phi.size(); ++v)
      if (arm.phi[v] > most) most = arm.phi[v], top = body.form.vertices[v].head<2>();
    sum += top;
  }
  return sum / static_cast<double>(arms.size());
}

}  // namespace

int parts_across(const BlockRequest& blocks, double width_m) {
  if (blocks.width_max_m <= 0) return 1;
  return std::max(1, static_cast<int>(std::ceil(width_m / blocks.width_max_m - 1e-9)));
}

Result<JointPlanes> joint_planes(const Brief& brief, const Body& body,
                                 const std::vector<ArmLimits>& limits) {
  const std::vector<ArmField> arms = arm_fields(body.form);
  JointPlanes out;
  out.middle = middle_of(brief, body, arms);
  out.eye = has_eye(brief.plan, out.middle);
  if (arms.size() == 2 && !out.eye) {
    out.arms = two_arms(brief, body, arms, limits);
    return out;
  }
  if (!out.eye) {
    const Result<Reach> reach = reaches(brief, body, arms, kApart, 1e9);
    if (!reach) return reach.faults();
    const Result<double> mass = key_mass(body, arms, *reach);
    if (!mass) return mass.faults();
    if (*mass <= brief.blocks.mass_max_kg) {
      out.by_legs = reach->by_legs;
      out.arms = trunks(brief, body, arms, reach->past_m, limits);
      return out;
    }
  }
  // rings: at the waists their first blocks need a side of some length on the free edge
  const double gap = std::clamp(0.4 * brief.blocks.length_m, 0.1, 0.3);
  const Result<Reach> reach = reaches(brief, body, arms, gap, 1e-6);
  if (!reach) return reach.faults();
  out.crown = true;
  out.by_legs = reach->by_legs;
  out.arms = trunks(brief, body, arms, reach->past_m, limits);
  return with_crown(brief, body, limits, std::move(out));
}

}  // namespace skewback
