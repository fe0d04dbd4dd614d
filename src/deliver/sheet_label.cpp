#include <algorithm>
#include <cmath>
#include <functional>

#include "base/constants.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/labels.hpp"
#include "deliver/sheet_pdf.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kWide = 99, kHigh = 67;
constexpr double kCode = 34;  // of the QR code with its quiet zone
constexpr double kWordsLeft = kCode + 3, kWordsWide = 48;
constexpr double kTextTop = 37.5, kCradleLine = 3.4;
constexpr Colour kLight{225, 225, 225}, kRed{190, 30, 30}, kMarkLine{0, 110, 70};

/// Smaller where it would not go in; DejaVu Sans has 0.6 em a letter on average, bold 0.7.
void fitted(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm, double width_mm,
            bool bold = false, Colour colour = kBlack) {
  const double letters = static_cast<double>(text.size()) * (bold ? 0.7 : 0.6);
  Words words{at, text, std::min(size_mm, width_mm / std::max(1.0, letters))};
  words.bold = bold;
  words.colour = colour;
  sheet.items.emplace_back(std::move(words));
}

void add_code(Sheet& sheet, const std::string& text) {
  const auto rows = qr_modules(text);
  if (rows.empty()) return;
  constexpr double kQuiet = 4;  // modules, ISO/IEC 18004
  const double m = kCode / (static_cast<double>(rows.size()) + 2 * kQuiet);
  Shape dark{{}, true, {kBlack, std::nullopt}};
  for (std::size_t y = 0; y < rows.size(); ++y) {
    for (std::size_t x = 0; x < rows.size(); ++x) {
      if (!rows[y][x]) continue;
      std::size_t end = x;
      while (end < rows.size() && rows[y][end]) ++end;
      const double x0 = 1 + m * (kQuiet + static_cast<double>(x)),
                   x1 = 1 + m * (kQuiet + static_cast<double>(end)),
                   y0 = 1 + m * (kQuiet + static_cast<double>(y)), y1 = y0 + m;
      dark.rings.push_back({{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}});
      x = end;
    }
  }
  sheet.items.emplace_back(std::move(dark));
}

void add_words(Sheet& sheet, const Label& label, const std::string& title) {
  const double x = kWordsLeft;
  fitted(sheet, {x, 11}, label.name, 10, kWordsWide, true);
  fitted(sheet, {x, 17.5}, label.mass, 5, kWordsWide, true);
  fitted(sheet, {x, 21.5}, label.order, 2.7, kWordsWide);
  fitted(sheet, {x, 25}, title, 2.4, kWordsWide);
  fitted(sheet, {x, 29.5}, label.stands_on, 3, kWordsWide + 4, true);
  fitted(sheet, {x, 33.5}, label.next, 3, kWordsWide + 4, true);
  double y = kTextTop;
  if (!label.cradle.empty()) {
    fitted(sheet, {3, y}, label.cradle, 3, kWide - 6, true, kRed);
    y += kCradleLine;
  }
  fitted(sheet, {3, y}, label.up, 2.3, kWide - 6);
  for (const std::string& line : label.lifting) fitted(sheet, {3, y += 3.1}, line, 2.3, kWide - 6);
  fitted(sheet, {3, kHigh - 1.8},
         "Lift by a competent person's plan only. Nobody below. Look it over for cracks first.",
         2.1, kWide - 6, true, kRed);
}

void add_up_arrow(Sheet& sheet) {
  sheet.path({{92.5, 3}, {97, 10}, {94.2, 10}, {94.2, 20}, {90.8, 20}, {90.8, 10}, {88, 10}}, true,
             {kBlack, std::nullopt});
  sheet.items.emplace_back(Words{{92.5, 24.5}, "UP", 4, Anchor::kMiddle, true});
}

Extent extent_of(const Regions& regions, Extent extent = {}) {
  for (const Region& region : regions)
    for (const Vec2& p : region.outer) extent.add(p);
  return extent;
}

/// Where it goes: all blocks from above, this one filled.
void add_key_plan(Sheet& sheet, const Label& label, const Assembly& assembly,
                  const std::vector<Regions>& plan, const Vec2& box_at, const Vec2& box_size) {
  Extent extent;
  for (std::size_t i = 0; i < plan.size(); ++i)
    if (!assembly.blocks[i].fixed) extent = extent_of(plan[i], extent);
  if (extent.empty()) return;
  SheetMap map;
  map.mm_per_m = (box_size.array() / extent.size().cwiseMax(1e-6).array()).minCoeff();
  const Vec2 middle = (extent.low + extent.high) / 2;
  map.corner = box_at + box_size / 2 + map.mm_per_m * Vec2(-middle.x(), middle.y());
  const auto mine = static_cast<std::size_t>(label.block);
  for (std::size_t i = 0; i < plan.size(); ++i)
    if (!assembly.blocks[i].fixed && i != mine) sheet.regions(map(plan[i]), {kLight, kGrey, 0.08});
  sheet.regions(map(plan[mine]), {kBlack, kBlack, 0.15});
}

/// Turns the plan so that the bed of a block comes to lie at the bottom of the sheet; none: the bed
/// is level, right below it.
std::optional<Eigen::Rotation2Dd> bed_down(const Label& label, const Assembly& assembly) {
  if (label.bed < 0) return std::nullopt;
  const Joint& bed = assembly.joints[static_cast<std::size_t>(label.bed)];
  const Vec2 out = (bed.a == label.block ? 1 : -1) * bed.frame.z.head<2>();
  if (!(out.norm() > 1e-3)) return std::nullopt;
  return Eigen::Rotation2Dd(-kPi / 2 - std::atan2(out.y(), out.x()));
}

/// Clear of the drawing, on the side where the joint is.
Words neighbour_name(const Vec2& at, const Vec2& low, const Vec2& high, const std::string& id) {
  const Vec2 off = (at - (low + high) / 2).cwiseQuotient((high - low).cwiseMax(1e-6));
  Words name{at + Vec2(0, 0.8), id, 2.2, Anchor::kMiddle};
  name.halo = true;
  if (std::abs(off.y()) >= std::abs(off.x())) {
    name.at.y() = off.y() < 0 ? low.y() - 0.8 : high.y() + 2.4;
  } else {
    name.at.x() = off.x() < 0 ? low.x() - 1 : high.x() + 1;
    name.anchor = off.x() < 0 ? Anchor::kEnd : Anchor::kStart;
  }
  return name;
}

/// Crosses with their numbers, where these keep clear of the slings and each other.
void add_marks(Sheet& sheet, const Label& label, const std::function<Vec2(const Vec3&)>& place) {
  Labels taken;
  for (const Vec3& p : label.slings)
    taken.block(place(p) - Vec2(1.2, 1.2), place(p) + Vec2(1.2, 1.2));
  for (const Mark& mark : label.marks) {
    const Vec2 at = place(mark.designed);
    sheet.line(at - Vec2(0.7, 0), at + Vec2(0.7, 0), {std::nullopt, kMarkLine, 0.25});
    sheet.line(at - Vec2(0, 0.7), at + Vec2(0, 0.7), {std::nullopt, kMarkLine, 0.25});
    taken.block(at - Vec2(0.7, 0.7), at + Vec2(0.7, 0.7));
  }
  for (const Mark& mark : label.marks)
    taken.put(sheet, place(mark.designed), mark.name.substr(mark.name.rfind(' ') + 1), 1.6, 0.8,
              kMarkLine);
}

/// The block itself from above, bed down: sling marks, and who is on which side.
void add_block(Sheet& sheet, const Label& label, const Assembly& assembly, Regions shape,
               const Vec2& box_at, const Vec2& box_size) {
  const std::optional<Eigen::Rotation2Dd> down = bed_down(label, assembly);
  const Eigen::Rotation2Dd turn = down.value_or(Eigen::Rotation2Dd(0));
  for (Region& region : shape) {
    for (Vec2& p : region.outer) p = turn * p;
    for (Polygon& hole : region.holes)
      for (Vec2& p : hole) p = turn * p;
  }
  const Extent extent = extent_of(shape);
  if (extent.empty()) return;
  const SheetMap map = fit(extent, box_at, box_size);
  const auto place = [&](const Vec3& p) { return map(Vec2(turn * Vec2(p.head<2>()))); };
  sheet.regions(map(shape), {kLight, kBlack, 0.2});
  const Vec2 a = map(extent.low), b = map(extent.high);
  for (const Joint& joint : assembly.joints) {
    const int other = joint.a == label.block ? joint.b : joint.b == label.block ? joint.a : -1;
    if (other >= 0)
      sheet.items.emplace_back(neighbour_name(place(joint.frame.origin), a.cwiseMin(b),
                                              a.cwiseMax(b),
                                              assembly.blocks[static_cast<std::size_t>(other)].id));
  }
  for (const Vec3& p : label.slings) {
    const Vec2 at = place(p);
    sheet.dot(at, 1.1, {Colour{255, 255, 255}, kRed, 0.3});
    sheet.line(at - Vec2(0.8, 0.8), at + Vec2(0.8, 0.8), {std::nullopt, kRed, 0.3});
    sheet.line(at - Vec2(0.8, -0.8), at + Vec2(0.8, -0.8), {std::nullopt, kRed, 0.3});
  }
  add_marks(sheet, label, place);
  sheet.words({box_at.x() + box_size.x() / 2, box_at.y() + box_size.y() + 4.4},
              (down ? "from above, bed at the bottom, " : "from above, ") + map.scale() +
                  (label.marks.empty() ? "" : "; +: marks"),
              1.8, Anchor::kMiddle);
}

}  // namespace

Sheet label_sheet(const Label& label, const std::string& title, const Assembly& assembly,
                  const std::vector<Regions>& plan) {
  Sheet sheet;
  sheet.width_mm = kWide;
  sheet.height_mm = kHigh;
  sheet.title = label.name;
  add_code(sheet, label.coded);
  add_words(sheet, label, title);
  add_up_arrow(sheet);
  if (static_cast<std::size_t>(label.block) < plan.size()) {
    const double down = label.cradle.empty() ? 0 : kCradleLine;
    add_key_plan(sheet, label, assembly, plan, {3, 46 + down}, {40, 16 - down});
    add_block(sheet, label, assembly, plan[static_cast<std::size_t>(label.block)],
              {58, 47.5 + down}, {26, 11 - down});
  }
  return sheet;
}

std::string labels_pdf(const Dossier& dossier, const std::vector<Regions>& plan) {
  constexpr double kPageWide = 210, kPageHigh = 297;
  constexpr std::size_t kAcross = 2, kDown = 4;
  const Vec2 first((kPageWide - kAcross * kWide) / 2, (kPageHigh - kDown * kHigh) / 2);
  std::vector<Sheet> pages;
  const std::vector<Label> all = labels(dossier);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::size_t place = i % (kAcross * kDown);
    if (place == 0) {
      pages.emplace_back();
      pages.back().width_mm = kPageWide;
      pages.back().height_mm = kPageHigh;
      for (std::size_t k = 0; k <= kAcross; ++k) {
        const double x = first.x() + kWide * static_cast<double>(k);
        pages.back().line({x, first.y()}, {x, first.y() + kDown * kHigh},
                          {std::nullopt, kGrey, 0.1, 2});
      }
      for (std::size_t k = 0; k <= kDown; ++k) {
        const double y = first.y() + kHigh * static_cast<double>(k);
        pages.back().line({first.x(), y}, {first.x() + kAcross * kWide, y},
                          {std::nullopt, kGrey, 0.1, 2});
      }
    }
    const Vec2 corner = first + Vec2(kWide * static_cast<double>(place % kAcross),
                                     kHigh * static_cast<double>(place / kAcross));
    paste(pages.back(), label_sheet(all[i], dossier.brief.title, dossier.cut->assembly, plan),
          corner);
  }
  return sheets_pdf(pages, dossier.brief.title + ": labels");
}

}  // namespace skewback::deliver
