#include "cut/arm_planes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr double kApart = 0.06;  // m the last planes of two arms must stay apart inside the body
constexpr int kSamples = 48;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// The plane of a level; past the border it is moved on along its normal.
Plane plane_past(const Body& body, const ArmField& arm, double phi) {
  const double within = std::min(phi, arm.border_phi_m);
  const Plane plane = level_plane(body, arm, within);
  return plane.moved(phi - within);
}

/// Least over the body's vertices of the larger of the distances ahead of both planes.
double apart(const Body& body, const Plane& a, const Plane& b) {
  double least = std::numeric_limits<double>::max();
  for (const auto* side : {&body.intrados, &body.extrados}) {
    for (const Vec3& p : *side) least = std::min(least, std::max(a.distance(p), b.distance(p)));
  }
  return least;
}

bool all_apart(const Body& body, const std::vector<Plane>& last, double gap) {
  for (std::size_t i = 0; i < last.size(); ++i) {
    for (std::size_t j = i + 1; j < last.size(); ++j) {
      if (apart(body, last[i], last[j]) < gap) return false;
    }
  }
  return true;
}

/// How far past its least border phi each arm may reach (negative: must stay short of it) with
/// `gap` between last planes: all together as far as they can, then one by one.
Result<std::vector<double>> reaches(const Body& body, const std::vector<ArmField>& arms, double gap,
                                    double furthest) {
  constexpr double kStep = 0.02;
  std::vector<double> reach(arms.size(), 0);
  double shortest = std::numeric_limits<double>::max();
  for (const ArmField& arm : arms) shortest = std::min(shortest, arm.border_phi_m);
  furthest = std::min(furthest, shortest);
  const auto stand_apart = [&](const std::vector<double>& past) {
    std::vector<Plane> planes;
    for (std::size_t k = 0; k < arms.size(); ++k)
      planes.push_back(plane_past(body, arms[k], arms[k].border_phi_m + past[k]));
    return all_apart(body, planes, gap);
  };
  while (!stand_apart(reach)) {
    for (double& r : reach) r -= kStep;
    if (reach.front() < -0.8 * shortest) {
      return Fault{.key = "cut: where the arms meet",
                   .found = "last joint planes of neighbouring arms that cross inside the body",
                   .expected = "planes that stay apart, with a key between them",
                   .change = "longer arms, or free edges that bow further in"};
    }
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

ArmCuts begun(const Body& body, const ArmField& arm) {
  ArmCuts cuts;
  cuts.support = arm.support;
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
  std::vector<ArmCuts> out{begun(body, arms[0]), begun(body, arms[1])};
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
    ArmCuts cuts = begun(body, arms[k]);
    for (std::size_t i = 1; i < joints.size(); ++i) {
      const double phi = joints[i] <= way.length()
                             ? way.phi_at(joints[i])
                             : arms[k].border_phi_m + joints[i] - way.length();
      add_plane(body, arms[k], phi, cuts);
    }
    cuts.trunk = cuts.planes.size() - 1;
    out.push_back(std::move(cuts));
  }
  return out;
}

/// Mass of what lies ahead of all planes if it were solid.
Result<double> key_mass(const Body& body, const std::vector<ArmField>& arms,
                        const std::vector<double>& reach) {
  Solid key = body.outer;
  for (std::size_t k = 0; k < arms.size(); ++k) {
    Result<Solid> rest =
        clip(key, plane_past(body, arms[k], arms[k].border_phi_m + reach[k]).opposite());
    if (!rest) return rest.faults();
    key = std::move(rest).value();
  }
  return mass_properties(key).volume * body.density;
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
    const Result<std::vector<double>> reach = reaches(body, arms, kApart, 1e9);
    if (!reach) return reach.faults();
    const Result<double> mass = key_mass(body, arms, *reach);
    if (!mass) return mass.faults();
    if (*mass <= brief.blocks.mass_max_kg) {
      out.arms = trunks(brief, body, arms, *reach, limits);
      return out;
    }
  }
  // rings: at the waists their first blocks need a side of some length on the free edge
  const double gap = std::clamp(0.4 * brief.blocks.length_m, 0.1, 0.3);
  const Result<std::vector<double>> reach = reaches(body, arms, gap, 1e-6);
  if (!reach) return reach.faults();
  out.crown = true;
  out.arms = trunks(brief, body, arms, *reach, limits);
  return with_crown(brief, body, limits, std::move(out));
}

}  // namespace skewback
