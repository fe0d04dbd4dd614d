#include <algorithm>
#include <set>

#include "brief/checks.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

void settle_points(Draft& draft) {
  std::set<std::pair<std::string, std::string>> marks;
  for (std::size_t i = 0; i < draft.survey.points.size(); ++i) {
    const SurveyPoint& point = draft.survey.points[i];
    const std::string key = numbered("survey.point", i);
    check_support_name(draft, key + ".support", point.support);
    if (!point.support.empty() && !point.mark.empty() &&
        !marks.insert({point.support, point.mark}).second)
      draft.fault(key + ".mark",
                  "the " + point.mark + " mark of \"" + point.support + "\" for the second time",
                  "each mark once", "take one out");
  }
  if (!draft.survey_file.empty()) draft.survey.file = beside_brief(draft, draft.survey_file);
  if (!draft.survey.file.empty()) draft.brief.survey = draft.survey;
  if (draft.survey.points.empty()) return;
  for (const Support& support : draft.brief.plan.supports) {
    std::string missing;
    for (const char* mark : {"left", "right", "back"})
      if (!marks.contains({support.id, mark}))
        missing += (missing.empty() ? "" : ", ") + std::string(mark);
    if (!missing.empty())
      draft.fault("survey", "no measured " + missing + " of support \"" + support.id + "\"",
                  "the three marks of every support", "add a [[survey.point]] for each");
  }
  draft.brief.survey = draft.survey;
}

void settle_packing(Draft& draft) {
  PackingRequest& packing = draft.brief.packing;
  std::sort(packing.stock_m.begin(), packing.stock_m.end());
  packing.stock_m.erase(std::unique(packing.stock_m.begin(), packing.stock_m.end()),
                        packing.stock_m.end());
  if (packing.stock_m.front() <= packing.most_m) return;
  draft.fault(draft.has("packing.most") ? "packing.most" : "packing.stock",
              metres(packing.most_m) + ", less than the thinnest packer of the stock, " +
                  metres(packing.stock_m.front()),
              "room for one packer at least", "add a thinner one to `stock`");
}

void check_tolerances(Draft& draft) {
  TolerancesRequest& tolerances = draft.brief.tolerances;
  tolerances.wanted = draft.spots.contains("tolerances");
  const std::vector<std::string> names = {"footing_plan", "footing_level", "footing_turn",
                                          "footing_tilt", "centring",      "block_length",
                                          "bed_tilt",     "bed_flatness",  "pad"};
  for (std::size_t i = 0; i < tolerances.even.size(); ++i) {
    const std::string& name = tolerances.even[i];
    if (std::ranges::find(names, name) != names.end()) continue;
    std::string all;
    for (const std::string& other : names) all += (all.empty() ? "" : ", ") + other;
    const std::string near = nearest_word(name, names);
    draft.fault("tolerances.even[" + std::to_string(i + 1) + "]",
                "\"" + name + "\", which is no error that is drawn", "one of " + all,
                near.empty() ? "take it out" : "did you mean \"" + near + "\"?");
  }
  if (tolerances.proof_draws <= tolerances.draws) return;
  draft.fault(draft.has("tolerances.proof_draws") ? "tolerances.proof_draws" : "tolerances.draws",
              std::to_string(tolerances.proof_draws) + " draws to prove of " +
                  std::to_string(tolerances.draws),
              "no more than `draws`", "lower proof_draws");
}

}  // namespace

void settle_survey(Draft& draft) {
  settle_points(draft);
  settle_packing(draft);
  check_tolerances(draft);
}

}  // namespace skewback
