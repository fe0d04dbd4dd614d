// Round after round: made, judged, and where a check fails a little more of what it asks for.

#include <algorithm>
#include <cmath>
#include <string>

#include "centring/judge_parts.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 12;
constexpr std::size_t kMostAcross = 60;  // ribs across asked for, all rounds together

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool add_foot(std::vector<std::string>& feet, const std::string& id) {
  if (std::ranges::find(feet, id) != feet.end()) return false;
  feet.push_back(id);
  return true;
}

/// Worst stretches first: what is laid for one ties its neighbours too.
bool grow_across(const DesignAsks& asks, const Centring& centring, CentringDesign& design) {
  std::vector<std::pair<int, StretchAsk>> all;
  for (const auto& [where, ask] : asks.stretches) all.emplace_back(where.first, ask);
  std::ranges::stable_sort(all, std::ranges::greater{},
                           [](const auto& a) { return a.second.used; });
  bool more = false;
  for (const auto& [rib, ask] : all) {
    const Rib& on = centring.ribs[at(rib)];
    if (on.is_cross || design.across.size() >= kMostAcross) continue;
    const bool known = std::ranges::any_of(design.across, [&](const auto& a) {
      return a.rib == on.id && std::abs(a.from_m - ask.from_m) < 1e-6 &&
             std::abs(a.to_m - ask.to_m) < 1e-6;
    });
    if (known) continue;  // no place was found there
    design.across.push_back({on.id, ask.from_m, ask.to_m});
    more = true;
  }
  return more;
}

/// Bays of its posts that are tall enough for braces.
int bays_of(const Centring& centring, const std::string& rib) {
  int bays = 0;
  bool before = false;
  for (const CentringFoot& foot : centring.feet) {
    if (foot.rib != rib) continue;
    const bool tall =
        foot.post >= 0 &&
        (centring.sticks[at(foot.post)].to - centring.sticks[at(foot.post)].from).norm() >=
            kLeastBraced;
    if (before && tall) ++bays;
    before = tall;
  }
  return bays;
}

/// Another bay where there is one, else thicker boards.
bool grow_braces(const DesignAsks& asks, const Centring& centring, CentringDesign& design) {
  bool more = false, thicker = asks.sideways > 1;
  for (const auto& [rib, used] : asks.braces_along) {
    if (used <= 1) continue;
    const std::string& id = centring.ribs[at(rib)].id;
    if (1 + std::ranges::count(design.braced, id) < bays_of(centring, id)) {
      design.braced.push_back(id);
      more = true;
    } else {
      thicker = true;
    }
  }
  if (thicker && design.boards < kThickerBoards) {
    ++design.boards;
    more = true;
  }
  return more;
}

/// The foot next to the one it tips over; if that is held already, the next.
bool grow_ties(const Brief& brief, const DesignAsks& asks, const Centring& centring,
               CentringDesign& design) {
  if (brief.centring.foot_hold_up_n <= 0) return false;
  bool more = false;
  const auto hold_next = [&](const std::string& rib, bool first) {
    std::vector<std::string> feet;
    for (const CentringFoot& foot : centring.feet) {
      if (foot.rib == rib) feet.push_back(foot.id);
    }
    if (!first) std::ranges::reverse(feet);
    for (std::size_t k = 1; k < feet.size(); ++k) {
      if (!add_foot(design.held_down, feet[k])) continue;
      more = true;
      return;
    }
  };
  for (const auto& [where, tip] : asks.tips)
    hold_next(centring.ribs[at(where.first)].id, where.second);
  for (const auto& [foot, pull] : asks.pulls) {
    if (pull.n > hold_n(brief, brief.centring.foot_hold_up_n))
      hold_next(centring.feet[at(foot)].rib, true);
  }
  return more;
}

bool grow_holds(const Brief& brief, const DesignAsks& asks, const Centring& centring,
                CentringDesign& design) {
  if (brief.centring.foot_hold_n <= 0) return false;
  const double each = hold_n(brief, brief.centring.foot_hold_n);
  bool more = false;
  for (const SlideAsk& ask : asks.slides) {
    const auto wanted = static_cast<std::size_t>(std::ceil(ask.beyond_n / each - 1e-9));
    for (std::size_t k = 0; k < std::min(wanted, ask.feet.size()); ++k) {
      if (add_foot(design.held, centring.feet[at(ask.feet[k])].id)) more = true;
    }
  }
  return more;
}

bool grow(const Brief& brief, const DesignAsks& asks, const Centring& centring,
          CentringDesign& design) {
  const bool across = grow_across(asks, centring, design);
  const bool braces = grow_braces(asks, centring, design);
  const bool bolts = asks.splice_bolts > 1 && design.bolts < kThickerBolts;
  if (bolts) ++design.bolts;
  const bool ties = grow_ties(brief, asks, centring, design);
  const bool holds = grow_holds(brief, asks, centring, design);
  return across || braces || bolts || ties || holds;
}

std::string counted(std::size_t n, const char* what) {
  return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
}

void say_grown(const CentringDesign& design, std::size_t across, bool stopped,
               const DesignAsks& asks, Centring& centring) {
  std::string words;
  const auto add = [&](const std::string& what) { words += (words.empty() ? "" : ", ") + what; };
  if (across > 0) add(counted(across, "rib") + " across");
  if (!design.braced.empty()) add(counted(design.braced.size(), "braced bay"));
  if (design.boards > 0) add("thicker boards as braces");
  if (design.bolts > 0)
    add("bolts of " + std::to_string(std::lround(1e3 * splice_bolt_m(design))) + " mm in splices");
  if (!words.empty())
    centring.remarks.insert(centring.remarks.begin(),
                            "More than the spacings of the brief ask for, where a check failed "
                            "without: " +
                                words + ".");
  if (!stopped && !asks.stretches.empty())
    centring.remarks.insert(centring.remarks.begin(),
                            "Where a rib would still turn over sideways there is no room for "
                            "another rib across: thicker sheets (centring.sheet_thickness) or "
                            "ribs closer together would do.");
  if (stopped)
    centring.remarks.insert(centring.remarks.begin(), "The design was still changing after " +
                                                          std::to_string(kRounds) +
                                                          " rounds and was left there.");
}

std::size_t count_across(const Centring& centring) {
  return static_cast<std::size_t>(std::ranges::count(centring.ribs, true, &Rib::is_cross));
}

}  // namespace

Result<Centring> settle_centring(const Brief& brief, const Assembly& assembly,
                                 const std::vector<SeatLoads>& loads, const Progress& progress) {
  CentringDesign design;
  std::size_t before = 0;
  for (int round = 0;; ++round) {
    Result<Centring> made = make_centring(brief, assembly, progress, design);
    if (!made) return made;
    const DesignAsks asks = judge_and_ask(brief, assembly, loads, made.value());
    if (round == 0) before = count_across(*made);
    CentringDesign next = design;
    const bool more = grow(brief, asks, *made, next);
    if (!more || round == kRounds) {
      say_grown(design, count_across(*made) - before, more, asks, made.value());
      return made;
    }
    design = std::move(next);
  }
}

}  // namespace skewback
