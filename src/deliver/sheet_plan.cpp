#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/drawings.hpp"
#include "deliver/levels.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 15, kFoot = 14;
constexpr double kLevelStep = 0.5;  // m between lines of equal phi
constexpr Colour kLevel{150, 150, 150}, kWalk{0, 90, 160}, kTie{150, 60, 0};

Extent plan_extent(const Dossier& dossier, bool with_ground) {
  Extent extent;
  for (const Vec2& p : dossier.brief.plan.outline) extent.add(p);
  if (dossier.form) {
    for (const Vec3& p : dossier.form->vertices) extent.add(p.head<2>());
  }
  if (with_ground && dossier.cut) {
    for (const Block& block : dossier.cut->assembly.blocks) {
      for (const Vec3& p : block.solid.vertices) extent.add(p.head<2>());
    }
  }
  if (extent.empty()) extent.add(Vec2::Zero());
  return extent;
}

SheetMap map_for(const Extent& extent, const SheetSize& size) {
  return fit(extent, {kMargin, kMargin + kTitle},
             {size.width_mm - 2 * kMargin, size.height_mm - 2 * kMargin - kTitle - kFoot});
}

// Takes from the sheet's height what the drawing leaves empty.
SheetMap map_and_trim(const Extent& extent, SheetSize& size) {
  const double drawn = extent.size().y() * map_for(extent, size).mm_per_m;
  size.height_mm = std::min(size.height_mm, drawn + 2 * kMargin + kTitle + kFoot + 4);
  return map_for(extent, size);
}

void add_title(Sheet& sheet, const std::string& title, const std::string& under) {
  sheet.title = title;
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, title, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 8}, under, 2.4);
}

void add_levels(Sheet& sheet, const SheetMap& map, const Form& form, bool named) {
  for (const LevelLine& line : level_lines(form, kLevelStep)) {
    for (const auto& [a, b] : line.pieces) {
      sheet.line(map(a), map(b), {std::nullopt, kLevel, 0.12});
    }
    if (!named) continue;
    const Vec2 at = map(line.pieces[line.pieces.size() / 2].first);
    sheet.items.emplace_back(
        Words{at, fixed(line.level_m, 1), 1.6, Anchor::kMiddle, false, {90, 90, 90}, true});
  }
}

// Turn of words that run along a direction on the sheet and are read from below or from the right.
double turn_along(const Vec2& along) {
  double turn = std::atan2(along.y(), along.x()) * 180 / kPi;
  if (turn > 89.9) turn -= 180;
  if (turn < -90.1) turn += 180;
  return turn;
}

void add_supports(Sheet& sheet, const SheetMap& map, const Dossier& dossier) {
  const Vec2 middle = map(meeting_point(dossier));
  for (const Support& support : dossier.brief.plan.supports) {
    const Vec2 a = map(support.a), b = map(support.b);
    sheet.line(a, b, {std::nullopt, kBlack, 0.6});
    const Vec2 centre = (a + b) / 2, out = (centre - middle).normalized();
    const double away = std::max(4.0, 0.42 * map.mm_per_m);
    Words name{centre + away * out + Vec2(0, 1), support.id, 3, Anchor::kMiddle, true};
    name.halo = true;
    name.turn_deg = turn_along(b - a);
    sheet.items.emplace_back(std::move(name));
  }
}

void add_ties(Sheet& sheet, const SheetMap& map, const Dossier& dossier) {
  const auto& supports = dossier.brief.plan.supports;
  const bool found = dossier.ground && !dossier.ground->laid.empty();
  for (const Tie& tie : found ? dossier.ground->laid : dossier.brief.ground.ties) {
    const Support& from = supports[static_cast<std::size_t>(tie.from)];
    const Support& to = supports[static_cast<std::size_t>(tie.to)];
    const Vec2 p = (from.a + from.b) / 2, q = (to.a + to.b) / 2;
    const Vec2 across = tie.spacing_m / 2 * Vec2(p.y() - q.y(), q.x() - p.x()).normalized();
    for (int rod = 0; rod < tie.rods; ++rod) {
      const double share = tie.rods > 1 ? 2.0 * rod / (tie.rods - 1) - 1 : 0;
      const Vec2 from_mm = map(p + share * across), to_mm = map(q + share * across);
      sheet.line(from_mm, to_mm, {std::nullopt, kTie, 0.25, 2.0});
      if (rod > 0) continue;
      Words name{(from_mm + to_mm) / 2, "tie " + tie.id, 2, Anchor::kMiddle, false, kTie, true};
      name.turn_deg = turn_along(to_mm - from_mm);
      const double turn = name.turn_deg * kPi / 180;
      name.at += Vec2(std::sin(turn), -std::cos(turn));  // clear of the line
      sheet.items.emplace_back(std::move(name));
    }
  }
}

void add_blocks(Sheet& sheet, const SheetMap& map, const Assembly& assembly,
                const std::vector<Regions>& shapes) {
  const auto draw = [&](bool fixed_ones) {
    for (std::size_t i = 0; i < shapes.size(); ++i) {
      const Block& block = assembly.blocks[i];
      if (block.fixed != fixed_ones) continue;
      sheet.regions(map(shapes[i]), {block_colour(block), kBlack, 0.2, 0, fixed_ones ? 0.5 : 0.55});
    }
  };
  draw(true);
  draw(false);
}

void add_joints(Sheet& sheet, const SheetMap& map, const Assembly& assembly) {
  for (const Joint& joint : assembly.joints) {
    for (const Region& region : joint.contact) {
      std::vector<Vec2> ring;
      for (const Vec2& p : region.outer) ring.push_back(map(joint.frame.to_world(p).head<2>()));
      sheet.path(ring, true, {kPad, std::nullopt, 0.1, 0, 0.13});
    }
  }
}

// Names run across the arm, where a block is long.
double name_turn(const Brief& brief, const Block& block) {
  const int arm = block.place.arm;
  if (arm < 0 || static_cast<std::size_t>(arm) >= brief.plan.supports.size()) return 0;
  const Support& support = brief.plan.supports[static_cast<std::size_t>(arm)];
  const Vec2 across = support.b - support.a;
  return turn_along({across.x(), -across.y()});
}

/// Course and place of "yard-11-2".
std::string last_two(const std::string& id) {
  const std::size_t place = id.rfind('-');
  const std::size_t course =
      place == 0 || place == std::string::npos ? place : id.rfind('-', place - 1);
  return course == std::string::npos ? id : id.substr(course + 1);
}

void add_block_names(Sheet& sheet, const SheetMap& map, const Brief& brief,
                     const Assembly& assembly) {
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const double course_mm =
        map.mm_per_m * (block.place.phi_length_max_m > 0 ? block.place.phi_length_max_m : 0.4);
    // courses of several blocks: the arm's colour says the rest of the name
    const bool several =
        std::any_of(assembly.blocks.begin(), assembly.blocks.end(), [&](const Block& other) {
          return !other.fixed && other.place.arm == block.place.arm &&
                 other.place.course == block.place.course && &other != &block;
        });
    std::string text = block.id;
    if (several && block.place.arm >= 0) text = last_two(block.id);
    Words name{map(Vec2(block.mass.centroid.head<2>())), text,
               std::clamp(0.42 * course_mm, several ? 0.8 : 1.2, 2.6), Anchor::kMiddle};
    name.turn_deg = name_turn(brief, block);
    const double turn = name.turn_deg * kPi / 180;
    name.at += 0.35 * name.size_mm * Vec2(-std::sin(turn), std::cos(turn));
    name.halo = true;
    sheet.items.emplace_back(std::move(name));
  }
}

void add_walking_lines(Sheet& sheet, const SheetMap& map, const Walkway& walkway) {
  for (const auto& line : walkway.lines) {
    sheet.path(map(line), false, {std::nullopt, kWalk, 0.25, 1.2});
  }
}

void add_north(Sheet& sheet, const Vec2& foot) {
  sheet.arrow(foot, foot - Vec2(0, 8), {std::nullopt, kBlack, 0.3}, 2.4);
  sheet.words(foot - Vec2(0, 9), "y", 2.4, Anchor::kMiddle);
}

void add_key(Sheet& sheet, const Vec2& at, bool with_blocks) {
  struct Entry {
    const char* text;
    Pen pen;
  };
  std::vector<Entry> entries = {{"outline as drawn", {std::nullopt, kBlack, 0.2, 0.8}},
                                {"springing", {std::nullopt, kBlack, 0.6}},
                                {"phi each 0.5 m", {std::nullopt, kLevel, 0.12}}};
  if (with_blocks) {
    entries.push_back({"walking line", {std::nullopt, kWalk, 0.25, 1.2}});
    entries.push_back({"tie, below", {std::nullopt, kTie, 0.25, 2.0}});
  }
  double x = at.x();
  for (const Entry& entry : entries) {
    sheet.line({x, at.y() - 0.7}, {x + 6, at.y() - 0.7}, entry.pen);
    sheet.words({x + 7, at.y()}, entry.text, 1.9);
    x += with_blocks ? 28 : 32;
  }
}

void add_flow(Sheet& sheet, const SheetMap& map, const Form& form) {
  for (std::size_t t = 0; t < form.triangles.size() && t < form.flow.size(); t += 3) {
    Vec2 centre = Vec2::Zero();
    for (const int v : form.triangles[t]) {
      centre += form.vertices[static_cast<std::size_t>(v)].head<2>() / 3;
    }
    const Vec2 half = 0.07 * form.flow[t];
    sheet.line(map(Vec2(centre - half)), map(Vec2(centre + half)),
               {std::nullopt, arm_colour(form.arm[t]), 0.3});
  }
}

// Free edges as found; those drawn are dashed over them.
void add_found_edges(Sheet& sheet, const SheetMap& map, const Form& form) {
  for (const NetEdge& edge : form.edges) {
    if (edge.free_edge < 0) continue;
    sheet.line(map(Vec2(form.vertices[static_cast<std::size_t>(edge.a)].head<2>())),
               map(Vec2(form.vertices[static_cast<std::size_t>(edge.b)].head<2>())),
               {std::nullopt, kThrust, 0.5});
  }
}

}  // namespace

Sheet plan_sheet(const Dossier& dossier, const Outlines& outlines, const SheetSize& most) {
  SheetSize size = most;
  const SheetMap map = map_and_trim(plan_extent(dossier, true), size);
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  add_title(sheet, dossier.brief.title + ": plan",
            "Seen from above. Names of blocks: arm, course counted from the springing, place in "
            "it; the arm is left out where a course has several.");
  if (dossier.cut) {
    add_blocks(sheet, map, dossier.cut->assembly, outlines.plan);
    add_joints(sheet, map, dossier.cut->assembly);
  }
  if (dossier.form) add_levels(sheet, map, *dossier.form, false);
  sheet.path(map(dossier.brief.plan.outline), true, {std::nullopt, kBlack, 0.2, 0.8});
  add_ties(sheet, map, dossier);
  add_walking_lines(sheet, map, dossier.brief.walkway);
  add_supports(sheet, map, dossier);
  if (dossier.cut) add_block_names(sheet, map, dossier.brief, dossier.cut->assembly);
  add_north(sheet, {size.width_mm - kMargin - 4, kMargin + 16});
  add_key(sheet, {kMargin, size.height_mm - kMargin}, true);
  add_scale_bar(sheet, map, {kMargin, size.height_mm - kMargin - 6});
  return sheet;
}

Sheet form_sheet(const Dossier& dossier, const SheetSize& most) {
  SheetSize size = most;
  const SheetMap map = map_and_trim(plan_extent(dossier, false), size);
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  add_title(sheet, dossier.brief.title + ": form",
            "Strokes: where the weight flows, coloured by support. Red: free edges as found.");
  if (dossier.form) {
    add_flow(sheet, map, *dossier.form);
    add_levels(sheet, map, *dossier.form, true);
    add_found_edges(sheet, map, *dossier.form);
  }
  sheet.path(map(dossier.brief.plan.outline), true, {std::nullopt, kBlack, 0.2, 0.8});
  add_supports(sheet, map, dossier);
  add_key(sheet, {kMargin, size.height_mm - kMargin}, false);
  add_scale_bar(sheet, map, {kMargin, size.height_mm - kMargin - 6});
  return sheet;
}

}  // namespace skewback::deliver
