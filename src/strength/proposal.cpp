#include <algorithm>
#include <cmath>

#include "strength/checks.hpp"

namespace skewback {
namespace {

constexpr double kLeafStep = 0.005, kSpacingStep = 0.010, kSpacingMost = 0.6, kSpanLeast = 0.05;

/// A skin over the outermost tube, which one side holds less than the rest, of the widest span that
/// the rule of webs gives.
SkinShape outer_skin(const Section& section, const BlockView& view, double leaf, double spacing) {
  const double span = spacing - section.web_m, height = view.depth_m - 2 * leaf;
  return {span, view.length_m, leaf, turning(leaf, span, 0, leaf, height),
          turning(leaf, span, span, section.web_m, height)};
}

double solid_share(const Section& section, const BlockView& view, double leaf, double spacing) {
  const double inner = view.width_m - 2 * leaf;
  const double tubes = std::max(std::ceil((inner + section.web_m) / spacing - 1e-9), 1.0);
  return 1 - (inner - (tubes - 1) * section.web_m) * (view.depth_m - 2 * leaf) /
                 (view.width_m * view.depth_m);
}

struct Asked {
  const Brief* brief;
  const BlockView* view;
  const CaseInput* input;
  double density, pressure_pa;

  [[nodiscard]] double use(double leaf, double spacing) const {
    const SkinUnits units =
        skin_units(outer_skin(brief->section, *view, leaf, spacing), brief->loads.patch_side_m);
    double most = 0;
    for (const SkinLoads& loads : {patch_loads(*brief, input->design, density, leaf),
                                   people_loads(*brief, input->design, density, leaf)}) {
      most = std::max(most, skin_use(units, leaf, loads, input->concrete, pressure_pa).utilisation);
    }
    return most;
  }
};

std::string words_of(const Section& section, const SectionProposal& p) {
  const auto mm = [](double m) { return std::to_string(std::lround(1000 * m)) + " mm"; };
  return "leaves of " + mm(p.leaf_m) + " and webs at most " + mm(p.web_spacing_m) +
         " apart meet every skin check (now " + mm(section.leaf_m) + " and " +
         mm(section.web_spacing_m) + "); of all pairs in steps of 5 and 10 mm it takes the least " +
         "concrete. Blocks get heavier: run again with it.";
}

}  // namespace

std::optional<SectionProposal> propose_section(const Brief& brief,
                                               const std::vector<CaseInput>& inputs,
                                               const std::vector<CheckedBlock>& blocks,
                                               const Assembly& assembly) {
  double now = 0;
  std::optional<Asked> asked;
  for (const CheckedBlock& block : blocks) {
    for (const Check check : {Check::kPatch, Check::kPeople}) {
      const auto& finding = block.worst.of(check);
      if (!finding || finding->utilisation <= now) continue;
      now = finding->utilisation;
      const auto input = std::find_if(inputs.begin(), inputs.end(), [&](const CaseInput& in) {
        return in.id == finding->case_id;
      });
      asked = Asked{&brief, block.view, &*input,
                    assembly.blocks[static_cast<std::size_t>(block.view->block)].density,
                    block.least_pressure_pa};
    }
  }
  if (!asked || now <= 1) return std::nullopt;
  const Section& section = brief.section;
  std::optional<SectionProposal> best;
  double least = 1;  // share that is concrete
  double spacing = section.web_m + kSpanLeast;
  for (double leaf = section.leaf_m; 4 * leaf < asked->view->depth_m; leaf += kLeafStep) {
    double use = asked->use(leaf, spacing);
    if (use > 1) continue;
    while (spacing + kSpacingStep <= kSpacingMost) {
      const double wider = asked->use(leaf, spacing + kSpacingStep);
      if (wider > 1) break;
      spacing += kSpacingStep;
      use = wider;
    }
    const double share = solid_share(section, *asked->view, leaf, spacing);
    if (share >= least) continue;
    least = share;
    best = SectionProposal{leaf, spacing, now, use, {}};
  }
  if (best) best->words = words_of(section, *best);
  return best;
}

}  // namespace skewback
