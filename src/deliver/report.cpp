#include "deliver/report.hpp"

#include "deliver/print_files.hpp"
#include "deliver/report_access.hpp"
#include "deliver/report_centring.hpp"
#include "deliver/report_haul.hpp"
#include "deliver/report_print.hpp"
#include "deliver/report_spares.hpp"
#include "deliver/report_strength.hpp"
#include "deliver/report_survey.hpp"
#include "deliver/report_tolerances.hpp"
#include "deliver/scan_files.hpp"
#include "deliver/setting_out_files.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string lay_out(const Dossier& dossier, const Outlines& outlines, const Image& picture,
                    int pages_in_all, int& count) {
  Pages pages(dossier.brief.title, pages_in_all);
  add_front(pages, dossier, picture);
  add_brief(pages, dossier);
  if (dossier.form) add_form(pages, dossier);
  if (dossier.cut) add_blocks(pages, dossier, outlines);
  if (!dossier.proofs.empty()) add_verdicts(pages, dossier, outlines);
  if (dossier.strength && dossier.cut)
    add_strength(pages, dossier.brief, dossier.cut->assembly, *dossier.strength);
  if (dossier.ground) add_ground(pages, dossier);
  if (dossier.access) add_access(pages, dossier.brief, *dossier.access);
  if (dossier.print && dossier.cut && has_poses(*dossier.print))
    add_print(pages, dossier.brief, dossier.cut->assembly, *dossier.print,
              dossier.spares ? &*dossier.spares : nullptr);
  add_service(pages, dossier);
  add_quantities(pages, dossier);
  if (dossier.cut)
    add_setting_out(pages, dossier.brief, dossier.cut->assembly,
                    setting_out(dossier.brief, dossier.cut->assembly,
                                dossier.centring ? &*dossier.centring : nullptr),
                    outlines.plan, as_drawn_words(dossier.refit ? &*dossier.refit : nullptr));
  if (dossier.centring && dossier.cut)
    add_centring(pages, dossier.brief, dossier.cut->assembly, *dossier.centring, dossier.self_held,
                 outlines.plan);
  if (dossier.programme && dossier.cut) add_work(pages, dossier, outlines);
  if (dossier.lifts && dossier.cut)
    add_lifting(pages, dossier.brief, dossier.cut->assembly, *dossier.lifts);
  if (dossier.transport && dossier.cut)
    add_transport(pages, dossier.brief, dossier.cut->assembly, *dossier.transport);
  if (dossier.spares && dossier.cut)
    add_programme(pages, dossier.brief, dossier.cut->assembly, *dossier.spares);
  if (dossier.tolerances) add_tolerances(pages, dossier.brief, *dossier.tolerances);
  if (dossier.refit) add_survey(pages, dossier, outlines);
  add_scans(pages, dossier);
  add_limits(pages, dossier);
  count = pages.page();
  return pages.finish();
}

}  // namespace

Count count(const std::vector<CaseProof>& proofs) {
  Count c;
  for (const CaseProof& proof : proofs) {
    if (proof.verdict == Verdict::kStands) ++c.stands;
    if (proof.verdict == Verdict::kUndecided) ++c.undecided;
    if (proof.verdict == Verdict::kFalls) ++c.falls;
  }
  return c;
}

std::string verdict_words(const CaseProof& proof) {
  const std::string verdict = word(proof.verdict);
  if (proof.verdict == Verdict::kStands && proof.views == std::vector<std::string>{"limit"})
    return verdict + " (limit only)";
  return verdict;
}

std::string factor_words(const CaseProof& proof) {
  if (!proof.load_factor) return "none";
  std::string text =
      (proof.at_cap ? "at least " : "") + fixed(*proof.load_factor, proof.at_cap ? 1 : 2);
  if (proof.pads_load_factor)
    text += std::string(" (by the pads ") + (proof.pads_at_cap ? "at least " : "") +
            fixed(*proof.pads_load_factor, 2) + ")";
  return text;
}

std::optional<Colour> verdict_tint(Verdict verdict) {
  if (verdict == Verdict::kFalls) return Colour{248, 205, 184};
  if (verdict == Verdict::kUndecided) return Colour{250, 240, 190};
  return std::nullopt;
}

std::string report_pdf(const Dossier& dossier, const Outlines& outlines, const Image& picture) {
  int count = 0;
  (void)lay_out(dossier, outlines, picture, 0, count);
  return lay_out(dossier, outlines, picture, count, count);
}

}  // namespace skewback::deliver
