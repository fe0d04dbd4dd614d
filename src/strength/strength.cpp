#include "strength/strength.hpp"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <map>
#include <sstream>

#include "base/parallel.hpp"
#include "strength/checks.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

const LoadCase* load_of(const Assembly& assembly, std::size_t proof, const std::string& id) {
  if (proof < assembly.cases.size() && assembly.cases[proof].id == id)
    return &assembly.cases[proof];
  const auto same = std::find_if(assembly.cases.begin(), assembly.cases.end(),
                                 [&](const LoadCase& load) { return load.id == id; });
  return same == assembly.cases.end() ? nullptr : &*same;
}

/// Blocks that are not printed are one piece unless the brief gives a strength between layers.
bool layered(const Brief& brief) {
  return brief.section.hollow || brief.print.wanted || brief.strength.layer_tension_pa > 0;
}

/// Only a key, and only where that is tried before casting it.
bool may_lie_flat(const Brief& brief, const BlockView& view) {
  const auto way = std::ranges::find_if(
      brief.print.otherwise, [](const std::string& w) { return w == "flat" || w == "cast"; });
  return brief.print.wanted && view.key && way != brief.print.otherwise.end() && *way == "flat";
}

std::vector<CaseInput> make_inputs(const Brief& brief, const Assembly& assembly,
                                   const std::vector<CaseProof>& proofs,
                                   const std::vector<DesignCase>& cases, BlockChecks& checks) {
  std::vector<CaseInput> inputs;
  std::vector<const PadState*> states;
  for (const DesignCase& design : cases) {
    const CaseProof& proof = proofs.at(design.proof);
    const LoadCase* load = load_of(assembly, design.proof, proof.id);
    if (load == nullptr || !proof.pads || !proof.pads->found) {
      checks.remarks.push_back(
          "Case " + proof.id + " is not checked: " +
          (load == nullptr ? "its loads are not known" : "the pads found no state") + ".");
      continue;
    }
    CaseInput input{proof.id, load, design, {}, {}};
    input.concrete =
        design_strength(brief.material.fck_pa,
                        design.accident ? brief.factors.concrete_accident : brief.factors.concrete,
                        brief.factors.plain, brief.strength.layer_tension_pa);
    if (!layered(brief)) input.concrete.layer_pa = input.concrete.tension_pa;
    states.push_back(&*proof.pads);
    inputs.push_back(std::move(input));
  }
  for_each_index(inputs.size(),
                 [&](std::size_t i) { inputs[i].joints = joint_loads(assembly, *states[i]); });
  return inputs;
}

/// One case for each set of factors: the skin asks for no more.
std::vector<const CaseInput*> distinct(const std::vector<CaseInput>& inputs) {
  std::vector<const CaseInput*> out;
  for (const CaseInput& input : inputs) {
    const auto same = [&](const CaseInput* other) {
      return other->design.live_gamma == input.design.live_gamma &&
             other->design.dead_gamma == input.design.dead_gamma &&
             other->design.accident == input.design.accident;
    };
    if (std::none_of(out.begin(), out.end(), same)) out.push_back(&input);
  }
  return out;
}

void check_one(const Brief& brief, const Assembly& assembly, const std::vector<CaseInput>& inputs,
               CheckedBlock& block) {
  const std::vector<double> shares = bursting_shares(assembly, *block.view);
  for (const CaseInput& input : inputs) {
    check_beds(assembly, input, block);
    check_middle(brief, assembly, input, block);
    check_across(brief, assembly, input, block);
    check_bursting(assembly, input, shares, block);
  }
  const double density = assembly.blocks[at(block.view->block)].density;
  check_skin(brief, distinct(inputs), density, block);
  check_upstand(brief, assembly, block);
}

/// Bed to bed, the courses of an arm together.
void measure_arms(const Assembly& assembly, std::vector<CheckedBlock>& blocks) {
  std::map<int, std::map<int, double>> courses;
  for (const CheckedBlock& block : blocks) {
    const BlockPlace& place = assembly.blocks[at(block.view->block)].place;
    double& length = courses[place.arm][place.course];
    if (place.arm >= 0) length = std::max(length, block.view->length_m);
  }
  for (CheckedBlock& block : blocks) {
    for (const auto& [course, length] : courses[assembly.blocks[at(block.view->block)].place.arm])
      block.arm_m += length;
  }
}

void remark_on_slenderness(const Assembly& assembly, const std::vector<CheckedBlock>& blocks,
                           std::vector<std::string>& remarks) {
  const auto worst = std::ranges::max_element(blocks, {}, &CheckedBlock::slender);
  if (worst == blocks.end() || !(worst->slender > 0)) return;
  std::ostringstream text;
  text << "An arm as a slender plain wall, braced at springing and key (EN 1992-1-1 12.6.5.2, from "
          "memory; no check of this tool rests on it): ";
  if (std::isinf(worst->slender)) {
    text << "none is left";
  } else {
    text << "the thrust takes " << std::fixed << std::setprecision(2) << worst->slender;
  }
  text << " of N_Rd at " << assembly.blocks[at(worst->view->block)].id << ", case "
       << worst->slender_case << ", l_0 " << std::fixed << std::setprecision(1) << worst->arm_m
       << " m.";
  remarks.push_back(text.str());
}

std::string named(const std::vector<std::string>& ids, std::size_t most = 6) {
  std::string out;
  for (std::size_t i = 0; i < std::min(ids.size(), most); ++i) out += (i > 0 ? ", " : "") + ids[i];
  if (ids.size() > most) out += " and " + std::to_string(ids.size() - most) + " more";
  return out;
}

/// What the brief leaves open or says that no check takes up.
void remark_on_brief(const Brief& brief, std::vector<std::string>& remarks) {
  if (!layered(brief)) {
    remarks.push_back(
        "Nothing is printed, so solid blocks are taken as one piece, without layers; "
        "strength.layer_tension says otherwise.");
  } else if (brief.strength.layer_tension_pa <= 0) {
    remarks.push_back(
        "Tension between layers is taken as half of f_ctk,0.05, a common rule without a source: "
        "test cores of the printed mix.");
  }
  if (brief.print.wanted && !brief.section.hollow) {
    remarks.push_back(
        "Blocks are checked as printed in layers square to the flow; one that is cast instead has "
        "none and is checked as if it had.");
  }
  if (layered(brief) || !(brief.strength.layer_tension_pa > 0)) {
    std::ostringstream text;
    text << "Strengths are those at 28 days. Cast concrete of class N has " << std::fixed
         << std::setprecision(0) << 100 * age_factor(kNormalCement, 3)
         << " % of its mean after 3 days and " << 100 * age_factor(kNormalCement, 7)
         << " % after 7 (EN 1992-1-1 3.1.2, from memory); accelerated printed mixes need tests.";
    remarks.push_back(text.str());
  }
  if (brief.section.hollow && brief.walkway.width_m > 0 && brief.walkway.weight_pa > 0) {
    remarks.push_back(
        "The concentrated load and the people are taken to stand on the skin itself; through the "
        "feet of a walkway on frames they still can.");
  }
  if (brief.section.hollow && brief.walkway.fill_density > 0) {
    remarks.push_back(
        "The fill spreads loads on the skin; that and its weight on the skin are not counted.");
  }
}

void remark_on_skins(const std::vector<std::string>& solid, std::size_t blocks, double inside,
                     std::vector<std::string>& remarks) {
  if (solid.size() == blocks) {
    remarks.push_back("The blocks are solid: no skin to check.");
  } else if (!solid.empty()) {
    remarks.push_back(
        "Solid, or no tube at the middle section, so no skin checked: " + named(solid) + ".");
  }
  if (inside <= 0) return;
  std::ostringstream text;
  text << "A load at a bed has skin on one side only. Kept away from the beds, the skin's greatest "
          "utilisation is "
       << std::fixed << std::setprecision(2) << inside << ".";
  remarks.push_back(text.str());
}

void remark_on_blocks(const Assembly& assembly, const std::vector<CheckedBlock>& blocks,
                      std::vector<std::string>& remarks) {
  std::vector<std::string> solid, keys, flat, beyond, across;
  bool bursts = false;
  double inside = 0;
  for (const CheckedBlock& block : blocks) {
    const std::string& id = assembly.blocks[at(block.view->block)].id;
    if (block.view->cells.empty()) solid.push_back(id);
    if (block.view->key) keys.push_back(id);
    if (block.may_lie_flat) flat.push_back(id);
    const auto& bent = block.worst.of(Check::kAcross);
    if (bent && bent->utilisation > 1) across.push_back(id);
    if (block.beyond) beyond.push_back(id);
    inside = std::max(inside, block.skin_inside);
    bursts = bursts || block.worst.of(Check::kBursting);
  }
  remark_on_skins(solid, blocks.size(), inside, remarks);
  const auto say = [&](const std::string& before, const std::vector<std::string>& ids,
                       const std::string& after) {
    if (!ids.empty()) remarks.push_back(before + named(ids) + after);
  };
  say("Keys, checked on planes through their middle parallel and square to each bed: ", keys, ".");
  say("Keys that may be printed flat, with layers along the thrust: bursting behind their beds is "
      "held to the strength between layers, as layers and shear are; how thrust that leaves the "
      "plane of such layers splits them is not checked: ",
      flat, ".");
  say("The resultant leaves the middle section, so it stands only by its tension (see layers): ",
      beyond, ".");
  say("Bent across the flow beyond their strength: ", across,
      ". Narrower blocks (blocks.width_max sets head joints) or longer ones bend less.");
  if (!bursts) remarks.push_back("The pads cover the beds: no bursting behind strips.");
}

}  // namespace

const char* name(Check check) {
  switch (check) {
    case Check::kBed:
      return "bed";
    case Check::kMiddle:
      return "middle";
    case Check::kLayers:
      return "layers";
    case Check::kShear:
      return "shear";
    case Check::kTwist:
      return "twist";
    case Check::kPatch:
      return "skin under the patch";
    case Check::kPeople:
      return "skin under people";
    case Check::kBursting:
      return "bursting";
    case Check::kAcross:
      return "across";
    case Check::kUpstand:
      return "upstand";
    case Check::kCount:
      break;
  }
  return "";
}

void Worst::add(Check check, BlockFinding finding) {
  auto& kept = found_[static_cast<std::size_t>(check)];
  if (!kept || finding.utilisation > kept->utilisation) kept = std::move(finding);
}

BlockChecks check_blocks(const Brief& brief, const Assembly& assembly,
                         const std::vector<CaseProof>& proofs, const std::vector<DesignCase>& cases,
                         const Progress& progress) {
  BlockChecks checks;
  const std::vector<CaseInput> inputs = make_inputs(brief, assembly, proofs, cases, checks);
  progress.checkpoint("strength", 0.2);
  const std::vector<BlockView> views = view_blocks(assembly);
  std::vector<CheckedBlock> blocks(views.size());
  for (std::size_t v = 0; v < views.size(); ++v) {
    blocks[v].view = &views[v];
    blocks[v].may_lie_flat = may_lie_flat(brief, views[v]);
  }
  measure_arms(assembly, blocks);
  for_each_index(views.size(),
                 [&](std::size_t v) { check_one(brief, assembly, inputs, blocks[v]); });
  progress.checkpoint("strength", 0.9);
  for (const CheckedBlock& block : blocks) {
    for (int c = 0; c < static_cast<int>(Check::kCount); ++c) {
      if (const auto& finding = block.worst.of(static_cast<Check>(c)))
        checks.findings.push_back(*finding);
    }
  }
  const auto worst = std::max_element(
      checks.findings.begin(), checks.findings.end(),
      [](const BlockFinding& a, const BlockFinding& b) { return a.utilisation < b.utilisation; });
  if (worst != checks.findings.end())
    checks.worst = static_cast<int>(worst - checks.findings.begin());
  remark_on_blocks(assembly, blocks, checks.remarks);
  remark_on_slenderness(assembly, blocks, checks.remarks);
  remark_on_brief(brief, checks.remarks);
  checks.proposal = propose_section(brief, distinct(inputs), blocks, assembly);
  return checks;
}

}  // namespace skewback
