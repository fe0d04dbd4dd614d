#include <algorithm>
#include <cmath>

#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

struct Band {  // of frequencies to avoid or to look at
  double low, high;
  bool upright;
  const char* words;
};
// EN 1990 A2.4.3.2 and the guideline of HiVoSS and JRC (2009), both from memory
constexpr Band kBands[] = {
    {1.25, 2.3, true, "people walking: acceleration must be worked out"},
    {2.3, 5.0, true, "below 5 Hz: comfort must be verified"},
    {0.0, 1.25, true, "below 5 Hz: comfort must be verified"},
    {0.5, 1.2, false, "people swaying: acceleration must be worked out"},
    {1.2, 2.5, false, "below 2.5 Hz: comfort must be verified"},
    {0.0, 0.5, false, "below 2.5 Hz: comfort must be verified"},
};

std::string judged(const Mode& mode) {
  const bool upright = mode.share.z() >= 0.5;
  for (const Band& band : kBands) {
    if (band.upright == upright && mode.hz >= band.low && mode.hz < band.high) return band.words;
  }
  return "clear";
}

std::string direction(const Mode& mode) {
  return fixed(100 * mode.share.x(), 0) + " / " + fixed(100 * mode.share.y(), 0) + " / " +
         fixed(100 * mode.share.z(), 0);
}

void add_comfort(Pages& pages, const Dossier& dossier) {
  if (dossier.modes.empty()) return;
  pages.keep(50);
  pages.subheading("Comfort: how it swings");
  pages.paragraph(
      "Lowest frequencies of the blocks on their pads. Assumed: every joint stays closed over its "
      "whole face and sticks; dry joints have the stiffness of the pads page; footings do not "
      "move. "
      "A joint that opens lowers them. Ranges: EN 1990 A2.4.3.2 and the JRC guideline of 2009, "
      "from "
      "memory.");
  std::vector<Row> rows;
  for (std::size_t i = 0; i < dossier.modes.size(); ++i) {
    const Mode& mode = dossier.modes[i];
    const bool people = i < dossier.modes_full.size();
    const std::string words = judged(people ? dossier.modes_full[i] : mode);
    rows.push_back({{std::to_string(i + 1), fixed(mode.hz, 2),
                     people ? fixed(dossier.modes_full[i].hz, 2) : "", direction(mode), words},
                    words == "clear" ? std::nullopt : verdict_tint(Verdict::kUndecided)});
  }
  pages.table({{"", 0.3},
               {"empty (Hz)", 0.8, true},
               {"with people (Hz)", 1.0, true},
               {"east / north / up (%)", 1.4, true},
               {"", 3}},
              rows);
}

void add_proof_load(Pages& pages, const Dossier& dossier) {
  if (!dossier.proof_load) return;
  const ProofLoad& plan = *dossier.proof_load;
  pages.keep(60);
  pages.subheading("Proof load");
  pages.paragraph(
      "After striking and before anyone walks on it: load the whole walking surface evenly, up "
      "to " +
      fixed(plan.load_n / 1000, 0) + " kN, in the steps below; nobody on or under it. Drop of " +
      plan.crown + " from the state of dead load, by the pads" +
      (plan.on_ties ? ", feet on their ties, which were tightened at striking"
                    : ", footings still") +
      ". Stop where a reading passes the "
      "stop value (a quarter over the drop and a tenth over the force expected: common practice, "
      "no source), where a joint opens further than is said here, or where a reading creeps for "
      "ten "
      "minutes. After unloading, no more than a fifth of the drop may stay.");
  std::vector<Row> rows;
  for (const ProofLoad::Step& step : plan.steps) {
    const std::string share = fixed(100 * step.share, 0) + " %";
    if (!step.found) {
      rows.push_back({{share, "no state of the pads"}, verdict_tint(Verdict::kUndecided)});
      continue;
    }
    rows.push_back({{share, fixed(1000 * step.crown_drop_m, 2), fixed(1250 * step.crown_drop_m, 2),
                     fixed(1000 * step.opening_m, 2), step.tie.empty() ? "" : step.tie,
                     step.tie.empty() ? "" : fixed(step.tie_most_n / 1000, 1),
                     step.tie.empty() ? "" : fixed(1.1 * step.tie_most_n / 1000, 1)},
                    {}});
  }
  pages.table({{"load", 0.6},
               {"drop (mm)", 0.8, true},
               {"stop at", 0.7, true},
               {"opens (mm)", 0.8, true},
               {"tie", 1.5},
               {"rod (kN)", 0.8, true},
               {"stop at", 0.7, true}},
              rows);
}

std::string range(const std::array<double, 3>& kg) {
  return fixed(kg[0], 0) + " / " + fixed(kg[1], 0) + " / " + fixed(kg[2], 0);
}

}  // namespace

void add_service(Pages& pages, const Dossier& dossier) {
  add_comfort(pages, dossier);
  add_proof_load(pages, dossier);
}

void add_quantities(Pages& pages, const Dossier& dossier) {
  if (!dossier.quantities) return;
  const Quantities& q = *dossier.quantities;
  const std::string& currency = dossier.brief.rates.currency;
  pages.new_page();
  pages.heading("What it takes");
  std::vector<Row> rows;
  for (const QuantityLine& line : q.lines) {
    rows.push_back({{line.what, fixed(line.amount, line.amount < 100 ? 2 : 0) + " " + line.unit,
                     line.mass_kg > 0 ? fixed(line.mass_kg, 0) : "",
                     line.carbon_kg[2] > 0 ? range(line.carbon_kg) : "",
                     line.money ? fixed(*line.money, 0) : "not priced", line.moved_by},
                    {}});
  }
  rows.push_back({{"all", "", "", range(q.carbon_kg), q.money ? fixed(*q.money, 0) : "", ""}, {}});
  pages.table({{"", 2.2},
               {"amount", 1.1, true},
               {"kg", 0.8, true},
               {"kg CO2e least / usual / most", 1.5, true},
               {currency.empty() ? "money" : currency, 0.8, true},
               {"moved by", 2.6}},
              rows);
  if (q.deck_m2 > 0) {
    std::string text = "Per square metre of the " + fixed(q.deck_m2, 1) +
                       " m2 walked on: " + fixed(q.concrete_m3 / q.deck_m2, 3) + " m3 of blocks, " +
                       fixed(q.steel_kg / q.deck_m2, 1) + " kg of steel in ties, " +
                       fixed(q.carbon_kg[1] / q.deck_m2, 0) + " kg CO2e";
    if (q.money) text += ", " + fixed(*q.money / q.deck_m2, 0) + " " + currency;
    pages.paragraph(text + ".");
  }
  if (q.print) {
    pages.paragraph("Paths of the nozzle for " + std::to_string(q.print->blocks) +
                    " blocks: " + fixed(q.print->path_m / 1000, 1) + " km, " +
                    fixed(q.print->print_s / 3600, 1) + " h, " + fixed(q.print->mix_m3, 2) +
                    " m3 of mix without accelerator and test pieces.");
  }
  double shoes_kg = 0;
  for (const QuantityLine& line : q.lines) {
    if (line.what == "shoes") shoes_kg += line.mass_kg;
  }
  pages.paragraph(
      "Against a solid reinforced slab over the same plan, simply supported over " +
      fixed(q.slab.span_m, 2) + " m, depth span / 20 and cover (" +
      fixed(1000 * q.slab.depth_m, 0) +
      " mm), designed to EN 1992-1-1 for its own weight, 1 kPa of finishes and the people: " +
      fixed(q.slab.concrete_m3, 1) + " m3 and " + fixed(q.slab.steel_kg, 0) +
      " kg of steel. Blocks and ties here are " + fixed(q.concrete_ratio, 2) +
      " of that concrete and " + fixed(q.steel_ratio, 2) + " of that steel" +
      (shoes_kg > 0 ? "; with the shoes " + fixed((q.steel_kg + shoes_kg) / q.slab.steel_kg, 2)
                    : std::string()) +
      ".");
  for (const std::string& remark : q.remarks) pages.bullet(remark);
}

}  // namespace skewback::deliver
