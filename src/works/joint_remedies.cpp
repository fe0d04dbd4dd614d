#include "works/joint_remedies.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "deliver/text.hpp"
#include "works/pressed.hpp"
#include "works/required_site.hpp"
#include "works/trial_blocks.hpp"

namespace skewback {
namespace {

using deliver::fixed;

constexpr std::size_t kCases = 4;  // tried first: those that press a joint most now
constexpr double kFarOff = 0.7;    // reserve by a rough form that no other form is likely to mend
constexpr double kHardestRubber = 1.15e6;  // Pa, shear modulus; EN 1337-3 table 1, from memory

std::set<std::string> pressing_cases(const Dossier& dossier) {
  std::vector<std::pair<double, std::string>> all;
  for (const CaseProof& proof : dossier.proofs)
    all.emplace_back(most_pressed(dossier, proof).reserve(), proof.id);
  std::sort(all.begin(), all.end());
  std::set<std::string> ids;
  for (const auto& [reserve, id] : all) {
    // the worst pattern is sought when all is proved; a trial has none
    if (ids.size() < kCases && id != "worst") ids.insert(id);
  }
  return ids;
}

void press(Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  dossier.proofs.assign(assembly.cases.size(), {});
  const PadModel model(assembly, dossier.stand_options);
  for_each_index(assembly.cases.size(), [&](std::size_t i) {
    dossier.proofs[i].id = assembly.cases[i].id;
    dossier.proofs[i].pads = model.solve(assembly.cases[i], {});
  });
}

class Relief {
 public:
  Relief(const Dossier& dossier, const Progress& progress)
      : brief_(dossier.brief),
        progress_(progress),
        pressing_(pressing_cases(dossier)),
        shapes_(dossier, progress) {}

  std::vector<JointTrial> run() {
    pads() || narrower() || deeper() || higher();
    return std::move(trials_);
  }

 private:
  bool pads() {
    const double thickness = brief_.joints.pad_thickness_m,
                 modulus = brief_.joints.pad_shear_modulus_pa;
    if (!(thickness > 0)) return false;
    for (const double times : {1.5, 2.0}) {
      Brief changed = brief_;
      changed.joints.pad_thickness_m = thickness * times;
      if (keep("pads of " + fixed(1000 * thickness * times, 0) + " mm", changed)) return true;
    }
    if (!(modulus > 0) || modulus >= kHardestRubber) return false;
    Brief changed = brief_;
    changed.joints.pad_shear_modulus_pa = kHardestRubber;
    return keep("pads of shear modulus " + fixed(kHardestRubber / 1e6, 2) + " MPa", changed);
  }

  bool narrower() {
    if (!(brief_.blocks.width_max_m > 0)) return false;
    Brief changed = brief_;
    changed.blocks.width_max_m = std::ceil(70 * brief_.blocks.width_max_m) / 100;
    return keep("blocks no wider than " + fixed(changed.blocks.width_max_m, 2) + " m", changed);
  }

  bool deeper() {
    for (const double percent : {10, 25, 50}) {
      Brief changed = brief_;
      changed.section.depth_crown_m *= 1 + percent / 100;
      changed.section.depth_springing_m *= 1 + percent / 100;
      if (keep("a section " + fixed(percent, 0) + " % deeper", changed)) return true;
    }
    return false;
  }

  bool higher() {
    for (const double percent : {10, 25}) {
      Brief changed = brief_;
      changed.form.rise_m *= 1 + percent / 100;
      if (keep("a rise " + fixed(percent, 0) + " % greater", changed)) return true;
    }
    return false;
  }

  bool keep(std::string change, const Brief& changed) {
    progress_.checkpoint("what would relieve the joints", 0);
    JointTrial trial;
    trial.change = std::move(change);
    trial.brief = changed;
    Faults faults;
    judge(shapes_.rough(changed, faults), faults, pressing_, trial);
    if (!trial.reserve || *trial.reserve > kFarOff) {
      const Dossier* shape = shapes_.sought(changed, faults);
      judge(shape, faults, pressing_, trial);
      if (trial.passes()) judge(shape, faults, {}, trial);
    }
    trials_.push_back(std::move(trial));
    return trials_.back().passes();
  }

  void judge(const Dossier* shape, const Faults& faults, const std::set<std::string>& only,
             JointTrial& trial) const {
    trial.reserve.reset();
    Result<Dossier> cut = shape == nullptr ? faults : cut_for(trial.brief, *shape, progress_);
    if (!cut) {
      const Fault& fault = cut.faults().front();
      trial.reason = "found " + fault.found + ", expected " + fault.expected;
      return;
    }
    Dossier blocks = std::move(cut).value();
    put_loads_of(only, blocks);
    press(blocks);
    if (!std::ranges::all_of(blocks.proofs, [](const CaseProof& p) { return p.pads->found; })) {
      trial.reason = "in some cases the pads find no state";
      return;
    }
    const Pressed most = most_pressed(blocks);
    if (most.in == nullptr) {
      trial.reason = "no joint is pressed";
      return;
    }
    trial.reserve = most.reserve();
    trial.where = place_of(blocks, most);
  }

  const Brief& brief_;
  const Progress& progress_;
  std::set<std::string> pressing_;
  TrialShapes shapes_;
  std::vector<JointTrial> trials_;
};

}  // namespace

std::vector<JointTrial> try_joint_remedies(const Dossier& dossier, const Progress& progress) {
  const Pressed most = most_pressed(dossier);
  if (most.in == nullptr || most.reserve() >= 1) return {};
  return Relief(dossier, progress).run();
}

std::string remedies_in_words(const Dossier& dossier, const std::vector<JointTrial>& trials) {
  if (trials.empty()) return "";
  std::string text = "tried one by one, in the cases that press most: ";
  const JointTrial* nearest = nullptr;
  for (const JointTrial& trial : trials) {
    text += (&trial == trials.data() ? "" : ", ") + trial.change + ": " +
            (trial.reserve ? fixed(*trial.reserve, 3) : trial.reason);
    if (!trial.reserve) continue;
    if (nearest == nullptr || *trial.reserve > *nearest->reserve) nearest = &trial;
  }
  if (nearest != nullptr && nearest->passes())
    return text + "; the first that does, in all cases: " + nearest->change +
           ". Whether the bridge stands with it is for a run to prove";
  text += "; none of these does";
  if (nearest != nullptr)
    text += ", the nearest is " + nearest->change + " (" + nearest->where + ")";
  const Pressed most = most_pressed(dossier);
  const double concrete = concrete_limit_pa(dossier.brief, dossier.brief.factors.concrete);
  const std::string peak = fixed(std::ceil(most.peak_pa / 1e5) / 10, 1);
  if (most.peak_pa > concrete)
    return text + ". " + peak + " MPa is more than the concrete takes, " + fixed(concrete / 1e6, 1);
  return text + ". As they lie, pads as stiff would have to be shown to take " + peak +
         " MPa (required.pad_stress; the concrete takes " + fixed(concrete / 1e6, 1) + ")";
}

}  // namespace skewback
