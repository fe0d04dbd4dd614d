#include "works/trial_blocks.hpp"

#include "cut/plainly.hpp"
#include "works/live.hpp"
#include "works/put_loads.hpp"

namespace skewback {
namespace {

bool same_shape(const Brief& a, const Brief& b) {
  const Section &s = a.section, &t = b.section;
  return s.leaf_m == t.leaf_m && s.web_spacing_m == t.web_spacing_m &&
         s.depth_crown_m == t.depth_crown_m && s.depth_springing_m == t.depth_springing_m &&
         a.joints.pad_thickness_m == b.joints.pad_thickness_m && a.form.rise_m == b.form.rise_m;
}

}  // namespace

const Dossier* TrialShapes::kept(std::optional<Dossier>& shape, const Dossier* from,
                                 const Brief& changed, Faults& faults) {
  if (!shape || !same_shape(shape->brief, changed)) {
    shape.reset();
    Result<LiveShape> found = live_shape(changed, from, progress_);
    if (!found) {
      faults = found.faults();
      return nullptr;
    }
    shape = std::move(found).value().dossier;
  }
  return &*shape;
}

const Dossier* TrialShapes::rough(const Brief& changed, Faults& faults) {
  return kept(rough_, &of_, changed, faults);
}

const Dossier* TrialShapes::sought(const Brief& changed, Faults& faults) {
  return kept(sought_, nullptr, changed, faults);
}

Result<Dossier> cut_for(const Brief& brief, const Dossier& shaped, const Progress& progress) {
  Dossier dossier = shaped;
  dossier.brief = brief;
  Result<Cut> cut = cut_blocks_plainly(brief, *dossier.body, progress);
  if (!cut) return cut.faults();
  dossier.cut = std::move(cut).value();
  return dossier;
}

void put_loads_of(const std::set<std::string>& only, Dossier& dossier) {
  put_loads(dossier);
  if (only.empty()) return;
  std::vector<LoadCase> cases;
  std::vector<CaseNote> notes;
  for (std::size_t i = 0; i < dossier.notes.size(); ++i) {
    if (!only.contains(dossier.cut->assembly.cases[i].id)) continue;
    cases.push_back(std::move(dossier.cut->assembly.cases[i]));
    notes.push_back(std::move(dossier.notes[i]));
  }
  dossier.cut->assembly.cases = std::move(cases);
  dossier.notes = std::move(notes);
}

}  // namespace skewback
