#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/text.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

using deliver::counted;
using deliver::fixed;

constexpr double kDay_s = 86400;

std::string trade_unit(const std::string& unit) {
  return unit == "m3" ? "m\u00b3" : unit == "m2" ? "m\u00b2" : unit;
}

void tell_figure(Told& told, const std::string& name, double was, double is, int decimals,
                 const std::string& unit, const std::string& moment) {
  if (const auto says = more_or_less(name, was, is, decimals, unit))
    told.tell(share_changed(was, is), {"", *says, "none", "", {}, moment});
}

std::string made(const BlockPrint& block) {
  if (!block.printable && block.way != PrintWay::kCast) return "not to be made as asked";
  switch (block.way) {
    case PrintWay::kBedToBed:
      return "printed bed to bed";
    case PrintWay::kFlat:
      return "printed flat";
    case PrintWay::kCast:
      return "cast";
    default:
      return "not to be made as asked";
  }
}

// Blocks made in one way and now in another, all with the same two ways in one sentence.
void tell_ways(const PrintSet& a, const PrintSet& b, Told& told) {
  std::map<std::pair<std::string, std::string>, std::vector<std::string>> turned;
  for (const Pair& pair :
       paired_by(a.blocks, b.blocks, [](const BlockPrint& one) { return one.id; })) {
    if (!pair.before || !pair.now) continue;
    const std::string was = made(a.blocks[*pair.before]), is = made(b.blocks[*pair.now]);
    if (was != is) turned[{was, is}].push_back(b.blocks[*pair.now].id);
  }
  for (const auto& [ways, ids] : turned) {
    const bool one = ids.size() == 1;
    told.tell(10 + static_cast<double>(ids.size()),
              {"",
               (one ? ids.front() + " is " : counted(ids.size(), "block") + " are ") + ways.second +
                   (one ? " now, it was " : " now, they were ") + ways.first +
                   (one ? "" : ": " + named(ids)),
               "block",
               ids.front(),
               {},
               "printed"});
  }
}

std::string stage_name(const Stage& stage) {
  return stage.words.empty() ? stage.what : stage.what + " " + stage.words;
}

std::string stage_word(const Stage& stage) {
  return stage.working && stage.proof.verdict == Verdict::kStands ? word(stage.working->verdict)
                                                                  : word(stage.proof.verdict);
}

void tell_stages(const Programme& a, const Programme& b, Told& told) {
  if (a.stages.size() != b.stages.size())
    told.tell(8, {"", "the works take " + counted(b.stages.size(), "step") + ", they took " +
                          std::to_string(a.stages.size())});
  for (const Pair& pair : paired_by(a.stages, b.stages, stage_name)) {
    if (!pair.before || !pair.now) continue;
    const Stage &was = a.stages[*pair.before], &is = b.stages[*pair.now];
    const std::string from = stage_word(was), to = stage_word(is);
    if (from == to) continue;
    told.tell(to == "stands" ? 9 : 20, {"",
                                        "step " + std::to_string(is.step) + ", " + stage_name(is) +
                                            ", goes from " + from + " to " + to,
                                        "stage",
                                        std::to_string(is.step),
                                        {},
                                        "stage " + std::to_string(is.step)});
  }
}

void tell_order(const Programme& a, const Programme& b, Told& told) {
  if (a.order == b.order) return;
  const auto same = std::mismatch(a.order.begin(), a.order.end(), b.order.begin(), b.order.end());
  const auto place = static_cast<std::size_t>(same.second - b.order.begin());
  if (same.second == b.order.end() || same.first == a.order.end()) {
    told.tell(7, {"", "the order of placing has " + counted(b.order.size(), "block") + ", it had " +
                          std::to_string(a.order.size())});
    return;
  }
  told.tell(7, {"",
                "the order of placing is another from place " + std::to_string(place + 1) +
                    " on: " + *same.second + ", it was " + *same.first,
                "block",
                *same.second,
                {},
                ""});
}

}  // namespace

std::vector<Change> print_changes(const Dossier& before, const Dossier& now) {
  if (!before.print || !now.print) return {};
  const PrintSet &a = *before.print, &b = *now.print;
  Told told("printing");
  tell_ways(a, b, told);
  tell_figure(told, "the nozzle's time over all blocks", a.print_s / 3600, b.print_s / 3600, 1, "h",
              "printed");
  tell_figure(told, "the time for printing", a.days, b.days, 0, "working days", "printed");
  tell_figure(told, "the number of batches", static_cast<double>(a.batches.size()),
              static_cast<double>(b.batches.size()), 0, "", "printed");
  return told.in_order();
}

std::vector<Change> centring_changes(const Dossier& before, const Dossier& now) {
  if (!before.centring || !now.centring) return {};
  const Centring &a = *before.centring, &b = *now.centring;
  Told told("centring");
  const auto count = [&](const std::string& name, std::size_t was, std::size_t is) {
    tell_figure(told, name, static_cast<double>(was), static_cast<double>(is), 0, "", "closed");
  };
  count("the number of ribs", a.ribs.size(), b.ribs.size());
  count("the number of feet", a.feet.size(), b.feet.size());
  count("the number of sheets to buy", a.sheets.size(), b.sheets.size());
  tell_figure(told, "the plywood in its parts", a.plywood_m2, b.plywood_m2, 1, "m\u00b2", "closed");
  tell_figure(told, "its sawn timber", a.timber_m3, b.timber_m3, 2, "m\u00b3", "closed");
  tell_figure(told, "the most it carries", a.load_max_n / 1e3, b.load_max_n / 1e3, 1, "kN",
              "closed");
  tell_figure(told, "the most a rib sags", 1e3 * a.deflection_max_m, 1e3 * b.deflection_max_m, 1,
              "mm", "closed");
  for (const Pair& pair :
       paired_by(a.checks, b.checks, [](const CentringCheck& c) { return c.name; })) {
    if (!pair.before || !pair.now) continue;
    const CentringCheck &was = a.checks[*pair.before], &is = b.checks[*pair.now];
    if (std::abs(was.utilisation - is.utilisation) < 5e-3) continue;
    const bool over = is.utilisation > 1, over_then = was.utilisation > 1;
    told.tell(
        over && !over_then ? 10 : share_changed(was.utilisation, is.utilisation),
        {"", is.name + " is used to " + fixed(is.utilisation, 2) + " of what it holds, it was " +
                 fixed(was.utilisation, 2) + (is.place.empty() ? "" : " (" + is.place + ")")});
  }
  return told.in_order();
}

std::vector<Change> programme_changes(const Dossier& before, const Dossier& now) {
  Told told("programme");
  if (before.programme && now.programme) {
    tell_stages(*before.programme, *now.programme, told);
    tell_order(*before.programme, *now.programme, told);
  }
  if (before.spares && now.spares) {
    const Spares &a = *before.spares, &b = *now.spares;
    tell_figure(told, "the whole of the works", a.with.mean_s / kDay_s, b.with.mean_s / kDay_s, 1,
                "days", "");
    tell_figure(told, "the number of spare blocks", a.chosen, b.chosen, 0, "", "");
    const auto delay = [](const Spares& s) {
      const auto k = static_cast<std::size_t>(s.chosen);
      return k < s.trials.size() ? s.trials[k].expected_delay_s / kDay_s : 0.0;
    };
    tell_figure(told, "the delay to expect from broken blocks", delay(a), delay(b), 2, "days", "");
  }
  return told.in_order();
}

std::vector<Change> quantity_changes(const Dossier& before, const Dossier& now) {
  if (!before.quantities || !now.quantities) return {};
  const Quantities &a = *before.quantities, &b = *now.quantities;
  Told told("quantities");
  const auto tell = [&](double lead, const std::string& name, double was, double is,
                        const std::string& unit) {
    if (const auto says = more_or_less(name, was, is, unit))
      told.tell(lead + share_changed(was, is), {"", *says});
  };
  for (const Pair& pair :
       paired_by(a.lines, b.lines, [](const QuantityLine& l) { return l.what + "\n" + l.unit; })) {
    if (pair.before && pair.now) {
      const QuantityLine &was = a.lines[*pair.before], &is = b.lines[*pair.now];
      tell(0, is.what + ":", was.amount, is.amount, trade_unit(is.unit));
    } else {
      const QuantityLine& line = pair.now ? b.lines[*pair.now] : a.lines[*pair.before];
      told.tell(
          2, {"", line.what + (pair.now ? " is new: " : " is gone, it was ") +
                      fixed(line.amount, decimals_of(line.amount)) + " " + trade_unit(line.unit)});
    }
  }
  tell(3, "the carbon of all that is counted", a.carbon_kg[1], b.carbon_kg[1], "kg CO\u2082e");
  if (a.money && b.money && before.brief.rates.currency == now.brief.rates.currency)
    tell(4, "the price of what has a rate", *a.money, *b.money, now.brief.rates.currency);
  return told.in_order();
}

}  // namespace skewback::lodge
