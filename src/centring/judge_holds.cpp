// Feet that are held, sideways by a stake or down by a tie: what their holds must be good for.

#include <algorithm>
#include <cmath>

#include "centring/judge_parts.hpp"
#include "centring/strap.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::string tip_words(const Centring& centring, const std::pair<int, bool>& where,
                      double characteristic_n) {
  return centring.ribs[at(where.first)].id + (where.second ? " over its first" : " over its last") +
         " foot: " + kilonewtons_of(characteristic_n);
}

/// Where a leg slides: over its feet that are held, or over all that braces touch.
void share_slide(const Brief& brief, const SlideAsk& ask, Centring& centring,
                 std::vector<std::string>& out) {
  if (ask.beyond_n <= 0 || ask.feet.empty()) return;
  std::vector<int> held;
  for (const int f : ask.feet) {
    if (centring.feet[at(f)].held) held.push_back(f);
  }
  const double whole = ask.beyond_n * brief.centring.foot_hold_factor;
  const bool none = held.empty();
  if (none) held = ask.feet;
  const double each = whole / static_cast<double>(held.size());
  if (none) {
    out.push_back(
        "Feet of " + ask.place + " slide (" + ask.stage + "). A hold sideways of " +
        kilonewtons_of(whole) + ", characteristic, in all would do: " + kilonewtons_of(each) +
        " at each of its " + std::to_string(held.size()) + " feet (brief: centring.foot_hold).");
    return;
  }
  for (const int f : held) {
    FootFinding& found = centring.foot_findings[at(f)];
    found.hold_n = std::max(found.hold_n, each);
  }
}

void say_tips(const Brief& brief, const DesignAsks& asks, const Centring& centring,
              std::vector<std::string>& out) {
  std::string words;
  for (const auto& [where, tip] : asks.tips) {
    if (tip.arm_m <= 0 || tip.over_nm <= 0) continue;
    const double n = brief.centring.foot_hold_factor * tip.over_nm / tip.arm_m;
    words += (words.empty() ? "" : ", ") + tip_words(centring, where, n);
  }
  if (!words.empty())
    out.push_back(
        "A hold upwards, characteristic, at the foot next to the one it tips over would "
        "do (brief: centring.foot_hold_up): " +
        words + ".");
}

}  // namespace

double hold_n(const Brief& brief, double characteristic_n) {
  return characteristic_n / brief.centring.foot_hold_factor;
}

void check_pull(const Brief& brief, const Centring& centring, int foot, double pull_n,
                const std::string& stage, Judged& out) {
  if (pull_n <= 0) return;
  PullAsk& ask = out.asks.pulls[foot];
  if (pull_n > ask.n) ask = {pull_n, stage};
  const double holds = hold_n(brief, brief.centring.foot_hold_up_n);
  const CentringCheck check =
      check_of("foot pulled up", pull_n, holds, "N", centring.feet[at(foot)].id, stage,
               "what rib and braces pull at a foot held down, against its hold over the brief's "
               "factor (centring.foot_hold_up, foot_hold_factor)");
  out.worst.offer(check);
  out.of_foot[at(foot)].offer(check);
}

std::vector<std::string> say_holds(const Brief& brief, const DesignAsks& asks, Centring& centring) {
  std::vector<std::string> out;
  for (const SlideAsk& ask : asks.slides) share_slide(brief, ask, centring, out);
  say_tips(brief, asks, centring, out);
  for (const auto& [foot, pull] : asks.pulls)
    centring.foot_findings[at(foot)].hold_up_n = brief.centring.foot_hold_factor * pull.n;
  int sideways = 0, down = 0;
  double most = 0, most_up = 0;
  for (std::size_t f = 0; f < centring.feet.size(); ++f) {
    sideways += centring.feet[f].held ? 1 : 0;
    down += centring.feet[f].held_down ? 1 : 0;
    most = std::max(most, centring.foot_findings[f].hold_n);
    most_up = std::max(most_up, centring.foot_findings[f].hold_up_n);
  }
  if (sideways + down == 0) return out;
  out.push_back(
      "Feet held: " + std::to_string(sideways) + " sideways, up to " + kilonewtons_of(most) +
      ", and " + std::to_string(down) + " down, with post and rib tied to them, up to " +
      kilonewtons_of(most_up) +
      ", characteristic. Which and for how much: the list of feet. Ties follow their "
      "feet when these are lowered or raised. Straps of 40 x 1.5 mm on both faces tie rib "
      "to post and post to foot; nails in each end of each: the list of feet.");
  return out;
}

void check_held_feet(const Brief& brief, const Centring& centring, Judged& out) {
  for (std::size_t f = 0; f < centring.feet.size(); ++f) {
    const CentringFoot& foot = centring.feet[f];
    const FootFinding& found = centring.foot_findings[f];
    if (!foot.held_down) continue;
    const Strap strap = strap_for(brief, found.hold_up_n / brief.centring.foot_hold_factor);
    const CentringCheck tie =
        check_of("strap of a foot", strap.pull_n, strap.steel_n, "N", foot.id, "all stages",
                 "two straps 40 x 1.5 mm, 0.9 A_net f_u / gamma_M2 (EN 1993-1-1, 6.2.3, from "
                 "memory)");
    out.worst.offer(tie);
    out.of_foot[f].offer(tie);
    if (!foot.held) continue;
    const CentringCheck both = check_of(
        "hold pulled both ways",
        found.hold_up_n / brief.centring.foot_hold_up_n + found.hold_n / brief.centring.foot_hold_n,
        1, "", foot.id, "worst of each way",
        "upwards and sideways together, each over its own hold, added (ours; the worst of each "
        "need not come together)");
    out.worst.offer(both);
    out.of_foot[f].offer(both);
  }
}

}  // namespace skewback
