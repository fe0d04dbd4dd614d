#include <algorithm>
#include <cmath>
#include <cstdio>

#include "assembly/pad_rules.hpp"
#include "base/constants.hpp"
#include "works/old_blocks.hpp"
#include "works/pressed.hpp"
#include "works/required_site.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

bool is_pattern(const Dossier& dossier, std::size_t i) {
  return i >= dossier.notes.size() || dossier.notes[i].kind == CaseKind::kPattern;
}

/// None where nobody walks: the combinations are what such a vault is held to.
std::optional<RequiredCheck> live_factor(const Dossier& dossier) {
  RequiredCheck check = at_least("live_factor", dossier.brief.required.live_factor,
                                 "required.live_factor of the brief, on dead 1.0");
  bool all = true;
  for (std::size_t i = 0; i < dossier.proofs.size(); ++i) {
    const CaseProof& proof = dossier.proofs[i];
    if (!is_pattern(dossier, i)) continue;
    if (!proof.load_factor) {
      // a case with weight alone has no factor; one that should have had it and could not be solved
      // fails below
      if (proof.verdict != Verdict::kStands) all = false;
      continue;
    }
    const bool by_pads = proof.pads_load_factor && !proof.pads_at_cap;
    const double factor = *live_factor_of(proof);
    if (check.value && factor >= *check.value) continue;
    check.value = factor;
    check.note = proof.at_cap ? "at least: every case reaches the cap"
                 : by_pads    ? "least in case " + proof.id + ", by the pads"
                              : "least in case " + proof.id;
  }
  if (!check.value && all && !dossier.proofs.empty() && !(dossier.brief.loads.people_pa > 0))
    return std::nullopt;
  check.passes = all && check.value && *check.value >= check.limit;
  if (!check.value) check.note = "no case with live load was proved";
  return check;
}

RequiredCheck combinations(const Dossier& dossier) {
  RequiredCheck check = at_least(
      "combinations", 1, dossier.brief.factors.edition + ": share of the combinations that stand");
  int all = 0, standing = 0;
  const CaseProof* least = nullptr;
  for (std::size_t i = 0; i < dossier.proofs.size(); ++i) {
    if (is_pattern(dossier, i)) continue;
    const CaseProof& proof = dossier.proofs[i];
    ++all;
    if (proof.verdict == Verdict::kStands) {
      ++standing;
      const bool lower =
          least == nullptr ||
          (proof.load_factor && (!least->load_factor || *proof.load_factor < *least->load_factor));
      if (lower) least = &proof;
    } else if (check.note.empty()) {
      check.note = proof.id + ": " + word(proof.verdict);
    }
  }
  if (all == 0) {
    check.note = "none was made";
    return check;
  }
  check.value = static_cast<double>(standing) / all;
  check.passes = standing == all;
  if (*check.passes && least != nullptr && least->load_factor) {
    check.note = "nearest to its limit: " + least->id;
  }
  return check;
}

RequiredCheck depth_reserve(const Dossier& dossier) {
  RequiredCheck check{"geometric_safety",
                      std::nullopt,
                      dossier.brief.required.geometric_safety,
                      std::nullopt,
                      "required.geometric_safety of the brief, dead load",
                      "dead load: full depth of the joints over the least that holds it"};
  if (dossier.dead_depth_reserve) {
    check.value = dossier.dead_depth_reserve->safety;
    if (dossier.dead_depth_reserve->at_least)
      check.note =
          "at least, the end of the search: a form found for its own weight says little by "
          "this; depth_needed has the live loads";
  } else if (!dossier.depth_needed) {
    check.note = "the least depth was not sought";
    return check;
  } else {
    check.note = "the dead load does not stand at full depth";
  }
  check.passes = check.value && *check.value >= check.limit;
  return check;
}

RequiredCheck joint_stress(const Dossier& dossier) {
  RequiredCheck check = at_least(
      "joint_stress", 1,
      dossier.brief.required.pad_stress_pa > 0
          ? "required.pad_stress of the brief over peak pressure, every case as it is, on feet "
            "that "
            "stay (on their ties: other_states)"
          : "factors.plain / factors.concrete of the material's strength (EN 1992-1-1 12.3.1: "
            "0.8 / 1.5) and, with pads, "
            "1.4 G S and 7 G (EN 1337-3, from memory), over peak pressure, every case "
            "as it is, on feet that stay (on their ties: other_states)");
  bool all = !dossier.proofs.empty();
  for (const CaseProof& proof : dossier.proofs) {
    if (proof.pads && proof.pads->found) continue;
    all = false;
    check.note = "no state of the pads in case " + proof.id;
  }
  if (const Pressed most = most_pressed(dossier); most.in != nullptr) {
    check.value = most.reserve();
    if (all) check.note = place_of(dossier, most);
  }
  check.passes = all && check.value && *check.value >= check.limit;
  return check;
}

RequiredCheck moved_footings(const Dossier& dossier) {
  RequiredCheck check =
      at_least("moved_footings", 1,
               "required.footing_tolerance of the brief times factors.moved each way, ten "
               "worst patterns, live load at required.live_factor: share that holds");
  if (!dossier.moved) {
    check.note = "not tried";
    return check;
  }
  const MovedFootings& moved = *dossier.moved;
  check.value = static_cast<double>(moved.held) / moved.states;
  check.passes = moved.held == moved.states;
  check.note = std::to_string(moved.held) + " of " + std::to_string(moved.states) +
               " states hold; " + (*check.passes ? "greatest pressure: " : "") + moved.worst;
  if (moved.over > 0) check.note += "; in " + moved.over_words;
  return check;
}

RequiredCheck block_strength(const Dossier& dossier) {
  RequiredCheck check = at_most("block_strength", 1,
                                "design rule: greatest utilisation of a block, plain concrete "
                                "(EN 1992-1-1 12), with the brief's factors");
  if (!dossier.strength) {
    check.note = "not computed in this run";
    return check;
  }
  const BlockChecks& checks = *dossier.strength;
  if (checks.worst < 0) {
    check.note = "no block could be checked";
    return check;
  }
  const BlockFinding& worst = checks.findings[static_cast<std::size_t>(checks.worst)];
  check.value = worst.utilisation;
  check.passes = worst.utilisation <= check.limit;
  check.note = worst.check + " of " +
               dossier.cut->assembly.blocks[static_cast<std::size_t>(worst.block)].id + ", case " +
               worst.case_id;
  if (!*check.passes && checks.proposal) {
    check.note += "; " + checks.proposal->words;
    if (!worst.check.starts_with("skin"))
      check.note += " That is for the skins alone, not for \"" + worst.check + "\".";
  }
  return check;
}

/// Bars make up for it; none are designed here.
std::string thin_footings(const Groundworks& ground) {
  std::string list;
  for (const FootingReport& f : ground.footings)
    if (f.plain_depth_m > f.size.depth_m) list += (list.empty() ? "" : ", ") + f.id;
  return list.empty() ? ""
                      : "without bars too thin (EN 1992-1-1 12.9.3): " + list +
                            "; thicken (ground.footing_depth), or have bars designed: none are "
                            "here";
}

RequiredCheck footings(const Dossier& dossier) {
  RequiredCheck check = at_most(
      "footings", 1, "design rule: bearing and sliding of the footings (EN 1997-1, annex D)");
  if (!dossier.ground || dossier.ground->footings.empty()) {
    check.note = "the footings were not checked";
    return check;
  }
  if (dossier.brief.soil.kind == SoilKind::kUnknown) {
    check.note = "not cleared: the soil is unknown ([soil] of the brief)";
    return check;
  }
  bool cleared = true, known = true;
  for (const FootingReport& footing : dossier.ground->footings) {
    if (!footing.cleared && check.note.empty()) check.note = footing.id + ": " + footing.reason;
    cleared = cleared && footing.cleared;
    const auto take = [&](int worst, std::optional<double> FootingCase::*used_by) {
      if (worst < 0) return;
      const auto& used = footing.cases[static_cast<std::size_t>(worst)].*used_by;
      if (!used) known = false;
      if (used && (!check.value || *used > *check.value)) check.value = used;
    };
    take(footing.worst_bearing, &FootingCase::bearing_used);
    take(footing.worst_sliding, &FootingCase::sliding_used);
  }
  if (!known) check.value.reset();
  if (known || !cleared) check.passes = cleared;
  if (check.passes.value_or(false)) {
    check.note = thin_footings(*dossier.ground);
    if (!check.note.empty()) check.passes.reset();
  }
  return check;
}

RequiredCheck stages(const Dossier& dossier) {
  RequiredCheck check = at_least(
      "stages_standing", 1,
      "design rule: every stage and striking step stands, under its weight and under the "
      "building loads of the brief times factors.other; each foot by itself ahead of its row "
      "or behind it");
  if (!dossier.programme) {
    check.note = "the stages were not run";
    return check;
  }
  std::size_t standing = 0;
  for (const Stage& stage : dossier.programme->stages) {
    if (stands(stage)) {
      ++standing;
    } else if (check.note.empty()) {
      const bool weight = stage.proof.verdict != Verdict::kStands;
      check.note = "step " + std::to_string(stage.step) + " (" + stage.what + "): " +
                   (weight ? word(stage.proof.verdict)
                           : word(stage.working->verdict) + (" under " + stage.working->governing));
    }
  }
  const UnevenStriking& uneven = dossier.programme->uneven;
  standing += static_cast<std::size_t>(uneven.standing);
  const std::size_t all = dossier.programme->stages.size() + uneven.steps.size();
  if (check.note.empty() && uneven.standing < static_cast<int>(uneven.steps.size()))
    check.note = "uneven striking: " + uneven.words.front();
  check.value = all > 0 ? static_cast<double>(standing) / static_cast<double>(all) : 0;
  check.passes = all > 0 && standing == all;
  return check;
}

RequiredCheck block_mass(const Dossier& dossier) {
  const double most = dossier.brief.blocks.mass_max_kg;
  RequiredCheck check = at_most(
      "block_mass", most, "blocks.mass_max of the brief: heaviest block, its concrete alone", "kg");
  if (!dossier.cut) {
    check.note = "nothing is cut";
    return check;
  }
  const Assembly& assembly = dossier.cut->assembly;
  std::size_t over = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const double mass = concrete_mass_kg(block);
    over += mass > most ? 1 : 0;
    if (check.value && mass <= *check.value) continue;
    check.value = mass;
    check.note = block.id;
  }
  check.passes = over == 0;
  if (over > 0) check.note = std::to_string(over) + " over the limit, the heaviest " + check.note;
  return check;
}

RequiredCheck blocks_enter(const Dossier& dossier) {
  RequiredCheck check = at_least(
      "blocks_enter", 0, "design rule: every block has a straight way in, this clear of its joints",
      "degrees");
  if (!dossier.programme) {
    check.note = "the order of work was not run";
    return check;
  }
  double least = 1;
  check.passes = true;
  for (const Stage& stage : dossier.programme->stages) {
    for (const Entry& entry : stage.entry) {
      const std::string& id =
          dossier.cut->assembly.blocks[static_cast<std::size_t>(entry.block)].id;
      if (entry.margin < -kSlides) {
        check.passes = false;
        check.note += (check.note.empty() ? "" : "; ") + stuck_words(dossier.cut->assembly, entry);
      }
      if (entry.margin >= least) continue;
      least = entry.margin;
      check.value = std::asin(std::clamp(least, -1.0, 1.0)) * 180 / kPi;
      if (*check.passes) check.note = "least for " + id;
    }
  }
  if (!check.value) check.value = 90;
  return check;
}

}  // namespace

double concrete_limit_pa(const Brief& brief, double gamma) {
  return brief.factors.plain * brief.material.fck_pa / gamma;
}

double joint_limit(const Brief& brief, const Joint& joint) {
  if (brief.required.pad_stress_pa > 0) return brief.required.pad_stress_pa;
  const double most = concrete_limit_pa(brief, brief.factors.concrete);
  if (!joint.pad || !(joint.pad->kn > 0)) return most;
  const double G = brief.joints.pad_shear_modulus_pa;
  const double S = pad_shape_of(joint.pad->kn * joint.pad->thickness_m, G);
  return std::min(most, pad_stress_limit_pa(G, S));
}

std::vector<RequiredCheck> required_checks(const Dossier& dossier) {
  std::vector<RequiredCheck> checks;
  if (auto live = live_factor(dossier)) checks.push_back(std::move(*live));
  for (RequiredCheck check :
       {combinations(dossier), stages(dossier), block_mass(dossier), blocks_enter(dossier),
        depth_reserve(dossier), required_friction(dossier), joint_stress(dossier),
        block_strength(dossier), moved_footings(dossier), footings(dossier)}) {
    checks.push_back(std::move(check));
  }
  for (auto check :
       {required_other_states(dossier), required_making(dossier), required_centring(dossier),
        required_lifting(dossier), required_transport(dossier), required_tie_loss(dossier),
        required_walk(dossier), required_as_built(dossier), required_blocks_there(dossier)})
    if (check) checks.push_back(std::move(*check));
  return checks;
}

}  // namespace skewback
