#include "centring/fixings.hpp"

#include <algorithm>
#include <cmath>

#include "centring/fixings_parts.hpp"

namespace skewback {
namespace {

void say_what_is_not_drawn(const Centring& centring, Fixings& out) {
  const auto posts = std::ranges::count(centring.sticks, std::string("post"), &Stick::kind);
  const auto across = std::ranges::count(centring.ribs, true, &Rib::is_cross);
  if (posts > 0)
    out.missing.push_back("Heads of posts: " + std::to_string(posts) +
                          ", where nothing but weight keeps the rib on its post unless a strap is "
                          "listed there. Cheeks, plates or forks are not in "
                          "the model.");
  if (across > 0)
    out.missing.push_back("Ribs across: " + std::to_string(across) +
                          ", held by their slots alone; blocks or angles beside the slots are not "
                          "in the model.");
  if (!centring.feet.empty())
    out.missing.push_back(
        "Sills or base plates under the feet: " + std::to_string(centring.feet.size()) +
        " feet stand on the ground as it is.");
  for (const CentringCheck& check : centring.checks) {
    const bool listed = check.name == "splice bolts" || check.name == "end of a brace" ||
                        check.name == "packing between legs" || check.name == "strap of a foot" ||
                        check.name == "screw of a jack" || check.name == "jack";
    if (listed && check.utilisation > 1)
      out.missing.push_back("The check \"" + check.name + "\" fails (" + check.place +
                            "): what is listed there does not do.");
  }
  if (centring.checks.empty())
    out.missing.emplace_back(
        "It was not judged under loads: bolts of braces, straps and packing between legs are "
        "unknown.");
}

}  // namespace

std::string size_in_mm(double m) {
  const double mm = std::round(1e4 * m) / 10;
  const long whole = std::lround(mm);
  if (std::abs(mm - static_cast<double>(whole)) < 0.01) return std::to_string(whole);
  const long tenths = std::lround(10 * mm);
  return std::to_string(tenths / 10) + "." + std::to_string(std::abs(tenths % 10));
}

NailSize nail_for(double board_m) {
  // round wire nails, EN 10230-1, from memory; mm
  constexpr NailSize kNails[] = {{2.2, 45},  {2.5, 55},  {2.8, 65},  {3.1, 80}, {3.4, 90},
                                 {3.8, 100}, {4.2, 110}, {4.6, 130}, {5.5, 160}};
  const NailSize* found = std::ranges::find_if(
      kNails, [&](const NailSize& n) { return n.long_m >= 2.5e3 * board_m - 1e-6; });
  if (found == std::end(kNails)) --found;
  return {found->thick_m / 1e3, found->long_m / 1e3};
}

NailSize screw_for(double board_m, double sheet_m) {
  constexpr double kThick_mm[] = {6, 5, 4.5, 4, 3.5};
  constexpr double kLong_mm[] = {30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120, 140, 160, 200};
  const double* thick =
      std::ranges::find_if(kThick_mm, [&](double d) { return d <= 1e3 * sheet_m / 4 + 1e-6; });
  if (thick == std::end(kThick_mm)) --thick;
  const double* length =
      std::ranges::find_if(kLong_mm, [&](double l) { return l >= 2.5e3 * board_m - 1e-6; });
  if (length == std::end(kLong_mm)) --length;
  return {*thick / 1e3, *length / 1e3};
}

Fixings fixings_of(const Brief& brief, const Centring& centring) {
  Fixings out;
  list_bolts(brief, centring, out);
  list_nails(brief, centring, out);
  list_feet(brief, centring, out);
  list_packings(centring, out);
  say_what_is_not_drawn(centring, out);
  return out;
}

}  // namespace skewback
