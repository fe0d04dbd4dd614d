#include "deliver/report_print.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/print_files.hpp"
#include "deliver/print_poses.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"
#include "erect/dates.hpp"
#include "erect/printing_days.hpp"

namespace skewback::deliver {
namespace {

std::string degrees(double rad) { return fixed(rad * 180 / kPi, 1); }
std::string mm(double metres, int decimals = 1) { return fixed(1000 * metres, decimals); }

std::optional<Colour> tint(const BlockPrint& block) {
  return made(block) == Made::kNot ? verdict_tint(Verdict::kFalls) : std::optional<Colour>{};
}

std::vector<std::string> block_cells(const BlockPrint& b) {
  if (b.layers.empty()) return {b.id, word(b.way), "", "", "", "", "", "", "", "why: below"};
  const PrintCheck* worst = worst_check(b);
  const std::string nearest = worst == nullptr
                                  ? "none made"
                                  : worst->name + ": " + in_words(worst->value, worst->unit) +
                                        (worst->at_least ? ", at least " : " of ") +
                                        in_words(worst->limit, worst->unit);
  const bool laid = !b.poses.empty();
  return {b.id,
          word(b.way),
          std::to_string(b.layers.size()),
          mm(b.layer_min_m) + " to " + mm(b.layer_max_m),
          laid ? fixed(b.time_s / 60, 0) : "",
          laid ? fixed(b.path_m, 0) : "",
          laid && b.solid_m3 > 0 ? fixed(100 * b.volume_m3 / (b.solid_m3 + b.ground_m3), 1) : "",
          degrees(b.overhang_max_rad),
          b.way == PrintWay::kBedToBed && !b.layers.empty() ? degrees(b.normal_to_thrust_rad) : "",
          nearest};
}

void add_table(Pages& pages, const PrintSet& set) {
  std::vector<Row> rows;
  for (const BlockPrint& b : set.blocks) rows.push_back({block_cells(b), tint(b)});
  pages.table({{"block", 1.3},
               {"way", 1.1},
               {"layers", 0.75, true},
               {"mm", 1.35, true},
               {"min", 0.6, true},
               {"path (m)", 0.7, true},
               {"laid (%)", 0.8, true},
               {"leans out (°)", 0.8, true},
               {"to thrust (°)", 0.8, true},
               {"nearest its limit", 2.8}},
              rows);
  pages.paragraph(
      "laid: volume of the beads over that of the block's solid. Leans out: the greatest overhang. "
      "To thrust: between the middle layer's normal and the resultant under dead load.");
}

void add_failing(Pages& pages, const PrintSet& set) {
  std::vector<Row> rows;
  for (const BlockPrint& b : set.blocks) {
    if (made(b) == Made::kCast) continue;  // the reason is given with it
    for (const PrintCheck& check : b.checks) {
      if (check.passes()) continue;
      rows.push_back(
          {{b.id, check.name, in_words(check.value, check.unit),
            (check.at_least ? "at least " : "at most ") + in_words(check.limit, check.unit),
            check.place, check.change},
           verdict_tint(Verdict::kFalls)});
    }
  }
  if (rows.empty()) return;
  pages.keep(40);
  pages.subheading("Checks that fail");
  pages.table({{"block", 1},
               {"check", 1.2},
               {"found", 1, true},
               {"allowed", 1.2, true},
               {"where", 1.8},
               {"what to change", 2.2}},
              rows);
}

struct Group {
  std::string words;
  std::vector<std::string> blocks;
};

void add_grouped(std::vector<Group>& groups, const std::string& words, const std::string& id) {
  if (words.empty()) return;
  auto group = std::ranges::find(groups, words, &Group::words);
  if (group == groups.end()) group = groups.insert(groups.end(), {words, {}});
  group->blocks.push_back(id);
}

void add_faces(Pages& pages, const Brief& brief, const PrintSet& set) {
  std::vector<Group> faces, reasons;
  for (const BlockPrint& b : set.blocks) {
    add_grouped(made(b) == Made::kNot || made(b) == Made::kCast ? reasons : faces,
                made(b) == Made::kNot || made(b) == Made::kCast ? b.reason : b.on_table, b.id);
  }
  pages.subheading("Which face lies on the table");
  for (const Group& group : faces)
    pages.bullet(joined(group.blocks, ", ") + ": " + group.words + ".");
  pages.paragraph(far_bed_words(brief.print));
  double worst = 0;
  for (const BlockPrint& b : set.blocks) worst = std::max(worst, b.far_bed_error_m);
  if (worst > 0)
    pages.paragraph("By the layers alone the last one lies up to " + mm(worst, 2) +
                    " mm from the plane of its bed.");
  if (reasons.empty()) return;
  pages.subheading("Blocks that are not printed, and why");
  for (const Group& group : reasons)
    pages.bullet(joined(group.blocks, ", ") + ": " + group.words + ".");
}

std::string clock(double seconds) {
  const auto minutes = static_cast<int>(std::lround(seconds / 60));
  const std::string rest = std::to_string(minutes % 60);
  return std::to_string(minutes / 60) + ":" + (rest.size() < 2 ? "0" : "") + rest;
}

void add_batches(Pages& pages, const PrintRequest& cell, const PrintPlan& plan) {
  if (plan.batches.empty()) return;
  std::vector<Row> rows;
  for (std::size_t i = 0; i < plan.batches.size(); ++i) {
    const Batch& batch = plan.batches[i];
    rows.push_back({{std::to_string(i + 1), fixed(1000 * batch.volume_m3, 0),
                     std::to_string(batch.coupons), std::to_string(batch.day),
                     clock(batch.from_s) + " to " + clock(batch.to_s), joined(batch.blocks, ", ")},
                    {}});
  }
  pages.keep(40);
  pages.subheading("Mixes");
  pages.paragraph(mixes_words(cell, plan));
  pages.table({{"mix", 0.5, true},
               {"litres", 0.7, true},
               {"test pieces", 0.9, true},
               {"day", 0.5, true},
               {"in use, h:min", 1.2},
               {"blocks", 4}},
              rows);
}

void add_order(Pages& pages, const Brief& brief, const PrintSet& set, const PrintPlan& plan) {
  if (plan.order.empty()) return;
  std::vector<Row> rows;
  for (std::vector<std::string>& cells : order_of_printing(brief, set, plan))
    rows.push_back({std::move(cells), {}});
  const bool dates = has_dates(brief);
  pages.keep(40);
  pages.subheading("Order of printing");
  pages.paragraph(
      "Course by course from the springings, in each leg after leg, keys last; the order of "
      "placing is another (Method). Working days count from 1, worked days only; the start is from "
      "the beginning of the day's work, in hours and minutes. " +
      std::string(dates ? "Lifted from: not before this date, curing counted in days of the "
                          "calendar from the end of printing as planned. What is printed later is "
                          "lifted as much later"
                        : "Lifted: not before so many days of the calendar after the day it is "
                          "printed") +
      ", and nothing before its test pieces have the strength." +
      (plan.order.size() > set.order.size() ? " \"Again\": the spares of the programme, printed "
                                              "where it has them; such a spare is copy 2 "
                                              "in the daybook, \"/2\" on its label."
                                            : ""));
  std::vector<Column> columns{{"", 0.5, true}, {"block", 1.7}};
  if (dates) columns.push_back({"printed on", 1.1});
  columns.push_back({"working day", 0.9, true});
  columns.push_back({"starts (h:min)", 1.1, true});
  columns.push_back({"takes (h:min)", 1.1, true});
  columns.push_back(dates ? Column{"lifted from", 1.1}
                          : Column{"lifted, calendar days later", 1.4, true});
  pages.table(columns, rows);
  if (const std::string boards = boards_words(brief, set, plan); !boards.empty())
    pages.paragraph(boards);
}

void add_assumed(Pages& pages, const PrintRequest& cell) {
  pages.subheading("What is assumed of the mix");
  pages.paragraph(
      "Fresh density " + fixed(cell.fresh_density, 0) + " kg/m3; yield stress " +
      fixed(cell.fresh_yield_pa / 1000, 2) + " kPa as it leaves the nozzle and " +
      fixed(cell.fresh_yield_growth_pa_s, 2) + " Pa more each second; Young's modulus " +
      fixed(cell.fresh_stiffness_pa / 1000, 0) + " kPa and " +
      fixed(cell.fresh_stiffness_growth_pa_s, 0) + " Pa more each second; pump " +
      fixed(60000 * cell.flow_m3_s, 2) + " L/min" +
      (cell.accelerator > 0
           ? ", accelerator " + fixed(100 * cell.accelerator, 1) + " % of that by volume"
           : "") +
      "; a layer no sooner than " + fixed(cell.layer_time_min_s, 0) + " s and no later than " +
      fixed(cell.layer_time_max_s, 0) +
      " s after the one below. Where the brief does not set them these are typical of the "
      "literature, from memory: test your mix, and set them under [print].");
}

void add_cautions(Pages& pages) {
  pages.subheading("Before the pump is started");
  for (const char* line :
       {"Poses are positions of the tip and its turn, in no maker's language. Whoever turns them "
        "into a program answers for it. Run it dry and slow first, with the table empty.",
        "The tool was checked against the block being printed and the table, and the wrist against "
        "a range of reach; not against the robot's own arm, joints or cables, nor anything else in "
        "the cell.",
        "A competent operator stays at the stop; nobody is inside the guard while it moves. A "
        "blocked hose whips; wet cement burns.",
        "Strength must be tested on pieces sawn from printed walls, across and along the layers "
        "and "
        "at the joint between layers; cubes from a mould say too much.",
        "No block is lifted before its strength is tested."})
    pages.bullet(line);
}

}  // namespace

const PrintPlan& printed_with_spares(const PrintSet& set, const Spares* spares) {
  return spares != nullptr && !spares->printing.order.empty() ? spares->printing : set;
}

bool has_dates(const Brief& brief) { return brief.programme.wanted || brief.spares.wanted; }

std::vector<PrintingDays> days_of_printing(const Brief& brief, const PrintSet& set,
                                           const PrintPlan& plan) {
  const ProgrammeRequest& p = brief.programme;
  return printing_days(brief.print, set, plan,
                       has_dates(brief) ? Calendar(p.start, p.week, p.holidays) : Calendar());
}

std::vector<std::vector<std::string>> order_of_printing(const Brief& brief, const PrintSet& set,
                                                        const PrintPlan& plan) {
  const ProgrammeRequest& p = brief.programme;
  const bool dates = has_dates(brief);
  const std::vector<PrintingDays> days = days_of_printing(brief, set, plan);
  const auto date = [&](long day) {
    return date_after(p.start, 86400.0 * static_cast<double>(day));
  };
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < plan.order.size(); ++i) {
    const PrintSlot& slot = plan.order[i];
    const auto b = std::ranges::find(set.blocks, slot.block, &BlockPrint::block);
    std::vector<std::string> cells{std::to_string(i + 1), b->id + (slot.again ? " again" : "")};
    if (dates) cells.push_back(date(days[i].printed));
    cells.push_back(std::to_string(slot.day));
    cells.push_back(clock(slot.start_s));
    cells.push_back(clock(b->time_s));
    cells.push_back(dates ? date(days[i].lifted)
                          : std::to_string(days[i].lifted - days[i].printed));
    rows.push_back(std::move(cells));
  }
  return rows;
}

void add_print(Pages& pages, const Brief& brief, const Assembly& assembly, const PrintSet& set,
               const Spares* spares) {
  const PrintPlan& plan = printed_with_spares(set, spares);
  pages.new_page();
  pages.heading("Printing the blocks");
  pages.paragraph(print_summary(set) +
                  (plan.order.size() > set.order.size()
                       ? " With the " + counted(plan.order.size() - set.order.size(), "spare") +
                             " of the programme: " + fixed(plan.print_s / 3600, 1) + " h, " +
                             counted(static_cast<std::size_t>(plan.days), "working day") + ", " +
                             std::to_string(plan.batches.size()) + " mixes."
                       : ""));
  pages.figure(print_overview_sheet(brief, assembly, set, pages.width_mm()), "");
  pages.keep(45);
  pages.subheading("Block by block");
  add_table(pages, set);
  add_failing(pages, set);
  add_faces(pages, brief, set);
  pages.figure(layers_thrust_sheet(brief, assembly, set, {}, pages.width_mm()), "");
  if (const std::string low = low_flow_words(brief.print, set); !low.empty()) pages.paragraph(low);
  add_batches(pages, brief.print, plan);
  add_order(pages, brief, set, plan);
  for (const std::string& remark : set.remarks) pages.bullet(remark);
  add_assumed(pages, brief.print);
  add_cautions(pages);
}

}  // namespace skewback::deliver
