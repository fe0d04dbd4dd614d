#include "works/required_site.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace skewback {

RequiredCheck at_least(const std::string& name, double limit, const std::string& source,
                       const std::string& unit) {
  return {name, std::nullopt, limit, std::nullopt, source, "", false, unit};
}

RequiredCheck at_most(const std::string& name, double limit, const std::string& source,
                      const std::string& unit) {
  return {name, std::nullopt, limit, std::nullopt, source, "", true, unit};
}

namespace {

/// Why the bridge as packed does not pass; empty where it does, its live factor aside.
std::string why_not(const Brief& brief, const Refit& refit) {
  if (!refit.key_goes_in) return "the key does not go in";
  if (!refit.unfit.empty()) return "measure again: " + refit.unfit.front();
  if (refit.proofs.empty()) return "it was not proved";
  for (const CaseProof& proof : refit.proofs) {
    if (proof.verdict != Verdict::kStands) return "case " + proof.id + " " + word(proof.verdict);
  }
  if (refit.stages_standing < refit.stages)
    return std::to_string(refit.stages - refit.stages_standing) + " of " +
           std::to_string(refit.stages) + " stages are not shown to stand";
  if (refit.gaps.balanced < refit.gaps.cases) return "its gaps closing: " + refit.gaps.reason;
  return over_limit(refit, [&](const Joint& joint) { return joint_limit(brief, joint); });
}

}  // namespace

std::optional<RequiredCheck> required_centring(const Dossier& dossier) {
  if (!dossier.brief.centring.wanted) return std::nullopt;
  RequiredCheck check = at_most("centring", 1,
                                "greatest utilisation of ribs, posts and feet at every stage, with "
                                "the factors and strengths of the brief");
  if (!dossier.centring || dossier.centring->checks.empty()) {
    check.note = dossier.programme ? "none was drawn: " + dossier.centring_reason
                                   : "the centring was not drawn";
    if (dossier.programme) check.passes = false;
    return check;
  }
  for (const CentringCheck& found : dossier.centring->checks) {
    if (check.value && found.utilisation <= *check.value) continue;
    check.value = found.utilisation;
    check.note = found.name + ", " + found.place + (found.stage.empty() ? "" : ", " + found.stage);
  }
  check.passes = *check.value <= check.limit && dossier.centring_reason.empty();
  if (dossier.centring->legs_push_n > 0) {
    const std::size_t packings = dossier.centring->leg_packings.size();
    char text[140];
    std::snprintf(text, sizeof text,
                  "; legs push each other by up to %.1f kN: %zu packings between their ribs, in "
                  "the list of fixings",
                  dossier.centring->legs_push_n / 1e3, packings);
    char none[140];
    std::snprintf(none, sizeof none,
                  "; packing between the ribs of its legs, for %.1f kN, is counted on and has no "
                  "place in the drawing",
                  dossier.centring->legs_push_n / 1e3);
    check.note += packings > 0 ? text : none;
  }
  if (!dossier.centring_reason.empty()) check.note = dossier.centring_reason;
  if (dossier.programme && dossier.programme->uneven.centring_over)
    check.note +=
        "; a foot out of step by a whole step asks more of it than it is held to: see "
        "the order of work";
  return check;
}

std::optional<RequiredCheck> required_lifting(const Dossier& dossier) {
  if (!dossier.brief.lifting.wanted) return std::nullopt;
  RequiredCheck check =
      at_most("lifting", 1, "greatest utilisation of a block, its slings and the crane");
  if (!dossier.lifts) {
    check.note = "the lifts were not planned";
    return check;
  }
  for (const BlockLift& lift : dossier.lifts->lifts) {
    for (const HandlingCheck& found : lift.checks) {
      if (check.value && found.utilisation <= *check.value) continue;
      check.value = found.utilisation;
      check.note = lift.id + ": " + found.name;
      if (found.name.starts_with("crane") && beyond_the_crane(lift))
        check.note += ", " + stands_in_words(lift);
    }
  }
  bool clear = true;
  for (const BlockLift& lift : dossier.lifts->lifts) {
    if (lift.way_clear) continue;
    clear = false;
    check.note = "no clear way in for " + lift.id + ": " + lift.obstacle;
  }
  if (!check.value) {
    check.note = "no block's lift was checked";
    return check;
  }
  check.passes = clear && *check.value <= check.limit;
  if (!*check.passes) return check;
  std::vector<std::string> unheld;
  for (const BlockLift& lift : dossier.lifts->lifts)
    if (held_by(lift) == "cradle") unheld.push_back(lift.id);
  if (unheld.empty()) return check;
  check.passes.reset();
  check.note = "slings do not hold " + unheld.front() +
               (unheld.size() > 1 ? " and " + std::to_string(unheld.size() - 1) + " more" : "") +
               ", nor do straps: a cradle is needed, and none is designed here";
  return check;
}

std::optional<RequiredCheck> required_transport(const Dossier& dossier) {
  if (!dossier.brief.transport.wanted) return std::nullopt;
  RequiredCheck check = at_most("transport", 1, "greatest utilisation of a block on the road");
  if (!dossier.transport) {
    check.note = "the transport was not planned";
    return check;
  }
  for (const Pallet& pallet : dossier.transport->pallets) {
    for (const BeddedBlock& block : pallet.blocks) {
      for (const HandlingCheck& found : block.checks) {
        if (check.value && found.utilisation <= *check.value) continue;
        check.value = found.utilisation;
        check.note = block.id + ": " + found.name;
      }
    }
  }
  for (const LorryLoad& lorry : dossier.transport->lorries) {
    const double load = lorry.mass_kg / dossier.brief.transport.lorry_load_kg;
    if (load <= std::max(1.0, check.value.value_or(0))) continue;
    check.value = load;
    check.note = "lorry " + lorry.id + ": its load";
  }
  if (!check.value) {
    check.note = "no block on the road was checked";
    return check;
  }
  const std::vector<std::string>& left = dossier.transport->not_on_lorry;
  check.passes = *check.value <= check.limit && left.empty();
  if (*check.value <= check.limit && !left.empty())
    check.note =
        left.front() + " does not go on the lorry of the brief" +
        (left.size() > 1 ? ", nor do " + std::to_string(left.size() - 1) + " more pallets" : "");
  return check;
}

std::optional<RequiredCheck> required_other_states(const Dossier& dossier) {
  if (dossier.tried.empty()) return std::nullopt;
  RequiredCheck check = at_least(
      "other_states", 1,
      "warmth, creep, settled ground, feet on ties that stretch (tightened at striking), the "
      "moved shape, an accident to a footing: share of "
      "the states that holds, joints as in joint_stress; in an accident factors.plain / "
      "factors.concrete_accident of the material's strength (EN 1992-1-1 12.3.1, Table "
      "2.1N: 0.8 / 1.2)");
  std::size_t hold = 0;
  const TriedState* nearest = nullptr;
  for (const TriedState& state : dossier.tried) {
    hold += state.holds ? 1 : 0;
    const bool worse = nearest == nullptr || (nearest->holds && !state.holds) ||
                       (nearest->holds == state.holds && state.pressed > nearest->pressed);
    if (worse) nearest = &state;
  }
  check.value = static_cast<double>(hold) / static_cast<double>(dossier.tried.size());
  check.passes = hold == dossier.tried.size();
  char text[80];
  std::snprintf(text, sizeof text, "pressed most: %.2f of what a joint takes, ", nearest->pressed);
  const std::string where = nearest->what + ", case " + nearest->case_id;
  check.note = nearest->holds ? text + where : where + ": " + nearest->reason;
  return check;
}

std::optional<RequiredCheck> required_tie_loss(const Dossier& dossier) {
  if (!dossier.brief.required.tie_loss) return std::nullopt;
  RequiredCheck check =
      at_least("tie_loss", 1,
               "required.tie_loss of the brief: share of the losses of one tie or rod after which "
               "the feet are held in every case, without factors");
  if (!dossier.ground) {
    check.note = "the ties were not sized";
    return check;
  }
  const std::vector<LossState>& losses = dossier.ground->losses;
  if (losses.empty()) {
    check.note = "there is no tie to lose";
    check.value = 1;
    check.passes = true;
    return check;
  }
  const auto held = std::ranges::count_if(losses, &LossState::held);
  const auto all = static_cast<std::ptrdiff_t>(losses.size());
  check.value = static_cast<double>(held) / static_cast<double>(all);
  check.passes = held == all;
  const auto bad = std::ranges::find(losses, false, &LossState::held);
  if (bad != losses.end())
    check.note = (bad->rod < 0 ? "tie " : "a rod of tie ") + bad->tie + ": " + bad->reason;
  return check;
}

std::optional<RequiredCheck> required_walk(const Dossier& dossier) {
  if (!dossier.brief.access.required) return std::nullopt;
  RequiredCheck check =
      at_most("walk_complies", dossier.brief.access.gradient_max,
              "access.required of the brief: steepest gradient, and every finding");
  if (!dossier.access) {
    check.note = "the walk was not looked at";
    return check;
  }
  check.value = dossier.access->gradient_max;
  check.passes = dossier.access->complies;
  for (const AccessFinding& finding : dossier.access->findings) {
    if (finding.complies) continue;
    check.note = finding.what + " of " + finding.line;
    break;
  }
  return check;
}

std::optional<RequiredCheck> required_making(const Dossier& dossier) {
  if (!dossier.brief.print.wanted) return std::nullopt;
  RequiredCheck check = at_most("blocks_made", 0,
                                "design rule: blocks that can neither be printed within the limits "
                                "of the brief nor, by its leave (print.otherwise), be cast",
                                "blocks");
  if (!dossier.print) {
    check.note = "the printing was not planned";
    return check;
  }
  int printed = 0, cast = 0;
  std::vector<const BlockPrint*> left;
  for (const BlockPrint& block : dossier.print->blocks) {
    if (block.way == PrintWay::kCast) {
      ++cast;
    } else if (block.printable) {
      ++printed;
    } else {
      left.push_back(&block);
    }
  }
  check.value = double(left.size());
  check.passes = left.empty();
  check.note = std::to_string(printed) + " to be printed, " + std::to_string(cast) + " to be cast";
  if (left.empty() && printed == 0 && cast > 0)
    check.note = "NOTHING is printed: all " + std::to_string(cast) + " are to be cast";
  if (left.empty()) return check;
  constexpr std::size_t kNamed = 6;
  check.note += ", neither: ";
  for (std::size_t i = 0; i < std::min(kNamed, left.size()); ++i)
    check.note += (i > 0 ? ", " : "") + left[i]->id;
  if (left.size() > kNamed) check.note += " and " + std::to_string(left.size() - kNamed) + " more";
  check.note += "; " + left.front()->id + ": " + left.front()->reason;
  return check;
}

std::optional<RequiredCheck> required_as_built(const Dossier& dossier) {
  if (!dossier.brief.survey) return std::nullopt;
  RequiredCheck check = at_least("as_built", dossier.brief.required.live_factor,
                                 "required.live_factor of the brief, on the bridge as packed");
  if (!dossier.refit) {
    check.note = "the survey was not used";
    return check;
  }
  const Refit& refit = *dossier.refit;
  check.value = refit.load_factor_after;
  for (std::size_t i = 0; i < refit.proofs.size(); ++i) {
    // combinations have their factors on already
    if (i < dossier.notes.size() && dossier.notes[i].kind != CaseKind::kPattern) continue;
    if (const auto factor = live_factor_of(refit.proofs[i]))
      check.value = std::min(check.value.value_or(*factor), *factor);
  }
  check.note = why_not(dossier.brief, refit);
  const bool nobody_walks = !check.value && !(dossier.brief.loads.people_pa > 0);
  if (check.note.empty() && !check.value && !nobody_walks)
    check.note = "no case with live load was proved";
  check.passes = check.note.empty() && check.value.value_or(check.limit) >= check.limit;
  if (check.note.empty()) check.note = std::to_string(refit.packers) + " packers";
  return check;
}

std::optional<RequiredCheck> required_scans(const Dossier& dossier) {
  if (dossier.scans.empty()) return std::nullopt;
  const TolerancesRequest& allowed = dossier.brief.tolerances;
  RequiredCheck check =
      at_most("scanned_blocks", allowed.block_length_m + allowed.bed_flatness_m,
              "tolerances.block_length and bed_flatness together, of 95 % of each scan", "m");
  for (const ComparedScan& scan : dossier.scans) {
    if (check.value && scan.distances.p95_m <= *check.value) continue;
    check.value = scan.distances.p95_m;
    check.note = scan.finding;
  }
  check.passes = *check.value <= check.limit;
  return check;
}

std::optional<double> live_factor_of(const CaseProof& proof) {
  const bool by_pads = proof.load_factor && proof.pads_load_factor && !proof.pads_at_cap;
  return by_pads ? std::min(*proof.load_factor, *proof.pads_load_factor) : proof.load_factor;
}

bool factor_at_cap(const CaseProof& proof) {
  return proof.at_cap && live_factor_of(proof) == proof.load_factor;
}

}  // namespace skewback
