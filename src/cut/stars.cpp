#include "cut/stars.hpp"

#include <algorithm>
#include <cmath>

#include "brief/meetings.hpp"

namespace skewback {
namespace {

constexpr double kKeyMost = 0.8;  // of the spine, from where its arms end to where they end
constexpr int kTries = 12;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Half the length of the key: as one of an odd count of equal courses along the spine.
double half_key(const Brief& brief, const Body& body, const std::array<const ArmField*, 2>& halves,
                double mass_most_kg) {
  const double whole = halves[0]->border_phi_m + halves[1]->border_phi_m;
  double most = kKeyMost * whole;
  if (brief.blocks.length_m > 0) most = std::min(most, brief.blocks.length_m);
  for (const ArmField* half : halves)
    most = std::min(
        most, mass_most_kg / mass_per_metre(body, level_at(body, *half, 0.1 * half->border_phi_m)));
  int courses = std::max(3, static_cast<int>(std::ceil(whole / most - 1e-9)));
  courses += courses % 2 == 0 ? 1 : 0;
  return whole / courses / 2;
}

/// Supports of one meeting counter-clockwise from the first after the spine.
std::vector<int> supports_of(const Plan& plan, int meeting) {
  const std::vector<int> of = meetings_of_supports(plan);
  const int n = static_cast<int>(of.size());
  std::vector<int> out;
  for (int first = 0; first < n; ++first) {
    if (of[at(first)] != meeting || of[at((first + n - 1) % n)] == meeting) continue;
    for (int k = first; of[at(k % n)] == meeting; ++k) out.push_back(k % n);
    break;
  }
  return out;
}

double greatest_of(const Form& form, int arm) {
  double top = 0;
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (double phi : form.phi[t])
      if (form.arm[t] == arm) top = std::max(top, phi);
  return top;
}

/// The form with the triangles of one star only, its arms and supports numbered anew, phi of the
/// spine counted from the key's bed towards the meeting; what is behind that bed is its support.
Form form_of(const Form& whole, const std::vector<int>& supports, int half, double from) {
  const int spine = static_cast<int>(whole.arms.size()) - whole.spine_arms + half;
  Form out = whole;
  out.triangles.clear();
  out.arm.clear();
  out.phi.clear();
  out.arms.assign(supports.size() + 1, {});
  out.spine_arms = 0;
  const auto number = [&](int support) {
    const auto leg = std::find(supports.begin(), supports.end(), support);
    return leg == supports.end() ? -1 : static_cast<int>(leg - supports.begin());
  };
  for (int& support : out.support_of) support = number(support);
  const double top = greatest_of(whole, spine);
  for (std::size_t t = 0; t < whole.triangles.size(); ++t) {
    const auto leg = std::find(supports.begin(), supports.end(), whole.arm[t]);
    if (leg == supports.end() && whole.arm[t] != spine) continue;
    out.triangles.push_back(whole.triangles[t]);
    out.arm.push_back(static_cast<int>(leg - supports.begin()));
    out.phi.push_back(whole.phi[t]);
    if (leg != supports.end()) continue;
    for (std::size_t c = 0; c < 3; ++c) {
      double& phi = out.phi.back()[c];
      phi = top - phi - from;
      if (phi < 0) out.support_of[at(out.triangles.back()[c])] = static_cast<int>(supports.size());
    }
  }
  return out;
}

/// `outer`: its part of the body.
Star star_of(const Brief& brief, const Body& body, int half, const Plane& bed, double from,
             Solid outer) {
  Star out;
  out.supports = supports_of(brief.plan, half);
  out.brief = brief;
  out.brief.plan.meeting = half == 0 ? brief.plan.meeting : brief.plan.second_meeting;
  out.brief.plan.second_meeting.reset();
  out.brief.plan.supports.clear();
  out.body = body;
  out.body.springing.clear();
  for (int k : out.supports) {
    out.brief.plan.supports.push_back(brief.plan.supports[at(k)]);
    out.body.springing.push_back(body.springing[at(k)]);
  }
  Support end;
  end.id = half == 0 ? "spine-a" : "spine-b";
  end.a = end.b = bed.point.head<2>();
  end.level_m = bed.point.z();
  out.brief.plan.supports.push_back(end);
  out.body.springing.push_back(bed);
  out.body.form = form_of(body.form, out.supports, half, from);
  out.body.outer = std::move(outer);
  out.body.outer_volume_m3 = mass_properties(out.body.outer).volume;
  return out;
}

}  // namespace

Result<SpineCut> cut_at_spine(const Brief& brief, const Body& body, double mass_most_kg) {
  const std::vector<ArmField> arms = arm_fields(body.form);
  const std::array<const ArmField*, 2> halves{&arms[arms.size() - 2], &arms[arms.size() - 1]};
  const double half_pad = brief.joints.pad_thickness_m / 2;
  SpineCut out;
  double from = half_key(brief, body, halves, mass_most_kg);
  std::array<Solid, 2> ends;
  for (int i = 0; i < kTries; ++i) {
    for (std::size_t m : {0, 1}) out.beds[m] = level_plane(body, *halves[m], from);
    Result<std::pair<Solid, Solid>> first = split(body.outer, out.beds[0].moved(-half_pad));
    if (!first) return first.faults();
    Result<std::pair<Solid, Solid>> second = split(first->first, out.beds[1].moved(-half_pad));
    if (!second) return second.faults();
    ends = {std::move(first.value().second), std::move(second.value().second)};
    out.key = std::move(second.value().first);
    const double mass = mass_properties(out.key).volume * body.density;
    if (mass <= mass_most_kg) break;
    from *= 0.99 * mass_most_kg / mass;
  }
  for (int m : {0, 1}) {
    Star& star = out.stars[at(m)];
    star = star_of(brief, body, m, out.beds[at(m)], from, std::move(ends[at(m)]));
    star.top_phi_m = greatest_of(body.form, halves[at(m)]->support) - from;
  }
  return out;
}

}  // namespace skewback
