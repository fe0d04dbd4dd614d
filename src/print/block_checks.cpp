#include "print/block_checks.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "print/fresh.hpp"
#include "print/fresh_section.hpp"
#include "print/words.hpp"

namespace skewback {
namespace {

constexpr double kVolumeShare = 0.01;  // laid against solid
constexpr double kDegree = kPi / 180;

template <class Value>
std::size_t greatest(const std::vector<LayerFacts>& layers, Value value) {
  std::size_t at = 0;
  for (std::size_t k = 1; k < layers.size(); ++k)
    if (value(layers[k]) > value(layers[at])) at = k;
  return at;
}

void check_heights(const PrintRequest& cell, BlockPrint& block) {
  const auto& layers = block.layers;
  const std::size_t thin = greatest(layers, [](const LayerFacts&l) { return -l.height_min_m; }),
                    thick = greatest(layers, [](const LayerFacts&l) { return l.height_max_m; });
  block.checks.push_back({"thinnest layer", 1e3 * layers[thin].height_min_m, 1e3 * cell.layer_min_m,
                          "mm", true, layer_words(thin, layers.size()),
                          "print.layer_min, or blocks less unequally long: blocks.length"});
  block.checks.push_back({"thickest layer", 1e3 * layers[thick].height_max_m,
                          1e3 * cell.layer_max_m, "mm", false, layer_words(thick, layers.size()),
                          "print.layer_max, or blocks less unequally long: blocks.length"});
}

/// What takes an overhang away: a limit of the cell only up to what mixes are known to stand.
std::string change_of_lean(double lean_rad) {
  constexpr double kKnown = 30;  // degrees, closed paths; common practice
  const double degrees = lean_rad / kDegree;
  if (degrees <= kKnown)
    return "print.overhang_max " + figure(std::ceil(degrees), 0) +
           " degrees, if trials with the mix bear it out (25 to 30 with closed paths: common "
           "practice)";
  return "no setting of the cell, for no mix is known to stand over 30 degrees (common practice): "
         "the block's sides run so from bed to bed, so another plan.outline or parting, or "
         "print.otherwise";
}

void check_leans(const PrintRequest& cell, const BlockLayout& layout, BlockPrint& block) {
  const std::size_t worst =
      greatest(block.layers, [](const LayerFacts& l) { return l.overhang_max_rad; });
  block.checks.push_back({"overhang", block.layers[worst].overhang_max_rad / kDegree,
                          cell.overhang_max_rad / kDegree, "degrees", false,
                          "over the layer below, in " + layer_words(worst, block.layers.size()),
                          change_of_lean(block.layers[worst].overhang_max_rad)});
  if (layout.way == PrintWay::kBedToBed)
    block.checks.push_back({"sides from upright", layout.lean_rad / kDegree,
                            cell.overhang_max_rad / kDegree, "degrees", false,
                            "all but a hundredth of the sides, as it stands on the table",
                            change_of_lean(layout.lean_rad)});
}

std::string at_words(const std::optional<Vec2>& place, const std::string& layer,
                     const std::string& nowhere) {
  if (!place) return nowhere;
  return ", at (" + millimetres(place->x()) + ", " + millimetres(place->y()) + ") of " + layer;
}

void check_path(const Brief& brief, const PathNotes& notes, BlockPrint& block) {
  const FillLimits limits = fill_limits(brief);
  const auto laid = std::to_string(block.layers.size()) + " layers";
  block.checks.push_back({"narrowest bead", 1e3 * notes.share_min_m,
                          1e3 * std::min(brief.print.bead_min_m, limits.bead_min_m), "mm", true,
                          "of wall, in " + laid, "print.bead_min, or thicker walls", false, true});
  block.checks.push_back({"widest bead", 1e3 * notes.share_max_m, 1e3 * brief.print.bead_max_m,
                          "mm", false, "of wall, in " + laid, "print.bead_max, or thinner walls",
                          false, true});
  block.checks.push_back({"tightest turn", 1e3 * notes.tightest_m, 1e3 * notes.tightest_needs_m,
                          "mm", true,
                          "radius of the middle of the bead" +
                              at_words(notes.tightest_at, "a layer", "; no turn is under it") +
                              "; the limit is print.turn_radius or half the bead",
                          "print.turn_radius, or walls with room to turn", false, true});
  block.checks.push_back({"path", static_cast<double>(notes.crossings), 0, "crossings", false,
                          notes.crossings == 0 ? "none" : notes.crossing,
                          "section.leaf, section.web, or the bead"});
  const bool pads = brief.joints.pad_thickness_m > 0;
  block.checks.push_back(
      {"stands out", 1e3 * notes.outside_m, 1e3 * outside_most_m(brief), "mm", false,
       "bead over the block's outline, its round included" +
           at_words(notes.outside_at, layer_words(notes.outside_layer, block.layers.size()),
                    "; it is the round alone") +
           "; the limit is " +
           (pads ? "half of joints.pad_thickness" : "the bead's round and tolerances.block_length"),
       std::string(pads ? "joints.pad_thickness" : "tolerances.block_length") +
           ", print.layer_max, or walls of whole beads: section.leaf"});
  const std::size_t bare = greatest(block.layers, [](const LayerFacts&l) { return l.gap_share; }),
                    twice =
                        greatest(block.layers, [](const LayerFacts&l) { return l.overfill_share; });
  block.checks.push_back({"bare", 100 * block.layers[bare].gap_share, 100 * kBareMost,
                          "% of a layer", false,
                          layer_words(bare, block.layers.size()) + " (limit: ours, no source)",
                          "print.bead, print.bead_min, or walls of whole beads"});
  block.checks.push_back({"laid twice", 100 * block.layers[twice].overfill_share, 100 * kTwiceMost,
                          "% of a layer", false,
                          layer_words(twice, block.layers.size()) +
                              ", without the overlap asked for (limit: ours, no source)",
                          "less overlap: print.overlap; print.bead, print.bead_max, or walls of "
                          "whole beads"});
  block.checks.push_back(
      {"volume laid", std::abs(block.volume_m3 / (block.solid_m3 + block.ground_m3) - 1) * 100,
       kVolumeShare * 100, "% off the solid", false,
       block.ground_m3 > 0 ? "whole block, and what is ground off" : "whole block",
       "print.bead, or the section"});
}

void check_fresh(const Brief& brief, const std::vector<LayerSection>& sections, BlockPrint& block) {
  std::vector<FreshLayer> layers;
  for (std::size_t k = 0; k < sections.size(); ++k) {
    const LayerFacts& facts = block.layers[k];
    const Frame& f = sections[k].frame;
    const Mat3& R = block.to_table.R;
    layers.push_back(fresh_layer(
        sections[k].section, {block.to_table(f.origin), R * f.x, R * f.y, R * f.z},
        facts.volume_m3 / std::max(facts.area_m2, 1e-12), facts.volume_m3, facts.time_s));
    layers.back().height_max_m = facts.height_max_m;
  }
  const FreshStack stack =
      judge_fresh(brief.print, layers,
                  fresh_walls(sections[sections.size() / 2].section, brief.print.bead_min_m));
  for (std::size_t k = 0; k < sections.size(); ++k) {
    block.layers[k].stress_pa = stack.stress_pa[k];
    block.layers[k].yield_pa = stack.yield_pa[k];
  }
  block.layer_time_needed_s = stack.layer_time_needed_s;
  block.checks.insert(block.checks.end(), stack.checks.begin(), stack.checks.end());
  block.warnings.insert(block.warnings.end(), stack.warnings.begin(), stack.warnings.end());
}

}  // namespace

double outside_most_m(const Brief& brief) {
  if (brief.joints.pad_thickness_m > 0) return brief.joints.pad_thickness_m / 2;
  return kRound * brief.print.layer_max_m / 2 + brief.tolerances.block_length_m;
}

void PathNotes::take(const Fill& fill, std::size_t layer, double height_m) {
  if (!fill.strokes.empty()) {
    const double out = fill.outside_m + kRound * height_m / 2;
    if (out > outside_m) outside_m = out, outside_at = fill.outside_at, outside_layer = layer;
  }
  for (const std::string& trouble : fill.troubles)
    if (std::ranges::find(troubles, trouble) == troubles.end()) troubles.push_back(trouble);
  if (!fill.crossing.empty() && crossings++ == 0) crossing = fill.crossing;
  if (fill.strokes.empty()) return;
  if (fill.tightest_m * tightest_needs_m >= tightest_m * fill.tightest_needs_m) return;
  tightest_m = fill.tightest_m;
  tightest_needs_m = fill.tightest_needs_m;
  tightest_at = fill.tightest_at;
}

void add_checks(const Brief& brief, const BlockLayout& layout,
                const std::vector<LayerSection>& sections, const PathNotes& notes,
                BlockPrint& block) {
  check_heights(brief.print, block);
  check_leans(brief.print, layout, block);
  check_path(brief, notes, block);
  block.warnings = notes.troubles;
  block.checks.push_back(
      {"far bed", 1e3 * block.far_bed_error_m, 1e3 * brief.print.bed_accuracy_m, "mm", false,
       layout.way == PrintWay::kFlat
           ? "last layer against the back; the mould is made to the facets below"
       : block.grind_m > 0
           ? "last layer, without the " + millimetres(block.grind_m, 1) +
                 " to be ground off, against the plane of its bed"
           : "last layer against the plane of its bed, before it is " +
                 (brief.print.far_bed == "as printed" ? "used as printed"
                  : brief.print.far_bed == "pad"      ? std::string("evened out by a pad")
                                                      : brief.print.far_bed),
       "print.bed_accuracy"});
  check_fresh(brief, sections, block);
}

}  // namespace skewback
