#include <algorithm>
#include <cmath>
#include <cstdio>

#include "strength/checks.hpp"

namespace skewback {
namespace {

constexpr double kLeafStep = 0.005, kSpacingStep = 0.010, kSpacingMost = 0.6, kSpanLeast = 0.05;

/// What the hollow blocks ask for, each figure from the block that asks most.
struct Asked {
  const Brief* brief = nullptr;
  const std::vector<const CaseInput*>* inputs = nullptr;
  double density = 0, pressure_pa = 1e300;
  double depth_m = 1e300, width_m = 0;
  double length_min_m = 1e300, length_max_m = 0;
  double now = 0;

  /// A skin over the outermost tube, which one side holds less than the rest, of the widest span
  /// that the rule of webs gives.
  [[nodiscard]] SkinShape outer_skin(double length, double leaf, double spacing) const {
    const double web = brief->section.web_m, span = spacing - web, height = depth_m - 2 * leaf;
    return {span, length, leaf, turning(leaf, span, 0, leaf, height),
            turning(leaf, span, span, web, height)};
  }

  [[nodiscard]] double use(double leaf, double spacing) const {
    double most = 0;
    for (const double length : {length_min_m, length_max_m}) {
      const SkinUnits units =
          skin_units(outer_skin(length, leaf, spacing), brief->loads.patch_side_m);
      for (const CaseInput* input : *inputs) {
        for (const SkinLoads& loads : {patch_loads(*brief, input->design, density, leaf),
                                       people_loads(*brief, input->design, density, leaf)}) {
          const SkinUse used = skin_use(units, leaf, loads, input->concrete, pressure_pa);
          most = std::max(most, used.utilisation);
        }
      }
    }
    return most;
  }

  /// Of the widest block.
  [[nodiscard]] double solid_share(double leaf, double spacing) const {
    const double web = brief->section.web_m, inner = width_m - 2 * leaf;
    const double tubes = std::max(std::ceil((inner + web) / spacing - 1e-9), 1.0);
    return 1 - (inner - (tubes - 1) * web) * (depth_m - 2 * leaf) / (width_m * depth_m);
  }
};

Asked asked_by(const Brief& brief, const std::vector<const CaseInput*>& inputs,
               const std::vector<CheckedBlock>& blocks, const Assembly& assembly) {
  Asked asked;
  asked.brief = &brief;
  asked.inputs = &inputs;
  for (const CheckedBlock& block : blocks) {
    const BlockView& view = *block.view;
    if (view.cells.empty()) continue;
    for (const Check check : {Check::kPatch, Check::kPeople}) {
      if (const auto& f = block.worst.of(check)) asked.now = std::max(asked.now, f->utilisation);
    }
    const Block& itself = assembly.blocks[static_cast<std::size_t>(view.block)];
    asked.density = std::max(asked.density, itself.density);
    asked.pressure_pa = std::min(asked.pressure_pa, block.least_pressure_pa);
    asked.depth_m = std::min(asked.depth_m, view.depth_m);
    asked.width_m = std::max(asked.width_m, view.width_m);
    for (const Cell& cell : view.cells) {
      asked.length_min_m = std::min(asked.length_min_m, cell.length_m);
      asked.length_max_m = std::max(asked.length_max_m, cell.length_m);
    }
  }
  return asked;
}

std::string words_of(const Section& section, const SectionProposal& p) {
  const auto mm = [](double m) { return std::to_string(std::lround(1000 * m)) + " mm"; };
  char then[16], now[16];
  std::snprintf(then, sizeof then, "%.2f", p.utilisation_then);
  std::snprintf(now, sizeof now, "%.2f", p.utilisation_now);
  return "leaves of " + mm(p.leaf_m) + " and webs at most " + mm(p.web_spacing_m) +
         " apart would bring the skins of a block whose tubes keep that rule to " + then +
         " of their strength (greatest now " + now + ", with " + mm(section.leaf_m) + " and " +
         mm(section.web_spacing_m) + "); of all pairs in steps of 5 and 10 mm it takes the least " +
         "concrete. Blocks get heavier, and whether they can then be printed, carried by the "
         "centring and lifted was not looked at: run again with it.";
}

}  // namespace

std::optional<SectionProposal> propose_section(const Brief& brief,
                                               const std::vector<const CaseInput*>& inputs,
                                               const std::vector<CheckedBlock>& blocks,
                                               const Assembly& assembly) {
  const Asked asked = asked_by(brief, inputs, blocks, assembly);
  if (asked.now <= 1) return std::nullopt;
  const Section& section = brief.section;
  std::optional<SectionProposal> best;
  double least = 1;  // share that is concrete
  double spacing = section.web_m + kSpanLeast;
  for (double leaf = section.leaf_m; 4 * leaf < asked.depth_m; leaf += kLeafStep) {
    double use = asked.use(leaf, spacing);
    if (use > 1) continue;
    while (spacing + kSpacingStep <= kSpacingMost) {
      const double wider = asked.use(leaf, spacing + kSpacingStep);
      if (wider > 1) break;
      spacing += kSpacingStep;
      use = wider;
    }
    const double share = asked.solid_share(leaf, spacing);
    if (share >= least) continue;
    least = share;
    best = SectionProposal{leaf, spacing, asked.now, use, {}};
  }
  if (!best) return best;
  // no more to ask of the section: what fails has wider tubes than the rule
  constexpr double kSame = 1e-6;
  if (best->leaf_m <= section.leaf_m + kSame &&
      best->web_spacing_m >= section.web_spacing_m - kSame)
    return std::nullopt;
  best->words = words_of(section, *best);
  return best;
}

}  // namespace skewback
