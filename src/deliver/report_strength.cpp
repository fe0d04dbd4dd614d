#include "deliver/report_strength.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr std::size_t kShown = 12;

std::string use(double utilisation) {
  return std::isfinite(utilisation) ? fixed(utilisation, 2) : "no resistance left";
}

std::optional<Colour> tint(const BlockFinding& finding) {
  return finding.utilisation > 1 ? verdict_tint(Verdict::kFalls) : std::optional<Colour>{};
}

std::string mpa(double pa) { return fixed(pa / 1e6, 2); }

const std::string& id_of(const Assembly& assembly, const BlockFinding& finding) {
  return assembly.blocks[static_cast<std::size_t>(finding.block)].id;
}

/// The worst of each check, in the order in which the checks first come.
std::vector<const BlockFinding*> worst_by_check(const BlockChecks& checks) {
  std::vector<const BlockFinding*> out;
  for (const BlockFinding& finding : checks.findings) {
    const auto same = std::ranges::find_if(
        out, [&](const BlockFinding* kept) { return kept->check == finding.check; });
    if (same == out.end()) {
      out.push_back(&finding);
    } else if (finding.utilisation > (*same)->utilisation) {
      *same = &finding;
    }
  }
  return out;
}

void add_checks(Pages& pages, const Assembly& assembly, const BlockChecks& checks) {
  std::vector<Row> rows;
  for (const BlockFinding* f : worst_by_check(checks)) {
    rows.push_back({{f->check, use(f->utilisation), mpa(f->demand), mpa(f->resistance),
                     id_of(assembly, *f), f->source},
                    tint(*f)});
  }
  pages.table({{"check", 1.5},
               {"greatest use", 1, true},
               {"demand (MPa)", 0.9, true},
               {"resistance (MPa)", 1, true},
               {"block", 1.2},
               {"by", 3.4}},
              rows);
}

void add_worst(Pages& pages, const Assembly& assembly, const BlockChecks& checks) {
  std::vector<Row> rows;
  for (const std::size_t i : worst_findings(checks, kShown)) {
    const BlockFinding& f = checks.findings[i];
    rows.push_back(
        {{id_of(assembly, f), f.check, use(f.utilisation), f.case_id, f.place}, tint(f)});
  }
  pages.table({{"block", 1.2}, {"check", 1.5}, {"use", 0.6, true}, {"case", 1.4}, {"where", 3.6}},
              rows);
}

}  // namespace

std::vector<std::size_t> worst_findings(const BlockChecks& checks, std::size_t most) {
  std::vector<std::size_t> order(checks.findings.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    return checks.findings[a].utilisation > checks.findings[b].utilisation;
  });
  order.resize(std::min(order.size(), most));
  return order;
}

void add_strength(Pages& pages, const Brief& brief, const Assembly& assembly,
                  const BlockChecks& checks) {
  pages.heading("Strength of the blocks");
  pages.paragraph(
      "Use is demand over resistance; above 1 the block is not strong enough by this check. Plain "
      "concrete, f_ck " +
      fixed(brief.material.fck_pa / 1e6, 0) + " MPa, gamma_C " + fixed(brief.factors.concrete, 2) +
      " (" + fixed(brief.factors.concrete_accident, 2) + " in accidents), alpha " +
      fixed(brief.factors.plain, 2) + ": EN 1992-1-1 section 12, " + brief.factors.edition + ".");
  if (checks.findings.empty()) {
    pages.paragraph("No block was checked.");
  } else {
    const auto over = std::ranges::count_if(
        checks.findings, [](const BlockFinding& f) { return f.utilisation > 1; });
    pages.paragraph(counted(static_cast<std::size_t>(over), "finding") + " of " +
                    std::to_string(checks.findings.size()) + " above 1.");
    add_checks(pages, assembly, checks);
    pages.subheading("The worst");
    add_worst(pages, assembly, checks);
  }
  if (checks.proposal) {
    const SectionProposal& p = *checks.proposal;
    pages.paragraph("What would help the skins: " + p.words);
  }
  for (const std::string& remark : checks.remarks) pages.bullet(remark);
}

nlohmann::ordered_json strength_json(const Assembly& assembly, const BlockChecks& checks) {
  using Json = nlohmann::ordered_json;
  Json blocks = Json::array();
  for (const BlockFinding& f : checks.findings) {
    blocks.push_back({{"id", id_of(assembly, f)},
                      {"check", f.check},
                      {"utilisation", f.utilisation},
                      {"case", f.case_id},
                      {"demand", f.demand},
                      {"resistance", f.resistance},
                      {"unit", f.unit},
                      {"place", f.place},
                      {"source", f.source}});
  }
  Json out;
  out["worst_utilisation"] =
      checks.worst < 0 ? Json(nullptr)
                       : Json(checks.findings[static_cast<std::size_t>(checks.worst)].utilisation);
  out["blocks"] = std::move(blocks);
  if (checks.proposal) {
    const SectionProposal& p = *checks.proposal;
    out["proposal"] = {{"leaf_m", p.leaf_m},
                       {"web_spacing_m", p.web_spacing_m},
                       {"utilisation_now", p.utilisation_now},
                       {"utilisation_then", p.utilisation_then},
                       {"words", p.words}};
  }
  out["remarks"] = checks.remarks;
  return out;
}

}  // namespace skewback::deliver
