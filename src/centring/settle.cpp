// Round after round: made, judged, and where a check fails a little more of what it asks for.

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <string>
#include <type_traits>

#include "centring/judge_parts.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 12;
constexpr std::size_t kMostAcross = 60;  // ribs across asked for, all rounds together
constexpr int kMostTakenBack = 12;       // tries
constexpr double kEasy = 0.95;

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

/// More braces, which carry less each: another bay of every rib of the leg, or another pair in each
/// row across. Whether there is one.
bool share_out(const BraceEndAsk& ask, const Centring& centring, CentringDesign& design) {
  if (!ask.along) {
    if (design.pairs == kMorePairs) return false;
    ++design.pairs;
    return true;
  }
  bool more = false;
  for (const int rib : ask.ribs) {
    const std::string& id = centring.ribs[at(rib)].id;
    if (1 + std::ranges::count(design.braced, id) >= bays_of(centring, id)) continue;
    design.braced.push_back(id);
    more = true;
  }
  return more;
}

/// Another bay, or pair in a row across, where there is one; else thicker boards.
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
  if (asks.brace_ends.used > 1) {
    const bool shared = share_out(asks.brace_ends, centring, design);
    more = more || shared;
    thicker = thicker || !shared;
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
    auto wanted = static_cast<std::ptrdiff_t>(std::ceil(ask.beyond_n / each - 1e-9));
    const auto named_in = [&](const std::vector<std::string>& list) {
      return [&](int f) { return std::ranges::find(list, centring.feet[at(f)].id) != list.end(); };
    };
    wanted -= std::ranges::count_if(ask.feet, named_in(design.held));
    std::vector<int> order =
        ask.feet;  // one that is not pulled upwards as well rather than one that is
    std::ranges::stable_partition(order, std::not_fn(named_in(design.held_down)));
    for (const int f : order) {
      if (wanted <= 0) break;
      if (!add_foot(design.held, centring.feet[at(f)].id)) continue;
      --wanted;
      more = true;
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

/// Whether a foot held down is ever pulled: then it is needed.
bool is_pulled(const Centring& centring, const std::string& foot) {
  const auto found = std::ranges::find(centring.foot_findings, foot, &FootFinding::foot);
  return found != centring.foot_findings.end() && found->hold_up_n > 0;
}

/// Designs with one thing less of what was added, the last added first.
std::vector<CentringDesign> with_one_less(const CentringDesign& design, const Centring& centring) {
  std::vector<CentringDesign> out;
  const auto without_each = [&](auto member) {
    for (std::size_t k = (design.*member).size(); k-- > 0;) {
      if constexpr (std::is_same_v<decltype(member), std::vector<std::string> CentringDesign::*>) {
        if (member == &CentringDesign::held_down && is_pulled(centring, (design.*member)[k]))
          continue;
      }
      CentringDesign less = design;
      (less.*member).erase((less.*member).begin() + static_cast<std::ptrdiff_t>(k));
      out.push_back(std::move(less));
    }
  };
  without_each(&CentringDesign::held);
  without_each(&CentringDesign::held_down);
  without_each(&CentringDesign::braced);
  without_each(&CentringDesign::across);
  for (const auto count :
       {&CentringDesign::bolts, &CentringDesign::boards, &CentringDesign::pairs}) {
    if (design.*count == 0) continue;
    out.push_back(design);
    --(out.back().*count);
  }
  return out;
}

struct Settled {
  CentringDesign design;
  Centring centring;
  DesignAsks asks;
  std::size_t taken_back = 0;
  [[nodiscard]] double used() const {
    double most = 0;
    for (const CentringCheck& check : centring.checks) most = std::max(most, check.utilisation);
    return most;
  }
};

/// What an early round asked for and a later one made needless is taken back, one thing at a time,
/// as long as no check comes nearer to its limit than kEasy, or than it was; each thing is tried
/// once.
template <typename Judged>
Settled take_back(Settled now, const Judged& judged) {
  int tries = 0;
  for (std::size_t k = 0; now.used() <= 1 && tries < kMostTakenBack; ++tries) {
    const std::vector<CentringDesign> less = with_one_less(now.design, now.centring);
    if (k >= less.size()) break;
    std::optional<Settled> without = judged(less[k]);
    if (!without || without->used() > std::max(kEasy, now.used())) {
      ++k;
      continue;
    }
    without->taken_back = now.taken_back + 1;
    now = std::move(*without);  // what came before k in the order is still there, and was tried
  }
  return now;
}

std::string counted(std::size_t n, const char* what) {
  return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
}

void say_grown(std::size_t across, bool stopped, Settled& settled) {
  const CentringDesign& design = settled.design;
  const DesignAsks& asks = settled.asks;
  Centring& centring = settled.centring;
  std::string words;
  const auto add = [&](const std::string& what) { words += (words.empty() ? "" : ", ") + what; };
  if (across > 0) add(counted(across, "rib") + " across");
  if (!design.braced.empty()) add(counted(design.braced.size(), "braced bay"));
  if (design.pairs > 0) add(counted(design.pairs, "braced pair") + " in each row across");
  if (design.boards > 0) add("thicker boards as braces");
  if (design.bolts > 0)
    add("bolts of " + std::to_string(std::lround(1e3 * splice_bolt_m(design))) + " mm in splices");
  if (settled.taken_back > 0)
    words += (words.empty() ? "nothing in the end" : "") + std::string("; ") +
             counted(settled.taken_back, "thing") +
             " more that an earlier round had added, holds of feet among them, no check needed in "
             "the end and was taken back";
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
                                 const std::vector<SeatLoads>& loads, const Progress& progress,
                                 const Struck& struck) {
  std::size_t before = 0;
  const auto judged = [&](const CentringDesign& with) -> std::optional<Settled> {
    Result<Centring> made = make_centring(brief, assembly, progress, with);
    if (!made) return std::nullopt;
    Settled out{with, std::move(made).value(), {}, 0};
    out.asks = judge_and_ask(brief, assembly, loads, out.centring, struck);
    return out;
  };
  CentringDesign design;
  for (int round = 0;; ++round) {
    std::optional<Settled> now = judged(design);
    if (!now) return make_centring(brief, assembly, progress, design);  // its fault
    if (round == 0) before = count_across(now->centring);
    CentringDesign next = design;
    const bool more = grow(brief, now->asks, now->centring, next);
    if (!more || round == kRounds) {
      Settled settled = take_back(std::move(*now), judged);
      say_grown(count_across(settled.centring) - before, more, settled);
      return std::move(settled.centring);
    }
    design = std::move(next);
  }
}

}  // namespace skewback
