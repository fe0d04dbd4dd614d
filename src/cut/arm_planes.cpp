#include "cut/arm_planes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr double kApart = 0.06;  // m the last planes of two arms must stay apart inside the body
constexpr double kMassMargin = 1.03;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Plane level_plane(const Body& body, const ArmField& arm, double phi) {
  const double within = std::min(phi, arm.border_phi_m);
  const Level level = level_at(body, arm, within);
  const Vec3 n = level.resultant_n.normalized();
  return {level.centre + (phi - within) * n, n};
}

/// Least over the body's vertices of the larger of the distances ahead of both planes.
double apart(const Body& body, const Plane& a, const Plane& b) {
  double least = std::numeric_limits<double>::max();
  for (const auto* side : {&body.intrados, &body.extrados}) {
    for (const Vec3& p : *side) least = std::min(least, std::max(a.distance(p), b.distance(p)));
  }
  return least;
}

bool all_apart(const Body& body, const std::vector<Plane>& last) {
  for (std::size_t i = 0; i < last.size(); ++i) {
    for (std::size_t j = i + 1; j < last.size(); ++j) {
      if (apart(body, last[i], last[j]) < kApart) return false;
    }
  }
  return true;
}

/// How far past its least border phi each arm may reach (negative: must stay short of it): all
/// together as far as they can, then one by one.
Result<std::vector<double>> reaches(const Body& body, const std::vector<ArmField>& arms) {
  constexpr double kStep = 0.02;
  std::vector<double> reach(arms.size(), 0);
  double shortest = std::numeric_limits<double>::max();
  for (const ArmField& arm : arms) shortest = std::min(shortest, arm.border_phi_m);
  const auto stand_apart = [&](const std::vector<double>& past) {
    std::vector<Plane> planes;
    for (std::size_t k = 0; k < arms.size(); ++k)
      planes.push_back(level_plane(body, arms[k], arms[k].border_phi_m + past[k]));
    return all_apart(body, planes);
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
      if (r < shortest && stand_apart(reach)) {
        moved = true;
      } else {
        r -= kStep;
      }
    }
  }
  return reach;
}

/// True length along the middle of an arm as a function of phi: the way through the centres of its
/// levels.
class Chainage {
 public:
  Chainage(const Body& body, const ArmField& arm, double end_phi) {
    constexpr int kSteps = 64;
    const double within = std::min(end_phi, arm.border_phi_m);
    Vec3 before = body.springing[at(arm.support)].point;
    phi_.push_back(0);
    length_.push_back(0);
    for (int i = 1; i <= kSteps; ++i) {
      const double phi = within * i / kSteps;
      const Vec3 centre = level_at(body, arm, phi).centre;
      phi_.push_back(phi);
      length_.push_back(length_.back() + (centre - before).norm());
      before = centre;
    }
    if (end_phi >
        within) {  // past the last level planes are moved along their normal: phi is length there
      phi_.push_back(end_phi);
      length_.push_back(length_.back() + end_phi - within);
    }
  }
  [[nodiscard]] double length() const { return length_.back(); }
  [[nodiscard]] double phi_at(double length) const {
    const std::size_t i = std::clamp<std::size_t>(
        static_cast<std::size_t>(std::lower_bound(length_.begin(), length_.end(), length) -
                                 length_.begin()),
        1, length_.size() - 1);
    const double s = (length - length_[i - 1]) / (length_[i] - length_[i - 1]);
    return phi_[i - 1] + s * (phi_[i] - phi_[i - 1]);
  }

 private:
  std::vector<double> phi_, length_;
};

/// Mass of a course between two places along the arm, by the section rule.
double course_mass(const Body& body, const ArmField& arm, const Chainage& way, double from,
                   double to) {
  double mass = 0;
  constexpr int kSlices = 4;
  for (int i = 0; i < kSlices; ++i) {
    const double phi = way.phi_at(from + (to - from) * (i + 0.5) / kSlices);
    const Level level =
        level_at(body, arm, std::clamp(phi, 0.02 * arm.top_phi_m, arm.border_phi_m));
    mass += level.width_m * level.depth_m *
            solid_fraction(body.section, level.depth_m, level.width_m) * body.density *
            (to - from) / kSlices;
  }
  return mass;
}

int courses_for(const Brief& brief, const Body& body, const ArmField& arm, const Chainage& way) {
  int m = std::max(2, static_cast<int>(std::ceil(way.length() / brief.blocks.length_m - 1e-9)));
  for (; m < 400; ++m) {
    double heaviest = 0;
    for (int i = 0; i < m; ++i) {
      heaviest = std::max(
          heaviest, course_mass(body, arm, way, way.length() * i / m, way.length() * (i + 1) / m));
    }
    if (heaviest * kMassMargin <= brief.blocks.mass_max_kg) break;
  }
  return m;
}

ArmCuts cuts_at(const Body& body, const ArmField& arm, const std::vector<double>& levels) {
  ArmCuts cuts;
  cuts.support = arm.support;
  cuts.planes.push_back(body.springing[at(arm.support)]);
  cuts.phi_m.push_back(0);
  for (const double phi : levels) {
    cuts.planes.push_back(level_plane(body, arm, phi));
    cuts.phi_m.push_back(phi);
    cuts.width_max_m =
        std::max(cuts.width_max_m, level_at(body, arm, std::min(phi, arm.border_phi_m)).width_m);
  }
  return cuts;
}

}  // namespace

std::vector<ArmField> arm_fields(const Form& form) {
  std::vector<ArmField> arms(form.arms.size());
  std::vector<int> seen(form.vertices.size(), -1), shared(form.vertices.size(), 0);
  for (std::size_t k = 0; k < arms.size(); ++k) {
    arms[k].support = static_cast<int>(k);
    arms[k].phi.assign(form.vertices.size(), std::numeric_limits<double>::quiet_NaN());
  }
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    ArmField& arm = arms[at(form.arm[t])];
    arm.triangles.push_back(static_cast<int>(t));
    for (std::size_t c = 0; c < 3; ++c) {
      const std::size_t v = at(form.triangles[t][c]);
      arm.phi[v] = form.phi[t][c];
      arm.top_phi_m = std::max(arm.top_phi_m, form.phi[t][c]);
      if (seen[v] >= 0 && seen[v] != form.arm[t]) shared[v] = 1;
      seen[v] = form.arm[t];
    }
  }
  for (ArmField& arm : arms) {
    arm.border_phi_m = arm.top_phi_m;
    for (std::size_t v = 0; v < shared.size(); ++v) {
      if (shared[v] != 0 && !std::isnan(arm.phi[v]))
        arm.border_phi_m = std::min(arm.border_phi_m, arm.phi[v]);
    }
    arm.border_phi_m *= 1 - 1e-9;
  }
  return arms;
}

Level level_at(const Body& body, const ArmField& arm, double phi) {
  const Form& form = body.form;
  Level level;
  level.phi_m = phi;
  for (const int t : arm.triangles) {
    std::vector<Vec3> points;
    double depth = 0;
    for (std::size_t c = 0; c < 3; ++c) {
      const std::size_t a = at(form.triangles[at(t)][c]),
                        b = at(form.triangles[at(t)][(c + 1) % 3]);
      if ((arm.phi[a] < phi) == (arm.phi[b] < phi)) continue;
      const double s = (phi - arm.phi[a]) / (arm.phi[b] - arm.phi[a]);
      points.push_back((1 - s) * form.vertices[a] + s * form.vertices[b]);
      depth += ((1 - s) * body.depth_m[a] + s * body.depth_m[b]) / 2;
    }
    if (points.size() != 2) continue;
    const double length = (points[1] - points[0]).norm();
    level.width_m += length;
    level.centre += length * (points[0] + points[1]) / 2;
    level.depth_m += length * depth;
  }
  level.centre /= std::max(level.width_m, 1e-12);
  level.depth_m /= std::max(level.width_m, 1e-12);
  for (const NetEdge& e : form.edges) {
    const double pa = arm.phi[at(e.a)], pb = arm.phi[at(e.b)];
    if (std::isnan(pa) || std::isnan(pb) || (pa < phi) == (pb < phi)) continue;
    const Vec3 up = form.vertices[at(e.b)] - form.vertices[at(e.a)];
    level.resultant_n += e.q * (pa < phi ? up : Vec3(-up));
  }
  return level;
}

Result<std::vector<ArmCuts>> joint_planes(const Brief& brief, const Body& body,
                                          const std::vector<int>& extra) {
  const std::vector<ArmField> arms = arm_fields(body.form);
  std::vector<ArmCuts> out;
  if (arms.size() == 2) {
    const Chainage ways[2] = {{body, arms[0], arms[0].top_phi_m},
                              {body, arms[1], arms[1].top_phi_m}};
    const double whole = ways[0].length() + ways[1].length();
    const int count = brief.blocks.count > 0 ? brief.blocks.count
                                             : courses_for(brief, body, arms[0], ways[0]) * 2 + 1 +
                                                   extra[0] + extra[1];
    for (std::size_t k = 0; k < 2; ++k) {
      // the key is one of them; with an even count it stands to one side of the ridge
      const int courses = k == 0 ? count / 2 : (count - 1) / 2;
      std::vector<double> levels;
      for (int i = 1; i <= courses; ++i) levels.push_back(ways[k].phi_at(whole * i / count));
      out.push_back(cuts_at(body, arms[k], levels));
    }
    return out;
  }
  const Result<std::vector<double>> reach = reaches(body, arms);
  if (!reach) return reach.faults();
  for (std::size_t k = 0; k < arms.size(); ++k) {
    const Chainage way(body, arms[k], arms[k].border_phi_m + (*reach)[k]);
    const int courses = courses_for(brief, body, arms[k], way) + extra[k];
    std::vector<double> levels;
    for (int i = 1; i <= courses; ++i) levels.push_back(way.phi_at(way.length() * i / courses));
    out.push_back(cuts_at(body, arms[k], levels));
  }
  return out;
}

}  // namespace skewback
