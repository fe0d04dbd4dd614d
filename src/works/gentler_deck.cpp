#include "works/gentler_deck.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "access/access.hpp"
#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "works/states.hpp"

namespace skewback {
namespace {

constexpr double kElastomer = 1200;  // kg/m3, from memory
constexpr int kDepthPoints = 12;     // corners a joint keeps in the search for the least depth
// what a run to the ground answers
constexpr std::array kJudged{"live_factor", "friction_reserve", "joint_stress", "combinations",
                             "footings"};

double used(const CarbonFactor& factor) { return factor.own > 0 ? factor.own : factor.usual; }

double pad_area_m2(const Assembly& assembly) {
  double sum = 0;
  for (const Joint& joint : assembly.joints)
    if (joint.pad) sum += area(joint.contact);
  return sum;
}

double walk_area_m2(const Brief& brief) { return area(walking_surface(brief)); }

void price(const Brief& brief, const Assembly& assembly, const Deck& deck, GentlerRow& row) {
  const Rates& rates = brief.rates;
  const Carbon& carbon = brief.carbon;
  const double pads_m2 = pad_area_m2(assembly);
  const double volume = brief.material.density > 0 ? row.concrete_kg / brief.material.density : 0;
  row.carbon_kg = row.concrete_kg * used(brief.section.hollow ? carbon.printed : carbon.stone) +
                  row.tie_steel_kg * used(carbon.steel) + row.timber_kg * used(carbon.timber) +
                  pads_m2 * brief.joints.pad_thickness_m * kElastomer * used(carbon.pads);
  const double money = volume * rates.concrete_per_m3 + row.tie_steel_kg * rates.steel_per_kg +
                       pads_m2 * rates.pads_per_m2 +
                       (walk_area_m2(brief) + deck.approach_m2) * rates.walkway_per_m2;
  if (money > 0) row.money = money;
}

/// The checks that a run to the ground answers; the rest needs the whole run.
void judge(const Dossier& dossier, GentlerRow& row) {
  row.stands = !dossier.proofs.empty();
  for (const CaseProof& proof : dossier.proofs) {
    if (proof.verdict == Verdict::kStands) continue;
    if (row.stands || proof.verdict == Verdict::kFalls)
      row.why_not = "case " + proof.id + ": " + word(proof.verdict) +
                    (proof.reason.empty() ? "" : ", " + proof.reason);
    row.stands = false;
  }
  row.holds = row.stands;
  for (const RequiredCheck& check : dossier.required) {
    if (std::ranges::find(kJudged, check.name) == kJudged.end()) continue;
    if (check.name == "live_factor") {
      row.live_factor = check.value;
      row.live_at_least = check.note.starts_with("at least");
    }
    if (check.passes.value_or(check.name == "footings")) continue;  // soil may be unknown yet
    row.holds = false;
    if (!row.why_not.empty()) continue;
    row.why_not = check.name;
    if (check.value)
      row.why_not += " " + deliver::fixed(check.value, 2) +
                     (check.name == "footings" ? " over " : " under ") +
                     deliver::fixed(check.limit, 2);
    if (check.name == "footings" && !check.note.empty()) row.why_not += ": " + check.note;
  }
}

void seek_depth(const Dossier& dossier, const Progress& progress, GentlerRow& row) {
  StandOptions options = dossier.stand_options;
  options.contact_points_max = kDepthPoints;
  DepthOptions wanted;
  wanted.live_factor = dossier.brief.required.live_factor;
  const DepthNeeds needs = depth_needed(with_patterns_only(dossier), wanted, options, progress);
  if (!needs.share) return;
  const Section& section = dossier.brief.section;
  row.depth_share = needs.share;
  row.depth_needed_m = *needs.share * std::max(section.depth_crown_m, section.depth_springing_m);
}

GentlerRow row_of(const Dossier& dossier, const Deck& deck, const GentlerOptions& options,
                  const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  const AccessReport access = judge_access(dossier.brief, assembly);
  GentlerRow row;
  row.gradient = access.gradient_max;
  row.gradient_met = row.gradient <= dossier.brief.access.gradient_max * (1 + 1e-3);
  row.step_free = deck.step_free;
  for (const DeckLine& line : deck.lines)
    row.steps_m = std::max(row.steps_m, line.steps * line.step_m);
  row.approach_m = deck.approach_m;
  row.frame_kg = deck.frame_kg;
  row.frame_kg_per_m2 = deck.frame_kg_per_m2;
  row.timber_kg = access.parts_kg + deck.approach_kg;
  const deliver::BlockTotals totals = deliver::totals(assembly);
  row.blocks = totals.blocks;
  row.concrete_kg = totals.mass_kg;
  for (const SupportReaction& support : dossier.ground->supports)
    row.footing_thrust_n = std::max(row.footing_thrust_n, support.thrust_n);
  row.thrust_n = dossier.form->thrust_max_n;
  row.tie_steel_kg = tie_steel_kg(dossier.brief, *dossier.ground);
  price(dossier.brief, assembly, deck, row);
  judge(dossier, row);
  if (options.depth && row.stands) seek_depth(dossier, progress, row);
  return row;
}

struct Variant {
  GentlerRow row;
  std::optional<Assembly> blocks;
};

Variant try_deck(const Brief& brief, const Deck& deck, const GentlerOptions& options,
                 const Progress& progress) {
  Variant out;
  try {
    const Result<Dossier> run =
        run_works(with_deck(brief, deck), {options.jobs, "ground", false}, progress);
    if (run) {
      Deck measured = deck;
      if (deck.kind == DeckKind::kBack)
        measured = design_deck(brief, run->cut->assembly, DeckKind::kBack);
      out.row = row_of(*run, measured, options, progress);
      out.blocks = run->cut->assembly;
    } else {
      out.row.failed = describe(run.faults().front());
    }
  } catch (const std::exception& error) {  // one variant's trouble is not the others'
    out.row.failed = std::string("internal fault: ") + error.what();
  }
  out.row.kind = deck.kind;
  out.row.rise_m = brief.form.rise_m;
  return out;
}

std::vector<std::string> remarks(const Brief& brief) {
  std::vector<std::string> out{
      "holds: every case stands, and live factor, combinations, friction, joint stress and, where "
      "the soil is known, footings are as the brief requires; stages, moved footings and other "
      "states, geometric safety, centring and the strength of blocks need the whole run",
      "depth: the deepest section of the brief drawn together, upstands with it, to the share at "
      "which joints still hold every pattern of people, times the live factor required: by where "
      "the thrust lies, whatever its pressure; the strength of blocks asks for more",
      "the bank is taken to lie where the deck on the back ends; where it lies higher, steps and "
      "ramps are shorter",
      "frames are counted by their height, smeared over the deck; ramps beyond the springings "
      "stand on the ground and load no block",
      "thrust is that of the form; ties are sized by the worst case of the proofs, in rods of a "
      "series, so that their steel goes in steps",
      "carbon: concrete, ties, pads, timber; money: blocks, ties, pads and the walking surface; "
      "footings, shoes, centring and transport are left out of both"};
  if (brief.soil.kind == SoilKind::kUnknown)
    out.emplace_back("the soil is unknown: no footing was checked");
  if (brief.form.heights.size() + brief.form.stay_under.size() + brief.form.thrusts.size() > 0)
    out.emplace_back("heights, lines and thrusts that the brief wishes for were kept at each rise");
  return out;
}

}  // namespace

Result<GentlerStudy> study_gentler_deck(const Brief& brief, const GentlerOptions& options,
                                        const Progress& progress) {
  if (!(brief.walkway.width_m > 0))
    return Fault{brief.file.string(),
                 0,
                 0,
                 "walkway.width",
                 "no walkway of its own: people walk on the blocks",
                 "a carried walkway, whose deck can be raised",
                 "write width = \"1.4 m\" and weight = \"0.6 kPa\" under [walkway]"};
  if (brief.plan.second_meeting)
    return Fault{brief.file.string(),
                 0,
                 0,
                 "plan.meeting",
                 "two meetings",
                 "one: this study lays a level landing over a single meeting",
                 "draw walkway.surface by hand"};
  constexpr std::array kKinds{DeckKind::kBack, DeckKind::kFrames, DeckKind::kRamps};
  GentlerStudy study{
      brief.title, brief.rates.currency, brief.access.gradient_max, {}, remarks(brief)};
  const auto all = static_cast<double>(options.rise_shares.size() * kKinds.size());
  for (const double share : options.rise_shares) {
    Brief changed = brief;
    changed.form.rise_m *= share;
    changed.walkway.surface.clear();
    changed.walkway.fill_density = 0;
    std::optional<Assembly> blocks;
    for (const DeckKind kind : kKinds) {
      const std::string what =
          "rise " + deliver::fixed(changed.form.rise_m, 2) + " m, deck " + word(kind);
      const double done = static_cast<double>(study.rows.size()) / all;
      const Progress inside([&](const std::string&, double) { progress.checkpoint(what, done); },
                            nullptr);
      Deck deck;
      if (kind != DeckKind::kBack && !blocks) {
        GentlerRow none;
        none.kind = kind;
        none.rise_m = changed.form.rise_m;
        none.failed = "no blocks to carry it: " + study.rows.back().failed;
        study.rows.push_back(std::move(none));
        continue;
      }
      if (kind != DeckKind::kBack) deck = design_deck(changed, *blocks, kind);
      Variant variant = try_deck(changed, deck, options, inside);
      if (kind == DeckKind::kBack) blocks = std::move(variant.blocks);
      study.rows.push_back(std::move(variant.row));
    }
  }
  return study;
}

}  // namespace skewback
