#include <algorithm>
#include <array>
#include <cmath>

#include "deliver/force_picture_sheet.hpp"
#include "deliver/text.hpp"
#include "form/force_picture.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kHead = 20, kFoot = 14;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

// The arm of a strut: that of the first triangle at either of its ends.
std::vector<int> arms_of_struts(const Form& form) {
  std::vector<int> of_vertex(form.vertices.size(), 0);
  for (std::size_t t = form.triangles.size(); t-- > 0;)
    for (int v : form.triangles[t]) of_vertex[at(v)] = form.arm[t];
  std::vector<int> out;
  for (const NetEdge& e : form.edges) out.push_back(of_vertex[at(e.a)]);
  return out;
}

struct Box {
  Vec2 at, size;
};

// Struts of one arm in one pen: one shape.
template <typename Ends>
void add_struts(Sheet& sheet, const Form& form, const std::vector<int>& arms,
                const std::vector<double>& widths, const SheetMap& map, const Ends& ends) {
  for (int arm = 0; arm < static_cast<int>(form.arms.size()); ++arm)
    for (const double width : {0.08, 0.16, 0.3, 0.5}) {
      Shape shape{{}, false, {std::nullopt, arm_colour(arm), width}};
      for (std::size_t k = 0; k < form.edges.size(); ++k)
        if (arms[k] == arm && widths[k] == width) shape.rings.push_back(map(ends(k)));
      if (!shape.rings.empty()) sheet.items.emplace_back(std::move(shape));
    }
}

std::vector<double> widths_of(const Form& form) {
  std::vector<double> force;
  double most = 0;
  for (const NetEdge& e : form.edges) {
    force.push_back(e.q * (form.vertices[at(e.b)] - form.vertices[at(e.a)]).head<2>().norm());
    most = std::max(most, force.back());
  }
  for (double& f : force) f = f > most / 2 ? 0.5 : f > most / 4 ? 0.3 : f > most / 8 ? 0.16 : 0.08;
  return force;
}

double greatest_force(const Form& form) {
  double most = 0;
  for (const NetEdge& e : form.edges)
    most = std::max(most, e.q * (form.vertices[at(e.b)] - form.vertices[at(e.a)]).head<2>().norm());
  return most;
}

void add_plan(Sheet& sheet, const Dossier& dossier, const Box& box, const std::vector<int>& arms,
              const std::vector<double>& widths) {
  const Form& form = *dossier.form;
  Extent extent;
  for (const Vec3& p : form.vertices) extent.add(p.head<2>());
  const SheetMap map = fit(extent, box.at, box.size);
  add_struts(sheet, form, arms, widths, map, [&](std::size_t k) {
    return std::vector<Vec2>{form.vertices[at(form.edges[k].a)].head<2>(),
                             form.vertices[at(form.edges[k].b)].head<2>()};
  });
  for (const Support& s : dossier.brief.plan.supports) {
    sheet.line(map(s.a), map(s.b), {std::nullopt, kBlack, 0.6});
    Words name{map((s.a + s.b) / 2), s.id, 2.8, Anchor::kMiddle, true};
    name.halo = true;
    sheet.items.emplace_back(std::move(name));
  }
  add_scale_bar(sheet, map, {kMargin, sheet.height_mm - kMargin - 4});
}

void add_thrusts(Sheet& sheet, const Dossier& dossier, const ForcePicture& picture,
                 const SheetMap& map) {
  const auto& supports = dossier.brief.plan.supports;
  for (std::size_t k = 0; k < supports.size(); ++k) {
    const auto [before, after] = picture.supports[k];
    if (before < 0 || after < 0) continue;
    const Vec2 a = map(picture.points[at(before)]), b = map(picture.points[at(after)]);
    sheet.arrow(a, b, {std::nullopt, kBlack, 0.5}, 2.4);
    const double kn = (picture.points[at(after)] - picture.points[at(before)]).norm() / 1e3;
    // two thrusts lie in one line
    const Vec2 off(0, supports.size() == 2 ? (k == 0 ? -1.8 : 4.2) : 0.0);
    Words words{(a + b) / 2 + off, supports[k].id + ": " + fixed(kn, 1) + " kN", 2.6,
                Anchor::kMiddle, true};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
}

double round_length(double most) {  // 1, 2 or 5 times a power of ten
  const double base = std::pow(10.0, std::floor(std::log10(most)));
  return base * (most >= 5 * base ? 5 : most >= 2 * base ? 2 : 1);
}

void add_forces(Sheet& sheet, const Dossier& dossier, const ForcePicture& picture, const Box& box,
                const std::vector<int>& arms, const std::vector<double>& widths) {
  const Form& form = *dossier.form;
  Extent extent;
  for (const Vec2& p : picture.points) extent.add(p);
  const Vec2 span = extent.size().cwiseMax(1e-9);
  SheetMap map;
  map.mm_per_m = std::min(box.size.x() / span.x(), box.size.y() / span.y());  // here mm per N
  const Vec2 middle = (extent.low + extent.high) / 2;
  map.corner = box.at + box.size / 2 + map.mm_per_m * Vec2(-middle.x(), middle.y());
  add_struts(sheet, form, arms, widths, map, [&](std::size_t k) {
    return std::vector<Vec2>{picture.points[at(picture.struts[k][0])],
                             picture.points[at(picture.struts[k][1])]};
  });
  add_thrusts(sheet, dossier, picture, map);
  const double step = round_length(50 / map.mm_per_m);
  const Vec2 bar(box.at.x(), sheet.height_mm - kMargin - 2.4);
  sheet.line(bar, bar + Vec2(step * map.mm_per_m, 0), {std::nullopt, kBlack, 0.5});
  sheet.words(bar + Vec2(step * map.mm_per_m + 2, 0.8),
              fixed(step / 1e3, step < 1e3 ? 1 : 0) + " kN", 2.4);
}

}  // namespace

Sheet force_picture_sheet(const Dossier& dossier, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  sheet.title = dossier.brief.title + ": net and force picture";
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  const Form& form = *dossier.form;
  const ForcePicture picture =
      force_picture(form, static_cast<int>(dossier.brief.plan.supports.size()));
  const std::vector<int> arms = arms_of_struts(form);
  const std::vector<double> widths = widths_of(form);
  sheet.words({kMargin, kMargin + 9},
              "Left the net in plan, right the horizontal forces of all its " +
                  std::to_string(form.edges.size()) +
                  " struts: each line there is parallel to its strut and as long as its force; "
                  "the lines of the struts at a node close round it.",
              2.4);
  sheet.words({kMargin, kMargin + 13},
              "Thick lines carry more than a half, a quarter, an eighth of the greatest force, " +
                  fixed(greatest_force(form) / 1e3, 2) +
                  " kN. Arrows: thrust of the whole on each support. Dead load. Closing error: " +
                  scientific(picture.closure_n) + " N, " + scientific(picture.closure_rel) +
                  " of the greatest thrust.",
              2.4);
  const double half = size.width_mm / 2;
  const Vec2 room(half - 2 * kMargin, size.height_mm - 2 * kMargin - kHead - kFoot);
  add_plan(sheet, dossier, {{kMargin, kMargin + kHead}, room}, arms, widths);
  add_forces(sheet, dossier, picture, {{half + kMargin, kMargin + kHead}, room}, arms, widths);
  return sheet;
}

}  // namespace skewback::deliver
