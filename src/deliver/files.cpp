#include "deliver/files.hpp"

#include "deliver/blocks_again.hpp"
#include "deliver/centring_files.hpp"
#include "deliver/csv.hpp"
#include "deliver/drawings.hpp"
#include "deliver/facts.hpp"
#include "deliver/force_picture_sheet.hpp"
#include "deliver/gltf.hpp"
#include "deliver/haul_sheets.hpp"
#include "deliver/labels.hpp"
#include "deliver/motion_json.hpp"
#include "deliver/picture.hpp"
#include "deliver/plan_file.hpp"
#include "deliver/print_files.hpp"
#include "deliver/report.hpp"
#include "deliver/report_haul.hpp"
#include "deliver/report_spares.hpp"
#include "deliver/report_tolerances.hpp"
#include "deliver/scan_files.hpp"
#include "deliver/setting_out_files.hpp"
#include "deliver/survey_files.hpp"
#include "deliver/three_mf.hpp"
#include "stand/evidence_points.hpp"
#include "stand/motion_view.hpp"

namespace skewback::deliver {
namespace {

constexpr int kPictureWidth = 1600;

void add_evidence(std::vector<OutputFile>& files, const std::string& folder,
                  const Assembly& assembly, const std::vector<CaseProof>& proofs,
                  const StandOptions& options, EvidencePoints& points) {
  const auto paths = evidence_paths(proofs, folder);
  for (std::size_t i = 0; i < proofs.size() && i < assembly.cases.size(); ++i) {
    files.push_back(
        {paths[i], write_evidence(assembly, assembly.cases[i], proofs[i], options, &points)});
    if (proofs[i].pads && proofs[i].pads->found) {
      files.push_back(
          {pads_evidence_path(paths[i]),
           write_evidence(assembly, assembly.cases[i], *proofs[i].pads, options, &points)});
    }
    if (proofs[i].motion)
      files.push_back({motion_path(paths[i]), motion_json({&assembly,
                                                           &assembly.cases[i],
                                                           scene_of(options, {}),
                                                           motion_options_of({}),
                                                           {},
                                                           *proofs[i].motion})});
  }
}

// What a stage was proved under: its weight, the way the dead case pulls.
LoadCase weight_alone(const Assembly& assembly, const std::string& id) {
  LoadCase weight;
  for (const LoadCase& load : assembly.cases) {
    if (load.has_live()) continue;
    weight = load;
    break;
  }
  weight.id = id;
  return weight;
}

void add_drawings(std::vector<OutputFile>& files, const Dossier& dossier,
                  const Outlines& outlines) {
  const SheetSize a3;
  files.push_back({"plan.svg", svg(plan_sheet(dossier, outlines, a3))});
  if (dossier.cut) files.push_back({"elevation.svg", svg(elevation_sheet(dossier, outlines, a3))});
  if (dossier.cut && mechanism_to_show(dossier))
    files.push_back({"mechanism.svg", svg(mechanism_sheet(dossier, outlines, a3))});
  if (dossier.form) {
    files.push_back({"force-polygon.svg", svg(force_polygon_sheet(dossier, {210, 210}))});
    files.push_back({"force-picture.svg", svg(force_picture_sheet(dossier, a3))});
  }
}

/// View 1 of a stage that is like an earlier one has that one's file.
void add_stages(std::vector<OutputFile>& files, const Dossier& dossier, EvidencePoints& points) {
  const Programme& programme = *dossier.programme;
  const auto paths = stage_evidence_paths(programme);
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const Stage& stage = programme.stages[i];
    const Assembly there = stage_assembly(dossier.cut->assembly, programme, i);
    const LoadCase weight = weight_alone(there, stage.proof.id);
    const auto options = [&](bool pads) {
      return stage_options(dossier.brief, programme, i, pads);
    };
    if (stage.same_as < 0)
      files.push_back(
          {paths[i], write_evidence(there, weight, stage.proof, options(false), &points)});
    if (stage.proof.pads && stage.proof.pads->found) {
      files.push_back({pads_evidence_path(paths[i]),
                       write_evidence(there, weight, *stage.proof.pads, options(true), &points)});
    }
    if (stage.proof.motion)
      files.push_back({motion_path(paths[i]), motion_json({&there,
                                                           &weight,
                                                           scene_of(options(true), {}),
                                                           motion_options_of({}),
                                                           {},
                                                           *stage.proof.motion,
                                                           options(true).own_carried})});
  }
}

constexpr double kSheetWidth = 287, kSheetHeight = 200;  // mm, A4 lying with its margins

/// Lifting and transport.
std::vector<OutputFile> site_files(const Dossier& dossier) {
  std::vector<OutputFile> files;
  if (!dossier.cut) return files;
  const Assembly& assembly = dossier.cut->assembly;
  if (dossier.lifts) {
    const LiftPlan& plan = *dossier.lifts;
    files.push_back({"lifting/lifts.csv", lifts_csv(plan)});
    files.push_back(
        {"lifting/crane.svg", svg(lift_plan_sheet(dossier.brief, assembly, plan, kSheetWidth))});
    if (const int hardest = hardest_lift(plan); hardest >= 0)
      files.push_back(
          {"lifting/hanging.svg",
           svg(hanging_sheet(dossier.brief, assembly, plan.lifts[static_cast<std::size_t>(hardest)],
                             kSheetWidth))});
  }
  if (dossier.transport) {
    files.push_back({"transport/pallets.csv", pallets_csv(*dossier.transport)});
    for (std::size_t k = 0; k < dossier.transport->lorries.size(); ++k)
      files.push_back(
          {"transport/lorry-" + std::to_string(k + 1) + ".svg",
           svg(lorry_sheet(dossier.brief, assembly, *dossier.transport, k, kSheetWidth))});
    const std::vector<Sheet> pallets =
        pallet_sheets(dossier.brief, assembly, *dossier.transport, kSheetWidth, kSheetHeight);
    for (std::size_t k = 0; k < pallets.size(); ++k)
      files.push_back({"transport/pallets-" + std::to_string(k + 1) + ".svg", svg(pallets[k])});
  }
  return files;
}

std::vector<OutputFile> as_built_files(const Dossier& dossier, const Outlines& outlines) {
  const Assembly* const drawn = assembly_of(dossier);
  if (drawn == nullptr) return {};
  const Refit& refit = *dossier.refit;
  const std::vector<int> order = dossier.cut && dossier.programme
                                     ? placing_order(*drawn, *dossier.programme)
                                     : std::vector<int>{};
  const auto check = std::ranges::find(dossier.required, "as_built", &RequiredCheck::name);
  const bool passes = check == dossier.required.end() || check->passes.value_or(false);
  std::vector<OutputFile> files =
      survey_files(dossier.brief, *drawn, dossier.centring ? &*dossier.centring : nullptr, refit,
                   order, plan_of(*drawn, outlines.plan), passes ? "" : check->note,
                   dossier.lifts ? &*dossier.lifts : nullptr);
  if (dossier.again && dossier.again->stock)
    files.push_back({"asbuilt/blocks-again.csv", blocks_again_csv(*dossier.again->stock)});
  if (!dossier.reprinted) return files;
  for (OutputFile& file :
       print_files(dossier.brief, refit.as_built, *dossier.reprinted, plan_of(refit.as_built, {})))
    files.push_back({"asbuilt/" + file.path, std::move(file.bytes)});
  return files;
}

/// What the drawn list of marks has to say of itself.
std::string setting_out_words(const Dossier& dossier) {
  std::string words = as_drawn_words(dossier.refit ? &*dossier.refit : nullptr);
  const std::string supports = dossier.again ? supports_again_words(*dossier.again) : "";
  if (!words.empty() && !supports.empty()) words += ' ';
  return words + supports;
}

}  // namespace

std::vector<OutputFile> make_files(const Dossier& dossier, const Progress& progress) {
  std::vector<OutputFile> files;
  files.push_back({"summary.json", summary_json(dossier, true)});
  if (dossier.cut) {
    const Assembly& assembly = dossier.cut->assembly;
    files.push_back({"assembly.json", write_assembly(assembly)});
    EvidencePoints points;
    add_evidence(files, "evidence", assembly, dossier.proofs, dossier.stand_options, points);
    progress.checkpoint("deliver", 0.1);
    if (dossier.programme) add_stages(files, dossier, points);
    if (!points.empty()) files.push_back({"evidence-points.json", points.json()});
    files.push_back({"blocks.csv", blocks_csv(dossier)});
    files.push_back({"joints.csv", joints_csv(dossier)});
    files.push_back({"blocks.glb", blocks_glb(dossier)});
    files.push_back({"blocks.3mf", blocks_3mf(dossier)});
  }
  progress.checkpoint("deliver", 0.2);
  if (dossier.refit) {
    files.push_back({"asbuilt/assembly.json", write_assembly(dossier.refit->as_built)});
    EvidencePoints points;
    add_evidence(files, "asbuilt/evidence", dossier.refit->as_built, dossier.refit->proofs,
                 dossier.stand_options, points);
    if (!points.empty()) files.push_back({"asbuilt/evidence-points.json", points.json()});
  }
  if (dossier.tolerances)
    for (OutputFile& file : tolerance_files(dossier.brief, *dossier.tolerances))
      files.push_back(std::move(file));
  progress.checkpoint("deliver", 0.3);
  const Outlines outlines = find_outlines(dossier);
  progress.checkpoint("deliver", 0.4);
  add_drawings(files, dossier, outlines);
  if (dossier.print && dossier.cut) {
    for (OutputFile& file :
         print_files(dossier.brief, dossier.cut->assembly, *dossier.print, outlines.plan))
      files.push_back(std::move(file));
  }
  const auto add_all = [&](std::vector<OutputFile> more) {
    for (OutputFile& file : more) files.push_back(std::move(file));
  };
  if (dossier.centring)
    add_all(centring_files(dossier.brief, dossier.cut->assembly, *dossier.centring, outlines.plan));
  const Centring* const centring = dossier.centring ? &*dossier.centring : nullptr;
  if (dossier.cut)
    add_all(setting_out_files(dossier.brief, dossier.cut->assembly,
                              setting_out(dossier.brief, dossier.cut->assembly, centring),
                              outlines.plan, setting_out_words(dossier)));
  if (dossier.refit) add_all(as_built_files(dossier, outlines));
  add_all(scan_files(dossier));
  if (dossier.spares) add_all(programme_files(dossier.brief, *dossier.spares));
  add_all(site_files(dossier));
  if (dossier.cut && dossier.programme && !dossier.programme->order.empty()) {
    files.push_back({"erect/plan.json", plan_json(dossier)});
    files.push_back({"erect/labels.pdf", labels_pdf(dossier, outlines.plan)});
  }
  progress.checkpoint("deliver", 0.5);
  Image picture;
  if (dossier.cut) {
    picture = main_picture(dossier, kPictureWidth);
    files.push_back({"picture.png", png(picture)});
  }
  progress.checkpoint("deliver", 0.7);
  files.push_back({"report.pdf", report_pdf(dossier, outlines, picture)});
  progress.checkpoint("deliver", 0.9);
  return files;
}

}  // namespace skewback::deliver
