#include "survey/draw_proof.hpp"
#include "survey/poses.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
CasesProved cases_to_prove(const Assembly& assembly, const std::vector<CaseProof>& drawn) {
  CasesProved out;
  std::optional<double> least;
  for (std::size_t c = 0; c < assembly.cases.size(); ++c) {
    if (!assembly.cases[c].has_live()) {
      if (out.dead < 0) out.dead = static_cast<int>(c);
      continue;
    }
    const std::optional<double>& factor = drawn[c].load_factor;
    if (!factor || (least && *factor >= *least)) continue;
    least = factor;
    out.live = static_cast<int>(c);
  }
  return out;
}

ProvedDraw prove_draw(const Brief& brief, const StackModel& model, const StandOptions& options,
                      const CasesProved& cases, std::uint64_t draw) {
  const AsMade made = draw_errors(brief, model, draw);
  const Packed packed = pack_up(model, made, brief.packing, {.springers = false});
  if (!packed.goes_in) return {};
  const Assembly as_packed = bearing_only(
      rebuilt(model, Laid{&made, packed.moves, Rigid{}, packed.packers}, brief.packing));
  const auto limit = [&](int c) {
    return limit_load(as_packed, as_packed.cases[static_cast<std::size_t>(c)], options);
  };
  ProvedDraw out{true, true, {}};
  if (cases.dead >= 0) out.stands = limit(cases.dead).verdict == Verdict::kStands;
  if (cases.live < 0) return out;
  const CaseProof proof = limit(cases.live);
  out.load_factor = proof.load_factor;
  out.stands = out.stands && proof.load_factor && proof.verdict == Verdict::kStands &&
               *proof.load_factor >= brief.required.live_factor;
  return out;
}

void prove_draws(const Brief& brief, const StackModel& model, const StandOptions& options,
                 const std::vector<CaseProof>& drawn, const Progress& progress, double from,
                 double to, ToleranceReport& report) {
  const int draws = std::min(brief.tolerances.proof_draws, report.draws);
  const Assembly& assembly = model.assembly();
  if (draws <= 0) return;
  if (assembly.cases.empty()) {
    report.remarks.emplace_back("no draw was proved to stand: there are no load cases");
    return;
  }
  const bool known = drawn.size() == assembly.cases.size();
  const CasesProved cases =
      cases_to_prove(assembly, known ? drawn : limit_loads(assembly, options, progress));
  std::vector<ProvedDraw> proofs(static_cast<std::size_t>(draws));
  for_each_draw(draws, progress, from, to, [&](std::size_t i) {
    progress.checkpoint("tolerances", from + (to - from) * static_cast<double>(i) / draws);
    proofs[i] = prove_draw(brief, model, options, cases, i);
  });
  int standing = 0;
  for (std::size_t i = 0; i < proofs.size(); ++i) {
    if (!proofs[i].packed) continue;
    ++report.proved;
    standing += proofs[i].stands ? 1 : 0;
    if (!proofs[i].load_factor) continue;
    report.load_factor.push_back(*proofs[i].load_factor);
    report.load_factor_of.push_back(static_cast<int>(i));
  }
  report.stands = chance_of(standing, report.proved);
  const auto name = [&](int c) { return assembly.cases[static_cast<std::size_t>(c)].id; };
  std::string words = "proved as packed, by the limit load alone (view 1)";
  if (cases.dead >= 0) words += ": " + name(cases.dead);
  if (cases.live >= 0)
    words += (cases.dead >= 0 ? " and " : ": ") + name(cases.live) +
             ", the case with the least load factor as drawn";
  report.remarks.push_back(words + "; " + std::to_string(report.proved) + " of the first " +
                           std::to_string(draws) + " draws, those that go in");
}

}  // namespace skewback
