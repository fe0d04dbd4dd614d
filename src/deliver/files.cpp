#include "deliver/files.hpp"

#include "deliver/csv.hpp"
#include "deliver/facts.hpp"
#include "deliver/gltf.hpp"

namespace skewback::deliver {
namespace {

void add_evidence(std::vector<OutputFile>& files, const std::string& folder,
                  const Assembly& assembly, const std::vector<CaseProof>& proofs,
                  const StandOptions& options) {
  const auto paths = evidence_paths(proofs, folder);
  for (std::size_t i = 0; i < proofs.size() && i < assembly.cases.size(); ++i) {
    files.push_back({paths[i], write_evidence(assembly, assembly.cases[i], proofs[i], options)});
  }
}

void add_stages(std::vector<OutputFile>& files, const Dossier& dossier) {
  const auto paths = stage_evidence_paths(*dossier.programme);
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const CaseProof& proof = dossier.programme->stages[i].proof;
    LoadCase weight;
    weight.id = proof.id;
    files.push_back({paths[i], write_evidence(dossier.cut->assembly, weight, proof,
                                              stage_options(dossier.brief, dossier.cut->assembly,
                                                            *dossier.programme, i))});
  }
}

}  // namespace

std::vector<OutputFile> make_files(const Dossier& dossier, const Progress& progress) {
  std::vector<OutputFile> files;
  files.push_back({"summary.json", summary_json(dossier, true)});
  if (dossier.cut) {
    const Assembly& assembly = dossier.cut->assembly;
    files.push_back({"assembly.json", write_assembly(assembly)});
    add_evidence(files, "evidence", assembly, dossier.proofs, dossier.stand_options);
    progress.checkpoint("deliver", 0.1);
    if (dossier.programme) add_stages(files, dossier);
    files.push_back({"blocks.csv", blocks_csv(dossier)});
    files.push_back({"joints.csv", joints_csv(dossier)});
    files.push_back({"blocks.glb", blocks_glb(dossier)});
  }
  progress.checkpoint("deliver", 0.2);
  if (dossier.refit) {
    files.push_back({"asbuilt/assembly.json", write_assembly(dossier.refit->as_built)});
    add_evidence(files, "asbuilt/evidence", dossier.refit->as_built, dossier.refit->proofs,
                 dossier.stand_options);
  }
  progress.checkpoint("deliver", 0.3);
  return files;
}

}  // namespace skewback::deliver
