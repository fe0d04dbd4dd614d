#include <algorithm>
#include <cmath>

#include "deliver/paper.hpp"
#include "deliver/survey_files.hpp"
#include "deliver/text.hpp"
#include "survey/feet.hpp"
#include "survey/marks.hpp"

namespace skewback::deliver {
namespace {

constexpr double kShownFrom = 1e-4;  // m
constexpr double kCardWide = 46, kCardHigh = 84, kPostTop = 22, kPostLow = 60;
constexpr Colour kTimber{232, 214, 180}, kCut{190, 30, 30}, kPack{213, 94, 0}, kLine{90, 70, 40};

std::string up_or_down(double raise_m) {
  if (std::abs(raise_m) < kShownFrom) return "HEAD AS DRAWN";
  return mm_words(std::abs(raise_m)) + " mm " + (raise_m < 0 ? "LOWER" : "HIGHER");
}

/// Broken in the middle, not to scale: head above, ground below.
void add_post(Sheet& sheet, const Vec2& at, const FootSetting& setting) {
  const double x = at.x() + 12, half = 3, pack = setting.pack_m > kShownFrom ? 3 : 0;
  const double top = at.y() + kPostTop, low = at.y() + kPostLow - pack, middle = (top + low) / 2;
  const Pen timber{kTimber, kLine, 0.25};
  sheet.path({{x - half, top}, {x + half, top}, {x + half, middle - 2}, {x - half, middle - 0.5}},
             true, timber);
  sheet.path({{x - half, middle + 1}, {x + half, middle - 0.5}, {x + half, low}, {x - half, low}},
             true, timber);
  sheet.path(
      {{x - half - 1, top}, {x - half - 1, top - 2}, {x + half + 1, top - 2}, {x + half + 1, top}},
      false, {std::nullopt, kLine, 0.3});
  sheet.line({at.x() + 2, at.y() + kPostLow}, {at.x() + 23, at.y() + kPostLow},
             {std::nullopt, kBlack, 0.4});
  if (pack > 0)
    sheet.path({{x - half - 1, low},
                {x + half + 1, low},
                {x + half + 1, low + pack},
                {x - half - 1, low + pack}},
               true, {kPack, kBlack, 0.2, 0, 0.6});
  if (setting.trim_m > kShownFrom)
    sheet.line({x - half - 3, low - 5}, {x + half + 3, low - 5}, {std::nullopt, kCut, 0.4, 1.2});
  if (std::abs(setting.by_wedge_m) > kShownFrom) {
    const double from = at.y() + 41, way = setting.by_wedge_m > 0 ? -8 : 8;
    sheet.arrow({x - half - 3, from}, {x - half - 3, from + way}, {std::nullopt, kBlack, 0.5}, 2.4);
  }
}

void add_words(Sheet& sheet, const Vec2& at, const FootSetting& setting, double post_m,
               const std::string& device) {
  const double x = at.x() + 20;
  double y = at.y() + 26;
  const auto say = [&](const std::string& head, const std::string& text, Colour colour) {
    sheet.words({x, y}, head, 1.9);
    sheet.items.emplace_back(Words{{x, y + 3.4}, text, 2.6, Anchor::kStart, true, colour});
    y += 8;
  };
  if (std::abs(setting.by_wedge_m) > kShownFrom)
    say(device, mm_signed(setting.by_wedge_m) + " mm", kBlack);
  if (setting.trim_m > kShownFrom) {
    say("cut off its foot", mm_words(setting.trim_m) + " mm", kCut);
    say("post then", mm_words(post_m - setting.trim_m, 0) + " mm", kBlack);
  }
  if (setting.pack_m > kShownFrom) say("pack under it", mm_words(setting.pack_m) + " mm", kPack);
}

std::string settlement_words(const Brief& brief) {
  if (!(brief.centring.settlement_m > 0)) return "";
  return " Levels to set to have " + mm_words(brief.centring.settlement_m) +
         " mm more in them: so much feet and timber settle under the blocks "
         "(centring.settlement).";
}

std::string levels_of(const Rigid& datum) {
  return on_own_axes(datum) ? "the survey's own levels, not the site's" : "the levels of the site";
}

/// Of a foot's head before it carries anything, in the levels of the site; of a survey on axes of
/// its own in those.
double set_to_m(const Brief& brief, const Rigid& datum, const CentringFoot& foot, double raise_m) {
  const Vec3 head = foot.head + Vec3(0, 0, raise_m + brief.centring.settlement_m);
  return on_own_axes(datum) ? datum(head).z() : to_site(brief.site, head).z();
}

void add_card(Sheet& sheet, const Vec2& at, const Brief& brief, const Centring& centring,
              const Rigid& datum, std::size_t number, const FootSetting& setting) {
  const CentringFoot& foot = centring.feet[number];
  const Vec2 x(kCardWide - 1, 0), y(0, kCardHigh - 2);
  sheet.path({at, at + x, at + x + y, at + y}, true,
             {std::nullopt, setting.within ? kGrey : kCut, setting.within ? 0.2 : 0.6});
  sheet.items.emplace_back(Words{at + Vec2(2, 5), "Foot " + foot.id, 3.2, Anchor::kStart, true});
  sheet.words(at + Vec2(2, 8.8), "no. " + std::to_string(number + 1) + " of the plan", 1.9);
  sheet.items.emplace_back(
      Words{at + Vec2(2, 14.5), up_or_down(setting.raise_m), 3.2, Anchor::kStart, true});
  const double post_m = post_length_m(centring, foot.id).value_or((foot.head - foot.at).norm());
  sheet.words(at + Vec2(2, 18),
              "post as drawn " + mm_words(post_m, 0) + ", set to " +
                  fixed(set_to_m(brief, datum, foot, setting.raise_m), 3) + " m",
              1.9);
  add_post(sheet, at, setting);
  add_words(sheet, at, setting, post_m, foot_device(brief));
  if (!setting.within)
    sheet.items.emplace_back(
        Words{at + Vec2(2, 65), "CUT IS OVER WHAT IS ALLOWED", 1.9, Anchor::kStart, true, kCut});
  sheet.words(at + Vec2(2, 71), "head measured", 1.9);
  blank(sheet, at + Vec2(20, 71.4), 18);
  sheet.words(at + Vec2(2, 78), "set", 1.9);
  tick_box(sheet, at + Vec2(8, 78.4), 3.4);
  sheet.words(at + Vec2(20, 78), "checked", 1.9);
  tick_box(sheet, at + Vec2(32, 78.4), 3.4);
}

std::size_t number_of(const Centring& centring, const std::string& foot) {
  return static_cast<std::size_t>(std::ranges::find(centring.feet, foot, &CentringFoot::id) -
                                  centring.feet.begin());
}

/// In two columns; head as drawn and as it is to be.
void add_by_wedge(std::vector<Sheet>& pages, const Brief& brief, const Centring& centring,
                  const FeetSet& feet, const Rigid& datum) {
  const std::vector<PaperColumn> kColumns = {
      {"no.", 7},        {"foot", 9, true},
      {"up", 25},        {foot_device(brief), 35},
      {"head then", 50}, {on_own_axes(datum) ? "set to, survey" : "set to, site", 66},
      {"measured", 81},  {"set", 88}};
  constexpr double kPitch = 4.8;
  const double last = kA4.height_mm - kPaperMargin - kPaperFoot;
  double y = last;
  int column = 1;
  for (const FootSetting* setting : feet_to_set(feet)) {
    const std::size_t number = number_of(centring, setting->foot);
    if (post_changes(*setting) || number == centring.feet.size()) continue;
    if (y + kPitch > last) {
      column = 1 - column;
      if (column == 0)
        pages.push_back(
            paper(kA4, brief.title + ": feet set by " + foot_device(brief),
                  "Up or (below zero) down: against the heads as drawn; by " + foot_device(brief) +
                      ", in mm, from where they stand. Head then: when the blocks lie on it, in "
                      "the bridge's axes; set to: before, in " +
                      levels_of(datum) + "; metres." + settlement_words(brief) +
                      " Numbers are of the setting-out plan.",
                  "Feet shown nowhere stay as drawn. No substitute for a licensed engineer."));
      y = kPaperMargin + kPaperHead + 5;
      paper_head(pages.back(), {kPaperMargin + 97.0 * column, y}, kColumns, 2.2);
      y += 1.2 * kPitch;
    }
    const Vec2 at(kPaperMargin + 97.0 * column, y);
    paper_row(pages.back(), at, kColumns,
              {std::to_string(number + 1), setting->foot, mm_signed(setting->raise_m),
               mm_signed(setting->by_wedge_m),
               fixed(centring.feet[number].head.z() + setting->raise_m, 4),
               fixed(set_to_m(brief, datum, centring.feet[number], setting->raise_m), 4)},
              2.3);
    blank(pages.back(), at + Vec2(68, 0.5), 13);
    tick_box(pages.back(), at + Vec2(84.5, 0.5), 3);
    y += kPitch;
  }
}

void add_gaps(std::vector<Sheet>& pages, const Brief& brief, const std::vector<SeatGap>& gaps) {
  const std::vector<PaperColumn> kColumns = {{"rib", 0, true},
                                             {"block", 12, true},
                                             {"along rib (m)", 56},
                                             {"open (mm)", 72},
                                             {"packed", 84}};
  constexpr double kPitch = 4.8;
  std::size_t next = 0;
  while (next < gaps.size()) {
    pages.push_back(paper(kA4, brief.title + ": seats that stay open",
                          "With the feet set as shown. Along rib: in plan, from the end at its "
                          "foot no. 1. Open: between timber and block, pack it "
                          "before the block is let down. Under zero: the timber stands too high "
                          "there, plane it off or lower the rib.",
                          brief.title + ". Millimetres."));
    const double last = kA4.height_mm - kPaperMargin - kPaperFoot;
    for (int column = 0; column < 2 && next < gaps.size(); ++column) {
      double y = kPaperMargin + kPaperHead + 4;
      const double x = kPaperMargin + 97 * column;
      paper_head(pages.back(), {x, y}, kColumns, 2.2);
      for (y += kPitch; y < last && next < gaps.size(); y += kPitch, ++next) {
        const SeatGap& gap = gaps[next];
        paper_row(pages.back(), {x, y}, kColumns,
                  {gap.rib, gap.block, fixed(gap.along_m, 2), mm_signed(gap.gap_m)}, 2.3);
        tick_box(pages.back(), {x + 79, y + 0.4}, 3);
      }
    }
  }
}

}  // namespace

std::vector<SeatGap> gaps_along_ribs(const Centring& centring, const FeetSet& feet) {
  std::vector<SeatGap> gaps = feet.gaps;
  const auto rib = [&](const SeatGap& gap) {
    return std::ranges::find(centring.ribs, gap.rib, &Rib::id) - centring.ribs.begin();
  };
  std::ranges::stable_sort(gaps, {},
                           [&](const SeatGap& gap) { return std::pair(rib(gap), gap.along_m); });
  return gaps;
}

std::vector<const FootSetting*> feet_to_set(const FeetSet& feet) {
  std::vector<const FootSetting*> out;
  for (const FootSetting& foot : feet.feet)
    if (is_set(foot)) out.push_back(&foot);
  return out;
}

std::vector<const FootSetting*> feet_to_cut(const FeetSet& feet) {
  std::vector<const FootSetting*> out;
  for (const FootSetting* foot : feet_to_set(feet))
    if (post_changes(*foot)) out.push_back(foot);
  return out;
}

std::vector<Sheet> foot_sheets(const Brief& brief, const Centring& centring, const FeetSet& feet,
                               const Rigid& datum) {
  std::vector<Sheet> pages;
  add_by_wedge(pages, brief, centring, feet, datum);
  constexpr std::size_t kAcross = 4, kDown = 3;
  std::size_t count = 0;
  for (const FootSetting* setting : feet_to_cut(feet)) {
    const std::size_t number = number_of(centring, setting->foot);
    if (number == centring.feet.size()) continue;
    const std::size_t place = count++ % (kAcross * kDown);
    if (place == 0)
      pages.push_back(paper(
          kA4, brief.title + ": posts that are cut or packed",
          "Against the heads as drawn. Posts in mm, drawn broken, not to scale; heads in " +
              levels_of(datum) + ", blocks not yet on them." + settlement_words(brief) +
              " Numbers are of the "
              "setting-out plan of the centring. Measure the head again before any post is cut: a "
              "fit is no order to cut.",
          "Feet shown nowhere stay as drawn. No substitute for a licensed engineer."));
    add_card(pages.back(),
             {kPaperMargin + 1 + kCardWide * static_cast<double>(place % kAcross),
              kPaperMargin + kPaperHead + 4 + kCardHigh * static_cast<double>(place / kAcross)},
             brief, centring, datum, number, *setting);
  }
  add_gaps(pages, brief, gaps_along_ribs(centring, feet));
  return pages;
}

}  // namespace skewback::deliver
