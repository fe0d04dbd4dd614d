#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "base/constants.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/haul_sheets.hpp"
#include "deliver/outline.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kHead = 16;
constexpr Colour kSling{0, 114, 178}, kCrane{213, 94, 0}, kSecond{0, 125, 90},
    kBlockFill{222, 218, 208};
constexpr std::size_t kColours = 10;
constexpr double kStandRadius_m = 0.6;

Ramp share_ramp() { return {0, 1, {{225, 238, 220}, {240, 200, 70}, {205, 80, 0}}, kColours}; }

void add_title(Sheet& sheet, const std::string& under) {
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 7}, under, 2.4);
}

struct Frame2 {
  Vec2 low, high;
  [[nodiscard]] bool holds(const Vec2& p) const {
    return (p.array() >= low.array()).all() && (p.array() <= high.array()).all();
  }
};

struct Stand {
  Vec2 at;
  std::string numeral;  // empty: the only one
  Colour colour;
  double dash_mm = 2;
};

/// Where something of the drawing lies, or its frame ends.
Labels taken_by(const SheetMap& map, const Frame2& box, const LiftPlan& plan,
                const std::vector<Vec2>& stands) {
  constexpr double kFar = 1e4;
  Labels labels;
  labels.block({-kFar, -kFar}, {box.low.x(), kFar});
  labels.block({box.high.x(), -kFar}, {kFar, kFar});
  labels.block({-kFar, -kFar}, {kFar, box.low.y()});
  labels.block({-kFar, box.high.y()}, {kFar, kFar});
  for (const BlockLift& lift : plan.lifts) {
    const Vec2 at = map(lift.centre.head<2>()), half(2.5, 1.2);
    labels.block(at - half, at + half);
  }
  const Vec2 round = Vec2::Constant(kStandRadius_m * map.mm_per_m + 0.3);
  for (const Vec2& at : stands) labels.block(map(at) - round, map(at) + round);
  return labels;
}

/// Beside a point, or led away from it; where all is taken, over what lies there.
void name(Sheet& sheet, Labels& labels, const Vec2& at, const std::string& text, double size_mm,
          double away_mm, Colour colour) {
  constexpr double kLed = 30;
  if (labels.put_led(sheet, at, text, size_mm, away_mm, kLed, colour)) return;
  Words words{at, text, size_mm, Anchor::kMiddle};
  words.halo = true;
  words.colour = colour;
  sheet.items.emplace_back(std::move(words));
}

/// The part of a circle of the chart that falls on the drawing: its points.
std::vector<Vec2> add_circle(Sheet& sheet, const SheetMap& map, const Frame2& box,
                             const Stand& stand, double radius_m) {
  constexpr int kSteps = 360;
  std::vector<Vec2> run;
  const auto end_run = [&] {
    if (run.size() > 1) sheet.path(run, false, {std::nullopt, stand.colour, 0.2, stand.dash_mm});
    run.clear();
  };
  std::vector<Vec2> seen;
  for (int i = 0; i <= kSteps; ++i) {
    const double angle = 2 * kPi * i / kSteps;
    const Vec2 p = map(stand.at + radius_m * Vec2(std::cos(angle), std::sin(angle)));
    if (box.holds(p)) {
      run.push_back(p);
      seen.push_back(p);
    } else {
      end_run();
    }
  }
  end_run();
  return seen;
}

/// A circle's name where it is farthest from all blocks, and from the frame, of the places that are
/// free.
void name_circle(Sheet& sheet, const SheetMap& map, const Frame2& box, const LiftPlan& plan,
                 const Stand& stand, const CraneReach& reach, std::vector<Vec2> seen,
                 Labels& labels) {
  constexpr double kSize = 2.4;
  if (seen.empty()) return;
  const auto room = [&](const Vec2& p) {
    double least = std::min({p.x() - box.low.x(), box.high.x() - 30 - p.x(), p.y() - box.low.y(),
                             box.high.y() - p.y(), 20.0});
    for (const BlockLift& lift : plan.lifts)
      least = std::min(least, (map(lift.centre.head<2>()) - p).norm() - 1.2 * map.mm_per_m);
    return least;
  };
  std::ranges::stable_sort(seen, std::greater{}, room);
  const std::string text = (stand.numeral.empty() ? "" : stand.numeral + ", ") +
                           fixed(reach.radius_m, 1) + " m: " + fixed(reach.capacity_kg, 0) + " kg";
  for (const Vec2& p : seen) {
    if (!labels.put(sheet, p, text, kSize, 1, stand.colour)) continue;
    // the next ones elsewhere, so that it is seen which circle each is beside
    const Vec2 round(0.7 * kSize * static_cast<double>(text.size()), 2 * kSize);
    labels.block(p - round, p + round);
    return;
  }
  name(sheet, labels, seen.front(), text, kSize, 1, stand.colour);
}

void add_blocks(Sheet& sheet, const SheetMap& map, const Assembly& assembly, const LiftPlan& plan,
                bool coloured) {
  const Ramp ramp = share_ramp();
  for (const BlockLift& lift : plan.lifts) {
    const Regions outline =
        silhouette(assembly.blocks[static_cast<std::size_t>(lift.block)].solid, plan_view());
    const Colour fill = !coloured ? kBlockFill
                        : std::isfinite(lift.crane_share)
                            ? ramp.colour(ramp.step_of(lift.crane_share))
                            : kBlack;
    sheet.regions(map(outline), {fill, kBlack, 0.12});
  }
  for (const BlockLift& lift : plan.lifts) {
    if (lift.slings.empty()) continue;
    for (const Vec3& s : lift.slings) sheet.dot(map(s.head<2>()), 0.45, {kSling, std::nullopt});
  }
  for (std::size_t i = 0; i < plan.lifts.size(); ++i) {
    Words words{map(plan.lifts[i].centre.head<2>()) + Vec2(0, 0.7),
                std::to_string(i + 1) + (plan.lifts[i].stand > 1 ? " II" : ""), 2.0,
                Anchor::kMiddle};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
}

void add_stand(Sheet& sheet, const SheetMap& map, const Vec2& at, const std::string& text,
               Colour colour, Labels& labels) {
  const double r = kStandRadius_m * map.mm_per_m;
  sheet.dot(map(at), r, {Colour{255, 255, 255}, colour, 0.5});
  sheet.dot(map(at), 0.8, {colour, std::nullopt});
  name(sheet, labels, map(at), text, 2.6, 1.5 * (r + 0.4), colour);
}

/// Its stands, their circles, the lorry; then the names, each clear of the others.
void add_crane(Sheet& sheet, const SheetMap& map, const Frame2& box, const LiftRequest& request,
               const LiftPlan& plan) {
  const bool twice = request.second_stand.has_value();
  std::vector<Stand> stands{{*request.crane, twice ? "I" : "", kCrane}};
  if (twice) stands.push_back({*request.second_stand, "II", kSecond, 0.8});
  std::vector<Vec2> places;
  for (const Stand& stand : stands) places.push_back(stand.at);
  if (request.lorry) places.push_back(*request.lorry);
  Labels labels = taken_by(map, box, plan, places);
  std::vector<std::vector<Vec2>> seen;
  for (const Stand& stand : stands)
    for (const CraneReach& reach : request.chart)
      seen.push_back(add_circle(sheet, map, box, stand, reach.radius_m));
  for (const Stand& stand : stands)
    add_stand(sheet, map, stand.at,
              !twice                 ? "crane"
              : stand.numeral == "I" ? "I: crane, first stand"
                                     : "II: second stand",
              stand.colour, labels);
  if (request.lorry) add_stand(sheet, map, *request.lorry, "lorry", kBlack, labels);
  std::size_t next = 0;
  for (const Stand& stand : stands)
    for (const CraneReach& reach : request.chart)
      name_circle(sheet, map, box, plan, stand, reach, seen[next++], labels);
}

View view_along(const Vec3& right, const Vec3& origin) {
  View view;
  view.origin = origin;
  view.right = right;
  view.up = Vec3::UnitZ();
  view.towards = right.cross(Vec3::UnitZ());
  return view;
}

/// Level direction from the first sling line to the second.
Vec3 across_of(const BlockLift& lift) {
  const std::size_t half = lift.slings.size() / 2;
  Vec3 way = lift.slings[half] - lift.slings[0];
  way.z() = 0;
  return way.norm() > 0 ? Vec3(way.normalized()) : Vec3(Vec3::UnitX());
}

std::vector<Vec3> heads_of(const LiftRequest& request, const BlockLift& lift) {
  std::vector<Vec3> heads(lift.slings.size(), lift.hook);
  if (!request.spreader) return heads;
  const Vec3 across = across_of(lift);
  for (std::size_t i = 0; i < heads.size(); ++i) {
    const double off = (lift.slings[i] - lift.centre).dot(across);
    heads[i] += off * across;
    if (request.sling_angle_rad > 0)
      heads[i].z() -= std::abs(off) / std::tan(request.sling_angle_rad);
  }
  return heads;
}

void add_view(Sheet& sheet, const Brief& brief, const Solid& solid, const BlockLift& lift,
              const View& view, const SheetMap& map) {
  sheet.regions(map(silhouette(solid, view)), {kBlockFill, kBlack, 0.25});
  const std::vector<Vec3> heads = heads_of(brief.lifting, lift);
  const Vec2 hook = map(view(lift.hook));
  for (std::size_t i = 0; i < lift.slings.size(); ++i) {
    sheet.line(map(view(heads[i])), map(view(lift.slings[i])), {std::nullopt, kSling, 0.5});
    sheet.dot(map(view(lift.slings[i])), 0.9, {kSling, std::nullopt});
    if (brief.lifting.spreader) sheet.line(hook, map(view(heads[i])), {std::nullopt, kSling, 0.3});
  }
  if (brief.lifting.spreader)
    sheet.line(map(view(heads.front())), map(view(heads.back())), {std::nullopt, kBlack, 1.0});
  sheet.dot(hook, 1.2, {kCrane, kBlack, 0.2});
  const Vec2 centre = map(view(lift.centre));
  sheet.line(hook, centre + Vec2(0, 8), {std::nullopt, kGrey, 0.18, 1.2});
  for (const Vec2& d : {Vec2(2, 0), Vec2(0, 2)})
    sheet.line(centre - d, centre + d, {std::nullopt, kBlack, 0.35});
  sheet.dot(centre, 0.7, {kBlack, std::nullopt});
}

Extent extent_of(const Solid& solid, const BlockLift& lift, const View& view) {
  Extent extent;
  for (const Vec3& v : solid.vertices) extent.add(view(v));
  extent.add(view(lift.hook));
  return extent;
}

double worst_of_block(const BlockLift& lift) {
  double worst = 0;
  for (const HandlingCheck& c : lift.checks) {
    if (!c.name.starts_with("crane") && c.name != "hook height")
      worst = std::max(worst, c.utilisation);
  }
  return worst;
}

}  // namespace

int hardest_lift(const LiftPlan& plan) {
  int found = -1;
  double most = -1;
  for (std::size_t i = 0; i < plan.lifts.size(); ++i) {
    const double worst = worst_of_block(plan.lifts[i]);
    if (plan.lifts[i].slings.empty() || worst <= most) continue;
    most = worst;
    found = static_cast<int>(i);
  }
  return found;
}

Sheet lift_plan_sheet(const Brief& brief, const Assembly& assembly, const LiftPlan& plan,
                      double width_mm) {
  Sheet sheet{width_mm, 0, "Lifting: reach of the crane", {}};
  add_title(sheet,
            std::string("Numbers: order of placing") +
                (brief.lifting.second_stand
                     ? " (II: lifted from the second stand, whose circles are II as well)"
                     : "") +
                ". Blue: where slings bear. Dashed: radii of the chart, with what the crane may "
                "lift up to there.");
  const double high = 0.6 * width_mm;
  const Frame2 box{{kMargin, kHead}, {width_mm - kMargin, kHead + high}};
  Extent extent;
  for (const BlockLift& lift : plan.lifts) {
    for (const Vec3& v : assembly.blocks[static_cast<std::size_t>(lift.block)].solid.vertices)
      extent.add(v.head<2>());
  }
  if (extent.empty()) return sheet;
  const bool crane = brief.lifting.crane.has_value();
  if (crane) {
    for (const auto& at : {brief.lifting.crane, brief.lifting.second_stand, brief.lifting.lorry}) {
      if (!at) continue;
      extent.add(*at - Vec2(1, 1));
      extent.add(*at + Vec2(1, 1));
    }
  }
  const SheetMap map = fit(extent, box.low + Vec2(2, 2), box.high - box.low - Vec2(4, 8));
  add_blocks(sheet, map, assembly, plan, crane && !brief.lifting.chart.empty());
  if (crane) {
    add_crane(sheet, map, box, brief.lifting, plan);
    if (!brief.lifting.chart.empty())
      add_ramp_key(sheet, {kMargin, box.high.y() + 10}, 75, share_ramp(), 100, 0, "% of the chart");
  }
  add_scale_bar(sheet, map, {kMargin, box.high.y() + 4});
  sheet.height_mm = box.high.y() + 19;
  return sheet;
}

Sheet hanging_sheet(const Brief& brief, const Assembly& assembly, const BlockLift& lift,
                    double width_mm) {
  Sheet sheet{width_mm, 0, "Lifting: " + lift.id + " in its slings", {}};
  add_title(sheet, "Cross: centre of gravity, under the hook. Blue: slings to where they bear.");
  if (lift.slings.empty()) {
    sheet.words({kMargin, kHead + 4}, "No place for slings was found.", 2.6);
    sheet.height_mm = kHead + 8;
    return sheet;
  }
  const Solid& solid = assembly.blocks[static_cast<std::size_t>(lift.block)].solid;
  const Vec3 across = across_of(lift), along = Vec3::UnitZ().cross(across);
  const View front = view_along(across, lift.centre), side = view_along(along, lift.centre);
  constexpr double kHigh = 92;
  const double left = 0.6 * (width_mm - 2 * kMargin), right = width_mm - 2 * kMargin - left;
  const Extent a = extent_of(solid, lift, front), b = extent_of(solid, lift, side);
  SheetMap one = fit(a, {kMargin, kHead}, {left - 4, kHigh});
  SheetMap two = fit(b, {kMargin + left, kHead}, {right, kHigh});
  if (two.mm_per_m > one.mm_per_m) {  // one scale for both
    const Vec2 middle = (b.low + b.high) / 2;
    const Vec2 centre(kMargin + left + right / 2, kHead + kHigh / 2);
    two.mm_per_m = one.mm_per_m;
    two.corner = {centre.x() - two.mm_per_m * middle.x(), centre.y() + two.mm_per_m * middle.y()};
  }
  add_view(sheet, brief, solid, lift, front, one);
  add_view(sheet, brief, solid, lift, side, two);
  double y = kHead + kHigh + 6;
  add_scale_bar(sheet, one, {kMargin, y});
  y += 7;
  const std::array<std::string, 3> lines = {
      fixed(lift.mass_kg, 0) + " kg; leg " + fixed(lift.sling_angle_rad * 180 / kPi, 1) +
          " degrees from the vertical, " + fixed(lift.leg_force_n / 1000, 2) + " kN; hook " +
          fixed(lift.hook.z() - lift.centre.z(), 2) + " m over the centre of gravity",
      "with legs of one length it would hang " + fixed(lift.tilt_rad * 180 / kPi, 1) +
          " degrees off; soffit falls " + fixed(lift.slope_rad * 180 / kPi, 1) +
          " degrees along the slings" +
          (lift.strap_n > 0
               ? ": a strap over each sling, by hand to " + fixed(lift.strap_n / 1000, 1) + " kN"
           : lift.cradle ? ": held by a cradle"
                         : ""),
      "may hang in gusts up to " + fixed(lift.wind_m_s, 1) + " m/s"};
  for (const std::string& line : lines) {
    sheet.words({kMargin, y}, line, 2.5);
    y += 3.6;
  }
  sheet.height_mm = y + 2;
  return sheet;
}

}  // namespace skewback::deliver
