#include "works/block_remedies.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>

#include "base/parallel.hpp"
#include "strength/concrete.hpp"
#include "works/block_strength.hpp"
#include "works/live.hpp"
#include "works/trial_blocks.hpp"

namespace skewback {
namespace {

constexpr double kBeads = 3;    // side by side in a leaf, at most
constexpr double kOpen = 0.05;  // m, least height of a tube
constexpr double kClassMost = 50e6;
// across, stress falls as 1/t in the plane of the deck and as 1/t^2 in the frame
constexpr double kLeafPower = 2;

std::string mm(double m) { return std::to_string(std::lround(1000 * m)) + " mm"; }

std::string figure(double value, int decimals = 2) {
  if (!std::isfinite(value)) return "without limit";
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

double rounded_up(double value, double step) { return std::ceil(value / step - 1e-9) * step; }

bool left_out(const BlockChecks& checks) {
  return std::ranges::any_of(checks.remarks, [](const std::string& remark) {
    return remark.find(" is not checked: ") != std::string::npos;
  });
}

const BlockFinding& worst_of(const Dossier& dossier) {
  return dossier.strength->findings[static_cast<std::size_t>(dossier.strength->worst)];
}

std::string place_of(const Dossier& dossier) {
  const BlockFinding& f = worst_of(dossier);
  return dossier.cut->assembly.blocks[static_cast<std::size_t>(f.block)].id + ", " + f.check;
}

/// Across the flow: what head joints divide.
double widest_m(const Brief& brief) {
  double widest = 0;
  for (const Support& s : brief.plan.supports) widest = std::max(widest, (s.b - s.a).norm());
  const double most = brief.blocks.width_max_m;
  return most > 0 ? std::min(most, widest) : widest;
}

/// The cases of the worst finding of each check, and dead load; without their factors.
std::set<std::string> governing_cases(const Dossier& dossier) {
  std::map<std::string, const BlockFinding*> worst;
  for (const BlockFinding& f : dossier.strength->findings) {
    const BlockFinding*& kept = worst[f.check];
    if (kept == nullptr || f.utilisation > kept->utilisation) kept = &f;
  }
  std::set<std::string> cases;
  for (const auto& [check, f] : worst) cases.insert(f->case_id.substr(0, f->case_id.find(" x ")));
  for (std::size_t i = 0; i < dossier.notes.size(); ++i) {
    const LoadCase& load = dossier.cut->assembly.cases[i];
    if (dossier.notes[i].kind == CaseKind::kPattern && !load.has_live()) cases.insert(load.id);
  }
  return cases;
}

BlockTrial judged(std::string change, const Brief& brief, const Result<Dossier>& run) {
  BlockTrial trial;
  trial.change = std::move(change);
  trial.brief = brief;
  if (!run) {
    const Fault& fault = run.faults().front();
    trial.reason = "found " + fault.found + ", expected " + fault.expected;
    return trial;
  }
  if (run->strength->worst < 0 || left_out(*run->strength)) {
    trial.reason = "in some cases the pads find no state";
    return trial;
  }
  trial.worst = worst_of(*run).utilisation;
  trial.where = place_of(*run);
  for (const Block& block : run->cut->assembly.blocks) {
    if (block.fixed) continue;
    ++trial.blocks;
    trial.mass_max_kg = std::max(trial.mass_max_kg, concrete_mass_kg(block));
  }
  return trial;
}

Dossier under_pads(Dossier dossier, const std::set<std::string>& only, const Progress& progress) {
  put_loads_of(only, dossier);
  const Assembly& assembly = dossier.cut->assembly;
  dossier.proofs.resize(assembly.cases.size());
  const PadModel model(assembly, dossier.stand_options);
  for_each_index(assembly.cases.size(), [&](std::size_t i) {
    CaseProof& proof = dossier.proofs[i];
    proof.id = assembly.cases[i].id;
    proof.verdict = Verdict::kStands;
    // patterns are solved again with their factor
    if (dossier.notes[i].kind == CaseKind::kPattern && assembly.cases[i].has_live()) return;
    proof.pads = model.solve(assembly.cases[i], {});
  });
  check_strength(dossier, progress);
  return dossier;
}

struct Skins {
  double leaf_m, spacing_m;
};

class Remedies {
 public:
  Remedies(const Dossier& dossier, const Progress& progress)
      : brief_(dossier.brief),
        dossier_(dossier),
        progress_(progress),
        now_(worst_of(dossier).utilisation),
        governing_(governing_cases(dossier)),
        shapes_(dossier, progress) {}

  std::vector<BlockTrial> run() {
    concrete() || skins() || pads() || head_joints() || thicker();
    return std::move(trials_);
  }

 private:
  bool concrete() {
    const double fck = brief_.material.fck_pa, needed = fck * std::pow(now_, 1.5);
    if (!(needed <= kClassMost)) return false;
    Brief changed = brief_;
    changed.material.fck_pa = rounded_up(needed, 5e6);
    return keep("concrete of " + figure(changed.material.fck_pa / 1e6, 0) + " MPa", changed);
  }

  [[nodiscard]] Skins proposed() const {
    const Section& s = brief_.section;
    if (!dossier_.strength->proposal) return {s.leaf_m, s.web_spacing_m};
    return {dossier_.strength->proposal->leaf_m, dossier_.strength->proposal->web_spacing_m};
  }

  [[nodiscard]] std::string words(const Skins& skins) const {
    const Section& s = brief_.section;
    if (skins.leaf_m == s.leaf_m && skins.spacing_m == s.web_spacing_m) return "";
    return "leaves of " + mm(skins.leaf_m) + " and webs " + mm(skins.spacing_m) + " apart";
  }

  [[nodiscard]] Brief with(const Skins& skins, int parts) const {
    Brief changed = brief_;
    changed.section.leaf_m = skins.leaf_m;
    changed.section.web_spacing_m = skins.spacing_m;
    if (parts > 1) changed.blocks.width_max_m = rounded_up(widest_m(brief_) / parts, 0.01);
    return changed;
  }

  bool skins() {
    at_first_ = {now_, 0, 0};
    if (!dossier_.strength->proposal) return false;
    const bool passes = keep(words(proposed()), with(proposed(), 1));
    at_first_[0] = last();
    return passes;
  }

  bool pads() {
    // twice as thick bends a block on uneven beds half as much, and helps nothing else
    if (!(brief_.joints.pad_thickness_m > 0) || last_or_now() > 2) return false;
    Brief changed = with(proposed(), 1);
    changed.joints.pad_thickness_m *= 2;
    return keep(joined(words(proposed()), "pads of " + mm(changed.joints.pad_thickness_m)),
                changed);
  }

  bool divided(const Skins& skins, int parts) {
    const Brief changed = with(skins, parts);
    return keep(joined(words(skins), "blocks no wider than " + figure(changed.blocks.width_max_m) +
                                         " m (head joints)"),
                changed);
  }

  bool head_joints() {
    for (const int parts : {2, 3}) {
      const bool passes = divided(proposed(), parts);
      at_first_[static_cast<std::size_t>(parts) - 1] = last();
      if (passes) return true;
    }
    return false;
  }

  bool thicker() {
    if (!brief_.section.hollow) return false;
    const Section& s = brief_.section;
    const double least_depth = std::min(s.depth_crown_m, s.depth_springing_m);
    for (const double times : {1.15, 1.4, 1.85}) {
      const double leaf = rounded_up(proposed().leaf_m * times, 0.005);
      const bool printed = !brief_.print.wanted || leaf <= kBeads * brief_.print.bead_max_m;
      if (!printed || 2 * leaf + kOpen > least_depth) break;
      // a patch bends a leaf by its thickness squared, and hardly by its span
      const double spacing = std::min(s.web_spacing_m, proposed().spacing_m * std::pow(times, 1.5));
      const Skins skins{leaf, std::max(0.005 * std::floor(spacing / 0.005), leaf + 0.05)};
      for (const int parts : {1, 2, 3}) {
        const double at_best =
            at_first_[static_cast<std::size_t>(parts) - 1] / std::pow(times, kLeafPower);
        if (at_best > 1) continue;
        if (parts == 1 ? keep(words(skins), with(skins, 1)) : divided(skins, parts)) return true;
      }
    }
    return false;
  }

  static std::string joined(const std::string& a, const std::string& b) {
    return a.empty() ? b : a + ", " + b;
  }

  [[nodiscard]] double last() const {
    return trials_.back().reason.empty() ? trials_.back().worst : HUGE_VAL;
  }

  [[nodiscard]] double last_or_now() const { return trials_.empty() ? now_ : last(); }

  bool keep(const std::string& change, const Brief& changed) {
    progress_.checkpoint("what would make the blocks strong enough", 0);
    Faults faults;
    const Dossier* shape = shapes_.sought(changed, faults);
    const Result<Dossier> blocks = shape == nullptr ? faults : cut_for(changed, *shape, progress_);
    if (!blocks) {
      trials_.push_back(judged(change, changed, blocks));
      return false;
    }
    trials_.push_back(judged(change, changed, under_pads(*blocks, governing_, progress_)));
    if (trials_.back().passes())
      trials_.back() = judged(change, changed, under_pads(*blocks, {}, progress_));
    return trials_.back().passes();
  }

  const Brief& brief_;
  const Dossier& dossier_;
  const Progress& progress_;
  double now_;
  std::set<std::string> governing_;
  TrialShapes shapes_;
  std::array<double, 3> at_first_{};  // with the skins proposed, by parts less one
  std::vector<BlockTrial> trials_;
};

}  // namespace

Result<Dossier> blocks_under_pads(const Brief& brief, const Progress& progress) {
  const Result<LiveShape> shape = live_shape(brief, nullptr, progress);
  if (!shape) return shape.faults();
  Result<Dossier> blocks = cut_for(brief, shape->dossier, progress);
  if (!blocks) return blocks;
  return under_pads(std::move(blocks).value(), {}, progress);
}

std::vector<BlockTrial> try_block_remedies(const Dossier& dossier, const Progress& progress) {
  if (!dossier.strength || dossier.strength->worst < 0) return {};
  if (worst_of(dossier).utilisation <= 1) return {};
  return Remedies(dossier, progress).run();
}

std::string remedies_in_words(const Dossier& dossier, const std::vector<BlockTrial>& trials) {
  if (trials.empty()) return "";
  const double now = worst_of(dossier).utilisation, fck = dossier.brief.material.fck_pa;
  std::string text =
      "Greatest use now " + figure(now) + " (" + place_of(dossier) +
      "). Tried in order of ease in the cases that govern now, everything else as in the brief: ";
  const BlockTrial* nearest = nullptr;
  for (const BlockTrial& trial : trials) {
    text += (&trial == trials.data() ? "" : "; ") + trial.change + ": " +
            (trial.reason.empty() ? figure(trial.worst) + " (" + trial.where + ")" : trial.reason);
    if (trial.too_heavy())
      text += ", with a block of " + figure(trial.mass_max_kg, 0) + " kg, over blocks.mass_max";
    if (!trial.reason.empty()) continue;
    if (nearest == nullptr || trial.worst < nearest->worst) nearest = &trial;
  }
  const double gain = mean_tension_pa(kClassMost) / mean_tension_pa(fck);
  if (now > gain && fck < kClassMost)
    text += ". Concrete alone does not do: its tension would have to be " + figure(now) +
            " times as high, C50/60 has " + figure(gain) + " times";
  // EN 1992-1-1 (3.4): tension follows the strength's growth to the power 2/3 after 28 days
  text += ", and 90 days of curing give " +
          figure(std::pow(age_factor(kNormalCement, 90), 2.0 / 3)) +
          " times (EN 1992-1-1 3.1.2, class N, from memory)";
  if (nearest == nullptr) return text + ". None of these gives blocks that could be checked.";
  const std::string made = std::to_string(nearest->blocks) + " blocks, the heaviest " +
                           figure(nearest->mass_max_kg, 0) + " kg";
  if (nearest->passes())
    return text + ". The least of these that makes every block strong enough, in all cases: " +
           nearest->change + ", " + figure(now) + " before and " + figure(nearest->worst) +
           " after; " + made + ". Whether the bridge stands with it is for a run to prove.";
  return text + ". None of these does; the nearest is " + nearest->change + ", " + figure(now) +
         " before and " + figure(nearest->worst) + " after; " + made + ".";
}

}  // namespace skewback
