#include "print/block_print.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

#include "base/constants.hpp"
#include "print/block_checks.hpp"
#include "print/clearance.hpp"
#include "print/fill.hpp"
#include "print/pose_checks.hpp"
#include "print/poses.hpp"
#include "print/reach.hpp"

namespace skewback {
namespace {

void add(const Fill& fill, LayerFacts& facts) {
  facts.gap_share += fill.gap_m2;
  facts.overfill_share += fill.overfill_m2;
  facts.strokes += static_cast<int>(fill.strokes.size());
}

/// The path of a layer in space; what the planner measured goes to the facts and the notes.
SpaceLayer draw(const Layout& layout, const LayerSection& section, const FillLimits& limits,
                std::optional<Vec2>& start, LayerFacts& facts, PathNotes& notes) {
  SpaceLayer layer;
  for (const Region& region : section.section) {
    const Fill fill = fill_section(region, limits, start);
    add(fill, facts);
    notes.take(fill);
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
  return limits;
}

void carry_out(const Brief& brief, const Assembly& assembly, const Layout& layout,
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
    layers.push_back(draw(layout, sections[k], limits, start, block.layers[k], notes));
  PoseRun run = run_poses(brief.print, layers, layout.to_table);
  sum_up(run, block);
  take_beads(run.poses, notes);
  for (const SpaceStroke& stroke : layers.back().strokes)
    for (const SpacePoint& p : stroke.points)
      block.far_bed_error_m = std::max(
          block.far_bed_error_m, std::abs(layout.field->level(p.p) - 1) * layout.field->way(p.p));
  block.far_bed_error_m += layout.face_misfit_m;
  const ToolClearance clearance = check_clearance(brief.print, run.poses);
  const ReachFinding reach = check_reach(brief.print, run.poses);
  add_checks(brief, layout, sections, notes, block);
  for (PrintCheck& check : pose_checks(brief.print, run, clearance, reach))
    block.checks.push_back(std::move(check));
  block.poses = std::move(run.poses);
}

namespace {

std::string in_words(const PrintCheck& check) {
  char text[96];
  std::snprintf(text, sizeof text, " %.4g %s against %.4g", check.value, check.unit.c_str(),
                check.limit);
  return check.name + text + " (" + check.place + "); to change: " + check.change;
}

/// Whether the mix, the pace or the size of the cell is in the way, and not the block's shape: such
/// a block is not cast for it, the setting is to be changed.
bool of_the_process(const PrintCheck& check) {
  constexpr const char* kNames[] = {"fresh strength",
                                    "fresh layer",
                                    "column of fresh mix",
                                    "wall of fresh mix",
                                    "layer time, least",
                                    "layer time, greatest",
                                    "flow",
                                    "nozzle speed",
                                    "reach",
                                    "reach, nearest",
                                    "table"};
  return std::ranges::find(kNames, check.name) != std::end(kNames);
}

/// Of the shape before the process.
const PrintCheck* first_failed(const BlockPrint& block) {
  const PrintCheck* found = nullptr;
  for (const PrintCheck& check : block.checks) {
    if (check.passes()) continue;
    if (!of_the_process(check)) return &check;
    if (found == nullptr) found = &check;
  }
  return found;
}

bool shape_in_the_way(const BlockPrint& block) {
  return block.checks.empty() || std::ranges::any_of(block.checks, [](const PrintCheck& c) {
           return !c.passes() && !of_the_process(c);
         });
}

void add_angles(const Assembly& assembly, const Layout& layout,
                const std::vector<CaseJointForces>& forces, BlockPrint& block) {
  const Vec3 normal = layout.field->frame_at(0.5, layout.along).z;
  const NormalToThrust angle =
      normal_to_thrust(assembly, block.block, layout.low_bed, layout.high_bed, normal, forces);
  block.normal_to_thrust_rad = angle.dead_rad;
  block.normal_to_thrust_max_rad = angle.greatest_rad;
  block.normal_to_thrust_case = angle.greatest_case;
}

/// Carries a layout out; false, with the reason, if it breaks a limit.
bool try_layout(const Brief& brief, const Assembly& assembly, const Layout& layout,
                const std::vector<CaseJointForces>& forces, BlockPrint& block) {
  block.way = layout.way;
  if (!layout.trouble.empty()) {
    block.reason = layout.trouble;
    return false;
  }
  carry_out(brief, assembly, layout, block);
  if (layout.way == PrintWay::kBedToBed) add_angles(assembly, layout, forces, block);
  const PrintCheck* failed = first_failed(block);
  if (failed != nullptr) block.reason = in_words(*failed);
  return failed == nullptr;
}

}  // namespace

BlockPrint print_block(const Brief& brief, const Assembly& assembly, int block,
                       const std::vector<CaseJointForces>& forces) {
  const Block& self = assembly.blocks[static_cast<std::size_t>(block)];
  BlockPrint blank;
  blank.block = block;
  blank.id = self.id;
  blank.solid_m3 = self.mass.volume;
  const BlockBeds beds = beds_of(assembly, block);
  std::string tried;
  std::optional<BlockPrint> first;  // that broke a limit: shown if nothing else does
  const auto attempt = [&](const char* name, const Layout& layout) {
    BlockPrint out = blank;
    out.printable = try_layout(brief, assembly, layout, forces, out);
    if (!out.printable) tried += (tried.empty() ? "" : "; ") + (name + (": " + out.reason));
    return out;
  };
  if (beds.beds.size() <= 2) {
    first = attempt("bed to bed", bed_to_bed(brief.print, assembly, block, beds));
    if (first->printable || !shape_in_the_way(*first)) return *std::move(first);
  } else {
    tried = std::to_string(beds.beds.size()) + " beds, and layers lie square to one flow only";
  }
  for (const std::string& way : brief.print.otherwise) {
    if (way == "divide" && beds.beds.size() > 2)
      tried += "; divide: the cut made no parts of it, each with a bed of its own";
    if (way == "flat") {
      BlockPrint flat = attempt("flat", laid_flat(brief.print, assembly, block, beds));
      if (flat.printable) {
        flat.warnings.push_back("laid flat because of " + tried);
        return flat;
      }
      if (!shape_in_the_way(flat)) return flat;
      if (!first) first = std::move(flat);
    }
    if (way == "cast") {
      blank.way = PrintWay::kCast;
      blank.reason = "cast because of " + tried;
      if (first) blank.checks = std::move(first->checks);  // what was in the way
      return blank;
    }
  }
  BlockPrint out = first ? *std::move(first) : blank;
  if (!first) out.way = PrintWay::kNone;
  out.reason = tried;
  return out;
}

}  // namespace skewback
