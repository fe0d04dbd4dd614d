#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/drawings.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 11, kFoot = 10, kViewTitle = 6;
constexpr double kLevels = 14;  // room for the levels on the left
constexpr Colour kFaint{140, 140, 140};

struct Placed {
  Elevation elevation;
  std::vector<Regions> shapes;  // as its blocks
  SheetMap map;
  double top_mm = 0;
};

// All views at one scale, one below the other; the sheet is cut to what they need.
std::vector<Placed> place(const Dossier& dossier, const Outlines& outlines, SheetSize& size) {
  std::vector<Placed> out;
  const auto& views = outlines.elevations;
  const double frame = 2 * kMargin + kTitle + kFoot;
  const double height = (size.height_mm - frame) / static_cast<double>(views.size());
  double scale = 1e300, tallest = 0, widest = 0;
  std::vector<Extent> extents;
  for (const Elevation& e : views) {
    Extent extent;
    for (const std::size_t b : e.blocks) {
      for (const Vec3& p : dossier.cut->assembly.blocks[b].solid.vertices) extent.add(e.view(p));
    }
    if (extent.empty()) extent.add(Vec2::Zero());
    extents.push_back(extent);
    const Vec2 box(size.width_mm - 2 * kMargin - kLevels, height - kViewTitle - 4);
    scale = std::min(scale, fit(extent, Vec2::Zero(), box).mm_per_m);
    tallest = std::max(tallest, extent.size().y());
    widest = std::max(widest, extent.size().x());
  }
  const double step = std::min(height, scale * tallest + kViewTitle + 5);
  const double titles = 165;  // what the words above the views need
  size.width_mm = std::min(size.width_mm, std::max(titles, scale * widest + 2 * kMargin + kLevels));
  size.height_mm = frame + step * static_cast<double>(views.size());
  for (std::size_t i = 0; i < views.size(); ++i) {
    Placed p{
        views[i], outlines.in_elevation[i], {}, kMargin + kTitle + step * static_cast<double>(i)};
    p.map.mm_per_m = scale;
    p.map.corner = {kMargin + kLevels - scale * extents[i].low.x(),
                    p.top_mm + kViewTitle + scale * extents[i].high.y()};
    out.push_back(p);
  }
  return out;
}

void add_title(Sheet& sheet, const std::string& title, const std::string& under) {
  sheet.title = title;
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, title, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 8}, under, 2.4);
}

void add_level(Sheet& sheet, const Placed& p, double level_m) {
  const Vec2 left = p.map(Vec2(0, level_m));
  const Vec2 right = p.map(Vec2(p.elevation.span_m, level_m));
  sheet.line({kMargin, left.y()}, {right.x(), right.y()}, {std::nullopt, kFaint, 0.12, 1.5});
  sheet.words({kMargin, left.y() - 0.8}, (level_m >= 0 ? "+" : "") + fixed(level_m, 3), 2);
}

// Where a joint is seen: from its lowest to its highest point. Head joints are seen face on: none.
std::optional<std::pair<Vec2, Vec2>> edge_on(const Joint& joint, const View& view) {
  constexpr double kFaceOn = 0.5;  // of the normal lies in the sheet
  const Vec2 normal = view(joint.frame.origin + joint.frame.z) - view(joint.frame.origin);
  if (normal.norm() < kFaceOn) return std::nullopt;
  std::optional<std::pair<Vec3, Vec3>> ends;
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer) {
      const Vec3 at = joint.frame.to_world(p);
      if (!ends) ends = std::pair(at, at);
      if (at.z() < ends->first.z()) ends->first = at;
      if (at.z() > ends->second.z()) ends->second = at;
    }
  }
  if (!ends) return std::nullopt;
  return std::pair(view(ends->first), view(ends->second));
}

// With three arms or more the key is seen aslant: its own joints and names would only cover each
// other.
bool is_aslant(const Dossier& dossier, const Block& block) {
  return !block.fixed && block.place.arm < 0 && dossier.brief.plan.supports.size() > 2;
}

bool shown(const Elevation& e, const Dossier& dossier, const Joint& joint) {
  const auto in = [&](int b) {
    return b >= 0 && std::ranges::find(e.blocks, static_cast<std::size_t>(b)) != e.blocks.end();
  };
  if (!in(joint.a) || !in(joint.b)) return false;
  const auto& blocks = dossier.cut->assembly.blocks;
  return !is_aslant(dossier, blocks[static_cast<std::size_t>(joint.a)]) ||
         !is_aslant(dossier, blocks[static_cast<std::size_t>(joint.b)]);
}

Colour pale(Colour c, double strength) {
  const auto mix = [&](std::uint8_t v) {
    return static_cast<std::uint8_t>(std::lround(255 - strength * (255 - v)));
  };
  return {mix(c.r), mix(c.g), mix(c.b)};
}

void add_blocks(Sheet& sheet, const Placed& p, const Dossier& dossier, double strength) {
  for (std::size_t i = 0; i < p.shapes.size(); ++i) {
    const Block& block = dossier.cut->assembly.blocks[p.elevation.blocks[i]];
    sheet.regions(p.map(p.shapes[i]), {pale(block_colour(block), strength), kBlack, 0.15});
  }
}

// Blocks side by side cover each other: a course has one number, in their middle.
void add_names(Sheet& sheet, const Placed& p, const Dossier& dossier) {
  struct Course {
    Vec2 sum = Vec2::Zero();
    int blocks = 0;
  };
  std::map<std::pair<int, std::string>, Course> courses;
  for (const std::size_t b : p.elevation.blocks) {
    const Block& block = dossier.cut->assembly.blocks[b];
    if (block.fixed || is_aslant(dossier, block)) continue;
    const std::string name = block.place.arm < 0 ? block.id : std::to_string(block.place.course);
    Course& course = courses[{block.place.arm, name}];
    course.sum += p.map(p.elevation.view(block.mass.centroid));
    ++course.blocks;
  }
  for (const auto& [of, course] : courses)
    sheet.items.emplace_back(Words{course.sum / course.blocks + Vec2(0, 0.8), of.second,
                                   std::clamp(0.1 * p.map.mm_per_m, 1.4, 2.4), Anchor::kMiddle,
                                   false, kBlack, true});
}

void add_view(Sheet& sheet, const Placed& p, const Dossier& dossier, double strength) {
  sheet.items.emplace_back(
      Words{{kMargin, p.top_mm + 3}, p.elevation.title, 2.8, Anchor::kStart, true, kBlack, false});
  if (p.elevation.to_top && dossier.body)
    sheet.words({kMargin + 2 + 1.75 * static_cast<double>(p.elevation.title.size()), p.top_mm + 3},
                fixed(p.elevation.span_m, 3) + " m in plan on the middle surface; it is " +
                    fixed(1e3 * dossier.body->section.depth_crown_m, 0) +
                    " mm deep at the crown, " +
                    fixed(1e3 * dossier.body->section.depth_springing_m, 0) + " at the springings",
                2);
  add_blocks(sheet, p, dossier, strength);
  for (const Joint& joint : dossier.cut->assembly.joints) {
    if (!shown(p.elevation, dossier, joint)) continue;
    const auto ends = edge_on(joint, p.elevation.view);
    if (ends) sheet.line(p.map(ends->first), p.map(ends->second), {std::nullopt, kPad, 0.3});
  }
  const auto& supports = dossier.brief.plan.supports;
  add_level(sheet, p, p.elevation.level_m);
  if (supports.size() == 2 && supports[1].level_m != supports[0].level_m)
    add_level(sheet, p, supports[1].level_m);
  if (!dossier.form || !p.elevation.to_top) return;
  double mean = 0;  // the rise is measured from there
  for (const Support& s : supports) mean += s.level_m / static_cast<double>(supports.size());
  add_level(sheet, p, mean + dossier.form->rise_m);
}

double largest_force(const Dossier& dossier) {
  double largest = 0;
  for (const JointResultant& r : dossier.dead_resultants)
    largest = std::max(largest, r.force.norm());
  return largest;
}

void add_thrust(Sheet& sheet, const Placed& p, const Dossier& dossier, double largest) {
  const auto& joints = dossier.cut->assembly.joints;
  constexpr double kLongest = 0.30;  // m, half the stroke of the largest force
  for (std::size_t j = 0; j < joints.size() && j < dossier.dead_resultants.size(); ++j) {
    if (!shown(p.elevation, dossier, joints[j])) continue;
    const JointResultant& r = dossier.dead_resultants[j];
    const auto at = pressure_point(joints[j], r);
    if (!at) continue;
    const Vec3 half = kLongest / largest * r.force;
    const View& view = p.elevation.view;
    sheet.line(p.map(view(*at - half)), p.map(view(*at + half)), {std::nullopt, kThrust, 0.35});
    sheet.dot(p.map(view(*at)), 0.55, {kThrust, std::nullopt});
  }
}

}  // namespace

Sheet elevation_sheet(const Dossier& dossier, const Outlines& outlines, const SheetSize& most) {
  SheetSize size = most;
  std::vector<Placed> placed;
  if (dossier.cut) placed = place(dossier, outlines, size);
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  add_title(sheet, dossier.brief.title + ": elevations",
            "Square to each arm. Numbers: course from the springing. Dashed: springing, and the "
            "middle surface at the crown (m), above level 0.");
  for (const Placed& p : placed) {
    add_view(sheet, p, dossier, 0.6);
    add_names(sheet, p, dossier);
  }
  if (!placed.empty()) {
    add_scale_bar(sheet, placed[0].map, {kMargin, size.height_mm - kMargin - 2});
  }
  return sheet;
}

Sheet thrust_sheet(const Dossier& dossier, const Outlines& outlines, const SheetSize& most) {
  SheetSize size = most;
  std::vector<Placed> placed;
  if (dossier.cut) placed = place(dossier, outlines, size);
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  const double largest = largest_force(dossier);
  add_title(sheet, dossier.brief.title + ": thrust under dead load",
            "Dots: where the resultant passes each joint; strokes: its line, longest " +
                fixed(largest / 1000, 1) + " kN. The state of the pads.");
  for (const Placed& p : placed) {
    add_view(sheet, p, dossier, 0.2);
    if (largest > 0) add_thrust(sheet, p, dossier, largest);
  }
  if (!placed.empty()) {
    add_scale_bar(sheet, placed[0].map, {kMargin, size.height_mm - kMargin - 2});
  }
  return sheet;
}

}  // namespace skewback::deliver
