#include "quantities/timber.hpp"

#include <algorithm>
#include <cstdio>
#include <string>

namespace skewback {
namespace {

void add(QuantityLine line, const CarbonFactor& carbon, double money, Quantities& out) {
  const bool own = carbon.own > 0;
  line.carbon_kg = {line.mass_kg * (own ? carbon.own : carbon.least),
                    line.mass_kg * (own ? carbon.own : carbon.usual),
                    line.mass_kg * (own ? carbon.own : carbon.most)};
  for (std::size_t i = 0; i < 3; ++i) out.carbon_kg[i] += line.carbon_kg[i];
  if (money > 0) {
    line.money = money;
    out.money = out.money.value_or(0) + money;
  } else {
    out.not_priced.push_back(line.what);
  }
  out.lines.push_back(std::move(line));
}

std::string sawn_words(const CentringTimber& timber) {
  const std::string what = "posts, braces, packings, laggings; used once";
  if (timber.sawn_bought_m <= 0) return what;
  char text[120];
  std::snprintf(text, sizeof text,
                "%.1f m bought in whole lengths, %.1f m of it used: ", timber.sawn_bought_m,
                timber.sawn_used_m);
  return text + what;
}

}  // namespace

void add_centring(const Brief& brief, const CentringTimber& timber, Quantities& quantities) {
  constexpr CarbonFactor kPlywood{0.5, 0.68, 0.9};
  add({"centring: sheets",
       "m2",
       timber.sheets_m2,
       timber.sheets_kg,
       {},
       {},
       "centring.rib_spacing, rib_depth, cross_spacing, sheet_thickness",
       "whole sheets, used once; plywood, what it stores left out"},
      kPlywood, brief.rates.plywood_per_sheet * timber.sheets, quantities);
  add({"centring: sawn timber",
       "m3",
       timber.sawn_m3,
       timber.sawn_kg,
       {},
       {},
       "centring.post, foot_spacing, ground_level, stock_length",
       sawn_words(timber)},
      brief.carbon.timber, brief.rates.sawn_per_m3 * timber.sawn_m3, quantities);
  std::ranges::replace(quantities.remarks,
                       std::string("centring, bolts and lifting gear are not in these figures"),
                       std::string("bolts and lifting gear are not in these figures; the centring "
                                   "is, as if it were used once: used again it counts in shares"));
}

}  // namespace skewback
