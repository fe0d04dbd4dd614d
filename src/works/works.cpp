#include "works/works.hpp"

#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "centring/cut_list.hpp"
#include "quantities/timber.hpp"
#include "stand/motion_view.hpp"
#include "works/asked_depth.hpp"
#include "works/block_remedies.hpp"
#include "works/block_strength.hpp"
#include "works/blocks_again.hpp"
#include "works/feet_actions.hpp"
#include "works/footing_moves.hpp"
#include "works/joint_angles.hpp"
#include "works/joint_remedies.hpp"
#include "works/old_blocks.hpp"
#include "works/proof_load.hpp"
#include "works/put_loads.hpp"
#include "works/shape_advice.hpp"
#include "works/shape_loop.hpp"
#include "works/site_works.hpp"
#include "works/states.hpp"
#include "works/survey_works.hpp"
#include "works/thrust_ranges.hpp"

namespace skewback {
namespace {

std::optional<PrintTotals> print_totals(const Dossier& dossier) {
  if (!dossier.print) return {};
  PrintTotals totals;
  for (const BlockPrint& block : dossier.print->blocks) {
    if (block.way == PrintWay::kCast) {
      const Block& cast = dossier.cut->assembly.blocks[static_cast<std::size_t>(block.block)];
      totals.cast_m3 += cast.mass.volume;
      totals.cast_kg += concrete_mass_kg(cast);
    }
    if (!block.printable) continue;
    totals.path_m += block.path_m;
    totals.print_s += block.time_s;
    totals.mix_m3 += block.volume_m3 / (1 + dossier.brief.print.accelerator);
    ++totals.blocks;
  }
  if (totals.blocks == 0 && !(totals.cast_m3 > 0)) return {};
  return totals;
}

std::optional<int> lorry_loads(const Dossier& dossier) {
  if (!dossier.transport) return {};
  return static_cast<int>(dossier.transport->lorries.size());
}

SpareBlocks spare_blocks(const Dossier& dossier) {
  SpareBlocks out;
  if (!dossier.spares) return out;
  for (const BlockRisk& risk : dossier.spares->risks) {
    if (!risk.spare) continue;
    const Block& block = dossier.cut->assembly.blocks[static_cast<std::size_t>(risk.block)];
    ++out.blocks;
    out.volume_m3 += block.mass.volume;
    out.mass_kg += concrete_mass_kg(block);
    if (!dossier.print) continue;
    for (const BlockPrint& print : dossier.print->blocks)
      if (print.block == risk.block && print.printable) out.print_s += print.time_s;
  }
  return out;
}

/// None before it is on its sheets.
std::optional<CentringTimber> centring_timber(const Dossier& dossier) {
  if (!dossier.centring || dossier.centring->sheets.empty()) return {};
  const Centring& c = *dossier.centring;
  const CentringRequest& ask = dossier.brief.centring;
  CentringTimber out;
  out.sheets = static_cast<int>(c.sheets.size());
  out.sheets_m2 = static_cast<double>(c.sheets.size()) * ask.sheet_length_m * ask.sheet_width_m;
  out.sheets_kg = out.sheets_m2 * ask.sheet_thickness_m * ask.density;
  const CutList cut = cut_list(ask, c);
  out.sawn_m3 = cut.bought_m3;
  out.sawn_bought_m = cut.bought_m;
  out.sawn_used_m = cut.used_m;
  const double sawn_kg = c.mass_kg - c.plywood_m2 * ask.sheet_thickness_m * ask.density;
  if (c.timber_m3 > 0) out.sawn_kg = sawn_kg * cut.bought_m3 / c.timber_m3;
  return out;
}

constexpr int kDepthPoints = 12;  // corners a joint keeps in the search for the least depth

/// The least depth for all patterns, and what the dead load says by itself: it is searched first.
void find_depth(Dossier& dossier, const Progress& progress) {
  const Assembly assembly = with_patterns_only(dossier);
  StandOptions options = dossier.stand_options;
  options.contact_points_max = kDepthPoints;
  DepthOptions wanted;
  wanted.live_factor = dossier.brief.required.live_factor;
  dossier.depth_needed = depth_needed(assembly, wanted, options, progress);
  for (std::size_t i = 0; i < assembly.cases.size(); ++i) {
    if (assembly.cases[i].has_live()) continue;
    const DepthNeed& dead = dossier.depth_needed->cases[i];
    if (dead.share) dossier.dead_depth_reserve = DepthReserve{1 / *dead.share, dead.at_most};
    return;
  }
}

void find_modes(Dossier& dossier) {
  constexpr int kModes = 6;
  const Assembly& assembly = dossier.cut->assembly;
  dossier.modes = lowest_modes(assembly, {}, kModes);
  for (const LoadCase& load : assembly.cases) {
    if (load.id == "full") dossier.modes_full = lowest_modes(assembly, {}, kModes, &load);
  }
}

/// What would help, in words, by the check it is for.
using Advice = std::map<std::string, std::string>;

/// Which change would meet a check that fails; none if only a part is run.
Advice advice_on(const Dossier& dossier, const WorksOptions& options, const Progress& progress) {
  Advice advice;
  if (!options.until.empty() || dossier.again) return advice;  // what is made stays as it is
  for (const RequiredCheck& check : dossier.required) {
    if (!check.passes || *check.passes) continue;
    if (check.name == "live_factor")
      advice[check.name] = changes_that_help(dossier.brief, options, progress);
    if (check.name == "joint_stress" && options.block_remedies)
      advice[check.name] = remedies_in_words(dossier, try_joint_remedies(dossier, progress));
  }
  return advice;
}

void give(const Advice& advice, std::vector<RequiredCheck>& required) {
  for (RequiredCheck& check : required)
    if (const auto at = advice.find(check.name); at != advice.end() && !at->second.empty())
      check.note += "; " + at->second;
}

/// What a survey is refused for before anything is worked out.
std::optional<Faults> faults_at_once(const Brief& asked, const WorksOptions& options) {
  if (!options.until.empty() && options.until != "survey") return std::nullopt;
  if (options.old.of == nullptr) return survey_faults(asked);
  const Result<Brief> again = blocks_again(*options.old.of, asked);
  return again ? survey_faults(*again) : again.faults();
}

/// Which change would make blocks strong enough that are not: first of the remarks.
void advise_on_blocks(Dossier& dossier, const Progress& progress) {
  if (!dossier.strength) return;
  const Stopwatch watch;
  const std::string words = remedies_in_words(dossier, try_block_remedies(dossier, progress));
  dossier.timings_s["strength"] += watch.seconds();
  if (!words.empty()) dossier.strength->remarks.insert(dossier.strength->remarks.begin(), words);
}

}  // namespace

const std::vector<std::string>& stage_names() {
  static const std::vector<std::string> names{"form",   "body",     "cut",        "loads",
                                              "stand",  "strength", "ground",     "print",
                                              "access", "erect",    "tolerances", "survey"};
  return names;
}

Result<Dossier> run_works(const Brief& asked, const WorksOptions& options,
                          const Progress& progress) {
  std::optional<JobLimit> limit;
  if (options.jobs > 0) limit.emplace(options.jobs);
  Dossier dossier;
  if (auto faults = faults_at_once(asked, options)) return *faults;
  dossier.brief = brief_to_cut(asked, options.old);
  if (auto faults = take_asked_depth(dossier, options.jobs, progress)) return *faults;
  dossier.stand_options.load_factor_cap = dossier.brief.loads.cap;
  const auto done = [&](const char* stage) { return options.until == stage; };
  const auto timed = [&](const char* stage, auto&& work) {
    progress.checkpoint(stage, 0);
    const Stopwatch watch;
    work();
    dossier.timings_s[stage] = watch.seconds();
    progress.checkpoint(stage, 1);
  };

  if (std::optional<Faults> faults = find_shape(dossier.brief, dossier, progress, done("form"))) {
    const std::string advice = shape_advice(dossier.brief, *faults, progress);
    for (Fault& fault : *faults) fault.change = advice + fault.change;
    return *faults;
  }
  if (done("form") || done("body")) return dossier;

  Faults faults;
  timed("cut", [&] {
    Result<Cut> cut = cut_blocks(dossier.brief, *dossier.body, progress);
    if (cut) {
      dossier.cut = std::move(cut).value();
    } else {
      faults = cut.faults();
    }
  });
  if (!faults.empty()) return faults;
  if (options.old.of != nullptr)
    if (auto wrong = put_on_new_site(dossier, asked, options.old)) return *wrong;
  const Brief brief = dossier.brief;
  Assembly& assembly = dossier.cut->assembly;
  if (const std::optional<Fault> fault = too_many_spares(brief, assembly)) return *fault;
  if (done("cut")) return dossier;

  timed("loads", [&] { put_loads(dossier); });
  if (done("loads")) return dossier;
  std::optional<PointFile> points;
  if (brief.survey && !brief.survey->file.empty()) {
    if (brief.centring.wanted) timed("centring", [&] { draw_centring(dossier, progress); });
    Result<PointFile> read = read_survey(dossier);
    if (!read) return read.faults();
    points = std::move(read).value();
  }
  if (brief.survey && (options.until.empty() || done("survey"))) {
    if (auto wrong = faults_of_points(brief, assembly, points ? &*points : nullptr)) return *wrong;
  }

  timed("stand", [&] {
    StandOptions options_of_proof = dossier.stand_options;
    options_of_proof.third_view = third_view_called(brief.loads.motion);
    dossier.proofs = prove_all(assembly, options_of_proof, progress);
    judge_angles(dossier);
    if (options.depth) {
      find_worst_pattern(dossier, options_of_proof, progress);
      find_depth(dossier, progress);
      move_footings(dossier, progress);
      try_states(dossier, progress);
    }
    dossier.envelopes = envelopes(assembly, dossier.proofs);
  });
  dossier.required = required_checks(dossier);
  if (done("stand")) return dossier;
  if (options.depth) timed("strength", [&] { check_strength(dossier, progress); });
  if (dossier.again && dossier.strength)
    dossier.strength->proposal.reset();  // they are made already
  dossier.required = required_checks(dossier);
  if (done("strength")) return dossier;
  const Advice advice = advice_on(dossier, options, progress);
  if (options.block_remedies && options.until.empty()) advise_on_blocks(dossier, progress);

  timed("ground", [&] {
    dossier.ground = hold_feet(brief, assembly, pattern_proofs(dossier));
    if (options.depth) {
      judge_ground(dossier, progress);
      find_thrust_ranges(dossier, progress);
    } else {
      judge_footings(brief, assembly, {{}, {}, patterns_without_reactions(dossier), ""},
                     *dossier.ground);
    }
  });
  if (options.depth) {
    timed("service", [&] {
      plan_proof_load(dossier, progress);
      find_modes(dossier);
    });
  }
  const auto count_up = [&] {
    dossier.quantities = take_off(brief, assembly, *dossier.ground, area(walking_surface(brief)),
                                  print_totals(dossier), lorry_loads(dossier),
                                  spare_blocks(dossier), used_blocks(dossier));
    if (const auto timber = centring_timber(dossier))
      add_centring(brief, *timber, *dossier.quantities);
  };
  count_up();
  dossier.required = required_checks(dossier);
  if (done("ground")) return dossier;
  if (const auto made = blocks_to_make(dossier); made && brief.print.wanted) {
    timed("print", [&] { dossier.print = print_blocks(brief, *made, dossier.proofs, progress); });
    count_up();
  }
  dossier.required = required_checks(dossier);
  if (done("print")) return dossier;
  timed("access", [&] { dossier.access = judge_access(brief, assembly); });
  dossier.required = required_checks(dossier);
  if (done("access")) return dossier;
  plan_site(dossier, progress, options.breaks);
  if (dossier.transport || dossier.centring || dossier.spares) count_up();
  dossier.required = required_checks(dossier);
  give(advice, dossier.required);
  if (done("erect")) return dossier;
  if (brief.tolerances.wanted) {
    timed("tolerances", [&] {
      Brief as_given = brief;
      as_given.packing.squeeze_m = squeeze_there_is_m(brief.packing, assembly, dossier.proofs);
      dossier.tolerances =
          judge_tolerances(as_given, with_patterns_only(dossier), dossier.stand_options, progress);
    });
  }
  if (done("tolerances") || !brief.survey) return dossier;
  std::optional<Faults> wrong;
  timed("survey", [&] { wrong = put_right(dossier, points ? &*points : nullptr, progress); });
  if (wrong) return *wrong;
  dossier.required = required_checks(dossier);
  give(advice, dossier.required);
  return dossier;
}

}  // namespace skewback
