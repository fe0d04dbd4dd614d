#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/paper.hpp"
#include "deliver/survey_sheets.hpp"
#include "deliver/text.hpp"
#include "survey/footing_move.hpp"

namespace skewback::deliver {
namespace {

constexpr double kTimes = 100, kHead = 12, kLine = 3.8, kLow = 16;
constexpr Colour kDrawn{130, 130, 130}, kFoundLine{213, 94, 0}, kBad{190, 30, 30};

/// Names of the marks that a support's fit rests on: all of its springing marks, or those of them
/// that the brief measured.
std::vector<Mark> marks_of(const Brief& brief, const std::string& support, std::size_t count) {
  std::vector<Mark> all, of_brief;
  for (const Mark& mark : springing_marks(brief)) {
    if (mark.of != support) continue;
    all.push_back(mark);
    if (brief.survey && std::ranges::any_of(brief.survey->points, [&](const SurveyPoint& p) {
          return p.support + " " + p.mark == mark.name;
        }))
      of_brief.push_back(mark);
  }
  if (all.size() == count) return all;
  return of_brief.size() == count ? of_brief : std::vector<Mark>{};
}

Extent extent_of(const Brief& brief, const std::vector<MarkFound>& marks) {
  Extent extent;
  for (const Vec2& p : brief.plan.outline) extent.add(p);
  for (const MarkFound& mark : marks) {
    extent.add(mark.drawn.head<2>());
    extent.add((mark.drawn + kTimes * (mark.found - mark.drawn)).head<2>());
  }
  if (extent.empty()) extent.add(Vec2::Zero());
  extent.low -= Vec2::Constant(0.3);
  extent.high += Vec2::Constant(0.3);
  return extent;
}

std::string moved_words(const Support& support, const Rigid& X) {
  const FootingMove move = footing_move(support, X);
  std::vector<std::string> parts;
  const auto add = [&](double by_m, const char* positive, const char* negative) {
    if (std::abs(by_m) >= 5e-5)
      parts.push_back(mm_words(std::abs(by_m)) + " mm " + (by_m > 0 ? positive : negative));
  };
  add(move.outward_m, "outward", "inward");
  add(move.left_m, "to the left", "to the right");
  add(move.up_m, "high", "low");
  const double turn = move.turn_rad * 180 / kPi, tilt = move.tilt_rad * 180 / kPi;
  if (std::abs(turn) >= 0.005)
    parts.push_back("turned " + fixed(std::abs(turn), 2) + " degrees " +
                    (turn > 0 ? "counter-clockwise" : "clockwise"));
  if (tilt >= 0.005) parts.push_back("tilted " + fixed(tilt, 2) + " degrees");
  return parts.empty() ? "as drawn" : joined(parts, ", ");
}

void add_support(Sheet& sheet, const SheetMap& map, const Support& support, const Rigid& X,
                 Labels& labels) {
  const auto exaggerated = [&](const Vec2& p) {
    const Vec3 drawn(p.x(), p.y(), support.level_m);
    return Vec2((drawn + kTimes * (X(drawn) - drawn)).head<2>());
  };
  const Vec2 a = map(support.a), b = map(support.b);
  sheet.line(a, b, {std::nullopt, kDrawn, 0.8});
  const Vec2 fa = map(exaggerated(support.a)), fb = map(exaggerated(support.b));
  sheet.line(fa, fb, {std::nullopt, kFoundLine, 0.6});
  labels.block_line(a, b, 0.6);
  labels.block_line(fa, fb, 0.6);
}

void add_mark(Sheet& sheet, const SheetMap& map, const MarkFound& mark, Labels& labels) {
  const Vec2 from = map(Vec2(mark.drawn.head<2>()));
  const Vec2 to = map(Vec2((mark.drawn + kTimes * (mark.found - mark.drawn)).head<2>()));
  const Colour colour = mark.outlier ? kBad : kFoundLine;
  sheet.dot(from, 0.7, {Colour{255, 255, 255}, kDrawn, 0.3});
  if ((to - from).norm() > 0.3) sheet.arrow(from, to, {std::nullopt, colour, 0.3}, 2);
  sheet.dot(to, 0.6, {colour, std::nullopt});
  labels.block_line(from, to, 0.4);
}

void add_words(Sheet& sheet, const Brief& brief, const Refit& refit) {
  sheet.items.emplace_back(Words{{2, 5}, sheet.title, 3.6, Anchor::kStart, true});
  sheet.words(
      {2, 9.5},
      "Seen from above. Every move in plan is drawn 100 x; levels are in words. Left and right: "
      "looking outward.",
      2.2);
  double y = kHead + 2;
  if (!refit.unfit.empty() || on_own_axes(refit.datum)) {
    sheet.items.emplace_back(Words{
        {2, y},
        refit.unfit.empty()
            ? "The survey lies off the bridge's axes: its error is shared among all footings here, "
              "which of them is off it cannot say."
            : "MEASURE AGAIN: " + refit.unfit.front() + ".",
        2.4,
        Anchor::kStart,
        true,
        kBad});
    y += kLine;
  }
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k)
    for (const Support& s : brief.plan.supports) {
      if (s.id != refit.supports[k]) continue;
      sheet.words({2, y}, s.id + ": " + moved_words(s, refit.footings[k].X), 2.6);
      y += kLine;
    }
}

void add_key(Sheet& sheet, const Vec2& at) {
  sheet.line(at + Vec2(0, -0.8), at + Vec2(6, -0.8), {std::nullopt, kDrawn, 0.8});
  sheet.words(at + Vec2(7.5, 0), "springing as drawn", 2.1);
  sheet.line(at + Vec2(45, -0.8), at + Vec2(51, -0.8), {std::nullopt, kFoundLine, 0.6});
  sheet.words(at + Vec2(52.5, 0), "as found, moves in plan 100 x", 2.1);
  sheet.arrow(at + Vec2(106, -0.8), at + Vec2(112, -0.8), {std::nullopt, kFoundLine, 0.3}, 2);
  sheet.words(at + Vec2(113.5, 0), "a mark", 2.1);
  sheet.arrow(at + Vec2(130, -0.8), at + Vec2(136, -0.8), {std::nullopt, kBad, 0.3}, 2);
  sheet.words(at + Vec2(137.5, 0), "left out: does not fit", 2.1);
}

}  // namespace

std::vector<MarkFound> marks_found(const Brief& brief, const Refit& refit) {
  std::vector<MarkFound> out;
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k) {
    const RigidFit& fit = refit.footings[k];
    const std::vector<Mark> marks = marks_of(brief, refit.supports[k], fit.residual_m.size());
    for (std::size_t i = 0; i < marks.size(); ++i) {
      MarkFound found{marks[i].name, refit.supports[k], marks[i].designed,
                      Vec3::Zero(),  fit.residual_m[i], false};
      found.found = fit.X(found.drawn) + found.residual_m;
      found.outlier = std::ranges::find(fit.outliers, static_cast<int>(i)) != fit.outliers.end();
      out.push_back(std::move(found));
    }
  }
  return out;
}

Sheet footings_sheet(const Brief& brief, const Refit& refit, const SheetSize& size) {
  const std::vector<MarkFound> marks = marks_found(brief, refit);
  const Extent extent = extent_of(brief, marks);
  const double top = kHead + kLine * static_cast<double>(refit.supports.size() + 1);
  const auto box = [&](double height) {
    return fit(extent, {2, top}, {size.width_mm - 4, height - top - kLow});
  };
  const double drawn = extent.size().y() * box(size.height_mm).mm_per_m;
  Sheet sheet{
      size.width_mm, std::min(size.height_mm, drawn + top + kLow + 1), "Footings as found", {}};
  const SheetMap map = box(sheet.height_mm);
  add_words(sheet, brief, refit);
  sheet.path(map(brief.plan.outline), true, {std::nullopt, kBlack, 0.15, 0.8});
  Labels labels;
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k)
    for (const Support& s : brief.plan.supports)
      if (s.id == refit.supports[k]) add_support(sheet, map, s, refit.footings[k].X, labels);
  for (const MarkFound& mark : marks) add_mark(sheet, map, mark, labels);
  for (std::size_t k = 0; k < refit.footings.size() && k < refit.supports.size(); ++k)
    for (const Support& s : brief.plan.supports) {
      if (s.id != refit.supports[k]) continue;
      labels.put(sheet, map(Vec2((s.a + s.b) / 2)), s.id, 2.5, 3);
    }
  for (const MarkFound& mark : marks)
    labels.put(sheet, map(Vec2(mark.drawn.head<2>())), mark.name.substr(mark.name.rfind(' ') + 1),
               1.9, 1.4, kDrawn);
  add_key(sheet, {4, sheet.height_mm - 2});
  add_scale_bar(sheet, map, {4, sheet.height_mm - 8.5});
  return sheet;
}

}  // namespace skewback::deliver
