#include "centring/rib_lines.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "brief/meetings.hpp"

namespace skewback {
namespace {

constexpr double kInset = 0.12;    // m, of the outer ribs from the edge of the soffit
constexpr double kGap = 0.1;       // m, in the soffit, that a rib passes
constexpr double kStrip = 0.04;    // m, width in which the soffit is looked for
constexpr double kShortest = 0.5;  // m; less is no rib
constexpr double kApart = 0.04;    // m, between a rib's end and the face of the rib it stops at
constexpr double kBridge = 0.25;   // m of soffit, that a bridging rib is worth
constexpr double kReach = 4.0;     // m, a foot is looked for beyond a barred area

struct Leg {
  int arm = -1;
  Fan fan;
};

struct Layout {
  const Brief& brief;
  const Assembly& assembly;
  const Soffits& all;
  LineRules rules;
  FootGround ground;
  std::vector<Leg> legs;
  bool opening_in_leg = false;  // ribs go on past it

  [[nodiscard]] const BlockPlace& place(int block) const {
    return assembly.blocks[static_cast<std::size_t>(block)].place;
  }
  /// Support whose leg it is in; the halves of a spine are one leg, counted on from the supports.
  [[nodiscard]] int arm_of(int block) const {
    return std::min(place(block).arm, static_cast<int>(brief.plan.supports.size()));
  }
  [[nodiscard]] double past_foot() const { return foot_to_end_m(brief.centring) + 1e-6; }
};

Vec2 middle_of(const Support& support) { return (support.a + support.b) / 2; }

Vec2 where_legs_meet(const Brief& brief, const Assembly& assembly, const Soffits& all) {
  if (brief.plan.meeting) return *brief.plan.meeting;
  Vec2 sum = Vec2::Zero();
  double whole = 0;
  for (std::size_t b = 0; b < all.size(); ++b) {
    if (assembly.blocks[b].place.arm >= 0) continue;
    for (const SoffitFace& face : all[b]) {
      sum += face.area * face.centre.head<2>();
      whole += face.area;
    }
  }
  if (whole > 0) return sum / whole;
  for (const Support& support : brief.plan.supports) sum += middle_of(support);
  return sum / static_cast<double>(std::max<std::size_t>(1, brief.plan.supports.size()));
}

std::vector<char> blocks_of(const Layout& lay, int arm, bool crown_too) {
  std::vector<char> counts(lay.all.size(), 0);
  for (std::size_t b = 0; b < counts.size(); ++b) {
    const BlockPlace& place = lay.assembly.blocks[b].place;
    if (lay.all[b].empty()) continue;
    counts[b] =
        arm < 0 || (lay.arm_of(static_cast<int>(b)) == arm && (crown_too || !place.crown)) ? 1 : 0;
  }
  return counts;
}

std::vector<Leg> legs_of(const Layout& lay) {
  const auto& supports = lay.brief.plan.supports;
  std::vector<Leg> legs;
  if (supports.size() == 2) {
    const auto fan = fan_over(middle_of(supports[0]), middle_of(supports[1]), lay.all,
                              blocks_of(lay, -1, true), kInset);
    if (fan) legs.push_back({0, *fan});
    return legs;
  }
  const Vec2 one = where_legs_meet(lay.brief, lay.assembly, lay.all);
  for (std::size_t k = 0; k < supports.size(); ++k) {
    const int arm = static_cast<int>(k);
    const Vec2 meeting = meeting_of(lay.brief.plan, k).value_or(one);
    if ((meeting - middle_of(supports[k])).norm() < 0.1) continue;
    auto fan =
        fan_over(middle_of(supports[k]), meeting, lay.all, blocks_of(lay, arm, false), kInset);
    if (!fan) {
      fan = fan_over(middle_of(supports[k]), meeting, lay.all, blocks_of(lay, arm, true), kInset);
    }
    if (fan) legs.push_back({arm, *fan});
  }
  if (lay.brief.plan.second_meeting) {
    const int arm = static_cast<int>(supports.size());
    const auto fan = fan_over(*lay.brief.plan.meeting, *lay.brief.plan.second_meeting, lay.all,
                              blocks_of(lay, arm, false), kInset);
    if (fan) legs.push_back({arm, *fan});
  }
  return legs;
}

std::vector<PlanLine> spread(const Fan& fan, const LineRules& rules) {
  const double widest = std::max(fan.width(fan.from), fan.width(fan.to));
  const int bays =
      std::max(1, static_cast<int>(std::ceil(widest / rules.spacing_m - 1e-9))) + rules.more;
  std::vector<PlanLine> lines;
  for (int i = 0; i <= bays; ++i) {
    const double t = static_cast<double>(i) / bays;
    const Vec2 v = fan.low + t * (fan.high - fan.low);
    const auto at = [&](double s) -> Vec2 {
      return fan.foot + s * fan.axis + (v.x() + s * v.y()) * fan.across();
    };
    lines.push_back({at(fan.from), (at(fan.to) - at(fan.from)).normalized()});
  }
  return lines;
}

/// From the first span of the leg on, over what it may pass, to the first gap or what it may not.
template <class May>
std::optional<Span> run_over(const std::vector<Span>& spans, int first_arm, const Layout& lay,
                             May&& may) {
  std::optional<Span> run;
  for (const Span& span : spans) {
    if (!run) {
      const int arm = lay.arm_of(span.block);
      if (first_arm >= 0 && arm != first_arm) continue;
      run = span;
      continue;
    }
    if (span.from > run->to + kGap) break;
    if (!may(span.block)) {
      if (span.to > run->to + kGap) break;  // overlaps of skewed joints do not count
      continue;
    }
    run->to = std::max(run->to, span.to);
  }
  return run;
}

/// The same, and what of the leg's own blocks lies past an opening in it: a rib stops at the
/// opening's edge, another goes on behind it.
template <class May>
std::vector<Span> runs_over(std::vector<Span> spans, int first_arm, const Layout& lay, May&& may) {
  std::vector<Span> runs;
  while (const auto run = run_over(spans, first_arm, lay, may)) {
    runs.push_back(*run);
    if (!lay.opening_in_leg) break;
    std::erase_if(spans, [&](const Span& s) { return s.from <= run->to + kGap; });
  }
  return runs;
}

/// Whether an opening lies elsewhere than round the place where legs meet.
bool has_opening_in_leg(const Layout& lay) {
  if (lay.brief.plan.openings.empty()) return false;
  const Vec2 meeting = where_legs_meet(lay.brief, lay.assembly, lay.all);
  return std::ranges::any_of(lay.brief.plan.openings, [&](const Polygon& opening) {
    return !contains({Polygon(opening.rbegin(), opening.rend()), {}}, meeting);
  });
}

double distance_to(const RibLine& rib, const Vec2& p) {
  const double x = std::clamp(rib.line.x_of(p), 0.0, rib.length);
  return (rib.line.point(x) - p).norm();
}

/// x at which a line first comes near a rib that is there.
double stopped_by(const std::vector<RibLine>& there, const PlanLine& line, double from, double to,
                  double near) {
  constexpr double kStride = 0.005;
  for (double x = from; x < to; x += kStride) {
    for (const RibLine& rib : there) {
      if (distance_to(rib, line.point(x)) < near) return x;
    }
  }
  return to;
}

void add(std::vector<RibLine>& ribs, const PlanLine& line, double from, double to, int family,
         bool bridging = false) {
  if (to - from < kShortest) return;
  ribs.push_back({{line.point(from), line.along}, to - from, family, bridging});
}

/// A rib that would end where no foot may stand goes on over other legs' blocks to the next foot.
double end_on_a_foot(const Layout& lay, const PlanLine& line, const std::vector<Span>& spans,
                     int arm, double end) {
  if (!lay.ground.barred(line.point(end - lay.past_foot()))) return end;
  const auto over = run_over(spans, arm, lay, [](int) { return true; });
  const auto foot = lay.ground.next(line, end, 0.01, kReach);
  if (!over || !foot) return end;
  // beyond the soffit a rib carries nothing: only as far as the foot it needs
  return std::max(end, std::min(*foot + lay.past_foot(), over->to + kReach));
}

void lay_through(const Layout& lay, const Leg& leg, bool two_legs, std::vector<RibLine>& ribs) {
  for (const PlanLine& line : spread(leg.fan, lay.rules)) {
    const auto spans = spans_near(lay.all, line, kStrip);
    const auto runs = runs_over(spans, two_legs ? -1 : leg.arm, lay, [&](int block) {
      const int arm = lay.arm_of(block);
      return two_legs || arm < 0 || arm == leg.arm;
    });
    for (const Span& run : runs) {
      const bool alone = runs.size() == 1;
      const double to =
          two_legs || !alone ? run.to : end_on_a_foot(lay, line, spans, leg.arm, run.to);
      add(ribs, line, run.from, to, 0);
    }
  }
}

struct Barred {
  double from, to;
};
/// What of a line lies both under a block and over ground where no foot may stand.
std::optional<Barred> barred_part(const Layout& lay, const PlanLine& line) {
  std::optional<Barred> part;
  double sum = 0;
  for (const Span& span : spans_over(lay.all, line)) {
    for (double x = span.from; x < span.to; x += 0.02) {
      if (!lay.ground.barred(line.point(x))) continue;
      sum += 0.02;
      if (!part) part = Barred{x, x};
      part->from = std::min(part->from, x);
      part->to = std::max(part->to, x);
    }
  }
  return sum >= kBridge ? part : std::nullopt;
}

void bridge_on_one_side(const Layout& lay, const Leg& leg, const RibLine& outer, double side,
                        std::vector<RibLine>& ribs) {
  const Vec2 across(-leg.fan.axis.y(), leg.fan.axis.x());
  // beside the outer rib's far end, which is where the barred area lies
  const Vec2 beside = outer.line.point(outer.length);
  for (int k = 1; k * lay.rules.spacing_m < 50; ++k) {
    const PlanLine line{beside + side * k * lay.rules.spacing_m * across, leg.fan.axis};
    const auto part = barred_part(lay, line);
    if (!part) {
      if (spans_over(lay.all, line).empty()) return;
      continue;
    }
    const auto before = lay.ground.next(line, part->from, -0.01, kReach);
    const auto after = lay.ground.next(line, part->to, 0.01, kReach);
    if (!before || !after) continue;
    add(ribs, line, *before - lay.past_foot(), *after + lay.past_foot(), 0, true);
  }
}

void lay_bridging(const Layout& lay, const Leg& leg, std::vector<RibLine>& ribs) {
  if (lay.brief.centring.no_feet.empty() || ribs.empty()) return;
  const RibLine low = ribs.front(), high = ribs.back();
  bridge_on_one_side(lay, leg, low, -1, ribs);
  bridge_on_one_side(lay, leg, high, 1, ribs);
}

void lay_up_to(const Layout& lay, const Leg& leg, int family, std::vector<RibLine>& ribs) {
  const std::vector<RibLine> there = ribs;
  for (const PlanLine& line : spread(leg.fan, lay.rules)) {
    const auto spans = spans_near(lay.all, line, kStrip);
    const auto runs = runs_over(spans, leg.arm, lay, [&](int block) {
      const int arm = lay.arm_of(block);
      return arm < 0 || arm == leg.arm;
    });
    const double near = lay.brief.centring.sheet_thickness_m + kApart;
    for (const Span& run : runs) {
      double to = stopped_by(there, line, run.from, run.to, near);
      const auto foot = lay.ground.next(line, to - lay.past_foot(), -0.01, to - run.from);
      if (foot && to - *foot > lay.brief.centring.foot_spacing_m / 2) to = *foot + lay.past_foot();
      add(ribs, line, run.from, to, family);
    }
  }
}

std::vector<RibLine> lay_with_first(const Layout& lay, std::size_t first) {
  std::vector<RibLine> ribs;
  lay_through(lay, lay.legs[first], false, ribs);
  lay_bridging(lay, lay.legs[first], ribs);
  int family = 0;
  for (std::size_t k = 0; k < lay.legs.size(); ++k) {
    if (k != first) lay_up_to(lay, lay.legs[k], ++family, ribs);
  }
  return ribs;
}

double worst_stretch(const Layout& lay, const std::vector<RibLine>& ribs) {
  double worst = 0;
  for (const RibLine& rib : ribs) {
    const double in = foot_to_end_m(lay.brief.centring);
    const auto feet = feet_under(lay.brief.centring, lay.ground, rib.line, in, rib.length - in, {});
    worst = std::max(worst, longest_stretch(feet, rib.length));
  }
  return worst;
}

/// Family of the ribs laid along a leg; a new one where none is.
int family_along(const std::vector<RibLine>& laid, const Leg& leg, int fresh) {
  for (const RibLine& rib : laid) {
    const Vec2 way = rib.line.at - leg.fan.foot;
    if (!rib.bridging && rib.line.along.dot(leg.fan.axis) > 0.9 &&
        way.norm() < 1 + leg.fan.width(leg.fan.from)) {
      return rib.family;
    }
  }
  return fresh;
}

/// What of a line about x = 0 lies under its own leg, clear of ribs on either side.
std::optional<Span> free_about(const Layout& lay, const PlanLine& line, int arm,
                               const std::vector<RibLine>& there) {
  std::vector<Span> own = spans_near(lay.all, line, kStrip);
  std::erase_if(own, [&](const Span& s) { return lay.arm_of(s.block) != arm; });
  std::optional<Span> run;
  for (const Span& span : own) {
    if (run && span.from <= run->to + kGap) {
      run->to = std::max(run->to, span.to);
    } else if (!run || run->to < 0) {
      run = span;
    }
  }
  if (!run || run->from > 0 || run->to < 0) return std::nullopt;
  const double near = lay.brief.centring.sheet_thickness_m + kApart;
  run->to = stopped_by(there, line, 0, run->to, near);
  run->from = -stopped_by(there, {line.at, -line.along}, 0, -run->from, near);
  return run;
}

}  // namespace

std::vector<RibLine> rib_lines(const Brief& brief, const Assembly& assembly, const Soffits& all,
                               const LineRules& rules) {
  Layout lay{brief, assembly, all, rules, FootGround(brief.centring), {}, false};
  lay.legs = legs_of(lay);
  lay.opening_in_leg = has_opening_in_leg(lay);
  if (lay.legs.empty()) return {};
  if (brief.plan.supports.size() == 2) {
    std::vector<RibLine> ribs;
    lay_through(lay, lay.legs.front(), true, ribs);
    return ribs;
  }
  std::vector<RibLine> best;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t first = 0; first < lay.legs.size(); ++first) {
    std::vector<RibLine> ribs = lay_with_first(lay, first);
    const double worst = worst_stretch(lay, ribs);
    if (ribs.empty() || worst > least - 0.01) continue;
    least = worst;
    best = std::move(ribs);
  }
  return best;
}

std::vector<RibLine> side_lines(const Brief& brief, const Assembly& assembly, const Soffits& all,
                                const std::vector<RibLine>& laid, const std::vector<int>& blocks) {
  Layout lay{brief, assembly, all, {}, FootGround(brief.centring), {}, false};
  lay.legs = legs_of(lay);
  std::vector<RibLine> there = laid;
  for (const int b : blocks) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(b)];
    const auto leg = std::ranges::find(lay.legs, lay.arm_of(b), &Leg::arm);
    if (leg == lay.legs.end() || brief.plan.supports.size() == 2) continue;
    const PlanLine line{centre_of_gravity(block).head<2>(), leg->fan.axis};
    const auto run = free_about(lay, line, lay.arm_of(b), there);
    if (!run) continue;
    add(there, line, run->from, run->to, family_along(laid, *leg, 0));
  }
  return {there.begin() + static_cast<std::ptrdiff_t>(laid.size()), there.end()};
}

}  // namespace skewback
