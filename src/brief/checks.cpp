#include "brief/checks.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

#include "brief/meetings.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"
#include "brief/tie_lines.hpp"

namespace skewback {
namespace {

constexpr double kMostBlocks = 5000;     // of a bridge to be cut: the same
constexpr double kDeepest = 1.0 / 3;     // of the least distance between supports
constexpr double kMostVertices = 150e3;  // of the net: beyond it a run takes hours and much memory

void check_section(Draft& draft) {
  const Section& s = draft.brief.section;
  if (!s.hollow || !draft.has("section.hollow")) return;
  for (const auto& [key, depth] : {std::pair("section.depth_crown", s.depth_crown_m),
                                   std::pair("section.depth_springing", s.depth_springing_m)})
    if (draft.has(key) && depth <= 2 * s.leaf_m)
      draft.fault(key, metres(depth) + ", no more than two leaves of " + metres(s.leaf_m),
                  "room for a void between the leaves",
                  "make it deeper or the leaves thinner, or set hollow = false");
  if (s.web_spacing_m <= s.web_m)
    draft.fault(draft.has("section.web_spacing") ? "section.web_spacing" : "section.web",
                "webs of " + metres(s.web_m) + " every " + metres(s.web_spacing_m),
                "a spacing greater than the web's thickness", "space the webs further apart");
}

/// What no arch of blocks has: plates no thicker than their pads, or a wall from foot to foot.
void check_depths(Draft& draft) {
  const Brief& b = draft.brief;
  const double pad = b.joints.pad_thickness_m;
  double span = HUGE_VAL;
  for (std::size_t i = 0; i < b.plan.supports.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      span = std::min(span, ((b.plan.supports[i].a + b.plan.supports[i].b) -
                             (b.plan.supports[j].a + b.plan.supports[j].b))
                                    .norm() /
                                2);
  for (const auto& [key, depth] :
       {std::pair("section.depth_crown", b.section.depth_crown_m),
        std::pair("section.depth_springing", b.section.depth_springing_m)}) {
    if (!draft.has(key)) continue;
    if (depth <= 2 * pad)
      draft.fault(key, metres(depth) + ", with pads of " + metres(pad),
                  "over twice the thickness of a pad", "make it deeper");
    if (depth > kDeepest * span)
      draft.fault(
          key, metres(depth) + ", with supports " + metres(std::round(1e3 * span) / 1e3) + " apart",
          "at most a third of that", "a twentieth is much already; make it less deep");
  }
}

void check_blocks(Draft& draft) {
  const BlockRequest& blocks = draft.brief.blocks;
  const bool length = draft.has("blocks.length"), count = draft.has("blocks.count");
  const bool tried = draft.spots.contains("blocks.length") || draft.spots.contains("blocks.count");
  if (length && count)
    draft.fault("blocks.count", "both `length` and `count`", "one of them", "take one out");
  if (!tried && draft.spots.contains("blocks"))
    draft.fault("blocks", "neither `length` nor `count`", "one of them",
                "add a line such as length = \"0.40 m\" under [blocks]");
  if (draft.has("blocks.length_min") && count)
    draft.fault("blocks.length_min", "both `length_min` and `count`, which rules every length",
                "one of them", "take one out");
  if (draft.has("blocks.length_min") && length && blocks.length_min_m > blocks.length_m)
    draft.fault("blocks.length_min",
                metres(blocks.length_min_m) + ", over the `length` of " + metres(blocks.length_m),
                "no more than `length`", "shorten it, or lengthen the blocks");
}

void check_tie_line(Draft& draft, const std::string& key, const Tie& tie) {
  const auto& supports = draft.brief.plan.supports;
  if (tie.from < 0 || tie.to < 0 || tie.from == tie.to) return;
  for (const std::string& id : crossed_footings(supports, draft.brief.ground, tie))
    draft.fault(key + ".to",
                "a tie from \"" + supports[static_cast<std::size_t>(tie.from)].id + "\" to \"" +
                    supports[static_cast<std::size_t>(tie.to)].id +
                    "\" whose line runs through the footing of \"" + id + "\"",
                "a line clear of every other footing",
                "tie each of them to \"" + id + "\", or make that footing smaller");
}

/// Where its rods stand, to either side of the line from foot to foot.
std::vector<double> rod_places(const Tie& tie) {
  std::vector<double> at;
  for (int k = 0; k < tie.rods; ++k)
    at.push_back(tie.rods > 1 ? (static_cast<double>(k) / (tie.rods - 1) - 0.5) * tie.spacing_m
                              : 0);
  return at;
}

bool same_place(const Tie& a, const Tie& b) {
  const bool line = std::minmax(a.from, a.to) == std::minmax(b.from, b.to);
  if (!line || std::abs(a.level_m - b.level_m) >= kOn) return false;
  return std::ranges::any_of(rod_places(a), [&](double x) {
    return std::ranges::any_of(rod_places(b), [&](double y) { return std::abs(x - y) < kOn; });
  });
}

void check_tie_level(Draft& draft, const std::string& key, const Tie& tie) {
  if (tie.from < 0 || tie.to < 0 || draft.spoilt(key + ".level")) return;
  const auto& supports = draft.brief.plan.supports;
  const Support &a = supports[static_cast<std::size_t>(tie.from)],
                &b = supports[static_cast<std::size_t>(tie.to)];
  const auto& [low, high] = a.level_m <= b.level_m ? std::tie(a, b) : std::tie(b, a);
  const double underside = high.level_m - draft.brief.ground.footing_depth_m;
  if (tie.level_m < underside - kOn && !draft.spoilt("ground.footing_depth")) {
    draft.fault(draft.has(key + ".level") ? key + ".level" : key,
                "rods at " + metres(tie.level_m) + ", below the footing of \"" + high.id +
                    "\", whose underside is at " + metres(underside),
                "rods in both footings", "raise `level`, or deepen the footings (footing_depth)");
    return;
  }
  if (tie.level_m <= low.level_m + kOn) return;
  draft.fault(draft.has(key + ".level") ? key + ".level" : key,
              "rods at " + metres(tie.level_m) + ", above the springing of \"" + low.id + "\" at " +
                  metres(low.level_m),
              "rods in the footings, below both springings",
              "lower `level` to " + metres(low.level_m) + " or less");
}

/// How far apart the outer rods may be so that every rod's line, in plan, meets the footing's
/// concrete. How far that goes in under the arch the brief does not know; the rod on the outer side
/// does not need it.
double widest_spacing(const Support& support, const GroundRequest& ground, const Vec2& line) {
  const Vec2 along = (support.b - support.a).normalized(), across(-line.y(), line.x());
  const double length = (support.b - support.a).norm() + 2 * ground.footing_length_m;
  const double share = std::abs(across.dot(along));
  return share * length + 2 * std::sqrt(std::max(0.0, 1 - share * share)) * ground.footing_width_m;
}

void check_tie_spacing(Draft& draft, const std::string& key, const Tie& tie) {
  if (tie.from < 0 || tie.to < 0 || tie.from == tie.to || tie.rods < 2) return;
  if (draft.spoilt(key + ".spacing") || draft.spoilt("ground.footing_length") ||
      draft.spoilt("ground.footing_width"))
    return;
  const auto& supports = draft.brief.plan.supports;
  const Support &a = supports[static_cast<std::size_t>(tie.from)],
                &b = supports[static_cast<std::size_t>(tie.to)];
  const Vec2 run = (b.a + b.b - a.a - a.b) / 2;
  if (!(run.norm() > kOn)) return;
  for (const Support* s : {&a, &b}) {
    const double most = widest_spacing(*s, draft.brief.ground, run.normalized());
    if (tie.spacing_m <= most + kOn) continue;
    draft.fault(
        draft.has(key + ".spacing") ? key + ".spacing" : key,
        "outer rods " + metres(tie.spacing_m) + " apart, beside the footing of \"" + s->id + "\"",
        "at most " + metres(std::floor(1e3 * most + 1e-6) / 1e3) +
            ", so that every rod ends in concrete",
        "lower `spacing`, or lengthen the footings (footing_length)");
    return;
  }
}

void check_tie_place(Draft& draft, const std::string& key, const Tie& tie) {
  if (tie.from < 0 || tie.to < 0 || tie.from == tie.to) return;
  for (const Tie& other : draft.brief.ground.ties) {
    if (!same_place(tie, other)) continue;
    draft.fault(key, "rods in the place of those of tie \"" + other.id + "\"",
                "every rod in a place of its own",
                "take one out, or give it another `level` or `spacing`");
    return;
  }
}

void settle_ties(Draft& draft) {
  std::set<std::string> ids;
  for (std::size_t i = 0; i < draft.ties.size(); ++i) {
    TieDraft& tie = draft.ties[i];
    const std::string key = numbered("ground.tie", i);
    if (!tie.tie.id.empty() && !ids.insert(tie.tie.id).second)
      draft.fault(key + ".id", "\"" + tie.tie.id + "\" for the second time",
                  "an id of its own for each tie", "rename one");
    const bool from = check_support_name(draft, key + ".from", tie.from);
    const bool to = check_support_name(draft, key + ".to", tie.to);
    if (from && to && !tie.from.empty() && tie.from == tie.to)
      draft.fault(key + ".to", "a tie from \"" + tie.from + "\" to itself",
                  "two different supports", "name the other support");
    if (tie.tie.rods > 1 && tie.tie.spacing_m <= 0)
      draft.fault(key + ".spacing", std::to_string(tie.tie.rods) + " rods in one place",
                  "some spacing between the outer rods", "write spacing = \"1.2 m\"");
    tie.tie.from = support_index(draft, tie.from);
    tie.tie.to = support_index(draft, tie.to);
    check_tie_line(draft, key, tie.tie);
    check_tie_level(draft, key, tie.tie);
    check_tie_spacing(draft, key, tie.tie);
    check_tie_place(draft, key, tie.tie);
    draft.brief.ground.ties.push_back(tie.tie);
  }
}

void settle_soil(Draft& draft) {
  Soil& soil = draft.brief.soil;
  draft.brief.ground.every_pair = draft.tie_lines == "every pair";
  soil.kind = draft.soil_kind == "drained"     ? SoilKind::kDrained
              : draft.soil_kind == "undrained" ? SoilKind::kUndrained
                                               : SoilKind::kUnknown;
  const bool drained = soil.kind == SoilKind::kDrained && !draft.spoilt("soil.friction_angle") &&
                       !draft.spoilt("soil.cohesion");
  if (drained && !(soil.phi_rad > 0) && !(soil.cohesion_pa > 0))
    draft.fault(draft.has("soil.friction_angle") ? "soil.friction_angle" : "soil.kind",
                "drained soil without friction or cohesion", "some strength",
                "write friction_angle = \"32 degrees\", or kind = \"unknown\"");
  if (soil.kind == SoilKind::kUndrained && !draft.spoilt("soil.undrained_strength") &&
      !(soil.undrained_pa > 0))
    draft.fault(draft.has("soil.undrained_strength") ? "soil.undrained_strength" : "soil.kind",
                "undrained soil without strength", "some undrained strength",
                "write undrained_strength = \"60 kPa\", or kind = \"unknown\"");
  const bool angles =
      !draft.spoilt("soil.friction_angle") && !draft.spoilt("soil.friction_angle_critical");
  if (angles && soil.phi_cv_rad > soil.phi_rad)
    draft.fault("soil.friction_angle_critical", "an angle over that of `friction_angle`",
                "no more than `friction_angle`", "swap them");
  if (soil.phi_cv_rad == 0) soil.phi_cv_rad = soil.phi_rad;
  const double depth = draft.brief.ground.footing_depth_m;
  if (draft.has("soil.cover") && !draft.spoilt("ground.footing_depth") &&
      soil.cover_m > depth + kOn)
    draft.fault("soil.cover",
                metres(soil.cover_m) + " of soil over an underside that lies " + metres(depth) +
                    " below the springing",
                "at most " + metres(depth) + ": over that there is the bridge",
                "lower it, or deepen the footings (ground.footing_depth)");
}

void check_factors(Draft& draft) {
  const Factors& f = draft.brief.factors;
  if (f.dead_high >= f.dead_low || draft.spoilt("factors.dead_high") ||
      draft.spoilt("factors.dead_low"))
    return;
  draft.fault(draft.has("factors.dead_high") ? "factors.dead_high" : "factors.dead_low",
              "`dead_high` " + number(f.dead_high) + " and `dead_low` " + number(f.dead_low),
              "`dead_high` no less than `dead_low`", "swap them");
}

void check_access(Draft& draft) {
  const AccessRequest& access = draft.brief.access;
  if (draft.spoilt("access.ramp_from") || draft.spoilt("access.gradient_max")) return;
  if (access.ramp_from > access.gradient_max)
    draft.fault(draft.has("access.ramp_from") ? "access.ramp_from" : "access.gradient_max",
                "ramps from " + number(access.ramp_from) + " on, and none steeper than " +
                    number(access.gradient_max),
                "`ramp_from` no more than `gradient_max`", "lower it");
}

/// Plan length from a support to the meeting; of a line from support to support its shorter half is
/// no longer than this.
double climb_m(const Plan& plan, const std::vector<Vec2>& line) {
  double length = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) length += (line[i + 1] - line[i]).norm();
  const auto at_support = [&](const Vec2& p) {
    return std::ranges::any_of(plan.supports, [&](const Support& s) {
      return distance_to_segment(p, s.a, s.b) < (p - *nearest_meeting(plan, p)).norm();
    });
  };
  const bool through = !plan.meeting || (at_support(line.front()) && at_support(line.back()));
  return through ? length / 2 : length;
}

/// A walk that rises by r over l of plan is r / l steep somewhere, whatever its shape.
void check_climb(Draft& draft) {
  const Brief& brief = draft.brief;
  const bool levels_alike = std::ranges::all_of(brief.plan.supports, [&](const Support& s) {
    return s.level_m == brief.plan.supports.front().level_m;
  });
  if (!brief.access.required || !brief.walkway.surface.empty() || !levels_alike) return;
  if (draft.spoilt("access.gradient_max") || draft.spoilt("form.rise")) return;
  for (const std::vector<Vec2>& line : brief.walkway.lines) {
    if (line.size() < 2 || brief.plan.supports.empty()) continue;
    const double run = climb_m(brief.plan, line), rise = brief.form.rise_m;
    if (!(run > 0) || rise <= run * brief.access.gradient_max) continue;
    return draft.fault("access.required",
                       "a rise of " + metres(rise) + " over " +
                           metres(std::round(1e3 * run) / 1e3) + " of walk, 1 in " +
                           number(std::round(10 * run / rise) / 10) +
                           " on average, and no `surface` drawn over the blocks",
                       "no steeper than `gradient_max` " + number(brief.access.gradient_max) +
                           ": a rise of at most " +
                           metres(std::floor(1e3 * run * brief.access.gradient_max + 1e-6) / 1e3),
                       "draw walkway.surface, lower form.rise, or set required = false");
  }
}

void check_mesh(Draft& draft) {
  const double h = draft.brief.form.mesh_size_m, whole = std::abs(area(draft.brief.plan.outline));
  const double vertices = whole / (std::sqrt(3.0) / 2 * h * h);  // equilateral net
  if (draft.brief.plan.outline.empty() || vertices <= kMostVertices) return;
  draft.fault(
      "form.mesh_size",
      metres(h) + " on " + number(whole) + " m2: some " + number(std::round(vertices)) + " points",
      "at most " + number(kMostVertices) + " points",
      "make it " +
          metres(std::ceil(1e3 * std::sqrt(2 / std::sqrt(3.0) * whole / kMostVertices)) / 1e3) +
          " or more");
}

/// What is sure to end in more blocks than anybody would place, or in none.
void check_block_sizes(Draft& draft) {
  const Brief& b = draft.brief;
  const double pad = b.joints.pad_thickness_m;
  if (draft.has("blocks.length") && b.blocks.length_m <= pad)
    draft.fault("blocks.length", metres(b.blocks.length_m) + ", with pads of " + metres(pad),
                "longer than a pad is thick", "longer blocks, or thinner pads");
  if (draft.has("blocks.width_max") && b.blocks.width_max_m <= 2 * pad)
    draft.fault("blocks.width_max", metres(b.blocks.width_max_m) + ", with pads of " + metres(pad),
                "over twice the thickness of a pad", "wider blocks, or thinner pads");
  if (b.plan.outline.empty() || !draft.has("blocks.mass_max")) return;
  // the surface is larger than its plan, hollows take no more than two thirds
  const double least_kg = std::abs(area(b.plan.outline)) * b.material.density *
                          std::min(b.section.depth_crown_m, b.section.depth_springing_m) *
                          (b.section.hollow ? 1.0 / 3 : 1.0);
  if (const double count = least_kg / b.blocks.mass_max_kg; count > kMostBlocks)
    draft.fault("blocks.mass_max",
                number(b.blocks.mass_max_kg) + " kg of some " + number(std::round(least_kg)) +
                    " kg or more: over " + number(std::floor(count)) + " blocks",
                "at most " + number(kMostBlocks) + " blocks",
                "make it " + number(std::ceil(least_kg / kMostBlocks)) + " kg or more");
}

}  // namespace

int support_index(const Draft& draft, const std::string& id) {
  const auto& supports = draft.brief.plan.supports;
  const auto it =
      std::find_if(supports.begin(), supports.end(), [&](const Support& s) { return s.id == id; });
  return it == supports.end() ? -1 : static_cast<int>(it - supports.begin());
}

bool check_support_name(Draft& draft, const std::string& key, const std::string& id) {
  std::vector<std::string> ids;
  for (const SupportDraft& s : draft.supports) ids.push_back(s.id);
  if (!draft.has(key) || std::find(ids.begin(), ids.end(), id) != ids.end()) return true;
  // two supports of one name: the one that is missing here is told of there
  if (std::set<std::string>(ids.begin(), ids.end()).size() < ids.size()) return false;
  const std::string near = nearest_word(id, ids);
  std::string all;
  for (const std::string& other : ids) all += (all.empty() ? "" : ", ") + other;
  draft.fault(key, "\"" + id + "\", which no support is called", "one of " + all,
              near.empty() ? "" : "did you mean \"" + near + "\"?");
  return false;
}

void settle_rest(Draft& draft) {
  check_section(draft);
  check_blocks(draft);
  check_print(draft);
  check_site(draft);
  settle_ties(draft);
  settle_soil(draft);
  check_factors(draft);
  check_access(draft);
  settle_survey(draft);
  settle_wishes(draft);
  settle_walkway(draft);
  check_climb(draft);
  settle_parapet(draft);
  check_mesh(draft);
  check_depths(draft);
  check_block_sizes(draft);
  if (draft.brief.title.empty()) draft.brief.title = draft.brief.name;
}

}  // namespace skewback
