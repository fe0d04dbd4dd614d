// Pages of the centring: sawn timber from lengths as sold, and what holds it together.

#include <algorithm>

#include "deliver/centring_orders.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string mm(double metres) { return fixed(1000 * metres, 0); }

std::string share(double left, double whole) {
  return whole > 0 ? fixed(100 * left / whole, 0) + " %" : "";
}

}  // namespace

void add_cut_list(Pages& pages, const CentringRequest& request, const Centring& centring) {
  const CutList cut = cut_list(request, centring);
  if (cut.sections.empty()) return;
  std::vector<Row> rows;
  std::vector<std::string> too_long;
  for (const SectionCut& section : cut.sections) {
    std::size_t pieces = section.too_long.size();
    for (const StockLength& length : section.lengths) pieces += length.pieces.size();
    for (const CutPiece& piece : section.too_long)
      too_long.push_back(piece.id + " (" + fixed(piece.length_m, 2) + " m)");
    rows.push_back(
        {{mm(section.width_m) + " x " + mm(section.depth_m) + " mm", std::to_string(pieces),
          fixed(section.used_m, 1), std::to_string(section.lengths.size()),
          std::to_string(section.at_least), fixed(section.bought_m, 1),
          share(section.bought_m - section.used_m, section.bought_m)},
         {}});
  }
  pages.keep(45);
  pages.subheading("Sawn timber to buy");
  pages.table({{"section", 1.4},
               {"pieces", 0.8, true},
               {"used (m)", 1, true},
               {"lengths", 0.8, true},
               {"no fewer than", 1, true},
               {"bought (m)", 1, true},
               {"waste", 0.7, true}},
              rows);
  pages.paragraph(
      "From lengths of " + fixed(request.stock_length_m, 2) + " m, " +
      fixed(1000 * request.saw_kerf_m, 1) + " mm lost at each cut: " + fixed(cut.bought_m, 1) +
      " m bought, " + fixed(cut.used_m, 1) + " m used, " +
      share(cut.bought_m - cut.used_m, cut.bought_m) +
      " waste. Longest first, each into the first length with room; no list does with "
      "fewer than the figure beside it. Length by length: centring/timber.csv, drawn from "
      "centring/timber-1.svg on.");
  if (!too_long.empty())
    pages.paragraph(
        "Longer than the stock, to be bought at their own length or spliced, which was "
        "not designed: " +
        joined(too_long, ", ") + ".");
}

void add_fixings(Pages& pages, const Brief& brief, const Centring& centring) {
  const Fixings fixings = fixings_of(brief, centring);
  if (fixings.rows.empty() && fixings.missing.empty()) return;
  pages.keep(45);
  pages.subheading("Fixings");
  std::vector<Row> rows;
  std::vector<std::string> rules;  // each once
  for (const Fixing& f : fixings.rows) {
    rows.push_back({{f.what, f.where, std::to_string(f.number), f.size, f.grade,
                     f.force_n > 0 ? fixed(f.force_n / 1e3, 2) : ""},
                    {}});
    const bool each_its_place = f.what == "packing between legs";
    const std::string rule = f.what + (each_its_place ? "" : ", " + f.where) + ": " + f.rule;
    if (std::ranges::find(rules, rule) == rules.end()) rules.push_back(rule);
  }
  if (!rows.empty())
    pages.table({{"what", 1.5},
                 {"where", 1.7},
                 {"number", 0.7, true},
                 {"size (mm)", 2.4},
                 {"grade", 0.6},
                 {"force (kN)", 0.9, true}},
                rows);
  pages.paragraph(
      "Counted from the drawing; nothing is added for loss. Where each goes: "
      "centring/fixings.csv. Numbers and sizes by these rules:");
  for (const std::string& rule : rules) pages.bullet(rule + ".");
  if (fixings.missing.empty()) return;
  pages.paragraph("Needed, and not in the model:");
  for (const std::string& words : fixings.missing) pages.bullet(words);
}

}  // namespace skewback::deliver
