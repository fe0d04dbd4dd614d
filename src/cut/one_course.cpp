#include "cut/one_course.hpp"

#include <algorithm>
#include <cmath>

#include "cut/arrises.hpp"
#include "cut/connected.hpp"
#include "cut/count.hpp"
#include "cut/key_parts.hpp"

namespace skewback {
namespace {

constexpr double kStagger = 0.25;   // of a part, least distance of head joints over a bed
constexpr double kLeafShare = 0.7;  // of a leaf beside which a side curves in between the beds

std::size_t at(int i) { return static_cast<std::size_t>(i); }

TubeLimits tube_limits(const Brief& brief, int arm) {
  TubeLimits limits;
  if (arm < 0 || brief.parapet.works_on(arm))
    limits.upstand_width_m = brief.parapet.upstand_width_m;
  limits.leaf_least_share = kLeafShare;
  return limits;
}

/// Places of head joints over a course's width.
std::vector<double> shares(int across, double shift) {
  std::vector<double> out;
  for (int i = 1; i < across; ++i) out.push_back((i + shift) / across);
  return out;
}

/// The shift whose head joints keep furthest from those of the courses beside it; of equals the
/// first. Other shifts make parts less alike: only where the usual ones are too near.
double best_shift(const std::vector<double>& beside, int across) {
  double best = kShift, furthest = -1;
  const auto attempt = [&](double shift) {
    double least = 1;
    for (double a : beside)
      for (double b : shares(across, shift)) least = std::min(least, std::abs(a - b));
    if (least > furthest + 1e-9) furthest = least, best = shift;
  };
  for (const double shift : {kShift, -kShift, 0.0}) attempt(shift);
  const int finer = std::max(across, static_cast<int>(beside.size()) + 1);
  if (furthest * finer < kStagger)
    for (const double shift : {0.07, -0.07, 0.2, -0.2, 0.25, -0.25}) attempt(shift);
  return best;
}

/// One course divided in `across` parts, hollow where the section says so and there is room.
/// `beside`: where the head joints of its neighbours are. `past_opening`: it has an opening beside
/// it or over it.
Result<Cutting> cut_piece(const Brief& brief, const Body& body, const Course& course,
                          const std::vector<ArmCuts>& arms, int across,
                          const std::vector<double>& beside, bool past_opening, bool plainly) {
  const double pad = brief.joints.pad_thickness_m;
  const bool trunk = !course.crown && course.arm >= 0;
  Cutting out;
  out.course = &course;
  const double shift = best_shift(beside, across);
  out.shares = shares(across, shift);
  Result<Parts> parts = is_lone_key(course) && across > 1
                            ? divide_key(course, arms, pad, across)
                            : divide_across(course, pad, across, shift, plainly);
  if (!parts) return parts.faults();
  out.parts = std::move(parts).value();
  for (Solid& part : out.parts.solids) {
    Blunted blunt = blunted(std::move(part), brief.blocks.arris_face_m, plainly);
    part = std::move(blunt.solid);
    out.blunted_m3 += blunt.removed_m3;
    out.blunted_arrises += blunt.arrises;
  }
  for (const Solid& part : out.parts.solids) {
    Hollowed block;
    block.solid = part;
    if (body.section.hollow && course.beds) {
      const double width = trunk && across == 1 && !past_opening ? arms[at(course.arm)].width_max_m
                                                                 : width_of(part, course.low, pad);
      // where a free edge curves in between two beds, leaves have to be thicker to stay leaves
      Section section = body.section;
      const auto attempt = [&] {
        return hollowed(section, course, part, pad, tube_count(body.section, width),
                        tube_limits(brief, course.arm));
      };
      Result<Hollowed> hollow = attempt();
      for (const double more : {0.02, 0.04, 0.07, 0.1}) {
        if (hollow) break;
        section.leaf_m = body.section.leaf_m + more;
        Result<Hollowed> thicker = attempt();
        if (thicker) hollow = std::move(thicker);
      }
      if (hollow) {
        block = std::move(hollow).value();
      } else if (past_opening) {
        out.solid_beside_opening = true;
      } else if (trunk) {
        Fault fault = hollow.faults().front();
        fault.key += ": arm " + brief.plan.supports[at(course.arm)].id + ", course " +
                     std::to_string(course.number);
        return fault;
      } else {
        out.solid_for_want_of_room = true;
      }
    }
    out.blocks.push_back(std::move(block));
  }
  return out;
}

/// Where a bed is interrupted, as shares of its breadth.
void add_gaps(const Regions& bed, std::vector<double>& out) {
  if (bed.size() < 2) return;
  const Breadth whole = breadth_of(bed);
  for (const Region& r : bed) {
    const Breadth here = breadth_of({r});
    for (const double x : {here.low, here.high})
      if (x > whole.low && x < whole.high) out.push_back(whole.share(x));
  }
}

}  // namespace

Result<Cutting> cut_course(const Brief& brief, const Body& body, const Course& course,
                           const std::vector<ArmCuts>& arms, int across,
                           const std::vector<double>& beside, bool plainly) {
  const double pad = brief.joints.pad_thickness_m;
  const bool trunk = !course.crown && course.arm >= 0;
  if (!trunk || brief.plan.openings.empty())
    return cut_piece(brief, body, course, arms, across, beside, false, plainly);
  std::vector<Solid> sides = connected(course.solid);
  const Regions low = bed_of(course.solid, course.low, pad, -1);
  if (sides.size() == 1) {
    const Regions high = bed_of(course.solid, course.high, pad, 1);
    std::vector<double> keep_from = beside;
    add_gaps(low, keep_from);
    add_gaps(high, keep_from);
    return cut_piece(brief, body, course, arms, across, keep_from,
                     low.size() > 1 || high.size() > 1, plainly);
  }
  const Vec3 right = frame_on(course.low).x;
  std::ranges::sort(sides, {},
                    [&](const Solid& side) { return right.dot(mass_properties(side).centroid); });
  const Breadth whole = breadth_of(low);
  Cutting out;
  out.course = &course;
  for (Solid& side : sides) {
    Course part = course;
    part.solid = std::move(side);
    const Breadth here = breadth_of(bed_of(part.solid, course.low, pad, -1));
    std::vector<double> keep_from;
    for (const double share : beside) {
      const double x = here.share(whole.low + share * (whole.high - whole.low));
      if (x > 0 && x < 1) keep_from.push_back(x);
    }
    const double width = here.high - here.low;
    int n = parts_across(brief.blocks, width);
    Result<Cutting> cut = cut_piece(brief, body, part, arms, n, keep_from, true, plainly);
    // courses are as heavy as so many blocks side by side as the leg is wide, without its opening
    while (cut && n < across && heaviest(*cut, body.density) > brief.blocks.mass_max_kg)
      cut = cut_piece(brief, body, part, arms, ++n, keep_from, true, plainly);
    if (!cut) return cut;
    const std::size_t before = out.parts.solids.size();
    for (const double share : cut->shares)
      out.shares.push_back(whole.share(here.low + share * width));
    for (const std::size_t left : cut->parts.left_of) out.parts.left_of.push_back(before + left);
    for (Plane& wall : cut.value().parts.walls) out.parts.walls.push_back(wall);
    for (Solid& solid : cut.value().parts.solids) out.parts.solids.push_back(std::move(solid));
    for (Hollowed& block : cut.value().blocks) out.blocks.push_back(std::move(block));
    out.parts.slab_volume_m3 += cut->parts.slab_volume_m3;
    out.blunted_m3 += cut->blunted_m3;
    out.blunted_arrises += cut->blunted_arrises;
    out.solid_beside_opening |= cut->solid_beside_opening;
  }
  return out;
}

std::vector<double> seen_from(const Cutting& below, const Course& above, double pad) {
  const Breadth bed = breadth_of(bed_of(above.solid, above.low, pad, -1));
  std::vector<double> out;
  for (double x : ends_in(below, above.low)) out.push_back(bed.share(x));
  return out;
}

double heaviest(const Cutting& cutting, double density) {
  double most = 0;
  for (const Hollowed& block : cutting.blocks)
    most = std::max(most, mass_properties(block.solid).volume * density);
  return most;
}

}  // namespace skewback
