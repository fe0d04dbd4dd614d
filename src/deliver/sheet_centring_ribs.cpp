#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/centring_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 12, kGap = 8, kHead = 9, kUnder = 12;  // mm
constexpr double kStub = 0.25;  // m of post that is shown
constexpr Colour kWood{244, 228, 198}, kLine{110, 70, 20}, kPost{20, 60, 110}, kSeat{0, 120, 60},
    kCross{160, 110, 40}, kPacking{170, 30, 90};

Vec2 in_rib(const Rib& rib, const Vec3& p_W) { return rib.place.to_local(p_W).head<2>(); }

Regions piece_in(const Rib& rib, const SheetPart& part) {
  const auto seen = [&](const Polygon& ring) {
    Polygon out;
    for (const Vec2& p : ring) out.push_back(in_rib(rib, part.place.to_world(p)));
    return out;
  };
  Region out{seen(part.outline.outer), {}};
  for (const Polygon& hole : part.outline.holes) out.holes.push_back(seen(hole));
  return {out};
}

Extent extent_of(const Rib& rib, const Centring& centring) {
  Extent extent;
  for (const Vec2& p : rib.top) extent.add(p);
  for (const Vec2& p : rib.bottom) extent.add(p);
  for (const CentringFoot& foot : centring.feet)
    if (foot.rib == rib.id) extent.add(in_rib(rib, foot.head) - Vec2(0, kStub));
  for (const LegPacking& packing : centring.leg_packings)
    if (packing.rib == rib.id) extent.add(in_rib(rib, packing.to));
  if (extent.empty()) extent.add(Vec2::Zero());
  return extent;
}

void add_pieces(Sheet& sheet, const SheetMap& map, const Rib& rib, const Centring& centring,
                Labels& labels) {
  for (const bool is_piece : {true, false}) {
    for (const SheetPart& part : centring.parts) {
      if (part.rib != rib.id || (part.kind == "rib" || part.kind == "cross rib") != is_piece)
        continue;
      const Regions seen = piece_in(rib, part);
      const Pen pen = is_piece ? Pen{kWood, kLine, 0.18} : Pen{std::nullopt, kLine, 0.15, 0.8};
      sheet.regions(map(seen), pen);
      if (!is_piece) {  // plates lie over each other, one on each face
        Extent box;
        for (const Vec2& p : seen[0].outer) box.add(p);
        labels.put(sheet, map(Vec2((box.low + box.high) / 2)), part.id, 2, 1.4, kLine);
        continue;
      }
      Vec2 middle = centroid(seen);
      const auto is_crossed = [&](double x) { return std::abs(x - middle.x()) * map.mm_per_m < 5; };
      if (std::ranges::any_of(rib.crossings, is_crossed)) middle.x() += 8 / map.mm_per_m;
      sheet.items.emplace_back(
          Words{map(middle) + Vec2(0, 0.8), part.id, 2.2, Anchor::kMiddle, true, kLine, true});
    }
  }
}

double level_at(const std::vector<Vec2>& edge, double x) {
  if (edge.empty()) return 0;
  auto right = std::ranges::find_if(edge, [&](const Vec2& p) { return p.x() >= x; });
  if (right == edge.begin()) return right->y();
  if (right == edge.end()) return edge.back().y();
  const Vec2 &a = *(right - 1), &b = *right;
  return a.y() + (b.y() - a.y()) * (x - a.x()) / std::max(1e-12, b.x() - a.x());
}

/// The rib that crosses at x, by its plan; empty if none is near.
std::string crossing_name(const Rib& rib, double x, const Centring& centring) {
  const Vec3 at = rib.place.to_world(Vec2(x, 0));
  for (const Rib& other : centring.ribs) {
    if (other.is_cross == rib.is_cross || other.top.empty()) continue;
    const Vec3 there = other.place.to_local(at);
    if (std::abs(there.z()) < 0.02 && there.x() > other.top.front().x() - 0.02 &&
        there.x() < other.top.back().x() + 0.02)
      return other.id;
  }
  return "";
}

void add_crossings(Sheet& sheet, const SheetMap& map, const Rib& rib, const Centring& centring,
                   Labels& labels) {
  for (const double x : rib.crossings) {
    const double top = level_at(rib.top, x), low = level_at(rib.bottom, x);
    sheet.line(map(Vec2(x, low)), map(Vec2(x, top)), {std::nullopt, kCross, 0.3, 0.6});
    const std::string name = crossing_name(rib, x, centring);
    if (!name.empty())
      labels.put(sheet, map(Vec2(x, low + 0.25 * (top - low))), name, 1.8, 0.6, kCross);
  }
  for (const double x : rib.splices)
    sheet.line(map(Vec2(x, level_at(rib.bottom, x))), map(Vec2(x, level_at(rib.top, x))),
               {std::nullopt, kBlack, 0.35});
}

void add_feet(Sheet& sheet, const SheetMap& map, const Rib& rib, const Centring& centring,
              Labels& labels) {
  for (std::size_t i = 0; i < centring.feet.size(); ++i) {
    const CentringFoot& foot = centring.feet[i];
    if (foot.rib != rib.id) continue;
    const Vec2 head = in_rib(rib, foot.head);
    const double half =
        map.mm_per_m *
        (foot.post < 0 ? 0.05 : centring.sticks[static_cast<std::size_t>(foot.post)].width_m / 2);
    const Vec2 a = map(head), b = map(Vec2(head - Vec2(0, kStub)));
    sheet.line(a - Vec2(half, 0), b - Vec2(half, 0), {std::nullopt, kPost, 0.2});
    sheet.line(a + Vec2(half, 0), b + Vec2(half, 0), {std::nullopt, kPost, 0.2});
    sheet.path(
        {b + Vec2(-half, 0), b + Vec2(-half / 3, -1), b + Vec2(half / 3, 1), b + Vec2(half, 0)},
        false, {std::nullopt, kPost, 0.15});  // broken off
    labels.put(sheet, (a + b) / 2,
               std::to_string(i + 1) + ": " + fixed((foot.head - foot.at).norm(), 3), 1.8,
               half + 0.6, kPost);
  }
}

/// Between legs: at the end of its rib; on the other rib where it bears, dashed.
void add_packings(Sheet& sheet, const SheetMap& map, const Rib& rib, const Centring& centring,
                  Labels& labels) {
  for (const LegPacking& packing : centring.leg_packings) {
    const bool own = packing.rib == rib.id;
    if (!own && packing.other != rib.id) continue;
    const Vec2 to = in_rib(rib, packing.to), half(0, packing.height_m / 2);
    const Vec2 out = own ? Vec2(in_rib(rib, packing.from) - to) : Vec2(packing.width_m, 0);
    const Vec2 a = own ? to : Vec2(to - out / 2);
    sheet.path({map(Vec2(a - half)), map(Vec2(a + out - half)), map(Vec2(a + out + half)),
                map(Vec2(a + half))},
               true, own ? Pen{kPacking, kBlack, 0.15} : Pen{std::nullopt, kPacking, 0.3, 0.8});
    labels.put_led(sheet, map(Vec2(a + out / 2)),
                   packing.id + (own ? " " + fixed(packing.force_n / 1e3, 1) + " kN" : ""), 1.8,
                   map.mm_per_m * out.norm() / 2 + 0.6, 30, kPacking);
  }
}

void add_seats(Sheet& sheet, const SheetMap& map, const Rib& rib, const Assembly& assembly,
               const Centring& centring, Labels& labels) {
  std::map<int, std::vector<double>> of_block;
  for (const Seat& seat : centring.seats) {
    if (seat.rib != rib.id) continue;
    of_block[seat.prop.block].push_back(seat.along_m);
    const double from = seat.along_m - seat.length_m / 2, to = seat.along_m + seat.length_m / 2;
    const Vec2 a = map(Vec2(from, level_at(rib.top, from))) - Vec2(0, 0.5),
               b = map(Vec2(to, level_at(rib.top, to))) - Vec2(0, 0.5);
    sheet.line(a, b, {std::nullopt, kSeat, 0.5});
    labels.block_line(a, b, 0.6);
  }
  for (const auto& [block, at] : of_block) {
    double middle = 0;
    for (const double x : at) middle += x / static_cast<double>(at.size());
    if (block >= 0 && static_cast<std::size_t>(block) < assembly.blocks.size())
      labels.put_over(sheet, map(Vec2(middle, level_at(rib.top, middle))) - Vec2(0, 1),
                      assembly.blocks[static_cast<std::size_t>(block)].id, 1.7, kSeat);
  }
}

std::string metres(const std::vector<double>& values) {
  std::vector<std::string> words;
  for (const double v : values) words.push_back(fixed(v, 3));
  return words.empty() ? "none" : joined(words, ", ");
}

std::vector<std::string> words_under(const Rib& rib, double width_mm) {
  return broken("x from its origin (m): feet " + metres(rib.feet) + "; joints " +
                    metres(rib.splices) + "; ribs across " + metres(rib.crossings),
                static_cast<std::size_t>(width_mm / 1.1));
}

std::string head_of(const Rib& rib, const Centring& centring) {
  const auto pieces = std::ranges::count_if(centring.parts, [&](const SheetPart& part) {
    return part.rib == rib.id && (part.kind == "rib" || part.kind == "cross rib");
  });
  const Vec3& o = rib.place.origin;
  return rib.id + (rib.is_cross ? ", across, " : ", ") +
         counted(static_cast<std::size_t>(pieces), "piece") + "; origin " + fixed(o.x(), 3) + ", " +
         fixed(o.y(), 3) + ", level " + fixed(o.z(), 3);
}

struct Cell {
  const Rib* rib;
  Extent extent;
  Vec2 size;  // mm
};

void add_rib(Sheet& sheet, const Cell& cell, const Vec2& at, double mm_per_m,
             const Assembly& assembly, const Centring& centring) {
  const Rib& rib = *cell.rib;
  const SheetMap map{mm_per_m, at + Vec2(4 - mm_per_m * cell.extent.low.x(),
                                         kHead + mm_per_m * cell.extent.high.y())};
  sheet.words(at + Vec2(0, 3), head_of(rib, centring), 2.1);
  Labels labels;
  add_pieces(sheet, map, rib, centring, labels);
  add_crossings(sheet, map, rib, centring, labels);
  add_feet(sheet, map, rib, centring, labels);
  add_seats(sheet, map, rib, assembly, centring, labels);
  add_packings(sheet, map, rib, centring, labels);
  double y = at.y() + kHead + mm_per_m * cell.extent.size().y() + 4;
  for (const std::string& line : words_under(rib, cell.size.x())) {
    sheet.words({at.x(), y}, line, 1.8);
    y += 2.6;
  }
}

Sheet new_sheet(const Centring& centring, const SheetSize& size, double mm_per_m) {
  Sheet sheet{size.width_mm, size.height_mm, "Ribs of the centring", {}};
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words(
      {kMargin, kMargin + 8},
      "Seen square to each rib, 1:" + fixed(1000 / mm_per_m, 0) +
          ". Green: seats, with their blocks. Blue: feet, numbered as in the plan, with the "
          "length from ground to rib in m." +
          (centring.leg_packings.empty()
               ? ""
               : " Red: packing between legs at a rib's end with its force; dashed: where one "
                 "bears."),
      2.1);
  return sheet;
}

}  // namespace

double rib_scale(const Centring& centring, const SheetSize& size) {
  const Vec2 box(size.width_mm - 2 * kMargin, size.height_mm - 2 * kMargin - kTitle);
  Vec2 most = Vec2::Zero();
  for (const Rib& rib : centring.ribs) most = most.cwiseMax(extent_of(rib, centring).size());
  for (const double scale : {20.0, 25.0, 30.0, 40.0, 50.0, 75.0}) {
    if (most.x() * 1000 / scale + 8 <= box.x() &&
        most.y() * 1000 / scale + kHead + kUnder <= box.y())
      return scale;
  }
  return 100;
}

std::vector<Sheet> rib_sheets(const Assembly& assembly, const Centring& centring,
                              const SheetSize& size) {
  const double mm_per_m = 1000 / rib_scale(centring, size);
  std::vector<Sheet> sheets;
  Vec2 at(0, 1e9);  // where the next goes; none yet
  double row = 0;
  for (const Rib& rib : centring.ribs) {
    Cell cell{&rib, extent_of(rib, centring), {}};
    cell.size.x() = std::max(84.0, mm_per_m * cell.extent.size().x() + 8);
    cell.size.y() = kHead + mm_per_m * cell.extent.size().y() + 4 +
                    2.6 * static_cast<double>(words_under(rib, cell.size.x()).size());
    if (at.x() + cell.size.x() > size.width_mm - kMargin) {
      at = {kMargin, at.y() + row + kGap};
      row = 0;
    }
    if (at.y() + cell.size.y() > size.height_mm - kMargin) {
      sheets.push_back(new_sheet(centring, size, mm_per_m));
      at = {kMargin, kMargin + kTitle};
      row = 0;
    }
    add_rib(sheets.back(), cell, at, mm_per_m, assembly, centring);
    at.x() += cell.size.x() + kGap;
    row = std::max(row, cell.size.y());
  }
  return sheets;
}

}  // namespace skewback::deliver
