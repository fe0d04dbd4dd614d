// Posts, what they carry on their heads and what they stand on.

#include <algorithm>
#include <cmath>

#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"

namespace skewback {
namespace {

constexpr double kGussetNear = 0.2;  // m, from the middle of a gusset to a post's head

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Longest stretch of the post that no brace holds, in one of two directions.
double free_length(const Centring& centring, const Stick& post, const Vec3& way) {
  const Vec3 axis = post.to - post.from;
  const double length = axis.norm();
  std::vector<double> held = {0, length};
  for (const Stick& brace : centring.sticks) {
    if (brace.kind != "brace") continue;
    Vec3 flat = brace.to - brace.from;
    flat.z() = 0;
    if (flat.norm() <= 0 || std::abs(flat.normalized().dot(way)) < kBraceAligned) continue;
    for (const Vec3& end : {brace.from, brace.to}) {
      const double along = (end - post.from).dot(axis) / length;
      const double off = (end - post.from - along / length * axis).norm();
      if (off < kBraceTouches && along > 0 && along < length) held.push_back(along);
    }
  }
  std::ranges::sort(held);
  double longest = 0;
  for (std::size_t i = 0; i + 1 < held.size(); ++i)
    longest = std::max(longest, held[i + 1] - held[i]);
  return longest;
}

double free_length(const Centring& centring, const CentringFoot& foot) {
  const Stick& post = centring.sticks[at(foot.post)];
  const auto rib = std::ranges::find(centring.ribs, foot.rib, &Rib::id);
  if (rib == centring.ribs.end()) return (post.to - post.from).norm();
  return std::max(free_length(centring, post, rib->place.x),
                  free_length(centring, post, rib->place.z));
}

/// Thickness that bears on the head: the sheet, and the gussets at it.
double head_thickness(const Brief& brief, const Centring& centring, const CentringFoot& foot) {
  double out = brief.centring.sheet_thickness_m;
  for (const SheetPart& part : centring.parts) {
    if (part.kind != "gusset" || part.rib != foot.rib) continue;
    const Vec3 middle = part.place.to_world(centroid(part.outline));
    if ((middle - foot.head).norm() < kGussetNear) out += brief.centring.sheet_thickness_m;
  }
  return out;
}

}  // namespace

double strut_n(const Brief& brief, const Stick& stick, double length_m) {
  const double along = brief.centring.post_strength_pa;
  const double radius = std::min(stick.width_m, stick.depth_m) / std::sqrt(12.0);
  const double relative =
      relative_slenderness(length_m / radius, along, kLowStiffness * brief.centring.stiffness_pa);
  return buckling_factor(relative) * design_pa(brief, along) * stick.width_m * stick.depth_m;
}

double check_hold(const FootHold& hold, const CentringFoot& foot, double sideways_n,
                  const std::string& stage, Judged& out) {
  if (hold.flat <= 0) return 0;
  const double each = std::abs(sideways_n) / hold.flat;
  out.worst.offer(
      check_of("brace along a rib", each, hold.strut_n, "N", foot.id, stage,
               "what the rib pushes along at this foot, as a strut, over its longer "
               "part where it is packed to the one it crosses (EN 1995-1-1, 6.3.2, from memory)"));
  return each * hold.rise;
}

void check_foot(const Brief& brief, const Centring& centring, int foot, double force_n,
                const std::string& stage, Judged& out) {
  const CentringFoot& on = centring.feet[at(foot)];
  const auto offer = [&](const CentringCheck& check) {
    out.worst.offer(check);
    out.of_foot[at(foot)].offer(check);
  };
  const double side = on.post >= 0 ? centring.sticks[at(on.post)].width_m : brief.centring.post_m;
  const double across = design_pa(brief, brief.centring.bearing_strength_pa);
  const double head =
      std::min(design_pa(brief, brief.centring.edge_strength_pa),
               on.post >= 0 ? design_pa(brief, brief.centring.post_strength_pa) : across);
  offer(check_of("rib on a post's head", force_n, head * head_thickness(brief, centring, on) * side,
                 "N", on.id, stage,
                 "k_mod f / gamma_M of the weaker of sheet, in its plane, and what is under it "
                 "(EN 1995-1-1, 6.1.4, 6.1.5 with k_c,90 1), sheet and gussets over the post's "
                 "width"));
  if (on.post < 0) return;  // the rib lies on the wedges themselves
  const Stick& post = centring.sticks[at(on.post)];
  const double length = free_length(centring, on);
  offer(check_of("post", force_n, strut_n(brief, post, length), "N",
                 on.id + ", free over " + metres_of(length), stage,
                 "k_c f_c,0,d A, hinged ends, beta_c 0.2 (EN 1995-1-1, 6.3.2, from memory)"));
  if (brief.centring.feet == "wedges")
    offer(check_of("wedge under a post", force_n, across * post.width_m * post.depth_m, "N", on.id,
                   stage,
                   "k_mod f_c,90 / gamma_M on the post's end (EN 1995-1-1, 6.1.5, k_c,90 1)"));
}

void check_bent_post(const Brief& brief, const Centring& centring, int foot, double force_n,
                     double moment_nm, const std::string& stage, Judged& out) {
  const CentringFoot& on = centring.feet[at(foot)];
  if (on.post < 0 || !(moment_nm > 0)) return;
  const Stick& post = centring.sticks[at(on.post)];
  const double section_m3 = post.width_m * post.depth_m * std::min(post.width_m, post.depth_m) / 6;
  const double bent = moment_nm / (section_m3 * design_pa(brief, brief.centring.post_strength_pa));
  const CentringCheck check = check_of(
      "post bent by its braces", force_n / strut_n(brief, post, free_length(centring, on)) + bent,
      1, "", on.id, stage,
      "braces end short of the post's ends, each with the greatest force: shares of "
      "buckling and bending together, (6.23) of EN 1995-1-1, from memory, bending "
      "strength no more than that along the grain (ours)");
  out.worst.offer(check);
  out.of_foot[at(foot)].offer(check);
}

}  // namespace skewback
