#include "deliver/motion_rose.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kHead = 16, kWords = 22, kRim = 13;  // mm
constexpr Colour kHeldFill{86, 180, 233}, kHeldLine{0, 114, 178}, kRing{205, 205, 205};

struct Ray {
  double angle = 0;  // from east over north
  const MotionReach* reach = nullptr;
};

struct Rose {
  int block = -1;
  std::vector<Ray> rays;  // by angle
  std::vector<const MotionReach*> ways;
};

std::vector<Rose> roses_of(const MotionReaches& reaches) {
  std::vector<Rose> roses;
  for (const MotionReach& r : reaches.ways) {
    if (roses.empty() || roses.back().block != r.block) roses.push_back({r.block, {}, {}});
    if (r.bearing_rad)
      roses.back().rays.push_back({*r.bearing_rad, &r});
    else
      roses.back().ways.push_back(&r);
  }
  for (Rose& rose : roses) {
    if (!rose.rays.empty()) continue;
    for (const MotionReach* r : rose.ways)
      if (!r->is_turn && r->unit.shift.z() == 0) {
        const double angle = std::atan2(r->unit.shift.y(), r->unit.shift.x());
        rose.rays.push_back({angle < 0 ? angle + 2 * kPi : angle, r});
      }
    std::ranges::sort(rose.rays, {}, &Ray::angle);
  }
  std::erase_if(roses, [](const Rose& rose) { return rose.rays.size() < 4; });
  return roses;
}

double most_held(const std::vector<Rose>& roses) {
  double most = 0;
  for (const Rose& rose : roses)
    for (const Ray& ray : rose.rays) most = std::max(most, ray.reach->held);
  return most;
}

/// 1, 2 or 5 times a power of ten, so that two to five of them make `most`.
double ring_step(double most) {
  double step = std::pow(10, std::floor(std::log10(most)));
  if (most / step < 2) return step / 2;
  return most / step > 5 ? 2 * step : step;
}

std::string millimetres(double metres) { return fixed(1000 * metres, metres < 0.01 ? 1 : 0); }

Vec2 towards(double angle) { return {std::cos(angle), -std::sin(angle)}; }  // on the sheet

void add_words(Sheet& sheet, const Vec2& at, const std::string& text, double size, bool bold,
               Colour colour = kBlack) {
  Words words{at, text, size, Anchor::kMiddle, bold, colour};
  words.halo = true;
  sheet.items.emplace_back(std::move(words));
}

void add_rings(Sheet& sheet, const Vec2& centre, double radius, double most) {
  const double step = ring_step(most);
  for (int k = 1; k * step <= most * 1.001; ++k) {
    std::vector<Vec2> ring;
    for (int side = 0; side < 90; ++side)
      ring.push_back(centre + radius * k * step / most * towards(2 * kPi * side / 90));
    sheet.path(ring, true, {std::nullopt, kRing, 0.2});
    add_words(sheet, centre + Vec2(0, radius * k * step / most + 0.8), millimetres(k * step), 2,
              false, kGrey);
  }
}

void add_rays(Sheet& sheet, const Vec2& centre, double mm_per_m, const Rose& rose) {
  std::vector<Vec2> edge;
  for (const Ray& ray : rose.rays)
    edge.push_back(centre + mm_per_m * ray.reach->held * towards(ray.angle));
  Pen held{kHeldFill, kHeldLine, 0.5};
  held.opacity = 0.35;
  sheet.path(edge, true, held);
  for (std::size_t i = 0; i < edge.size(); ++i) {
    const MotionReach& r = *rose.rays[i].reach;
    sheet.line(centre, edge[i], {std::nullopt, kHeldLine, 0.15});
    if (r.beyond)
      sheet.dot(edge[i], 0.9, {Colour{255, 255, 255}, kHeldLine, 0.4});
    else
      sheet.dot(edge[i], 0.8, {r.not_settled ? kGrey : kHeldLine, std::nullopt, 0});
    add_words(sheet, edge[i] + 4.2 * towards(rose.rays[i].angle) + Vec2(0, 0.8),
              (r.beyond ? "> " : "") + millimetres(r.held), 2.4, false);
  }
}

std::string with_unit(const MotionReach& r) {
  const std::string sign = r.beyond ? "> " : "";
  return r.is_turn ? sign + fixed(r.held * 180 / kPi, 1) + " deg"
                   : sign + millimetres(r.held) + " mm";
}

std::vector<std::string> words_of(const Rose& rose) {
  std::vector<std::string> shifts, turns, lines;
  for (const MotionReach* r : rose.ways)
    (r->is_turn ? turns : shifts).push_back(r->way + " " + with_unit(*r));
  for (const auto* group : {&shifts, &turns})
    if (!group->empty())
      for (std::string& line : broken(joined(*group, ", "), 92)) lines.push_back(std::move(line));
  return lines;
}

std::string thrust_words(const Rose& rose) {
  const MotionReach* least = nullptr;
  for (const Ray& ray : rose.rays)
    if (!ray.reach->beyond && (least == nullptr || ray.reach->held < least->held))
      least = ray.reach;
  if (least == nullptr || least->path.empty()) return "";
  return "least " + with_unit(*least) + " (" + least->way + "): thrust " +
         fixed(least->path.front().thrust_n / 1000, 1) + " kN at the start, " +
         fixed(least->path.back().thrust_n / 1000, 1) + " kN at the last rest";
}

void add_outward(Sheet& sheet, const Vec2& centre, double radius, const Rose& rose) {
  const auto out =
      std::ranges::find_if(rose.ways, [](const MotionReach* r) { return r->way == "outward"; });
  if (out == rose.ways.end()) return;
  const Vec3& way = (*out)->unit.shift;
  const Vec2 d = towards(std::atan2(way.y(), way.x()));
  sheet.arrow(centre, centre + 0.3 * radius * d, {kThrust, kThrust, 0.6}, 2);
}

void add_rose(Sheet& sheet, const Assembly& assembly, const Rose& rose, const Vec2& corner,
              const Vec2& cell, double most) {
  const double radius = std::min(cell.x() / 2, (cell.y() - kWords) / 2) - kRim;
  const Vec2 centre = corner + Vec2(cell.x() / 2, kRim + radius);
  add_rings(sheet, centre, radius, most);
  add_rays(sheet, centre, radius / most, rose);
  add_outward(sheet, centre, radius, rose);
  double y = centre.y() + radius + kRim;
  add_words(sheet, {centre.x(), y}, assembly.blocks[static_cast<std::size_t>(rose.block)].id, 3,
            true);
  std::vector<std::string> lines = words_of(rose);
  if (const std::string thrust = thrust_words(rose); !thrust.empty())
    lines.insert(lines.begin(), thrust);
  for (const std::string& line : lines) add_words(sheet, {centre.x(), y += 3.6}, line, 2.2, false);
}

}  // namespace

Sheet motion_rose_sheet(const Assembly& assembly, const MotionReaches& reaches,
                        const SheetSize& size) {
  Sheet sheet{
      size.width_mm, size.height_mm, "How far each footing may go until blocks move off", {}};
  const std::vector<Rose> roses = roses_of(reaches);
  const double most = most_held(roses);
  if (!(most > 0)) return sheet;
  Words title{{kMargin, kMargin + 3}, sheet.title, 4.2};
  title.bold = true;
  sheet.items.emplace_back(title);
  sheet.words(
      {kMargin, kMargin + 8},
      "Millimetres, one footing moved slowly at a time, friction and joints as given; edge: "
      "the furthest at which all came to rest. Open dot: the most that was tried. Grey dot: "
      "beyond it, not settled. Orange: outward. North up.",
      2.3);
  const auto count = static_cast<double>(roses.size());
  const double across = roses.size() <= 3 ? count : std::ceil(count / 2);
  const double rows = std::ceil(count / across);
  const Vec2 cell((size.width_mm - 2 * kMargin) / across,
                  (size.height_mm - kMargin - kHead - kMargin) / rows);
  for (std::size_t i = 0; i < roses.size(); ++i) {
    const double column = std::fmod(static_cast<double>(i), across),
                 row = std::floor(static_cast<double>(i) / across);
    add_rose(sheet, assembly, roses[i],
             {kMargin + column * cell.x(), kMargin + kHead + row * cell.y()}, cell, most);
  }
  return sheet;
}

nlohmann::ordered_json motion_reach_json(const Assembly& assembly, const MotionReaches& reaches) {
  using Json = nlohmann::ordered_json;
  const auto maybe = [](const std::optional<double>& v) { return v ? Json(*v) : Json(nullptr); };
  const auto id = [&](int block) {
    return block < 0 ? Json(nullptr) : Json(assembly.blocks[static_cast<std::size_t>(block)].id);
  };
  Json ways = Json::array();
  for (const MotionReach& r : reaches.ways) {
    Json path = Json::array();
    for (const ReachStep& step : r.path)
      path.push_back({{"gone", step.gone}, {"thrust_n", step.thrust_n}});
    ways.push_back({{"footing", id(r.block)},
                    {"way", r.way},
                    {"unit", r.is_turn ? "rad" : "m"},
                    {"bearing_rad", maybe(r.bearing_rad)},
                    {"held", r.held},
                    {"beyond", r.beyond},
                    {"moved_off", maybe(r.moved_off)},
                    {"not_settled", maybe(r.not_settled)},
                    {"falling_block", id(r.falling_block)},
                    {"path", path}});
  }
  return {{"start", word(reaches.start.ending)}, {"ways", ways}};
}

}  // namespace skewback::deliver
