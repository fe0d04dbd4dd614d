#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/facts.hpp"
#include "deliver/paper.hpp"
#include "deliver/remark.hpp"
#include "deliver/report.hpp"
#include "deliver/report_survey.hpp"
#include "deliver/survey_files.hpp"
#include "deliver/text.hpp"
#include "survey/feet.hpp"

namespace skewback::deliver {
namespace {

std::string degrees(double rad) { return fixed(rad * 180 / kPi, 3); }

/// What of a block is over the figures of [tolerances], in words; empty: nothing.
std::string over_words(const MeasuredBlock& m, const TolerancesRequest& allowed) {
  std::vector<std::string> over;
  if (std::abs(m.length_m) > allowed.block_length_m) over.emplace_back("length");
  if (std::abs(m.wedge_rad) > allowed.bed_tilt_rad) over.emplace_back("wedge");
  if (std::abs(m.twist_rad) > allowed.bed_tilt_rad) over.emplace_back("twist");
  if (std::abs(m.bow_m) > allowed.bed_flatness_m) over.emplace_back("bow");
  if (m.warp_m > allowed.bed_flatness_m) over.emplace_back("warp");
  return joined(over, ", ");
}

}  // namespace

void add_measured_blocks(Pages& pages, const Brief& brief, const Assembly& assembly,
                         const MeasuredBlocks& measured) {
  if (measured.blocks.empty() && measured.remarks.empty()) return;
  const TolerancesRequest& allowed = brief.tolerances;
  std::vector<Row> rows;
  std::size_t over = 0;
  for (const MeasuredBlock& m : measured.blocks) {
    const std::string what = over_words(m, allowed);
    if (!what.empty()) ++over;
    rows.push_back(
        {{assembly.blocks[static_cast<std::size_t>(m.block)].id, mm_signed(m.length_m),
          degrees(m.wedge_rad), degrees(m.twist_rad), mm_words(m.bow_m), what, m.finding},
         what.empty() ? std::optional<Colour>{} : verdict_tint(Verdict::kFalls)});
  }
  pages.keep(40);
  pages.subheading("Blocks as measured");
  if (!rows.empty()) {
    pages.paragraph(counted(rows.size(), "block") + " measured corner by corner, " +
                    std::to_string(over) + " over what is allowed: length " +
                    mm_words(allowed.block_length_m) + " mm, wedge and twist " +
                    degrees(allowed.bed_tilt_rad) + " degrees, bow and warp " +
                    mm_words(allowed.bed_flatness_m) + " mm" +
                    (allowed.wanted ? " ([tolerances])."
                                    : " (common practice: the brief has no "
                                      "[tolerances])."));
    pages.table({{"block", 0.8},
                 {"length (mm)", 0.9, true},
                 {"wedge (°)", 0.9, true},
                 {"twist (°)", 0.9, true},
                 {"bow (mm)", 0.8, true},
                 {"over", 1.2},
                 {"finding", 2.6}},
                rows);
  }
  for (const std::string& remark : measured.remarks) add_remark(pages, remark);
}

void add_other_pads(Pages& pages, const Assembly& assembly, const Packed& packed) {
  if (packed.pads.empty()) return;
  pages.keep(40);
  pages.subheading("Other pads");
  pages.paragraph(counted(packed.pads.size(), "joint") +
                  (packed.pads.size() == 1 ? " takes another pad: " : " take other pads: ") +
                  "sheets of the stock over the whole bed, on the drawn pad or in its place and of "
                  "its stuff, or one pad of that thickness. Gaps and packers below are beyond "
                  "these.");
  std::vector<Row> rows;
  for (const OtherPad& pad : packed.pads) {
    const auto& drawn = assembly.joints[static_cast<std::size_t>(pad.joint)].pad;
    rows.push_back({{joint_name(assembly, pad.joint), stock_words(pad.from_stock),
                     pad.in_place_of_m > 0 ? "left out" : "under them", mm_words(pad.by_m(), 2),
                     mm_words((drawn ? drawn->thickness_m : 0) + pad.by_m(), 2)},
                    {}});
  }
  pages.table({{"joint", 1.6},
               {"sheets (mm)", 1, true},
               {"drawn pad", 1},
               {"thicker by (mm)", 1, true},
               {"pad then (mm)", 1, true}},
              rows);
}

void add_packers(Pages& pages, const Brief& brief, const Assembly& assembly, const Refit& refit,
                 const std::vector<Regions>& plan) {
  if (refit.packed.packers.empty()) return;
  const std::vector<int> joints = packed_joints(refit.packed);
  pages.keep(60);
  pages.subheading("Packers");
  pages.paragraph(
      counted(joints.size(), "joint") + " of " + std::to_string(assembly.joints.size()) +
      (joints.size() == 1 ? " takes packers, " : " take packers, ") +
      counted(refit.packed.packers.size(), "place") + " in all, the thickest " +
      mm_words(refit.packed.thickest_m) + " mm (" + mm_words(brief.packing.most_m) +
      " mm at most). They lie on the pads and are as thick as the gap beyond them, along both "
      "edges of the bed; what reaches over a void bears nothing; each bed is drawn in "
      "asbuilt/work-sheets.pdf, with a line for the gap as measured.");
  std::vector<Row> stock;
  for (const StockNeed& need : stock_needed(refit.packed))
    stock.push_back(
        {{stock_words({need.thickness_m}), std::to_string(need.used), std::to_string(need.to_have)},
         {}});
  pages.table(
      {{"thickness (mm)", 1, true}, {"laid", 1, true}, {"to have, a tenth spare", 1.4, true}},
      stock);
  pages.figure(packed_plan(brief, assembly, refit, plan, {pages.width_mm(), 150}), "");
  std::vector<Row> rows;
  for (const int j : joints) {
    int places = 0;
    double thickest = 0;
    for (const Packer& packer : refit.packed.packers) {
      if (packer.joint != j) continue;
      ++places;
      thickest = std::max(thickest, packer.thickness_m());
    }
    Row row{{joint_name(assembly, j), std::to_string(places), mm_words(thickest)}, {}};
    if (static_cast<std::size_t>(j) < refit.packed.joints.size()) {
      const JointLie& lie = refit.packed.joints[static_cast<std::size_t>(j)];
      row.cells.insert(row.cells.end(), {mm_signed(lie.gap_min_m()), mm_signed(lie.gap_max_m()),
                                         mm_words(lie.step_max_m())});
    }
    rows.push_back(std::move(row));
  }
  pages.table({{"joint", 1.6},
               {"places", 0.8, true},
               {"thickest (mm)", 1, true},
               {"gap from (mm)", 1, true},
               {"to (mm)", 0.8, true},
               {"step (mm)", 0.8, true}},
              rows);
}

namespace {

std::string feet_words(const Brief& brief, const FeetSet& feet, std::size_t cut) {
  double low = 0, high = 0;
  std::size_t by_wedge = 0;
  for (const FootSetting* foot : feet_to_set(feet)) {
    if (post_changes(*foot)) continue;
    low = by_wedge == 0 ? foot->by_wedge_m : std::min(low, foot->by_wedge_m);
    high = by_wedge == 0 ? foot->by_wedge_m : std::max(high, foot->by_wedge_m);
    ++by_wedge;
  }
  if (by_wedge + cut == 0) return "All stay as drawn.";
  return "Of " + std::to_string(feet.feet.size()) + " feet " + std::to_string(by_wedge) +
         " are set by their " + foot_device(brief) + "s alone" +
         (by_wedge > 0 ? ", by " + mm_signed(low) + " to " + mm_signed(high) + " mm" : "") + "; " +
         std::to_string(cut) + " have their posts cut or packed" +
         (by_wedge + cut < feet.feet.size() ? "; the others stay" : "") +
         ". Each: asbuilt/feet.csv and the work "
         "sheets. Seats are then open by " +
         mm_words(feet.gap_max_m) + " mm at most.";
}

}  // namespace

void add_feet_set(Pages& pages, const Dossier& dossier) {
  if (!dossier.refit->feet) return;
  const FeetSet& feet = *dossier.refit->feet;
  std::vector<const FootSetting*> cut = feet_to_cut(feet);
  pages.keep(40);
  pages.subheading("Feet of the centring");
  constexpr std::size_t kShown = 12;
  pages.paragraph(feet_words(dossier.brief, feet, cut.size()) +
                  (cut.size() > kShown ? " Those changed most:" : ""));
  std::ranges::stable_sort(cut, std::ranges::greater{}, [](const FootSetting* foot) {
    return std::max(foot->trim_m, foot->pack_m);
  });
  cut.resize(std::min(cut.size(), kShown));
  std::vector<Row> rows;
  for (const FootSetting* foot : cut) {
    std::optional<double> post;
    if (dossier.centring) post = post_length_m(*dossier.centring, foot->foot);
    rows.push_back({{foot->foot, mm_signed(foot->raise_m), mm_signed(foot->by_wedge_m),
                     foot->trim_m >= 1e-4 ? mm_words(foot->trim_m) : "",
                     foot->trim_m >= 1e-4 && post ? mm_words(*post - foot->trim_m, 0) : "",
                     foot->pack_m >= 1e-4 ? mm_words(foot->pack_m) : "",
                     foot->within ? "" : "over what may be cut"},
                    foot->within ? std::optional<Colour>{} : verdict_tint(Verdict::kFalls)});
  }
  if (!rows.empty())
    pages.table({{"foot", 1},
                 {"up (mm)", 0.9, true},
                 {"by wedge (mm)", 1, true},
                 {"cut off (mm)", 1, true},
                 {"post then (mm)", 1, true},
                 {"pack (mm)", 0.9, true},
                 {"", 1.4}},
                rows);
  std::vector<Row> gaps;
  for (std::size_t i = 0; i < std::min(kShown, feet.gaps.size()); ++i)
    gaps.push_back({{feet.gaps[i].rib, feet.gaps[i].block, mm_signed(feet.gaps[i].gap_m)}, {}});
  if (!gaps.empty()) {
    pages.keep(30);
    pages.paragraph("Seats that stay open then, or stand proud (below zero)" +
                    (feet.gaps.size() > kShown
                         ? ": the worst " + std::to_string(kShown) + " of " +
                               std::to_string(feet.gaps.size()) + ", all in the work sheets."
                         : "."));
    pages.table({{"rib", 1}, {"block", 1}, {"open (mm)", 1, true}}, gaps);
  }
  for (const std::string& remark : feet.remarks) add_remark(pages, remark);
}

void add_blocks_in_place(Pages& pages, const std::vector<BlockInPlace>& blocks) {
  if (blocks.empty()) return;
  std::vector<Row> rows;
  for (const BlockInPlace& b : blocks)
    rows.push_back(
        {{b.block, std::to_string(b.marks), mm_signed(b.off_m.x()), mm_signed(b.off_m.y()),
          mm_signed(b.off_m.z()), mm_words(b.worst_m), mm_words(b.off_drawn_m),
          b.lies_at.empty() ? (b.beyond ? "off" : "") : "lies at " + b.lies_at},
         b.beyond ? verdict_tint(b.far ? Verdict::kFalls : Verdict::kUndecided)
                  : std::optional<Colour>{}});
  pages.keep(40);
  pages.subheading("Blocks in place");
  pages.paragraph(
      "Blocks whose backs were measured, from where they are to lie as they are laid (mean of "
      "their "
      "marks), and from where they are drawn. What lies elsewhere is not in packers and proofs.");
  pages.table({{"block", 1},
               {"marks", 0.6, true},
               {"x (mm)", 0.8, true},
               {"y (mm)", 0.8, true},
               {"z (mm)", 0.8, true},
               {"worst mark (mm)", 1, true},
               {"from drawn (mm)", 1, true},
               {"", 1.2}},
              rows);
}

void add_springers(Pages& pages, const Dossier& dossier, const Assembly& assembly) {
  const std::vector<Sheet> sheets = springer_sheets(dossier.brief, assembly, *dossier.refit);
  if (sheets.empty()) return;
  pages.keep(sheets.front().height_mm + 40);
  pages.subheading("Springers made to fit");
  pages.paragraph("Where a springing joint would take packers thicker than " +
                  mm_words(dossier.brief.packing.most_m) +
                  " mm, or is too tight, the block on it is made anew, its near bed moved so that "
                  "the joint closes:");
  for (const Sheet& sheet : sheets) pages.figure(sheet, "");
  if (!dossier.reprinted) return;
  for (const BlockPrint& block : dossier.reprinted->blocks)
    pages.bullet(block.id + (block.printable
                                 ? ": printed anew, " + counted(block.layers.size(), "layer") +
                                       ", " + fixed(block.time_s / 3600, 1) +
                                       " h of the nozzle; files under asbuilt/print/."
                                 : ": not printed: " + block.reason));
}

}  // namespace skewback::deliver
