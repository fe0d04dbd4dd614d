#include "works/survey_works.hpp"

#include <algorithm>
#include <cstdio>

#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "erect/third_view.hpp"
#include "stand/motion_view.hpp"
#include "survey/let_packed_go.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

/// The drawn centring with its seats where the packed soffits lie.
Centring on_packed_soffits(Centring centring, const std::vector<Rigid>& poses) {
  for (Seat& seat : centring.seats) {
    const Rigid& X = poses[static_cast<std::size_t>(seat.prop.block)];
    seat.prop.point = X(seat.prop.point);
    seat.prop.direction = X.R * seat.prop.direction;
  }
  return centring;
}

struct StagesTried {
  int stages = 0, standing = 0;
  std::vector<std::string> remarks;
  std::map<std::string, double> seconds;
};

StagesTried try_stages(const Dossier& dossier, const Assembly& drawn, const Refit& found,
                       const Progress& progress) {
  StagesTried out;
  Brief brief = dossier.brief;
  brief.erect.compare = false;
  std::optional<Centring> centring;
  if (dossier.centring)
    centring = on_packed_soffits(*dossier.centring, poses_as_packed(drawn, found));
  Stopwatch watch;
  Programme programme = plan_erection(brief, found.as_built, centring ? &*centring : nullptr,
                                      dossier.access ? &*dossier.access : nullptr, progress);
  out.seconds["stages"] = watch.seconds();
  watch = {};
  let_stages_go(brief, found.as_built, programme, progress);
  out.seconds["stages let go"] = watch.seconds();
  out.stages = static_cast<int>(programme.stages.size());
  for (const Stage& stage : programme.stages) {
    if (stands(stage)) {
      ++out.standing;
    } else if (out.standing == stage.step - 1) {
      out.remarks.push_back("as packed, the stage \"" + stage.what + " " + stage.words +
                            "\" is not shown to stand: " +
                            (stage.proof.verdict == Verdict::kStands && stage.working
                                 ? stage.working->reason
                                 : stage.proof.reason));
    }
  }
  return out;
}

/// View 3 of the bridge as packed beside its stages: they share nothing.
void try_further(const Dossier& dossier, const RefitInput& input, const StandOptions& options,
                 const Progress& progress, Refit& found) {
  if (!found.key_goes_in) return;
  StagesTried stages;
  for_each_index(2, [&](std::size_t k) {
    if (k == 0) {
      stages = try_stages(dossier, *input.assembly, found, progress);
    } else {
      let_packed_go(input, options, progress, found);
    }
  });
  found.stages = stages.stages;
  found.stages_standing = stages.standing;
  for (std::string& remark : stages.remarks) found.remarks.push_back(std::move(remark));
  found.seconds.merge(stages.seconds);
}

/// Only the springers that are made anew: all else counts as there.
std::optional<PrintSet> print_anew(const Dossier& dossier, const Progress& progress) {
  const Refit& found = *dossier.refit;
  const bool prints = dossier.brief.print.wanted || (dossier.again && dossier.again->printed);
  if (!found.key_goes_in || found.packed.springers.empty() || !prints) return {};
  Assembly assembly = found.as_built;
  std::vector<char> anew(assembly.blocks.size(), 0);
  for (const int j : found.packed.springer_joints) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
    const auto a = static_cast<std::size_t>(joint.a), b = static_cast<std::size_t>(joint.b);
    anew[assembly.blocks[a].fixed ? b : a] = 1;
  }
  for (std::size_t i = 0; i < anew.size(); ++i) {
    if (anew[i] == 0) assembly.blocks[i].fixed = true;
  }
  return print_blocks(dossier.brief, assembly, found.proofs, progress);
}

std::string squeeze_words(const PackingRequest& now, const PackingRequest& asked) {
  char text[160];
  std::snprintf(text, sizeof text,
                "joints were let be tight by %.2f mm, not by the %.2f mm of packing.squeeze: under "
                "the dead load the pad that gives least gives no more",
                1e3 * now.squeeze_m, 1e3 * asked.squeeze_m);
  return text;
}

}  // namespace

std::vector<double> pads_closing(const Assembly& assembly, const std::vector<CaseProof>& proofs) {
  for (std::size_t i = 0; i < assembly.cases.size() && i < proofs.size(); ++i) {
    const auto& pads = proofs[i].pads;
    if (assembly.cases[i].has_live() || !pads || !pads->found) continue;
    std::vector<double> closing;
    for (const Joint& joint : assembly.joints) {
      const auto moved = [&](int block) -> Vec3 {
        const BlockVelocity& u = pads->moves[static_cast<std::size_t>(block)];
        return u.v + u.w.cross(joint.frame.origin);
      };
      const double nearer = -joint.frame.z.dot(moved(joint.b) - moved(joint.a));
      closing.push_back(joint.pad ? std::max(0.0, nearer) : 0);
    }
    return closing;
  }
  return {};
}

double squeeze_there_is_m(const PackingRequest& packing, const Assembly& assembly,
                          const std::vector<CaseProof>& proofs) {
  const std::vector<double> closing = pads_closing(assembly, proofs);
  if (closing.empty()) return packing.squeeze_m;
  return std::min(packing.squeeze_m, *std::ranges::min_element(closing));
}

std::optional<Faults> put_right(Dossier& dossier, const PointFile* points,
                                const Progress& progress) {
  const Assembly& drawn = dossier.cut->assembly;
  Brief brief = dossier.brief;
  brief.packing.squeeze_m = squeeze_there_is_m(brief.packing, drawn, dossier.proofs);
  RefitInput input;
  input.brief = &brief;
  input.assembly = &drawn;
  input.centring = dossier.centring ? &*dossier.centring : nullptr;
  input.points = points;
  input.drawn = dossier.proofs;
  for (const CaseNote& note : dossier.notes)
    input.counts.push_back(note.kind == CaseKind::kPattern ? 1 : 0);
  input.closing_m = pads_closing(drawn, input.drawn);
  input.limit_pa = [&](const Joint& joint) { return joint_limit(brief, joint); };
  StandOptions options = dossier.stand_options;
  Result<Refit> found = refit(input, options, progress);
  if (!found) return found.faults();
  options.third_view = third_view_called(brief.loads.motion);
  try_further(dossier, input, options, progress, found.value());
  if (brief.packing.squeeze_m < dossier.brief.packing.squeeze_m)
    found.value().remarks.push_back(squeeze_words(brief.packing, dossier.brief.packing));
  dossier.refit = std::move(found).value();
  dossier.reprinted = print_anew(dossier, progress);
  for (const auto& [what, seconds] : dossier.refit->seconds)
    dossier.timings_s["survey: " + what] = seconds;
  return std::nullopt;
}

}  // namespace skewback
