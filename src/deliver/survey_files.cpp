#include "deliver/survey_files.hpp"

#include <algorithm>

#include "base/constants.hpp"
#include "deliver/csv.hpp"
#include "deliver/outline.hpp"
#include "deliver/paper.hpp"
#include "deliver/sheet_pdf.hpp"
#include "deliver/text.hpp"
#include "survey/marks_packed.hpp"

namespace skewback::deliver {
namespace {

std::string degrees(double rad) { return fixed(rad * 180 / kPi, 4); }

Sheet on_paper(const Brief& brief, const std::string& title, const std::string& under,
               const Sheet& drawing) {
  Sheet page = paper(kA4, brief.title + ": " + title, under,
                     "Millimetres where nothing else is said. No substitute for a licensed "
                     "engineer or surveyor.");
  paste(page, drawing, {kPaperMargin, kPaperMargin + kPaperHead + 2});
  return page;
}

std::string remeasure_words() {
  return "What was found rests on the marks as they were measured. Measure again before any block "
         "is made or any post is cut.";
}

void add_named(std::vector<OutputFile>& files, const std::string& name, std::string bytes) {
  files.push_back({"asbuilt/" + name, std::move(bytes)});
}

/// On every sheet, over its head.
void warn(const std::string& not_passed, std::vector<Sheet>& pages) {
  constexpr double kSize = 2.8;
  for (Sheet& page : pages) {
    const auto letters =
        static_cast<std::size_t>((page.width_mm - 2 * kPaperMargin) / (0.62 * kSize));
    double y = kPaperMargin - 6;
    for (const std::string& line :
         broken("Do not build by this sheet: it does not pass its proof. " + not_passed + ".",
                letters)) {
      page.items.emplace_back(
          Words{{kPaperMargin, y}, line, kSize, Anchor::kStart, true, kBlack, false});
      y += 1.25 * kSize;
    }
  }
}

}  // namespace

std::vector<Regions> plan_of(const Assembly& assembly, const std::vector<Regions>& plan) {
  if (plan.size() == assembly.blocks.size()) return plan;
  std::vector<Regions> out;
  for (const Block& block : assembly.blocks) out.push_back(silhouette(block.solid, plan_view()));
  return out;
}

std::optional<double> post_length_m(const Centring& centring, const std::string& foot) {
  const auto found = std::ranges::find(centring.feet, foot, &CentringFoot::id);
  if (found == centring.feet.end() || found->post < 0 ||
      static_cast<std::size_t>(found->post) >= centring.sticks.size())
    return std::nullopt;
  const Stick& post = centring.sticks[static_cast<std::size_t>(found->post)];
  return (post.to - post.from).norm();
}

std::string packers_csv(const Assembly& assembly, const std::vector<int>& order,
                        const Packed& packed) {
  std::string text = csv_line({"joint", "laid", "comes", "number", "edge", "from_left_mm",
                               "along_joint_x_m", "gap_mm", "packers_mm", "thickness_mm"});
  for (const int j : packed_joints(packed)) {
    const BedView view = bed_view(assembly, order, j);
    for (const NumberedPacker& p : numbered(view, packed))
      text += csv_line(
          {joint_name(assembly, j), assembly.blocks[static_cast<std::size_t>(view.laid)].id,
           assembly.blocks[static_cast<std::size_t>(view.comes)].id, std::to_string(p.number),
           p.packer->upper ? "upper" : "lower", mm_words(p.from_left_m),
           fixed(p.packer->along_m, 4), mm_words(p.packer->gap_m, 2),
           stock_words(p.packer->from_stock), mm_words(p.packer->thickness_m(), 2)});
  }
  return text;
}

std::string other_pads_csv(const Assembly& assembly, const Packed& packed) {
  std::string text = csv_line({"joint", "sheets_mm", "drawn_pad", "thicker_by_mm", "pad_mm"});
  for (const OtherPad& pad : packed.pads) {
    const auto& drawn = assembly.joints[static_cast<std::size_t>(pad.joint)].pad;
    text += csv_line({joint_name(assembly, pad.joint), stock_words(pad.from_stock),
                      pad.in_place_of_m > 0 ? "left out" : "under them", mm_words(pad.by_m(), 2),
                      mm_words((drawn ? drawn->thickness_m : 0) + pad.by_m(), 2)});
  }
  return text;
}

std::string feet_set_csv(const Centring* centring, const FeetSet& feet) {
  std::string text = csv_line({"foot", "raise_mm", "by_wedge_mm", "trim_mm", "pack_mm", "post_mm",
                               "post_after_mm", "within_trim"});
  for (const FootSetting& foot : feet.feet) {
    std::string post, after;
    if (centring != nullptr)
      if (const auto drawn = post_length_m(*centring, foot.foot)) {
        post = mm_words(*drawn);
        after = mm_words(*drawn - foot.trim_m);
      }
    text += csv_line({foot.foot, mm_words(foot.raise_m, 2), mm_words(foot.by_wedge_m, 2),
                      mm_words(foot.trim_m, 2), mm_words(foot.pack_m, 2), post, after,
                      foot.within ? "yes" : "no"});
  }
  return text;
}

std::string seats_csv(const Centring& centring, const FeetSet& feet) {
  std::string text = csv_line({"rib", "block", "along_m", "open_mm"});
  for (const SeatGap& gap : gaps_along_ribs(centring, feet))
    text += csv_line({gap.rib, gap.block, fixed(gap.along_m, 3), mm_words(gap.gap_m, 2)});
  return text;
}

std::string residuals_csv(const Brief& brief, const Refit& refit) {
  std::string text = csv_line({"mark", "support", "drawn_x_m", "drawn_y_m", "drawn_z_m",
                               "found_x_m", "found_y_m", "found_z_m", "residual_x_mm",
                               "residual_y_mm", "residual_z_mm", "residual_mm", "left_out"});
  for (const MarkFound& m : marks_found(brief, refit))
    text += csv_line({m.name, m.support, fixed(m.drawn.x(), 5), fixed(m.drawn.y(), 5),
                      fixed(m.drawn.z(), 5), fixed(m.found.x(), 5), fixed(m.found.y(), 5),
                      fixed(m.found.z(), 5), mm_words(m.residual_m.x(), 2),
                      mm_words(m.residual_m.y(), 2), mm_words(m.residual_m.z(), 2),
                      mm_words(m.residual_m.norm(), 2), m.outlier ? "yes" : "no"});
  return text;
}

std::string measured_blocks_csv(const Assembly& assembly, const MeasuredBlocks& measured) {
  std::string text = csv_line({"block", "length_error_mm", "wedge_deg", "twist_deg", "bow_mm",
                               "warp_mm", "fit_rms_mm", "finding"});
  for (const MeasuredBlock& m : measured.blocks)
    text +=
        csv_line({assembly.blocks[static_cast<std::size_t>(m.block)].id, mm_words(m.length_m, 2),
                  degrees(m.wedge_rad), degrees(m.twist_rad), mm_words(m.bow_m, 2),
                  mm_words(m.warp_m, 2), mm_words(m.fit.rms_m, 2), m.finding});
  return text;
}

std::string blocks_in_place_csv(const std::vector<BlockInPlace>& blocks) {
  std::string text = csv_line({"block", "marks", "off_x_mm", "off_y_mm", "off_z_mm", "worst_mark",
                               "worst_mm", "from_drawn_mm", "beyond", "lies_at"});
  for (const BlockInPlace& b : blocks)
    text += csv_line({b.block, std::to_string(b.marks), mm_words(b.off_m.x(), 2),
                      mm_words(b.off_m.y(), 2), mm_words(b.off_m.z(), 2), b.worst,
                      mm_words(b.worst_m, 2), mm_words(b.off_drawn_m, 2), b.beyond ? "yes" : "no",
                      b.lies_at});
  return text;
}

std::string packed_joints_csv(const Assembly& assembly, const Packed& packed) {
  std::string text = csv_line({"joint", "gap_1_mm", "gap_2_mm", "gap_3_mm", "gap_4_mm", "step_1_mm",
                               "step_2_mm", "step_3_mm", "step_4_mm", "packers"});
  for (std::size_t j = 0; j < packed.joints.size(); ++j) {
    std::vector<std::string> row = {joint_name(assembly, static_cast<int>(j))};
    for (const double gap : packed.joints[j].gap_m) row.push_back(mm_words(gap, 2));
    for (const double step : packed.joints[j].step_m) row.push_back(mm_words(step, 2));
    row.push_back(
        std::to_string(std::ranges::count(packed.packers, static_cast<int>(j), &Packer::joint)));
    text += csv_line(row);
  }
  return text;
}

std::string packed_marks_csv(const Brief& brief, const Assembly& assembly, const Centring* centring,
                             const Refit& refit, const std::string& not_passed) {
  std::vector<Mark> marks = marks_as_packed(brief, assembly, centring, refit);
  std::string note =
      "as packed: springings and shoes where they were found, blocks where they are to lie when "
      "they are laid, heads of feet before they carry";
  const bool own = on_own_axes(refit.datum);
  if (own) {
    for (Mark& mark : marks) mark.designed = refit.datum(mark.designed);
    note += "; x, y and z of the survey's own axes under east, north and level";
  }
  if (!not_passed.empty()) note += "\n# do not build by this list: it does not pass its proof";
  return setting_out_csv(own ? SiteGrid{} : brief.site, marks, note);
}

std::vector<OutputFile> survey_files(const Brief& brief, const Assembly& assembly,
                                     const Centring* centring, const Refit& refit,
                                     const std::vector<int>& order,
                                     const std::vector<Regions>& plan,
                                     const std::string& not_passed, const LiftPlan* lifts) {
  std::vector<OutputFile> files;
  const Sheet footings = footings_sheet(brief, refit, {190, 235});
  std::vector<Sheet> pages = {on_paper(brief, "as built", remeasure_words(), footings)};
  add_named(files, "residuals.csv", residuals_csv(brief, refit));
  add_named(files, "footings.svg", svg(footings));
  if (refit.key_goes_in)
    add_named(files, "marks.csv", packed_marks_csv(brief, assembly, centring, refit, not_passed));
  if (!refit.packed.joints.empty())
    add_named(files, "joints.csv", packed_joints_csv(assembly, refit.packed));
  if (!refit.in_place.empty())
    add_named(files, "blocks-in-place.csv", blocks_in_place_csv(refit.in_place));
  if (!refit.packed.pads.empty())
    add_named(files, "other-pads.csv", other_pads_csv(assembly, refit.packed));
  if (!refit.packed.packers.empty()) {
    add_named(files, "packers.csv", packers_csv(assembly, order, refit.packed));
    add_named(files, "packers.svg", svg(packed_plan(brief, assembly, refit, plan, SheetSize{})));
    for (Sheet& page : packer_sheets(brief, assembly, order, refit, plan, lifts))
      pages.push_back(std::move(page));
  }
  if (refit.feet && !refit.feet->feet.empty()) {
    add_named(files, "feet.csv", feet_set_csv(centring, *refit.feet));
    if (centring != nullptr && !refit.feet->gaps.empty())
      add_named(files, "seats.csv", seats_csv(*centring, *refit.feet));
    if (centring != nullptr)
      for (Sheet& page : foot_sheets(brief, *centring, *refit.feet, refit.datum))
        pages.push_back(std::move(page));
  }
  for (const Sheet& sheet : springer_sheets(brief, assembly, refit)) {
    const std::string name = sheet.title.substr(sheet.title.rfind(' ') + 1);
    add_named(files, "springer-" + file_stem(name) + ".svg", svg(sheet));
    pages.push_back(on_paper(brief, "as built", remeasure_words(), sheet));
  }
  if (!refit.blocks.blocks.empty())
    add_named(files, "blocks.csv", measured_blocks_csv(assembly, refit.blocks));
  if (!not_passed.empty()) warn(not_passed, pages);
  add_named(files, "work-sheets.pdf", sheets_pdf(pages, brief.title + ": as built"));
  return files;
}

}  // namespace skewback::deliver
