#include "deliver/report_access.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

constexpr Colour kFails{250, 226, 214};

std::string figure(const AccessFinding& f, double value) {
  return f.unit == "m" ? fixed(value, value < 0.02 ? 4 : 2) + " m" : fixed(100 * value, 1) + " %";
}

std::string place(const AccessFinding& f) {
  if (f.line.empty()) return "everywhere";
  return f.line + ", " + fixed(f.along_m, 2) + " m";
}

void add_findings(Pages& pages, const AccessReport& access) {
  std::vector<Row> rows;
  for (const AccessFinding& f : access.findings) {
    rows.push_back({{f.what, place(f), figure(f, f.found), figure(f, f.limit),
                     f.complies ? "complies" : "does not comply", f.source},
                    f.complies ? std::nullopt : std::optional(kFails)});
  }
  pages.table({{"", 1.1},
               {"where, from the support", 1.7},
               {"found", 0.7, true},
               {"limit", 0.7, true},
               {"", 1.1},
               {"source", 3}},
              rows);
  for (const AccessFinding& f : access.findings)
    if (!f.complies && !f.remedy.empty())
      pages.bullet(f.what + ", " + place(f) + ": " + f.remedy + ".");
}

void add_parts(Pages& pages, const AccessReport& access) {
  if (access.parts.empty()) return;
  pages.keep(45);
  pages.subheading("Parts of the walkway, in the order of laying");
  std::vector<Row> rows;
  for (const WalkPart& part : access.parts) {
    rows.push_back({{std::to_string(part.order), part.id, word(part.kind), fixed(part.from_m, 2),
                     fixed(part.length_m, 2), fixed(part.width_m, 2), fixed(part.weight_kg, 1),
                     joined(part.blocks, ", "), part.note},
                    {}});
  }
  pages.table({{"", 0.4, true},
               {"part", 1},
               {"", 1.2},
               {"from (m)", 0.7, true},
               {"long, of a frame high (m)", 1, true},
               {"wide (m)", 0.6, true},
               {"kg", 0.6, true},
               {"on blocks", 1.6},
               {"", 2.4}},
              rows);
}

void add_timber(Pages& pages, const AccessReport& access) {
  if (!access.sticks) return;
  const Sticks& t = *access.sticks;
  const auto mm = [](double m) { return fixed(1000 * m, 0); };
  pages.keep(35);
  pages.subheading("Timber of the walkway");
  pages.paragraph(
      "The least of each series that carries people and the concentrated load (C24, outdoors; EN "
      "1995-1-1, figures from memory). A board of 200 mm, a bearer and a cap take the concentrated "
      "load alone.");
  const auto row = [](const std::string& part, const std::string& size, const StickUse& use) {
    return Row{{part, size, fixed(use.utilisation, 2), use.what}, {}};
  };
  pages.table({{"", 1.2}, {"size (mm)", 2}, {"used", 0.6, true}, {"by", 2}},
              {row("boards across", mm(t.board_m) + " thick", t.board),
               row(std::to_string(t.bearers) + " bearers along",
                   mm(t.bearer_width_m) + " x " + mm(t.bearer_depth_m) + ", sag " +
                       fixed(1000 * t.sag_m, 1) + " of " + fixed(1000 * t.sag_limit_m, 1) + " mm",
                   t.bearer),
               row("frames", "caps 100 x 100 on " + std::to_string(t.posts) + " posts", t.cap)});
}

Json sticks_json(const Sticks& t) {
  const auto use = [](const StickUse& u) {
    return Json{{"utilisation", u.utilisation}, {"by", u.what}};
  };
  return {{"bearers", t.bearers},
          {"posts", t.posts},
          {"board_m", t.board_m},
          {"bearer_width_m", t.bearer_width_m},
          {"bearer_depth_m", t.bearer_depth_m},
          {"sag_m", t.sag_m},
          {"sag_limit_m", t.sag_limit_m},
          {"board", use(t.board)},
          {"bearer", use(t.bearer)},
          {"cap", use(t.cap)}};
}

Json point(const Vec3& p) { return Json::array({p.x(), p.y(), p.z()}); }

Json findings_json(const AccessReport& access) {
  Json out = Json::array();
  for (const AccessFinding& f : access.findings)
    out.push_back({{"what", f.what},
                   {"line", f.line},
                   {"along_m", f.along_m},
                   {"at", f.line.empty() ? Json(nullptr) : point(f.at)},
                   {"found", f.found},
                   {"limit", f.limit},
                   {"unit", f.unit},
                   {"complies", f.complies},
                   {"source", f.source},
                   {"remedy", f.remedy}});
  return out;
}

Json parts_json(const AccessReport& access) {
  Json out = Json::array();
  for (const WalkPart& part : access.parts)
    out.push_back({{"order", part.order},
                   {"id", part.id},
                   {"kind", word(part.kind)},
                   {"line", part.line},
                   {"from_m", part.from_m},
                   {"to_m", part.to_m},
                   {"length_m", part.length_m},
                   {"width_m", part.width_m},
                   {"gradient", part.gradient},
                   {"weight_kg", part.weight_kg},
                   {"blocks", part.blocks},
                   {"note", part.note}});
  return out;
}

}  // namespace

void add_access(Pages& pages, const Brief& brief, const AccessReport& access) {
  pages.heading("Walk");
  pages.paragraph(std::string(access.complies
                                  ? "Everything that was judged of the walk complies. "
                                  : "The walk does not comply in all that was judged. ") +
                  "Steepest over any 0.6 m: " + fixed(100 * access.gradient_max, 1) +
                  " %, asked for " + fixed(100 * brief.access.gradient_max, 1) +
                  " %. Limits are those of the brief; where the building is, others may rule.");
  if (!access.lines.empty()) pages.figure(access_sheet(brief, access, pages.width_mm()), "");
  add_findings(pages, access);
  add_timber(pages, access);
  add_parts(pages, access);
  for (const std::string& remark : access.remarks) pages.bullet(remark + ".");
}

Json access_json(const AccessReport& access) {
  Json lines = Json::array();
  for (const WalkLine& line : access.lines)
    lines.push_back({{"name", line.name},
                     {"length_m", line.length_m},
                     {"rise_m", line.rise_m},
                     {"gradient_max", line.gradient_max},
                     {"gradient_at_m", line.gradient_at_m},
                     {"drawn", line.drawn}});
  return {{"gradient_max", access.gradient_max},
          {"complies", access.complies},
          {"lines", std::move(lines)},
          {"findings", findings_json(access)},
          {"parts", parts_json(access)},
          {"timber", access.sticks ? sticks_json(*access.sticks) : Json(nullptr)},
          {"parts_kg", access.parts_kg},
          {"brief_kg", access.brief_kg},
          {"one_sided_kg", access.one_sided_kg},
          {"remarks", access.remarks}};
}

}  // namespace skewback::deliver
