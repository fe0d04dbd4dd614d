// A layout carried out: layers, paths, poses, checks.
#include <algorithm>
#include <cmath>
#include <optional>

#include "print/block_checks.hpp"
#include "print/block_print.hpp"
#include "print/clearance.hpp"
#include "print/fill.hpp"
#include "print/pose_checks.hpp"
#include "print/poses.hpp"
#include "print/reach.hpp"
#include "print/words.hpp"

namespace skewback {
namespace {

void add(const Fill& fill, LayerFacts& facts) {
  facts.gap_share += fill.gap_m2;
  facts.overfill_share += fill.overfill_m2;
  facts.strokes += static_cast<int>(fill.strokes.size());
}

bool covers(const Fill& fill) {
  return fill.strokes.size() == 1 && fill.crossing.empty() &&
         fill.tightest_m >= fill.tightest_needs_m && fill.gap_m2 <= kBareMost * fill.section_m2 &&
         fill.overfill_m2 <= kTwiceMost * fill.section_m2;
}

/// Where beads of the size asked for leave too much bare or laid twice, narrower ones: a solid part
/// then takes one loop more.
Fill covered(const Region& region, const FillLimits& limits, const std::optional<Vec2>& start) {
  Fill fill = fill_section(region, limits, start);
  if (covers(fill)) return fill;
  FillLimits narrower = limits;
  narrower.bead_m = std::max(limits.bead_min_m, 0.7 * limits.bead_m);
  Fill other = fill_section(region, narrower, start);
  return covers(other) ? other : fill;
}

/// The path of a layer in space; what the planner measured goes to the facts and the notes.
SpaceLayer draw(const BlockLayout& layout, const LayerSection& section, std::size_t number,
                const FillLimits& limits, std::optional<Vec2>& start, LayerFacts& facts,
                PathNotes& notes) {
  SpaceLayer layer;
  for (const Region& region : section.section) {
    const Fill fill = covered(region, limits, start);
    add(fill, facts);
    notes.take(fill, number, section.height_max_m);
    for (const Stroke& stroke : fill.strokes)
      layer.strokes.push_back(lifted(*layout.field, section, stroke, layout.count));
    if (!fill.strokes.empty() && !fill.strokes.front().points.empty())
      start = fill.strokes.front().points.front().p;
  }
  facts.height_min_m = section.height_min_m;
  facts.height_max_m = section.height_max_m;
  facts.area_m2 = section.area_m2;
  facts.volume_m3 = section.volume_m3;
  facts.overhang_max_rad = section.lean_max();
  if (section.area_m2 > 0) {
    facts.gap_share /= section.area_m2;
    facts.overfill_share /= section.area_m2;
  }
  return layer;
}

void sum_up(const PoseRun& run, BlockPrint& block) {
  block.layer_min_m = 1e9;
  for (std::size_t k = 0; k < block.layers.size(); ++k) {
    LayerFacts& layer = block.layers[k];
    layer.laid_m3 = run.layer_laid_m3[k];
    layer.path_m = run.layer_path_m[k];
    layer.time_s = run.layer_time_s[k];
    block.path_m += layer.path_m;
    block.volume_m3 += layer.laid_m3;
    block.layer_min_m = std::min(block.layer_min_m, layer.height_min_m);
    block.layer_max_m = std::max(block.layer_max_m, layer.height_max_m);
    block.overhang_max_rad = std::max(block.overhang_max_rad, layer.overhang_max_rad);
  }
  block.time_s = run.poses.empty() ? 0 : run.poses.back().time_s;
}

void take_beads(const std::vector<Pose>& poses, PathNotes& notes) {
  for (const Pose& pose : poses) {
    if (pose.share_m <= 0) continue;
    notes.share_min_m = std::min(notes.share_min_m, static_cast<double>(pose.share_m));
    notes.share_max_m = std::max(notes.share_max_m, static_cast<double>(pose.share_m));
  }
}

/// Greatest distance of the last layer's path, straight from point to point, from the face it is to
/// end in.
double far_bed_error(const Assembly& assembly, const BlockLayout& layout, const SpaceLayer& last,
                     int block) {
  if (layout.way == PrintWay::kBedToBed && layout.high_bed.empty()) return 0;
  const auto off = [&](const Vec3& p) {
    if (layout.high_bed.empty()) return (layout.field->level(p) - 1) * layout.field->way(p);
    return face_at(assembly.joints[static_cast<std::size_t>(layout.high_bed.front())], block)
        .distance(p);
  };
  double most = 0;
  for (const SpaceStroke& stroke : last.strokes) {
    const std::size_t n = stroke.points.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec3 &a = stroke.points[i].p,
                 &b = stroke.closed || i + 1 < n ? stroke.points[(i + 1) % n].p : a;
      for (const Vec3& p : {a, Vec3((a + b) / 2)}) most = std::max(most, std::abs(off(p)));
    }
  }
  return most;
}

/// Lays what is to be ground off the far bed: shared by the last layer and as many under it as it
/// takes to keep all of them to the greatest height.
void lay_over(double allowance_m, double layer_max_m, std::vector<SpaceLayer>& layers,
              BlockPrint& block) {
  const std::size_t n = layers.size();
  const auto fits = [&](std::size_t shared) {
    return std::all_of(block.layers.end() - static_cast<std::ptrdiff_t>(shared), block.layers.end(),
                       [&](const LayerFacts& l) {
                         return l.height_max_m + allowance_m / static_cast<double>(shared) <=
                                layer_max_m;
                       });
  };
  std::size_t shared = 1;
  while (shared < n && !fits(shared)) ++shared;
  const double each_m = allowance_m / static_cast<double>(shared);
  for (std::size_t j = 1; j <= shared; ++j) {
    const std::size_t k = n - shared + j - 1;
    for (SpaceStroke& stroke : layers[k].strokes) {
      for (SpacePoint& point : stroke.points) {
        point.p += static_cast<double>(j) * each_m * point.normal;
        point.height_m += each_m;
      }
    }
    LayerFacts& facts = block.layers[k];
    facts.height_min_m += each_m;
    facts.height_max_m += each_m;
    facts.volume_m3 += each_m * facts.area_m2;
    block.ground_m3 += each_m * facts.area_m2;
  }
  block.grind_m = allowance_m;
}

/// Where a nozzle that turns with the path is too slow: how slow a round one would be.
void offer_round_nozzle(const PrintRequest& cell, const std::vector<SpaceLayer>& layers,
                        const Rigid& to_table, PrintCheck& speed) {
  if (!cell.nozzle_follows || speed.passes()) return;
  PrintRequest round = cell;
  round.nozzle_follows = false;
  const double slowest = run_poses(round, layers, to_table).speed_min_m_s;
  const bool clears = slowest >= cell.speed_min_m_s * (1 - 1e-6);
  const std::string so = "print.nozzle_follows = false, with a round nozzle (slowest then " +
                         millimetres(slowest) + "/s" + (clears ? "" : ", still too slow") + ")";
  speed.change = clears ? so + "; or " + speed.change : speed.change + "; or " + so;
}

}  // namespace

FillLimits fill_limits(const Brief& brief) {
  const PrintRequest& cell = brief.print;
  FillLimits limits;
  limits.bead_m = cell.bead_m;
  if (brief.section.hollow) limits.bead_m = std::min(cell.bead_m, brief.section.leaf_m);
  limits.bead_min_m = std::min(cell.bead_min_m, limits.bead_m);
  limits.bead_max_m = cell.bead_max_m;
  limits.overlap_m = cell.overlap_m;
  limits.turn_radius_m = 1.25 * cell.turn_radius_m;  // where there is less room it still does
  limits.turn_radius_least_m = cell.turn_radius_m;
  limits.step_m = cell.step_m;
  // half of what the joint leaves beside the round of the bead; the rest is for what is not drawn
  limits.proud_m =
      std::clamp((outside_most_m(brief) - kRound * cell.layer_max_m / 2) / 2, 0.0, 0.002);
  return limits;
}

std::string carry_out(const Brief& brief, const Assembly& assembly, const BlockLayout& layout,
                      BlockPrint& block) {
  const Solid& solid = assembly.blocks[static_cast<std::size_t>(block.block)].solid;
  block.way = layout.way;
  block.on_table = layout.words;
  block.to_table = layout.to_table;
  block.stand_rad = layout.stand_rad;
  block.field = layout.field_words;
  std::vector<LayerSection> sections =
      layer_sections(*layout.field, solid, layout.count, layout.along);
  std::erase_if(sections, [](const LayerSection& s) { return s.section.empty(); });
  const FillLimits limits = fill_limits(brief);
  std::vector<SpaceLayer> layers;
  std::optional<Vec2> start;
  PathNotes notes;
  block.layers.resize(sections.size());
  for (std::size_t k = 0; k < sections.size(); ++k)
    layers.push_back(draw(layout, sections[k], k, limits, start, block.layers[k], notes));
  if (layers.empty()) return "it has no layers";
  block.far_bed_error_m = far_bed_error(assembly, layout, layers.back(), block.block);
  if (brief.print.far_bed == "ground" && brief.print.grind_allowance_m > 0 &&
      layout.way == PrintWay::kBedToBed && !layout.high_bed.empty())
    lay_over(brief.print.grind_allowance_m, brief.print.layer_max_m, layers, block);
  PoseRun run = run_poses(brief.print, layers, layout.to_table);
  if (run.poses.empty())
    return "no path fits its layers" +
           (notes.troubles.empty() ? "" : ": " + notes.troubles.front());
  sum_up(run, block);
  block.turns = run.turns;
  take_beads(run.poses, notes);
  const ToolClearance clearance = check_clearance(brief.print, run.poses);
  const ReachFinding reach = check_reach(brief.print, run.poses);
  add_checks(brief, layout, sections, notes, block);
  for (PrintCheck& check : pose_checks(brief.print, run, clearance, reach))
    block.checks.push_back(std::move(check));
  const auto speed = std::ranges::find(block.checks, "nozzle speed", &PrintCheck::name);
  offer_round_nozzle(brief.print, layers, layout.to_table, *speed);
  block.poses = std::move(run.poses);
  return {};
}

}  // namespace skewback
