#include "works/required_site.hpp"

#include <algorithm>

namespace skewback {
namespace {

RequiredCheck asked(const std::string& name, double limit, const std::string& source) {
  return {name, std::nullopt, limit, std::nullopt, source, ""};
}

}  // namespace

std::optional<RequiredCheck> required_centring(const Dossier& dossier) {
  if (!dossier.brief.centring.wanted) return std::nullopt;
  RequiredCheck check = asked("centring", 1,
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
  if (!dossier.centring_reason.empty()) check.note = dossier.centring_reason;
  return check;
}

std::optional<RequiredCheck> required_lifting(const Dossier& dossier) {
  if (!dossier.brief.lifting.wanted) return std::nullopt;
  RequiredCheck check =
      asked("lifting", 1, "greatest utilisation of a block, its slings and the crane");
  if (!dossier.lifts) {
    check.note = "the lifts were not planned";
    return check;
  }
  check.value = 0;
  for (const BlockLift& lift : dossier.lifts->lifts) {
    for (const HandlingCheck& found : lift.checks) {
      if (found.utilisation < *check.value) continue;
      check.value = found.utilisation;
      check.note = lift.id + ": " + found.name;
    }
  }
  bool clear = true;
  for (const BlockLift& lift : dossier.lifts->lifts) {
    if (lift.way_clear) continue;
    clear = false;
    check.note = lift.id + ": " + lift.obstacle;
  }
  check.passes = clear && *check.value <= check.limit;
  return check;
}

std::optional<RequiredCheck> required_transport(const Dossier& dossier) {
  if (!dossier.brief.transport.wanted) return std::nullopt;
  RequiredCheck check = asked("transport", 1, "greatest utilisation of a block on the road");
  if (!dossier.transport) {
    check.note = "the transport was not planned";
    return check;
  }
  check.value = 0;
  for (const Pallet& pallet : dossier.transport->pallets) {
    for (const BeddedBlock& block : pallet.blocks) {
      for (const HandlingCheck& found : block.checks) {
        if (found.utilisation < *check.value) continue;
        check.value = found.utilisation;
        check.note = block.id + ": " + found.name;
      }
    }
  }
  check.passes = *check.value <= check.limit;
  return check;
}

std::optional<RequiredCheck> required_as_built(const Dossier& dossier) {
  if (!dossier.brief.survey) return std::nullopt;
  RequiredCheck check = asked("as_built", dossier.brief.required.live_factor,
                              "required.live_factor of the brief, on the bridge as packed");
  if (!dossier.refit) {
    check.note = "the survey was not used";
    return check;
  }
  const Refit& refit = *dossier.refit;
  check.value = refit.load_factor_after;
  const auto fallen = std::find_if(refit.proofs.begin(), refit.proofs.end(), [](const auto& proof) {
    return proof.verdict != Verdict::kStands;
  });
  const bool stand = fallen == refit.proofs.end() && !refit.proofs.empty();
  check.passes = refit.key_goes_in && stand && check.value.value_or(check.limit) >= check.limit;
  if (!refit.key_goes_in)
    check.note = "the key does not go in";
  else if (!stand)
    check.note = refit.proofs.empty() ? "it was not proved"
                                      : "case " + fallen->id + " " + word(fallen->verdict);
  else
    check.note = std::to_string(refit.packers) + " packers";
  return check;
}

}  // namespace skewback
