#pragma once
// The printing's part of the report.

#include "brief/brief.hpp"
#include "deliver/pages.hpp"
#include "erect/printing_days.hpp"
#include "erect/spares.hpp"
#include "print/print.hpp"

namespace skewback::deliver {

/// What can be printed, layers and times of each block, checks that fail, which face lies on the
/// table, the far bed, layers against thrust, batches and order, cautions, what is assumed.
/// `spares`: printed between the blocks; may be null.
void add_print(Pages& pages, const Brief& brief, const Assembly& assembly, const PrintSet& set,
               const Spares* spares = nullptr);

/// With the spares that the programme prints, if there is one.
[[nodiscard]] const PrintPlan& printed_with_spares(const PrintSet& set, const Spares* spares);

/// A row a slot of `plan`: place in the order, block, days, times, and when it may be lifted.
/// Dates where the brief has a programme, else working days and calendar days of curing.
[[nodiscard]] std::vector<std::vector<std::string>> order_of_printing(const Brief& brief,
                                                                      const PrintSet& set,
                                                                      const PrintPlan& plan);
[[nodiscard]] bool has_dates(const Brief& brief);
/// On the calendar of the programme, if the brief has one.
[[nodiscard]] std::vector<PrintingDays> days_of_printing(const Brief& brief, const PrintSet& set,
                                                         const PrintPlan& plan);

/// "12 of 14 blocks can be printed: ..."
[[nodiscard]] std::string print_summary(const PrintSet& set);
/// What all mixes of the plan hold, test pieces and all.
[[nodiscard]] double mix_used_m3(const PrintPlan& plan);
/// Litres used against those of full batches. Needs a batch.
[[nodiscard]] std::string mixes_words(const PrintRequest& cell, const PrintPlan& plan);
/// How low the pump has to go, and along how much of a path. Empty: nothing is printed.
[[nodiscard]] std::string low_flow_words(const PrintRequest& cell, const PrintSet& set);
/// How many blocks cure at once, and on what floor. Empty: nothing is printed.
[[nodiscard]] std::string boards_words(const Brief& brief, const PrintSet& set,
                                       const PrintPlan& plan);

/// A check in its unit for people: "12.3 mm", "23.5 degrees", "1.4 kPa".
[[nodiscard]] std::string in_words(double value, const std::string& unit);

/// The check of a block nearest to its limit, or furthest beyond it; null without checks.
[[nodiscard]] const PrintCheck* worst_check(const BlockPrint& block);

/// How the bed printed last is made true, and what that asks for.
[[nodiscard]] std::string far_bed_words(const PrintRequest& cell);

}  // namespace skewback::deliver
