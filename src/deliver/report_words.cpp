#include <algorithm>

#include "deliver/print_files.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {

std::vector<std::string> cautions() {
  return {
      "This is a design aid. The licensed engineer of the place and the code in force there "
      "decide. "
      "An independent check and a proof load are part of the job.",
      "Everything here follows from the brief: friction, pads, weights, loads and ground are as it "
      "states them. No partial factor is implied by silence.",
      "Dry blocks have no tension and give no warning. Nothing stands until the last block is in "
      "and the ties are tight; until then the centring carries it.",
      "Never stand under the bridge, or strike its centring, on this report's word alone. Strike "
      "evenly, in small steps, watched, with nobody beneath.",
      "Feet that move are the chief danger. Unknown ground, or a missing tie, means: not cleared.",
      "Lifting plans belong to a competent person: no lift before the strength is tested, nobody "
      "under a hanging block, a limit on the wind.",
      "A verdict that rests on the limit view alone takes friction as associated. Where joints "
      "slide it can promise too much.",
      "After any change (a new survey, another load, a repaired or missing block) run it again: "
      "this report is then out of date.",
  };
}

namespace {

/// Of lifting, the road and the programme.
std::vector<std::string> site_limits(const Dossier& dossier) {
  std::vector<std::string> list;
  if (!dossier.lifts) {
    if (!dossier.brief.lifting.wanted)
      list.emplace_back("Lifting of the blocks: no [lifting] in the brief.");
  } else {
    const auto cradles = static_cast<std::size_t>(std::ranges::count_if(
        dossier.lifts->lifts, [](const BlockLift& l) { return l.cradle && !(l.strap_n > 0); }));
    if (cradles > 0)
      list.push_back("Cradles for the " + counted(cradles, "block") +
                     " that slings and straps do not hold: not designed; without them those blocks "
                     "are not to be lifted.");
    if (!dossier.brief.lifting.lorry)
      list.emplace_back(
          "Lifting from the lorry: its stand is not in the brief (lifting.lorry); only the lift "
          "into its place is checked.");
    list.emplace_back("Lifting from a store on site. The crane's ground and outriggers.");
  }
  if (dossier.transport)
    list.emplace_back("Axle loads, the route and its bridges, fork lifts and shocks of loading.");
  else if (!dossier.brief.transport.wanted)
    list.emplace_back("The road: no [transport] in the brief.");
  if (dossier.spares)
    list.emplace_back(
        (dossier.brief.programme.week.empty() && dossier.brief.programme.holidays.empty()
             ? "Weekends, holidays and weather in the programme: every day is worked, no gust "
             : "Weather in the programme: no gust ") +
        std::string("stops the crane, no machine breaks down. Men and room for storage are not "
                    "limited."));
  return list;
}

}  // namespace

std::vector<std::string> not_looked_at(const Dossier& dossier) {
  std::vector<std::string> list;
  for (const RequiredCheck& check : dossier.required) {
    if (!check.passes) {
      list.push_back("Required check " + check.name + ": " +
                     (check.note.empty() ? "not checked" : check.note) + ".");
    }
  }
  const auto stage = [&](bool was_run, const char* name) {
    if (!was_run) list.push_back(std::string("Stage not run: ") + name + ".");
  };
  stage(dossier.form.has_value(), "form");
  stage(dossier.cut.has_value(), "blocks and joints");
  stage(!dossier.proofs.empty(), "standing under load");
  stage(dossier.ground.has_value(), "reactions and ties");
  stage(dossier.print.has_value(), "layers");
  stage(dossier.programme.has_value() || (dossier.refit && dossier.refit->stages > 0),
        "order of work");
  stage(dossier.refit.has_value(), "survey as built");
  stage(dossier.strength.has_value(), "strength of the blocks");
  stage(dossier.access.has_value(), "the walk");
  for (const std::string& words : dossier.loads_left_out)
    list.push_back("Loads left out: " + words + ".");
  if (!(dossier.brief.loads.wind_speed_m_s > 0)) list.emplace_back("Wind: no speed in the brief.");
  if (!(dossier.brief.loads.snow_pa > 0)) list.emplace_back("Snow: none in the brief.");
  if (dossier.brief.loads.warmer_k == 0 && dossier.brief.loads.colder_k == 0)
    list.emplace_back("Warming and cooling: none in the brief.");
  if (!dossier.brief.loads.vehicle)
    list.emplace_back("Service vehicles: something must bar them from the bridge.");
  for (std::string& line : site_limits(dossier)) list.push_back(std::move(line));
  list.emplace_back(
      dossier.centring
          ? "The centring's fixings other than brace bolts, the ground under its feet, "
            "wind on it, a block set down hard."
          : "The centring's own timbers and levelling: here it is a set of seats "
            "that push.");
  const auto moved = [](const CaseProof& proof) { return proof.motion.has_value(); };
  const bool let_go = std::ranges::any_of(dossier.proofs, moved) ||
                      (dossier.refit && std::ranges::any_of(dossier.refit->proofs, moved));
  if (!let_go) list.emplace_back("Motion in time (view 3).");
  for (const char* line :
       {"Crowds in step beyond the frequencies given here.",
        "Earthquake, impact, flood, scour, fire, frost, fatigue, vandalism, explosion.",
        "Wear of the pads.",
        "Parapets as structures of their own: here they are weight and pushes."}) {
    list.emplace_back(line);
  }
  list.emplace_back(dossier.access && dossier.access->sticks
                        ? "Fixings and bracing of the walkway; its boards, bearers and posts are "
                          "sized."
                        : "The walkway as a structure of its own: here it is weight and parts.");
  if (!(dossier.brief.loads.working_people_pa > 0))
    list.emplace_back("People and tools on a bridge half built: none in the brief.");
  list.emplace_back(dossier.print && has_poses(*dossier.print)
                        ? "The robot's arm and joints, and what else stands in its cell: the tool "
                          "is checked against the block, the table and a range of reach."
                        : "Paths of the nozzle, times and overhangs of the printing: none were "
                          "found.");
  return list;
}

}  // namespace skewback::deliver
