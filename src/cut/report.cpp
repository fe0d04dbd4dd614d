#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/constants.hpp"
#include "cut/pieces.hpp"

namespace skewback {
namespace {

constexpr double kEdgeShare = 0.02;  // of the greatest way from bed to bed: thinner is an edge

/// A course of a spine is the first from the spine's key, whose bed it stands on.
bool stands_on(const Cutting& course, const Cutting& key) {
  constexpr double kSame = 1e-6;  // m
  if (course.course->number != 1 || key.course->arm >= 0 || !key.course->beds) return false;
  const Vec3 at = frame_on(course.course->low).origin;
  return std::min(std::abs(key.course->low.distance(at)), std::abs(key.course->high.distance(at))) <
         kSame;
}

/// Least distance of head joints across the bed joints between courses, over the width that the
/// blocks have there.
double least_stagger(const Pieces& pieces, double pad) {
  double least = std::numeric_limits<double>::max();
  const auto look = [&](const Cutting& below, const Cutting& above, const Plane& plane) {
    if (below.parts.walls.empty() || above.parts.walls.empty()) return;
    const double width =
        width_of(above.course->solid, above.course->low, pad) /
        static_cast<double>(std::max(below.parts.solids.size(), above.parts.solids.size()));
    for (double a : ends_in(below, plane))
      for (double b : ends_in(above, plane)) least = std::min(least, std::abs(a - b) / width);
  };
  const Cutting& key = pieces.cuttings.back();
  const Cutting& of_spine = pieces.cuttings.front();  // its key, if there is a spine
  for (std::size_t i = 0; i + 1 < pieces.cuttings.size(); ++i) {
    const Cutting &below = pieces.cuttings[i], &above = pieces.cuttings[i + 1];
    if (below.course->arm == above.course->arm) {
      look(below, above, above.course->low);
    } else if (key.course->arm < 0 && key.course->beds) {  // the last of its arm
      look(below, key, below.course->high);
    }
    if (stands_on(above, of_spine)) look(of_spine, above, above.course->low);
  }
  return least < 1e9 ? least : 0;
}

}  // namespace

void report_lengths(const Block& block, double length_min_m, CutReport& report) {
  const double least = block.place.phi_length_min_m, most = block.place.phi_length_max_m;
  if (!(most > 0)) return;
  char text[200];
  if (least < kEdgeShare * most) {
    report.height_ratio_max = std::numeric_limits<double>::infinity();
    std::snprintf(
        text, sizeof text,
        "%s runs out to an edge: from bed to bed it is %.1f to %.0f mm, its beds meet there",
        block.id.c_str(), 1e3 * least, 1e3 * most);
    report.remarks.emplace_back(text);
    return;
  }
  report.height_ratio_max = std::max(report.height_ratio_max, most / least);
  if (least < length_min_m) {
    std::snprintf(text, sizeof text, "%s is %.0f mm long at the least, under the limit of %.0f mm",
                  block.id.c_str(), 1e3 * least, 1e3 * length_min_m);
    report.remarks.emplace_back(text);
  }
}

std::vector<double> ends_in(const Cutting& cutting, const Plane& plane) {
  const Frame frame = frame_on(plane);
  std::vector<double> out;
  for (const Plane& wall : cutting.parts.walls)
    out.push_back(-wall.distance(frame.origin) / wall.normal.dot(frame.x));
  return out;
}

Breadth breadth_of(const Regions& bed) {
  Breadth out{1e18, -1e18};
  for (const Region& r : bed)
    for (const Vec2& p : r.outer)
      out.low = std::min(out.low, p.x()), out.high = std::max(out.high, p.x());
  return out;
}

double width_of(const Solid& part, const Plane& mid, double pad) {
  const Breadth bed = breadth_of(bed_of(part, mid, pad, -1));
  return std::max(0.0, bed.high - bed.low);
}

/// Blocks between beds of very unlike width, whose tubes fan out.
void report_thin_walls(const Section& section, const Pieces& pieces, CutReport& report) {
  constexpr double kThin = 0.7;  // as leaves between the beds
  const Hollowed* thinnest = nullptr;
  int thin = 0;
  for (const Cutting& cutting : pieces.cuttings)
    for (const Hollowed& block : cutting.blocks) {
      if (block.wall_share >= kThin) continue;
      ++thin;
      if (thinnest == nullptr || block.wall_share < thinnest->wall_share) thinnest = &block;
    }
  if (thinnest == nullptr) return;
  char text[240];
  std::snprintf(text, sizeof text,
                "walls of %s are thinner than in the beds: its tubes lean by up to %.0f degrees, "
                "since one bed is so much narrower than the other; square to itself a wall of "
                "%.0f mm is %.0f mm there",
                thinnest->id.c_str(), std::acos(thinnest->wall_share) * 180 / kPi,
                1e3 * section.web_m, 1e3 * section.web_m * thinnest->wall_share);
  report.remarks.emplace_back(text);
  if (thin > 1)
    report.remarks.back() += ", and " + std::to_string(thin - 1) +
                             " more blocks have walls under seven tenths of theirs";
}

void add_report(const Brief& brief, const Body& body, const Pieces& pieces, double blocks_m3,
                Cut& cut) {
  CutReport& report = cut.report;
  double outer = pieces.taken.slab_volume_m3, gross = 0, tubes = 0, tips = 0;
  int want_of_room = 0, beside_opening = 0;
  report.leaf_least_m = body.section.hollow ? 1e9 : 0;
  for (const Cutting& cutting : pieces.cuttings) {
    outer += cutting.parts.slab_volume_m3;
    tips += cutting.blunted_m3;
    report.blunted_arrises += cutting.blunted_arrises;
    for (const Solid& part : cutting.parts.solids) gross += mass_properties(part).volume;
    for (const Hollowed& block : cutting.blocks) {
      tubes += block.tube_volume_m3;
      if (block.leaf_least_m > 0)
        report.leaf_least_m = std::min(report.leaf_least_m, block.leaf_least_m);
    }
    want_of_room += cutting.solid_for_want_of_room ? 1 : 0;
    beside_opening += cutting.solid_beside_opening ? 1 : 0;
  }
  outer += gross + tips;
  report.designed_volume_m3 = body.outer_volume_m3 - tubes - tips;
  report.blocks_volume_m3 = blocks_m3;
  for (const Solid& pad : cut.pads) report.pads_volume_m3 += mass_properties(pad).volume;
  report.volume_error_rel =
      std::max(std::abs(outer - body.outer_volume_m3), std::abs(blocks_m3 - (gross - tubes))) /
      report.designed_volume_m3;
  report.watertight = true;
  int too_heavy = 0;
  const Block* heaviest = nullptr;
  for (const Block& block : cut.assembly.blocks) {
    report.watertight = report.watertight && closed(block.solid);
    if (block.fixed) continue;
    if (concrete_mass_kg(block) > brief.blocks.mass_max_kg) {
      ++too_heavy;
      if (heaviest == nullptr || concrete_mass_kg(block) > concrete_mass_kg(*heaviest))
        heaviest = &block;
    }
    report_lengths(block, brief.blocks.length_min_m, report);
  }
  if (heaviest != nullptr) {
    char text[200];
    std::snprintf(text, sizeof text, "%s weighs %.0f kg, over the limit of %.0f kg",
                  heaviest->id.c_str(), concrete_mass_kg(*heaviest), brief.blocks.mass_max_kg);
    report.remarks.emplace_back(text);
    if (too_heavy > 1)
      report.remarks.back() += "; " + std::to_string(too_heavy - 1) + " more are over it";
  }
  std::vector<double> masses;
  for (const Block& block : cut.assembly.blocks) {
    if (block.fixed) continue;
    masses.push_back(concrete_mass_kg(block));
  }
  std::sort(masses.begin(), masses.end());
  report.mass_spread = masses.back() / masses[masses.size() / 2];
  report.stagger_min = least_stagger(pieces, brief.joints.pad_thickness_m);
  if (body.section.hollow) report_thin_walls(body.section, pieces, report);
  if (report.blunted_arrises > 0) {
    char text[160];
    std::snprintf(text, sizeof text,
                  "%d %s under 30 degrees cut back to a face of %.0f mm (blocks.arris_face)",
                  report.blunted_arrises, report.blunted_arrises == 1 ? "arris" : "arrises",
                  1e3 * brief.blocks.arris_face_m);
    report.remarks.emplace_back(text);
  }
  report_sharp(cut.assembly, report);
  if (want_of_room > 0)
    report.remarks.push_back(std::to_string(want_of_room) +
                             " course(s) near the meeting are solid: no room for tubes");
  if (beside_opening > 0)
    report.remarks.push_back(std::to_string(beside_opening) +
                             " course(s) beside an opening in a leg have solid blocks: no room for "
                             "tubes past its edge");
}

}  // namespace skewback
