#include "cut/arm_planes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "cut/leg_gaps.hpp"
#include "cut/reach.hpp"

namespace skewback {
namespace {

constexpr double kApart = 0.06;     // m the last planes of two arms must stay apart inside the body
constexpr double kLeastArm = 0.02;  // m of phi; less has no courses
constexpr double kLeastCourse = 0.15;  // m between joints that an opening asks for
constexpr int kSamples = 48;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct Profile {  // mass along a way
  std::vector<double> along, mass_per_metre;
};

/// Beside the tips of an opening, which stand at `stops`, courses are solid; no further than
/// `reach_m` from them.
Profile profile_of(const Body& body, const ArmField& arm, const Way& way,
                   const std::vector<double>& stops = {}, double reach_m = 0) {
  Profile out;
  for (int i = 0; i <= kSamples; ++i) {
    const double s = way.length() * i / kSamples;
    const double phi =
        std::clamp(way.phi_at(s), 0.02 * arm.top_phi_m, std::min(arm.border_phi_m, arm.top_phi_m));
    out.along.push_back(s);
    const Level level = level_at(body, arm, phi);
    const bool solid = !stops.empty() && ((s <= stops.front() && s >= stops.front() - reach_m) ||
                                          (s >= stops.back() && s <= stops.back() + reach_m));
    out.mass_per_metre.push_back(solid ? level.width_m * level.depth_m * body.density
                                       : mass_per_metre(body, level));
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

double shortest(const Brief& brief) { return std::max(brief.blocks.length_min_m, kLeastCourse); }

/// Middle of the ridge between two arms.
Vec3 ridge_middle(const Form& form, const std::vector<ArmField>& arms) {
  Vec3 sum = Vec3::Zero();
  double n = 0;
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    if (std::isnan(arms[0].phi[v]) || std::isnan(arms[1].phi[v])) continue;
    sum += form.vertices[v];
    n += 1;
  }
  return sum / std::max(n, 1.0);
}

/// Phi at which an arm's planes, moved on from the border, come to the middle of the ridge. Of a
/// skew arch the ridge runs aslant: its greatest phi lies in the acute corner, far past its middle.
double phi_at_ridge(const Body& body, const ArmField& arm, const Vec3& ridge) {
  const Plane last = plane_past(body, arm, arm.border_phi_m);
  return arm.border_phi_m + std::clamp(last.distance(ridge), 0.0, arm.top_phi_m - arm.border_phi_m);
}

/// The course over the ridge, which no plane of either arm goes past: square to the thrust of its
/// own arm only. The middle one by count where the ridge is on its edge, as with an even count.
std::size_t key_course(const std::vector<double>& joints, double ridge) {
  constexpr double kOnEdge = 0.1;  // of a course
  const std::size_t count = joints.size() - 1, middle = count / 2;
  const double edge = kOnEdge * (joints[middle + 1] - joints[middle]);
  if (joints[middle] <= ridge + edge && ridge - edge <= joints[middle + 1]) return middle;
  const auto past = std::upper_bound(joints.begin() + 1, joints.end() - 1, ridge);
  return static_cast<std::size_t>(past - joints.begin()) - 1;
}

/// From springing to springing as one way; the course on the ridge is the key.
std::vector<ArmCuts> two_arms(const Brief& brief, const Body& body,
                              const std::vector<ArmField>& arms,
                              const std::vector<ArmLimits>& limits,
                              const std::vector<std::optional<LegGap>>& gaps) {
  const Vec3 ridge = ridge_middle(body.form, arms);
  // of a half arch the ridge is at the upper springing: it has no way of its own
  std::optional<Way> ways[2];
  double length[2] = {0, 0};
  std::vector<double> stops, of_arm[2];
  Profile of[2];
  for (const std::size_t k : {0U, 1U}) {
    if (arms[k].border_phi_m <= kLeastArm) continue;
    ways[k].emplace(body, arms[k], phi_at_ridge(body, arms[k], ridge));
    length[k] = ways[k]->length();
    if (gaps[k]) of_arm[k] = stops_at(*gaps[k], *ways[k], shortest(brief));
    of[k] = profile_of(body, arms[k], *ways[k], of_arm[k], brief.blocks.length_m);
  }
  const double first = length[0], whole = first + length[1];
  const Profile &up = of[0], &down = of[1];
  stops = of_arm[0];
  for (std::size_t i = of_arm[1].size(); i-- > 0;) stops.push_back(whole - of_arm[1][i]);
  Profile profile = up;
  for (std::size_t i = down.along.size(); i-- > 0;) {
    if (!profile.along.empty() && whole - down.along[i] <= profile.along.back() + 1e-9) continue;
    profile.along.push_back(whole - down.along[i]);
    profile.mass_per_metre.push_back(down.mass_per_metre[i]);
  }
  Spacing spacing{brief.blocks.length_m,
                  std::min(limits[0].course_mass_most_kg, limits[1].course_mass_most_kg),
                  brief.blocks.count};
  std::vector<double> joints =
      even_courses_with(profile.along, profile.mass_per_metre, spacing, stops);
  if (stops.empty() && spacing.count == 0 &&
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
  // joints up to this one are square to the first arm's thrust
  const std::size_t up_to = !ways[0] ? 0 : !ways[1] ? count : key_course(joints, first);
  // each springing has a course of its own, if need be cut as the other arm has it
  const std::size_t below_key =
      count < 3 ? std::min(up_to, count - 1) : std::clamp<std::size_t>(up_to, 1, count - 2);
  const auto add = [&](std::size_t own, std::size_t i) {
    const std::size_t from = i <= up_to ? 0 : 1;
    const double s = from == 0 ? joints[i] : whole - joints[i];
    add_plane(body, arms[from], ways[from]->phi_at(s), out[own]);
    if (from == own) return;
    out[own].planes.back() = out[own].planes.back().opposite();
    out[own].phi_m.back() = own == 0 ? joints[i] : whole - joints[i];
  };
  for (std::size_t i = 1; i <= below_key; ++i) add(0, i);
  for (std::size_t i = count - 1; i > below_key; --i) add(1, i);
  for (ArmCuts& cuts : out) cuts.trunk = cuts.planes.size() - 1;
  return out;
}

/// An opening in a leg has to end before the crown begins, `past_m` lower than it does.
Fault in_crown(const Brief& brief, std::size_t leg, const LegGap& gap, double past_m) {
  char text[80];
  std::snprintf(text, sizeof text, "%.3f m", past_m);
  return {.key = "cut: plan.openings[" + std::to_string(gap.opening + 1) + "]",
          .found = std::string("an opening that reaches ") + text +
                   " past the last joint across its leg, where the legs grow together",
          .expected = "an opening between the springing and that joint",
          .change = "move it by " + std::string(text) + " or more towards " +
                    brief.plan.supports[leg].id + ", or draw it shorter"};
}

Result<std::vector<ArmCuts>> trunks(const Brief& brief, const Body& body,
                                    const std::vector<ArmField>& arms,
                                    const std::vector<double>& reach,
                                    const std::vector<ArmLimits>& limits,
                                    const std::vector<std::optional<LegGap>>& gaps) {
  std::vector<ArmCuts> out;
  for (std::size_t k = 0; k < arms.size(); ++k) {
    const double within = std::min(arms[k].border_phi_m, arms[k].border_phi_m + reach[k]);
    const double past = std::max(0.0, reach[k]);
    const Way way(body, arms[k], within);
    std::vector<double> stops;
    if (gaps[k]) {
      const double end = way.length() + past;
      const Way whole(body, arms[k], arms[k].border_phi_m);
      const double tip = gaps[k]->high_tip_phi_m < arms[k].border_phi_m
                             ? whole.length_at(gaps[k]->high_tip_phi_m)
                             : whole.length() + gaps[k]->high_tip_phi_m - arms[k].border_phi_m;
      if (tip > end) return in_crown(brief, k, *gaps[k], tip - end);
      stops = stops_at(*gaps[k], way, shortest(brief));
    }
    Profile profile = profile_of(body, arms[k], way, stops, brief.blocks.length_m);
    if (past > 0) {
      profile.along.push_back(way.length() + past);
      profile.mass_per_metre.push_back(profile.mass_per_metre.back());
    }
    // no sliver between an opening's last joint and the crown
    if (!stops.empty() && profile.along.back() - stops.back() < shortest(brief)) {
      const Stretch up = stretch_of(profile.along, profile.mass_per_metre, 0, stops.back());
      profile = {up.along, up.mass_per_metre};
      stops.pop_back();
    }
    const std::vector<double> joints =
        even_courses_with(profile.along, profile.mass_per_metre,
                          {brief.blocks.length_m, limits[k].course_mass_most_kg, 0}, stops);
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
  const auto gaps = leg_gaps(brief, body, arms);
  if (!gaps) return gaps.faults();
  JointPlanes out;
  out.middle = middle_of(brief, body, arms);
  out.eye = has_eye(brief.plan, out.middle);
  if (arms.size() == 2 && !out.eye) {
    out.arms = two_arms(brief, body, arms, limits, *gaps);
    return out;
  }
  if (!out.eye) {
    const Result<Reach> reach = reaches(brief, body, arms, kApart, 1e9);
    if (!reach) return reach.faults();
    const Result<double> mass = key_mass(body, arms, *reach);
    if (!mass) return mass.faults();
    if (*mass <= brief.blocks.mass_max_kg) {
      Result<std::vector<ArmCuts>> cuts = trunks(brief, body, arms, reach->past_m, limits, *gaps);
      if (cuts) {
        out.by_legs = reach->by_legs;
        out.arms = std::move(cuts).value();
        return out;
      }
    }
  }
  // rings: at the waists their first blocks need a side of some length on the free edge
  const double gap = std::clamp(0.4 * brief.blocks.length_m, 0.1, 0.3);
  Result<Reach> reach = reaches(brief, body, arms, gap, 1e-6);
  if (!reach) return reach.faults();
  Result<std::vector<ArmCuts>> cuts = trunks(brief, body, arms, reach->past_m, limits, *gaps);
  if (!cuts &&
      !reach->by_legs) {  // legs alone may reach further than their planes: past an opening
    reach = reaches(brief, body, arms, gap, 1e-6, true);
    if (reach) {
      Result<std::vector<ArmCuts>> longer = trunks(brief, body, arms, reach->past_m, limits, *gaps);
      if (longer) cuts = std::move(longer);
    }
  }
  if (!cuts) return cuts.faults();
  out.crown = true;
  out.by_legs = reach->by_legs;
  out.arms = std::move(cuts).value();
  return with_crown(brief, body, limits, std::move(out));
}

}  // namespace skewback
