#pragma once
// A label for every block: what to scan, what to read from two steps away, where it goes.

#include "daybook/plan.hpp"
#include "deliver/deliver.hpp"
#include "deliver/outline.hpp"
#include "deliver/sheet.hpp"
#include "survey/marks.hpp"

namespace skewback::deliver {

struct Label {
  int block = -1, bed = -1;     // of the assembly: it, and the joint it is bedded on
  std::string name;             // "o4"; "o4/2": the spare
  std::string coded;            // what the QR code says; format: docs/daybook.md
  std::string mass, order;      // "234 kg", "12th of 49 to be placed"
  std::string stands_on, next;  // "on o3, o2"; "then o5"
  std::string up;
  std::string cradle;                // in red: slings alone do not hold it; empty: they do
  std::vector<std::string> lifting;  // lines: where the slings go, what to keep to
  std::vector<Vec3> slings;          // world, block in place
  std::vector<Mark> marks;           // those on its back, set out in place
};

/// What the QR code on a label says of a block or of a copy of it ("o4/2").
[[nodiscard]] std::string label_code(const DayPlan& plan, const PlannedBlock& block,
                                     const std::string& name);

/// In the order of placing, spares beside their block. Empty where there is no plan.
[[nodiscard]] std::vector<Label> labels(const Dossier& dossier);

/// 99 x 67 mm. `plan`: outlines of all blocks from above.
[[nodiscard]] Sheet label_sheet(const Label& label, const std::string& title,
                                const Assembly& assembly, const std::vector<Regions>& plan);
/// A4, eight on a page, lines to cut along. Empty where there is no plan.
[[nodiscard]] std::string labels_pdf(const Dossier& dossier, const std::vector<Regions>& plan);

/// Dark modules of a QR code (ISO/IEC 18004, byte mode, a quarter may be lost: level Q), by row;
/// empty: the text is too long for one.
[[nodiscard]] std::vector<std::vector<bool>> qr_modules(const std::string& text);

}  // namespace skewback::deliver
