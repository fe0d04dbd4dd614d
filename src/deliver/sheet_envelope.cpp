#include <algorithm>
#include <cmath>

#include "deliver/drawings.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kLeft = 16, kRight = 4, kTop = 9, kGap = 13, kFoot = 11;

struct Panel {  // stations across, a value up
  Vec2 at, size;
  double x_most = 1, low = 0, high = 1;
  [[nodiscard]] Vec2 operator()(double x, double y) const {
    return {at.x() + size.x() * x / x_most, at.y() + size.y() * (1 - (y - low) / (high - low))};
  }
};

void add_frame(Sheet& sheet, const Panel& panel, const std::vector<double>& levels,
               const std::string& title, int digits) {
  for (const double level : levels) {
    sheet.line(panel(0, level), panel(panel.x_most, level), {std::nullopt, kGrey, 0.12, 1.2});
    sheet.words(panel(0, level) + Vec2(-1, 0.8), fixed(level, digits), 2.1, Anchor::kEnd);
  }
  sheet.path({panel.at, panel.at + Vec2(panel.size.x(), 0), panel.at + panel.size,
              panel.at + Vec2(0, panel.size.y())},
             true, {std::nullopt, kBlack, 0.2});
  sheet.words(panel.at + Vec2(0, -1.2), title, 2.4);
}

void add_band(Sheet& sheet, const std::vector<Vec2>& low, const std::vector<Vec2>& high,
              Colour colour) {
  std::vector<Vec2> ring = low;
  ring.insert(ring.end(), high.rbegin(), high.rend());
  sheet.path(ring, true, {colour, std::nullopt, 0, 0, 0.35});
  sheet.path(low, false, {std::nullopt, colour, 0.4});
  sheet.path(high, false, {std::nullopt, colour, 0.4});
  for (const auto& line : {low, high}) {
    for (const Vec2& p : line) sheet.dot(p, 0.45, {colour, std::nullopt, 0});
  }
}

std::vector<double> round_levels(double most) {
  const double rough = most / 3, base = std::pow(10.0, std::floor(std::log10(rough)));
  const double step = base * (rough / base >= 5 ? 5 : rough / base >= 2 ? 2 : 1);
  std::vector<double> levels;
  for (double level = 0; level <= most; level += step) levels.push_back(level);
  return levels;
}

}  // namespace

Sheet envelope_sheet(const Dossier& dossier, const SheetSize& size) {
  const auto& envelopes = dossier.envelopes;
  const std::size_t arms =
      dossier.brief.plan.supports.size() + (dossier.brief.plan.second_meeting ? 2 : 0);
  const double row = 44;
  Sheet sheet{size.width_mm, static_cast<double>(arms) * row + kFoot, "Envelopes of all cases", {}};
  double normal_most = 0, phi_most = 0;
  for (const CourseEnvelope& e : envelopes) {
    normal_most = std::max(normal_most, e.normal_n.greatest / 1000);
    phi_most = std::max(phi_most, e.phi_m);
  }
  if (!(normal_most > 0)) return sheet;
  const double width = (size.width_mm - 2 * kLeft - kGap / 2 - kRight) / 2;
  for (std::size_t arm = 0; arm < arms; ++arm) {
    const double top = kTop + row * static_cast<double>(arm);
    Panel place{{kLeft, top}, {width, row - kTop - 7}, phi_most, -1.05, 1.05};
    Panel normal{{2 * kLeft + width + kGap / 2, top}, place.size, phi_most, 0, 1.1 * normal_most};
    const std::string id = arm_name(dossier.brief, static_cast<int>(arm));
    add_frame(sheet, place, {-1, -1.0 / 3, 0, 1.0 / 3, 1}, id + ": where the thrust lies", 2);
    add_frame(sheet, normal, round_levels(normal_most), id + ": force square to the joints, kN", 0);
    std::vector<Vec2> low, high, least, most;
    for (const CourseEnvelope& e : envelopes) {
      if (e.arm != static_cast<int>(arm) || e.normal_n.case_least < 0) continue;
      low.push_back(place(e.phi_m, std::clamp(e.place.least, -1.05, 1.05)));
      high.push_back(place(e.phi_m, std::clamp(e.place.greatest, -1.05, 1.05)));
      least.push_back(normal(e.phi_m, e.normal_n.least / 1000));
      most.push_back(normal(e.phi_m, e.normal_n.greatest / 1000));
    }
    add_band(sheet, low, high, arm_colour(static_cast<int>(arm)));
    add_band(sheet, least, most, arm_colour(static_cast<int>(arm)));
    for (const Panel& panel : {place, normal}) {
      for (double x = 0; x <= phi_most; x += 1) {
        sheet.words(panel(x, panel.low) + Vec2(0, 3), fixed(x, 0), 2.1, Anchor::kMiddle);
      }
    }
  }
  sheet.words(
      {kLeft, sheet.height_mm - 6},
      "Across: metres along the flow from the springing. Left, up: share of half the depth, "
      "-1 intrados, 1 extrados;",
      2.3);
  sheet.words({kLeft, sheet.height_mm - 2.5}, "within 1/3 all of the joint is pressed.", 2.3);
  return sheet;
}

}  // namespace skewback::deliver
