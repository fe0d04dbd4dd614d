#include "deliver/facts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <tuple>

#include "base/constants.hpp"
#include "brief/meetings.hpp"
#include "deliver/text.hpp"

namespace skewback {

bool Dossier::all_required_pass() const {
  return !required.empty() && std::all_of(required.begin(), required.end(), [](const auto& check) {
    return check.passes.value_or(false);
  });
}

namespace {

std::string with_unit(double value, const std::string& unit) {
  if (unit == "blocks") return deliver::fixed(value, 0) + (value == 1 ? " block" : " blocks");
  if (unit == "degrees" || unit == "kg") return deliver::fixed(value, 1) + " " + unit;
  return deliver::fixed(value, 3) + (unit.empty() ? "" : " " + unit);
}

}  // namespace

std::string value_words(const RequiredCheck& check) {
  if (check.value && !std::isfinite(*check.value)) return "unbounded";
  return check.value ? with_unit(*check.value, check.unit) : "";
}

std::string limit_words(const RequiredCheck& check) {
  return (check.at_most ? "at most " : "at least ") + with_unit(check.limit, check.unit);
}

namespace deliver {
namespace {

constexpr std::array<Colour, 6> kArms = {{{86, 180, 233},   // sky blue
                                          {230, 159, 0},    // orange
                                          {0, 158, 115},    // bluish green
                                          {204, 121, 167},  // reddish purple
                                          {0, 114, 178},    // blue
                                          {213, 94, 0}}};   // vermilion

int concern(Verdict verdict) {
  if (verdict == Verdict::kFalls) return 0;
  return verdict == Verdict::kUndecided ? 1 : 2;
}

}  // namespace

Colour arm_colour(int arm) {
  return arm < 0 ? kKey : kArms[static_cast<std::size_t>(arm) % kArms.size()];
}

Colour block_colour(const Block& block) {
  return block.fixed ? kGround : arm_colour(block.place.arm);
}

std::string arm_name(const Brief& brief, const Block& block) {
  return block.fixed ? "ground" : arm_name(brief, block.place.arm);
}

std::string arm_name(const Brief& brief, int arm) {
  if (arm < 0) return "key";
  const auto k = static_cast<std::size_t>(arm);
  if (k < brief.plan.supports.size()) return brief.plan.supports[k].id;
  if (brief.plan.second_meeting) return k == brief.plan.supports.size() ? "spine-a" : "spine-b";
  return "arm " + std::to_string(arm);
}

std::string joint_name(const Assembly& assembly, int joint) {
  if (joint < 0 || static_cast<std::size_t>(joint) >= assembly.joints.size()) return "";
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  const auto id = [&](int b) { return assembly.blocks[static_cast<std::size_t>(b)].id; };
  return j.a < 0 || j.b < 0 ? "" : id(j.a) + " | " + id(j.b);
}

std::vector<std::size_t> worst_first(const std::vector<CaseProof>& proofs) {
  std::vector<std::size_t> order(proofs.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto key = [&](std::size_t i) {
    const CaseProof& p = proofs[i];
    double factor = p.at_cap ? 1e299 : p.load_factor.value_or(1e300);
    if (p.pads_load_factor && !p.pads_at_cap) factor = std::min(factor, *p.pads_load_factor);
    return std::tuple(concern(p.verdict), factor, -p.joint_stress_max_pa.value_or(0));
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return order;
}

std::vector<std::string> evidence_paths(const std::vector<CaseProof>& proofs,
                                        const std::string& folder) {
  std::set<std::string> used;
  std::vector<std::string> paths;
  for (const CaseProof& proof : proofs) {
    const std::string stem = folder + "/" + file_stem(proof.id);
    std::string path = stem + ".json";
    for (int n = 2; !used.insert(path).second; ++n) path = stem + "~" + std::to_string(n) + ".json";
    paths.push_back(path);
  }
  return paths;
}

const Assembly* assembly_of(const Dossier& dossier) {
  if (dossier.cut) return &dossier.cut->assembly;
  return dossier.given ? &*dossier.given : nullptr;
}

std::string motion_path(const std::string& limit_path) {
  static const std::string from = "evidence/";
  const std::size_t at = limit_path.rfind(from);
  if (at == std::string::npos) return "motion/" + limit_path;
  return limit_path.substr(0, at) + "motion/" + limit_path.substr(at + from.size());
}

std::optional<double> motion_over_pads(const CaseProof& proof) {
  if (!proof.motion || !proof.pads || !proof.pads->found) return {};
  double pads = 0, motion = 0;
  for (const JointPad& joint : proof.pads->joints) pads = std::max(pads, joint.normal_n);
  for (const JointMotion& joint : proof.motion->joints) motion = std::max(motion, joint.normal_n);
  if (pads <= 0) return {};
  return motion / pads - 1;
}

std::string pads_evidence_path(const std::string& limit_path) {
  return limit_path.substr(0, limit_path.rfind(".json")) + ".pads.json";
}

std::vector<std::string> stage_evidence_paths(const Programme& programme) {
  std::vector<std::string> paths;
  const std::size_t digits =
      std::max<std::size_t>(2, std::to_string(programme.stages.size()).size());
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    std::string number = std::to_string(i + 1);
    number.insert(0, digits - std::min(digits, number.size()), '0');
    paths.push_back("evidence/stage-" + number + "-" + file_stem(programme.stages[i].what) +
                    ".json");
  }
  return paths;
}

BlockTotals totals(const Assembly& assembly) {
  BlockTotals t;
  t.joints = assembly.joints.size();
  for (const Block& block : assembly.blocks) {
    if (block.fixed) {
      ++t.ground_blocks;
      continue;
    }
    const double m = concrete_mass_kg(block);
    if (t.blocks == 0 || m > t.mass_max_kg) {
      t.mass_max_kg = m;
      t.heaviest = block.id;
    }
    t.mass_min_kg = t.blocks == 0 ? m : std::min(t.mass_min_kg, m);
    ++t.blocks;
    t.mass_kg += m;
    t.carried_kg += mass_kg(block) - m;
    t.volume_m3 += block.mass.volume;
  }
  return t;
}

Vec2 meeting_point(const Dossier& dossier) {
  const Plan& plan = dossier.brief.plan;
  if (const auto middle = middle_of_meetings(plan)) return *middle;
  if (plan.outline.size() >= 3) return centroid(Region{plan.outline, {}});
  return Vec2::Zero();
}

Vec2 meeting_point(const Dossier& dossier, std::size_t support) {
  const auto own = meeting_of(dossier.brief.plan, support);
  return own ? *own : meeting_point(dossier);
}

std::vector<FootingFound> footings_found(const Dossier& dossier) {
  std::vector<FootingFound> out;
  for (std::size_t k = 0; k < dossier.refit->footings.size(); ++k) {
    const Rigid& X = dossier.refit->footings[k].X;
    FootingFound found;
    for (const Support& s : dossier.brief.plan.supports) {
      if (k >= dossier.refit->supports.size() || s.id != dossier.refit->supports[k]) continue;
      const Vec2 plan = (s.a + s.b) / 2;
      const Vec3 middle(plan.x(), plan.y(), s.level_m);
      found.moved = X(middle) - middle;
    }
    found.turn_deg = std::acos(std::clamp((X.R.trace() - 1) / 2, -1.0, 1.0)) * 180 / kPi;
    out.push_back(found);
  }
  return out;
}

}  // namespace deliver
}  // namespace skewback
