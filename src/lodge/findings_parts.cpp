#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"
#include "lodge/joint_names.hpp"
#include "works/works.hpp"

namespace skewback::lodge {

Json place(const char* kind, const std::string& id, const std::optional<Vec3>& at) {
  return {{"kind", kind}, {"id", id}, {"at", at ? json(*at) : Json(nullptr)}};
}
Json nowhere() { return place("none", "", std::nullopt); }

Json joint_place(const Assembly& assembly, int joint) {
  const std::string id = joint_id(assembly, joint);
  if (id.empty()) return nowhere();
  return place("joint", id, assembly.joints[static_cast<std::size_t>(joint)].frame.origin);
}

Json block_place(const Assembly& assembly, int block) {
  if (block < 0 || static_cast<std::size_t>(block) >= assembly.blocks.size()) return nowhere();
  const Block& b = assembly.blocks[static_cast<std::size_t>(block)];
  return place("block", b.id, centre_of_gravity(b));
}

Json block_place(const Assembly& assembly, const std::string& id) {
  const auto found = std::ranges::find(assembly.blocks, id, &Block::id);
  return found == assembly.blocks.end()
             ? nowhere()
             : block_place(assembly, static_cast<int>(found - assembly.blocks.begin()));
}

Json support_place(const Plan& plan, const std::string& id) {
  const auto found = std::ranges::find(plan.supports, id, &Support::id);
  if (found == plan.supports.end()) return nowhere();
  const Vec2 middle = (found->a + found->b) / 2;
  return place("support", id, Vec3(middle.x(), middle.y(), found->level_m));
}

Json tie_place(const Brief& brief, const Groundworks& ground, const std::string& id) {
  const auto& laid = ground.laid.empty() ? brief.ground.ties : ground.laid;
  const auto tie = std::ranges::find(laid, id, &Tie::id);
  if (tie == laid.end()) return nowhere();
  const auto middle = [&](int s) {
    const Support& support = brief.plan.supports[static_cast<std::size_t>(s)];
    return Vec2((support.a + support.b) / 2);
  };
  const Vec2 at = (middle(tie->from) + middle(tie->to)) / 2;
  return place("tie", id, Vec3(at.x(), at.y(), tie->level_m));
}

std::string moment_of_placing(const Dossier& dossier, const std::string& block) {
  if (!dossier.programme) return "closed";
  for (const Stage& stage : dossier.programme->stages) {
    if (stage.what == "place" && std::ranges::find(stage.blocks, block) != stage.blocks.end())
      return "stage " + std::to_string(stage.step);
  }
  return "closed";
}

std::string moment_in(const std::string& words, const std::string& otherwise) {
  const std::string mark = "(step ";
  const auto from = words.rfind(mark);
  if (from == std::string::npos) return otherwise;
  const auto digits = from + mark.size(), to = words.find_first_not_of("0123456789", digits);
  if (to == std::string::npos || to == digits) return otherwise;
  return "stage " + words.substr(digits, to - digits);
}

std::vector<RequiredCheck> asked_of(const Dossier& dossier) {
  std::vector<RequiredCheck> checks = dossier.required;
  if (checks.empty() && dossier.cut) checks = required_checks(dossier);
  for (RequiredCheck& check : checks) {  // what no proof was made for cannot fail yet
    const bool all_stand = std::ranges::all_of(
        dossier.proofs, [](const CaseProof& proof) { return proof.verdict == Verdict::kStands; });
    if (all_stand && !check.value && dossier.required.empty()) check.passes.reset();
  }
  return checks;
}

const RequiredCheck* find(const std::vector<RequiredCheck>& checks, const std::string& name) {
  const auto found = std::ranges::find(checks, name, &RequiredCheck::name);
  return found == checks.end() ? nullptr : &*found;
}

Weight weight_of(double share) {
  if (share > 1) return kFails;
  return share >= kNear ? kNearLimit : kHolds;
}

Weight weight_of(const RequiredCheck& check, const std::optional<double>& share) {
  if (!check.passes) return kNotChecked;
  if (!*check.passes) return kFails;
  return share && *share >= kNear ? kNearLimit : kHolds;
}

Finding not_checked(const RequiredCheck& check, const std::string& what) {
  Finding out{check.name, kNotChecked};
  out.says = "Not checked: " + what + ".";
  if (!check.note.empty()) out.says += " " + sentence(check.note);
  return out;
}

namespace {
deliver::Writing writing_of(double value, const std::string& unit) {
  using deliver::decimals;
  if (unit == "Pa")
    return std::abs(value) < 1e5 ? decimals(1, " kPa", 1e-3) : decimals(2, " MPa", 1e-6);
  if (unit == "N") return decimals(1, " kN", 1e-3);
  if (unit == "N m") return decimals(2, " kN m", 1e-3);
  if (unit == "m") return std::abs(value) < 1 ? decimals(1, " mm", 1e3) : decimals(2, " m");
  if (unit == "rad") return decimals(1, " degrees", 180 / kPi);
  if (unit == "kg") return decimals(0, " kg");
  return decimals(2, unit.empty() ? "" : " " + unit);
}
}  // namespace

std::string measure(double value, const std::string& unit) {
  return writing_of(value, unit)(value, 0);
}

deliver::TwoFigures measures(double found, double limit, const std::string& unit) {
  return deliver::told_apart(
      found, limit, [&](double value, int more) { return writing_of(value, unit)(value, more); });
}

std::string sentence(std::string text) {
  if (text.empty()) return text;
  if (text.front() >= 'a' && text.front() <= 'z') text.front() -= 'a' - 'A';
  return stopped(std::move(text));
}

std::string stopped(std::string text) {
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

std::string few(const std::vector<std::string>& names, std::size_t most) {
  const std::size_t shown = std::min(most, names.size());
  std::string out =
      deliver::joined({names.begin(), names.begin() + static_cast<long>(shown)}, ", ");
  if (shown < names.size()) out += " and " + std::to_string(names.size() - shown) + " more";
  return out;
}

}  // namespace skewback::lodge
