#include <algorithm>
#include <cmath>

#include "deliver/facts.hpp"
#include "deliver/paper.hpp"
#include "deliver/survey_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kWide = 190, kRow = 5.6, kSize = 2.3, kPlateWords = 1.9;
constexpr double kCardHead = 9, kWordsRoom = 6.5, kGap = 4, kSlingsRoom = 4;  // mm
constexpr Colour kBed{236, 236, 232}, kPlate{213, 94, 0}, kHollow{255, 255, 255};

struct Card {
  BedView view;
  std::vector<NumberedPacker> packers;
  SheetMap map;
  double drawn_mm = 0;  // height of the bed on paper
  std::string slings;   // which packers lie where one is drawn out
  double height_mm = 0;
};

const std::vector<PaperColumn>& columns() {
  static const std::vector<PaperColumn> kColumns = {
      {"no.", 6}, {"from left (mm)", 26}, {"gap (mm)", 38}, {"packers (mm)", 69}, {"measured", 84}};
  return kColumns;
}

/// A block's slings run up its bed past the block already laid, in strips without a pad.
std::string past_slings(const BedView& view, const std::vector<NumberedPacker>& packers,
                        const Assembly& assembly, const Brief& brief, const LiftPlan* lifts) {
  if (lifts == nullptr) return "";
  const std::string& id = assembly.blocks[static_cast<std::size_t>(view.comes)].id;
  const auto lift = std::ranges::find(lifts->lifts, id, &BlockLift::id);
  if (lift == lifts->lifts.end()) return "";
  const Frame& frame = assembly.joints[static_cast<std::size_t>(view.joint)].frame;
  const double clear = (brief.lifting.sling_width_m + brief.packing.plate_length_m) / 2;
  std::vector<std::string> numbers;
  for (const NumberedPacker& p : packers) {
    if (std::ranges::any_of(lift->slings, [&](const Vec3& at) {
          return std::abs(frame.to_local(at).x() - p.packer->along_m) < clear;
        }))
      numbers.push_back(std::to_string(p.number));
  }
  if (numbers.empty()) return "";
  return "No. " + joined(numbers, ", ") + ": a sling of " + id +
         " is drawn out here and no pad lies here. Put in, pad and packers, when it is out.";
}

Card card_of(const BedView& view, const Packed& packed, const Assembly& assembly,
             const Brief& brief, const LiftPlan* lifts) {
  Card card{view, numbered(view, packed), {}, 0, "", 0};
  card.slings = past_slings(view, card.packers, assembly, brief, lifts);
  constexpr double kMostDrawn = 90, kCornerRoom = 14;
  Extent seen;
  seen.add({0, view.bed.low.y()});
  seen.add({view.bed.size().x(), view.bed.high.y()});
  card.map = fit(seen, {0, 0}, {kWide - 2 * kCornerRoom, kMostDrawn});
  card.drawn_mm = seen.size().y() * card.map.mm_per_m;
  const auto upper =
      std::ranges::count_if(card.packers, [](const NumberedPacker& p) { return p.packer->upper; });
  const auto rows = std::max<std::ptrdiff_t>(upper, std::ssize(card.packers) - upper);
  card.height_mm = kCardHead + card.drawn_mm + 2 * kWordsRoom + 8 +
                   kRow * static_cast<double>(rows) + kGap +
                   (card.slings.empty() ? 0 : kSlingsRoom);
  return card;
}

/// Of the contact at a place along it: lowest and highest y.
Vec2 edges_at(const Joint& joint, double along_m) {
  Vec2 edges(1e300, -1e300);
  for (const Region& region : joint.contact) {
    const Polygon& ring = region.outer;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if (std::min(a.x(), b.x()) > along_m || std::max(a.x(), b.x()) < along_m) continue;
      const double run = b.x() - a.x(), share = std::abs(run) > 1e-12 ? (along_m - a.x()) / run : 0;
      for (const double y : {a.y() + share * (b.y() - a.y()),
                             std::abs(run) > 1e-12 ? a.y() + share * (b.y() - a.y()) : b.y()}) {
        edges.x() = std::min(edges.x(), y);
        edges.y() = std::max(edges.y(), y);
      }
    }
  }
  return edges;
}

struct OnPaper {  // joint's frame to the sheet
  const Card& card;
  Vec2 operator()(const Vec2& p) const {
    return card.map(Vec2(card.view.from_left_m(p.x()), p.y()));
  }
};

void add_bed(Sheet& sheet, const OnPaper& place, const Joint& joint) {
  for (const Region& region : joint.contact) {
    Shape shape{{{}}, true, {kBed, kBlack, 0.25}};
    for (const Vec2& p : region.outer) shape.rings[0].push_back(place(p));
    for (const Polygon& hole : region.holes) {
      shape.rings.emplace_back();
      for (const Vec2& p : hole) shape.rings.back().push_back(place(p));
    }
    sheet.items.emplace_back(std::move(shape));
  }
}

/// Outside the edge, in the nearest of two rows where it meets no other.
void add_thickness(Sheet& sheet, const Vec2& edge, bool upper, std::string text,
                   std::vector<Extent>& taken) {
  std::erase(text, ' ');
  const Vec2 half(0.31 * kPlateWords * static_cast<double>(text.size()) + 0.4, 0.6 * kPlateWords);
  Extent box;
  for (const int row : {0, 1}) {
    const Vec2 middle = edge + Vec2(0, (upper ? -1 : 1) * (1.8 + 2.6 * row));
    box = {middle - half, middle + half};
    if (std::ranges::none_of(taken, [&](const Extent& other) {
          return box.low.x() < other.high.x() && other.low.x() < box.high.x() &&
                 box.low.y() < other.high.y() && other.low.y() < box.high.y();
        }))
      break;
  }
  taken.push_back(box);
  sheet.words({edge.x(), (box.low.y() + box.high.y()) / 2 + 0.7}, text, kPlateWords,
              Anchor::kMiddle);
}

/// The plate lies inside the edge; its thickness stands outside it.
void add_plates(Sheet& sheet, const Card& card, const OnPaper& place, const Joint& joint,
                const PackingRequest& packing) {
  std::vector<Extent> taken;
  for (const NumberedPacker& p : card.packers) {
    const double x = p.packer->along_m, half = packing.plate_length_m / 2;
    const double low_x = std::max(x - half, card.view.bed.low.x()),
                 high_x = std::min(x + half, card.view.bed.high.x());
    const Vec2 edges = edges_at(joint, x);
    const double deep = std::min(packing.plate_depth_m, edges.y() - edges.x());
    const double at = p.packer->upper ? edges.y() : edges.x(),
                 in = p.packer->upper ? at - deep : at + deep;
    sheet.path({place({low_x, at}), place({high_x, at}), place({high_x, in}), place({low_x, in})},
               true, {kPlate, kBlack, 0.15, 0, 0.55});
    const Vec2 middle = place({x, (at + in) / 2});
    sheet.items.emplace_back(Words{middle + Vec2(0, 0.8), std::to_string(p.number), 2.2,
                                   Anchor::kMiddle, true, kBlack, true});
    add_thickness(sheet, place({x, at}), p.packer->upper, stock_words(p.packer->from_stock), taken);
  }
}

constexpr std::size_t kWideStock = 12;  // letters that stay clear of the gap

void add_rows(Sheet& sheet, const Card& card, double y) {
  for (const bool upper : {false, true}) {
    const double x = kPaperMargin + (upper ? 97 : 0);
    if (std::ranges::none_of(card.packers,
                             [&](const NumberedPacker& p) { return p.packer->upper == upper; }))
      continue;
    sheet.items.emplace_back(
        Words{{x, y}, upper ? "Upper edge" : "Lower edge", kSize, Anchor::kStart, true});
    paper_head(sheet, {x, y + 4}, columns(), 2);
    double at = y + 4 + kRow;
    for (const NumberedPacker& p : card.packers) {
      if (p.packer->upper != upper) continue;
      std::string stock = stock_words(p.packer->from_stock);
      if (stock.size() > kWideStock) std::erase(stock, ' ');
      paper_row(
          sheet, {x, at}, columns(),
          {std::to_string(p.number), mm_words(p.from_left_m, 0), mm_words(p.packer->gap_m), stock},
          kSize);
      blank(sheet, {x + 72, at + 0.5}, 12);
      tick_box(sheet, {x + 87, at + 0.6}, 3.4);
      at += kRow;
    }
  }
}

/// Gaps at the corners, before packers: joint corners run (-,-), (+,-), (+,+), (-,+).
void add_corner_gaps(Sheet& sheet, const Card& card, const JointLie& lie, double top) {
  const double wide = card.view.bed.size().x() * card.map.mm_per_m,
               left = kPaperMargin + (kWide - wide) / 2 - 1.5, right = left + wide + 3;
  for (std::size_t k = 0; k < 4; ++k) {
    const bool plus_x = k == 1 || k == 2, upper = k >= 2;
    const bool on_left = plus_x == card.view.mirrored;
    const double y = top + kWordsRoom + (upper ? 1.6 : card.drawn_mm);
    sheet.items.emplace_back(Words{{on_left ? left : right, y},
                                   mm_signed(lie.gap_m[k]),
                                   2,
                                   on_left ? Anchor::kEnd : Anchor::kStart,
                                   false,
                                   kGrey});
  }
}

void add_card(Sheet& sheet, Card card, double top, const Assembly& assembly, const Refit& refit,
              const PackingRequest& packing) {
  const Joint& joint = assembly.joints[static_cast<std::size_t>(card.view.joint)];
  const auto name = [&](int b) { return assembly.blocks[static_cast<std::size_t>(b)].id; };
  sheet.items.emplace_back(Words{{kPaperMargin, top + 4},
                                 "Joint " + name(card.view.laid) + " | " + name(card.view.comes),
                                 3.4,
                                 Anchor::kStart,
                                 true});
  sheet.words(
      {kPaperMargin + kWide, top + 4},
      "seen from " + name(card.view.laid) + " (laid) towards " + name(card.view.comes) + ", " +
          card.map.scale() +
          (joint.pad ? "; pad " + mm_words(joint.pad->thickness_m) + " mm under the packers" : ""),
      2.1, Anchor::kEnd);
  if (!card.slings.empty())
    sheet.items.emplace_back(Words{
        {kPaperMargin, top + kCardHead + 0.5}, card.slings, 2.1, Anchor::kStart, true, kGrey});
  const double bed_top = top + kCardHead + (card.slings.empty() ? 0 : kSlingsRoom);
  const double wide = card.view.bed.size().x() * card.map.mm_per_m;
  card.map.corner = {kPaperMargin + (kWide - wide) / 2,
                     bed_top + kWordsRoom + card.view.bed.high.y() * card.map.mm_per_m};
  const OnPaper place{card};
  add_bed(sheet, place, joint);
  if (static_cast<std::size_t>(card.view.joint) < refit.packed.joints.size())
    add_corner_gaps(sheet, card, refit.packed.joints[static_cast<std::size_t>(card.view.joint)],
                    bed_top);
  add_plates(sheet, card, place, joint, packing);
  add_rows(sheet, card, bed_top + 2 * kWordsRoom + card.drawn_mm + 3);
}

std::string foot(const Brief& brief) {
  return brief.title +
         ". Thicknesses beyond the drawn pad. Measure the gap first, at the middle of the plate, " +
         mm_words(brief.packing.plate_depth_m / 2, 0) +
         " mm in from the edge (corners of a bed, grey: at the corner itself); what differs by "
         "over " +
         mm_words(brief.packing.slack_m) + " mm goes back to the office.";
}

double add_stock(Sheet& sheet, const Brief& brief, const Refit& refit, double y) {
  const std::vector<PaperColumn> kStock = {
      {"thickness (mm)", 26}, {"laid", 42}, {"to have (a tenth spare)", 84}, {"there", 104}};
  sheet.items.emplace_back(Words{{kPaperMargin, y},
                                 "Packers of " + mm_words(brief.packing.plate_length_m, 0) + " x " +
                                     mm_words(brief.packing.plate_depth_m, 0) +
                                     " mm (along the bed x across it) to have on site",
                                 2.8,
                                 Anchor::kStart,
                                 true});
  paper_head(sheet, {kPaperMargin, y += 5}, kStock, 2.2);
  for (const StockNeed& need : stock_needed(refit.packed)) {
    y += 4.6;
    paper_row(
        sheet, {kPaperMargin, y}, kStock,
        {stock_words({need.thickness_m}), std::to_string(need.used), std::to_string(need.to_have)},
        2.3);
    tick_box(sheet, {kPaperMargin + 99, y + 0.4}, 3);
  }
  return y + 9;
}

struct JointRow {
  std::string name;
  int places = 0;
  double thickest_m = 0;
};

/// In two columns, in the order in which the joints are met.
void add_joint_list(std::vector<Sheet>& pages, const Brief& brief,
                    const std::vector<JointRow>& rows, double y) {
  const std::vector<PaperColumn> kList = {
      {"joint", 0, true}, {"places", 52}, {"thickest (mm)", 78}, {"done", 90}};
  const double last = kA4.height_mm - kPaperMargin - kPaperFoot;
  std::size_t next = 0;
  while (next < rows.size()) {
    if (y + 14 > last) {
      pages.push_back(paper(kA4, brief.title + ": packers, joints", "", foot(brief)));
      y = kPaperMargin + kPaperHead;
    }
    const auto room = static_cast<std::size_t>((last - y - 4) / 4.6);
    for (int column = 0; column < 2 && next < rows.size(); ++column) {
      const double x = kPaperMargin + 97 * column;
      paper_head(pages.back(), {x, y}, kList, 2.2);
      double at = y;
      for (std::size_t i = 0; i < room && next < rows.size(); ++i, ++next) {
        const JointRow& row = rows[next];
        at += 4.6;
        paper_row(pages.back(), {x, at}, kList,
                  {row.name, std::to_string(row.places), mm_words(row.thickest_m)}, 2.2);
        tick_box(pages.back(), {x + 86, at + 0.4}, 3);
      }
    }
    y = last;
  }
}

}  // namespace

std::vector<Sheet> packer_sheets(const Brief& brief, const Assembly& assembly,
                                 const std::vector<int>& order, const Refit& refit,
                                 const std::vector<Regions>& plan, const LiftPlan* lifts) {
  if (refit.packed.packers.empty()) return {};
  std::vector<Card> cards;
  std::vector<JointRow> list;
  for (const int j : packed_joints(refit.packed)) {
    cards.push_back(card_of(bed_view(assembly, order, j), refit.packed, assembly, brief, lifts));
    JointRow row{joint_name(assembly, j), static_cast<int>(cards.back().packers.size()), 0};
    for (const NumberedPacker& p : cards.back().packers)
      row.thickest_m = std::max(row.thickest_m, p.packer->thickness_m());
    list.push_back(std::move(row));
  }
  std::vector<Sheet> pages = {paper(
      kA4, brief.title + ": packers",
      "Which joints take packers, and how many to have. The sheets that follow show each bed.",
      foot(brief))};
  const Sheet drawn = packed_plan(brief, assembly, refit, plan, {kWide, 150});
  paste(pages.back(), drawn, {kPaperMargin, kPaperMargin + kPaperHead - 4});
  const double y =
      add_stock(pages.back(), brief, refit, kPaperMargin + kPaperHead + drawn.height_mm + 2);
  add_joint_list(pages, brief, list, y);
  const double last = kA4.height_mm - kPaperMargin - kPaperFoot;
  double top = last;
  for (Card& card : cards) {
    if (top + card.height_mm > last) {
      pages.push_back(paper(kA4, brief.title + ": packers, joint by joint",
                            "Each bed as the mason sees it from the block already laid, looking "
                            "along the flow. Grey at the corners: the gap there beyond the pad, "
                            "mm, before packers.",
                            foot(brief)));
      top = kPaperMargin + kPaperHead + 2;
    }
    const double height = card.height_mm;
    add_card(pages.back(), std::move(card), top, assembly, refit, brief.packing);
    top += height;
  }
  return pages;
}

}  // namespace skewback::deliver
