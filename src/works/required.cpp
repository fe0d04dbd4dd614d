#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

RequiredCheck unchecked(const std::string& name, double limit, const std::string& source,
                        const std::string& note) {
  return {name, std::nullopt, limit, std::nullopt, source, note};
}

RequiredCheck live_factor(const Dossier& dossier) {
  RequiredCheck check{"live_factor",
                      std::nullopt,
                      dossier.brief.required.live_factor,
                      std::nullopt,
                      "required.live_factor of the brief, on dead 1.0",
                      ""};
  bool all = true;
  for (const CaseProof& proof : dossier.proofs) {
    if (!proof.load_factor) {
      // a case with weight alone has no factor; one that should have had it and could not be solved
      // fails below
      if (proof.verdict != Verdict::kStands) all = false;
      continue;
    }
    if (!check.value || *proof.load_factor < *check.value) {
      check.value = proof.load_factor;
      check.note =
          proof.at_cap ? "at least: every case reaches the cap" : "least in case " + proof.id;
    }
  }
  check.passes = all && check.value && *check.value >= check.limit;
  if (!check.value) check.note = "no case with live load was proved";
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
    if (dossier.dead_depth_reserve->at_least) check.note = "at least: " + check.note;
  } else {
    check.note = "the dead load does not stand at full depth";
  }
  check.passes = check.value && *check.value >= check.limit;
  return check;
}

RequiredCheck stages(const Dossier& dossier) {
  RequiredCheck check{"stages_standing",
                      std::nullopt,
                      1,
                      std::nullopt,
                      "design rule: every stage and striking step stands",
                      ""};
  if (!dossier.programme) {
    check.note = "the stages were not run";
    return check;
  }
  std::size_t standing = 0;
  for (const Stage& stage : dossier.programme->stages) {
    if (stage.proof.verdict == Verdict::kStands) {
      ++standing;
    } else if (check.note.empty()) {
      check.note = "step " + std::to_string(stage.step) + " (" + stage.what +
                   "): " + word(stage.proof.verdict);
    }
  }
  const std::size_t all = dossier.programme->stages.size();
  check.value = all > 0 ? static_cast<double>(standing) / static_cast<double>(all) : 0;
  check.passes = all > 0 && standing == all;
  return check;
}

RequiredCheck blocks_enter(const Dossier& dossier) {
  RequiredCheck check{"blocks_enter",
                      std::nullopt,
                      0,
                      std::nullopt,
                      "design rule: every block has a straight way in; degrees clear of its joints",
                      ""};
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

std::vector<RequiredCheck> required_checks(const Dossier& dossier) {
  const Required& asked = dossier.brief.required;
  return {
      live_factor(dossier),
      stages(dossier),
      blocks_enter(dossier),
      depth_reserve(dossier),
      unchecked("friction_reserve", asked.friction_reserve,
                "required.friction_reserve of the brief", "not computed by this version"),
      unchecked("joint_stress", 1, "design strength over peak joint stress",
                "pad pressures (view 2) are not computed by this version"),
      unchecked("block_strength", 1, "utilisation of skins, webs and layers",
                "not computed by this version"),
      unchecked("moved_footings", asked.live_factor, "survey tolerance on the ten worst patterns",
                "needs view 2, not computed by this version"),
  };
}

}  // namespace skewback
