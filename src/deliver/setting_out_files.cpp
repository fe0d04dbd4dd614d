#include "deliver/setting_out_files.hpp"

#include <algorithm>

#include "deliver/sheet_pdf.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kSize = 2.2, kPitch = 4.1;

const std::vector<PaperColumn>& columns() {
  static const std::vector<PaperColumn> kColumns = {
      {"mark", 0, true}, {"east (m)", 76}, {"north (m)", 95}, {"level (m)", 112}, {"x (m)", 129},
      {"y (m)", 144},    {"z (m)", 159},   {"set", 168},      {"checked", 186}};
  return kColumns;
}

std::string foot(const Brief& brief) {
  return brief.title + ". " +
         (brief.site.date.empty() ? std::string("No date of setting out in the brief.")
                                  : "Set out by the coordinates of " + brief.site.date + ".") +
         " Lengths in metres. No substitute for a licensed engineer or surveyor.";
}

void add_mark(Sheet& sheet, double y, const SiteGrid& site, const Mark& mark) {
  const Vec3 at = to_site(site, mark.designed);
  paper_row(sheet, {kPaperMargin, y}, columns(),
            {mark.name, fixed(at.x(), 4), fixed(at.y(), 4), fixed(at.z(), 4),
             fixed(mark.designed.x(), 4), fixed(mark.designed.y(), 4), fixed(mark.designed.z(), 4)},
            kSize);
  tick_box(sheet, {kPaperMargin + 164.5, y + 0.5}, 2.8);
  tick_box(sheet, {kPaperMargin + 180, y + 0.5}, 2.8);
}

std::string kind_words(const Brief& brief, MarkKind kind) {
  switch (kind) {
    case MarkKind::kSpringing:
      return "Springings: ends of the springing line, and behind its middle";
    case MarkKind::kShoe:
      return "Shoes of the ties";
    case MarkKind::kFoot:
      return "Feet of the centring; 2: the head before it carries, " +
             fixed(1e3 * brief.centring.settlement_m, 1) +
             " mm above where it ends (centring.settlement)";
    case MarkKind::kBlock:
      return "Blocks: on the back of each, where it is seen in place";
    case MarkKind::kBed:
      break;
  }
  return "Beds of the blocks";
}

}  // namespace

std::string second_set_up_words() {
  return "Check every mark from a second set-up of the instrument, on other known points, before "
         "anything is built to it. Two that differ by over the accuracy asked are both wrong until "
         "a third says which.";
}

std::vector<Sheet> marks_tables(const Brief& brief, const std::vector<Mark>& marks,
                                const std::string& supports) {
  std::vector<Sheet> pages;
  const double last = kA4.height_mm - kPaperMargin - kPaperFoot;
  double y = last + 1;
  std::optional<MarkKind> kind;
  for (const Mark& mark : marks) {
    const bool begins = kind != mark.kind;
    if (y + (begins ? 2.5 * kPitch : 0) > last) {
      pages.push_back(paper(kA4, brief.title + ": marks to set out",
                            second_set_up_words() + (supports.empty() ? "" : " " + supports),
                            foot(brief)));
      y = kPaperMargin + kPaperHead + 4;
      paper_head(pages.back(), {kPaperMargin, y}, columns(), kSize);
      y += 1.3 * kPitch;
    }
    if (begins) {
      y += 0.4 * kPitch;
      pages.back().items.emplace_back(
          Words{{kPaperMargin, y}, kind_words(brief, mark.kind), kSize, Anchor::kStart, true});
      y += kPitch;
    }
    kind = mark.kind;
    add_mark(pages.back(), y, brief.site, mark);
    y += kPitch;
  }
  return pages;
}

std::vector<OutputFile> setting_out_files(const Brief& brief, const Assembly& assembly,
                                          const std::vector<Mark>& marks,
                                          const std::vector<Regions>& plan,
                                          const std::string& supports) {
  if (marks.empty()) return {};
  std::vector<Mark> ground, blocks;
  for (const Mark& mark : marks) (mark.kind == MarkKind::kBlock ? blocks : ground).push_back(mark);
  std::vector<Sheet> pages;
  std::vector<OutputFile> files = {
      {"setting-out/marks.csv",
       (supports.empty() ? "" : "# " + supports + "\n") + setting_out_csv(brief.site, marks)}};
  for (const auto& [name, some] : {std::pair{"plan", &ground}, {"blocks", &blocks}}) {
    if (some->empty()) continue;
    pages.push_back(marks_plan(brief, assembly, *some, plan, SheetSize{}));
    files.push_back({std::string("setting-out/") + name + ".svg", svg(pages.back())});
  }
  for (Sheet& page : marks_tables(brief, marks, supports)) pages.push_back(std::move(page));
  files.push_back({"setting-out/marks.pdf", sheets_pdf(pages, brief.title + ": setting out")});
  return files;
}

}  // namespace skewback::deliver
