#include "deliver/cut_sheets.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "centring/nested.hpp"
#include "deliver/strokes.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

enum Layer { kCutOuter, kCutInner, kEngrave, kSheet, kNotes };
constexpr double kClear = 0.004;  // m between words and an edge
constexpr double kDescent = 1.0 / 3;

/// The room that words take, in the part's x and y.
Polygon room_of(const Engraving& words) {
  const double half = strokes_width(words.words, words.height_m) / 2 + kClear;
  const Eigen::Rotation2Dd turn(words.turn_rad);
  Polygon box;
  for (const Vec2& p : {Vec2(-half, -kDescent * words.height_m - kClear),
                        Vec2(half, -kDescent * words.height_m - kClear),
                        Vec2(half, words.height_m + kClear), Vec2(-half, words.height_m + kClear)})
    box.push_back(words.at + turn * p);
  return box;
}

bool overlap(const Polygon& a, const Polygon& b) {
  return area(intersect({{a, {}}}, {{b, {}}})) > 1e-9;
}

bool is_clear(const Region& outline, const Engraving& words, const std::vector<Polygon>& taken) {
  const Polygon room = room_of(words);
  return area(subtract({{room, {}}}, {outline})) < 1e-9 &&
         std::ranges::none_of(taken, [&](const Polygon& other) { return overlap(room, other); });
}

/// Where the words were wished; else moved as little as may be, then smaller. As wished if there is
/// no room anywhere.
Engraving settled(const Region& outline, const Engraving& wish, const std::vector<Polygon>& taken) {
  const Eigen::Rotation2Dd turn(wish.turn_rad);
  for (const double size : {1.0, 0.7, 0.5}) {
    Engraving words = wish;
    words.height_m *= size;
    for (int ring = 0; ring <= 12; ++ring) {
      const int places = ring == 0 ? 1 : 8;
      for (int k = 0; k < places; ++k) {
        constexpr int kX[] = {1, -1, 0, 0, 1, 1, -1, -1}, kY[] = {0, 0, 1, -1, 1, -1, 1, -1};
        words.at = wish.at + turn * (ring * 0.015 * Vec2(kX[k], kY[k]));
        if (is_clear(outline, words, taken)) return words;
      }
    }
  }
  return wish;
}

void add_rings(DxfDrawing& drawing, const Regions& regions) {
  const auto mm = [](const Polygon& ring) {
    std::vector<Vec2> out;
    for (const Vec2& p : ring) out.emplace_back(1000 * p);
    return out;
  };
  for (const Region& region : regions) {
    drawing.lines.push_back({kCutOuter, mm(region.outer), true});
    for (const Polygon& hole : region.holes) drawing.lines.push_back({kCutInner, mm(hole), true});
  }
}

bool is_router(const Brief& brief) { return brief.centring.cutter != "laser"; }

std::string mm(double metres, int decimals = 0) { return fixed(1000 * metres, decimals); }

const SheetPart& part_of(const Centring& centring, const NestedPart& nested) {
  return centring.parts[static_cast<std::size_t>(nested.part)];
}

bool bears_its_name(const SheetPart& part) {
  return std::ranges::any_of(part.marks, [&](const Engraving& mark) {
    return mark.words.find(part.id) != std::string::npos;
  });
}

/// Where the name of a part that does not bear it is written for people, m on the sheet.
std::optional<Vec2> name_at(const SheetPart& part, const NestedPart& nested) {
  if (bears_its_name(part)) return std::nullopt;
  const Region lies = on_sheet(nested, part.outline);
  const Vec2 middle = centroid(lies);
  return contains(lies, middle) ? middle : Vec2((lies.outer[0] + lies.outer[1]) / 2);
}

}  // namespace

Regions cut_lines(const CentringRequest& ask, const SheetPart& part, const NestedPart& nested) {
  const Region lies = on_sheet(nested, part.outline);
  return ask.cutter == "laser" ? offset({lies}, ask.tool_m / 2) : Regions{lies};
}

std::vector<std::vector<Vec2>> engraved(const SheetPart& part, const NestedPart& nested) {
  std::vector<std::vector<Vec2>> out;
  std::vector<Polygon> taken;
  for (const Engraving& mark : part.marks) {
    if (mark.line.size() < 2) continue;
    out.emplace_back();
    for (const Vec2& p : mark.line) out.back().push_back(on_sheet(nested, p));
    const Regions strip = strip_along(mark.line, 2 * kClear);
    for (const Region& piece : strip) taken.push_back(piece.outer);
  }
  for (const Engraving& mark : part.marks) {
    if (!mark.line.empty() || mark.words.empty()) continue;
    const Engraving words = settled(part.outline, mark, taken);
    taken.push_back(room_of(words));
    const Vec2 at = on_sheet(nested, words.at);
    const Eigen::Rotation2Dd turn(nested.turn_rad +
                                  (nested.flipped ? -words.turn_rad : words.turn_rad));
    for (const auto& stroke : strokes(words.words, words.height_m)) {
      out.emplace_back();
      for (const Vec2& p : stroke) out.back().push_back(at + turn * p);
    }
  }
  return out;
}

std::vector<std::string> cut_sheet_notes(const Brief& brief, const Centring& centring,
                                         std::size_t sheet) {
  const CentringRequest& ask = brief.centring;
  const CutSheet& cut = centring.sheets[sheet];
  const auto over = std::ranges::count_if(cut.parts, [](const NestedPart& n) { return n.flipped; });
  std::vector<std::string> notes = {
      cut.id + " of " + std::to_string(centring.sheets.size()) + ": " + mm(ask.sheet_length_m) +
          " x " + mm(ask.sheet_width_m) + " x " + mm(ask.sheet_thickness_m, 1) + " mm, " +
          counted(cut.parts.size(), "part") +
          ". Unit: millimetres. Grain of the outer plies along x.",
      is_router(brief)
          ? "Router, bit " + mm(ask.tool_m, 1) +
                " mm: lines are the parts' edges; the machine keeps the bit outside CUT_OUTER and "
                "inside CUT_INNER."
          : "Laser, kerf " + mm(ask.tool_m, 2) +
                " mm: lines are the middle of the cut; half the kerf is allowed for, set none at "
                "the machine.",
      "Engrave first, then CUT_INNER, then CUT_OUTER. SHEET and NOTES are not cut."};
  if (over > 0)
    notes.push_back(counted(static_cast<std::size_t>(over), "part") +
                    (over == 1 ? " lies" : " lie") +
                    " turned over, with the marks on the other face.");
  return notes;
}

DxfDrawing cut_sheet_dxf(const Brief& brief, const Centring& centring, std::size_t sheet) {
  DxfDrawing drawing{
      {{"CUT_OUTER", 1}, {"CUT_INNER", 5}, {"ENGRAVE", 3}, {"SHEET", 8}, {"NOTES", 7}}, {}, {}};
  const double length = 1000 * brief.centring.sheet_length_m,
               width = 1000 * brief.centring.sheet_width_m;
  drawing.lines.push_back({kSheet, {{0, 0}, {length, 0}, {length, width}, {0, width}}, true});
  for (const NestedPart& nested : centring.sheets[sheet].parts) {
    const SheetPart& part = part_of(centring, nested);
    add_rings(drawing, cut_lines(brief.centring, part, nested));
    for (const auto& line : engraved(part, nested)) {
      drawing.lines.push_back({kEngrave, {}, false});
      for (const Vec2& p : line) drawing.lines.back().points.emplace_back(1000 * p);
    }
    if (const auto at = name_at(part, nested))
      drawing.words.push_back({kNotes, 1000 * *at, 10, 0, true, part.id});
  }
  double y = -30;
  for (const std::string& note : cut_sheet_notes(brief, centring, sheet)) {
    drawing.words.push_back({kNotes, {0, y}, 14, 0, false, note});
    y -= 24;
  }
  return drawing;
}

Sheet cut_sheet_drawing(const Brief& brief, const Centring& centring, std::size_t sheet) {
  constexpr Colour kOuter{200, 0, 0}, kInner{0, 60, 200}, kMark{0, 120, 60}, kWood{246, 236, 214};
  const double length = 1000 * brief.centring.sheet_length_m,
               width = 1000 * brief.centring.sheet_width_m;
  const auto notes = cut_sheet_notes(brief, centring, sheet);
  Sheet out{length,
            width + 20 + 24 * static_cast<double>(notes.size()),
            brief.title + ": " + centring.sheets[sheet].id,
            {}};
  const SheetMap map{1000, {0, width}};
  out.path({{0, 0}, {length, 0}, {length, width}, {0, width}}, true, {std::nullopt, kGrey, 1});
  for (const NestedPart& nested : centring.sheets[sheet].parts) {
    const SheetPart& part = part_of(centring, nested);
    for (const Region& region : map(cut_lines(brief.centring, part, nested))) {
      out.regions({region}, {kWood, std::nullopt});
      out.path(region.outer, true, {std::nullopt, kOuter, 0.5});
      for (const Polygon& hole : region.holes) out.path(hole, true, {std::nullopt, kInner, 0.5});
    }
    for (const auto& line : engraved(part, nested))
      out.path(map(line), false, {std::nullopt, kMark, 0.7});
    if (const auto at = name_at(part, nested)) out.words(map(*at), part.id, 14, Anchor::kMiddle);
  }
  double y = width + 28;
  for (const std::string& note : notes) {
    out.words({4, y}, note, 18);
    y += 24;
  }
  return out;
}

std::vector<OutputFile> cut_sheet_files(const Brief& brief, const Centring& centring) {
  std::vector<OutputFile> files;
  for (std::size_t s = 0; s < centring.sheets.size(); ++s) {
    const std::string stem = "centring/sheet-" + std::to_string(s + 1);
    files.push_back({stem + ".dxf", dxf(cut_sheet_dxf(brief, centring, s))});
    files.push_back({stem + ".svg", svg(cut_sheet_drawing(brief, centring, s))});
  }
  return files;
}

}  // namespace skewback::deliver
