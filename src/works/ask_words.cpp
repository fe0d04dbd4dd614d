#include "works/ask_words.hpp"

#include <algorithm>
#include <cmath>

#include "deliver/facts.hpp"
#include "deliver/told_apart.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

using deliver::joint_name;
using deliver::percent_used;
using deliver::told_apart;

const deliver::Writing kMegapascals = deliver::decimals(2, " MPa", 1e-6);
const deliver::Writing kKilonewtons = deliver::decimals(1, " kN", 1e-3);

/// Three figures that count.
std::string times(double factor, int more) {
  return figure_as(("%." + std::to_string(3 + more) + "g").c_str(), factor);
}

const PadState* pads_of(const CaseProof& proof) {
  return proof.pads && proof.pads->found ? &*proof.pads : nullptr;
}

/// What the case has to have on its live load.
double factor_asked(const AskedProof& f) {
  const Dossier& dossier = *f.bridge.dossier;
  const auto it = std::ranges::find(dossier.notes, f.question.case_id, &CaseNote::id);
  const bool factored = it != dossier.notes.end() && it->kind == CaseKind::kCombination;
  // what is asked about is put on as it is, without a factor
  const bool more = !f.question.crowds.empty() || !f.question.persons.empty();
  return factored && !more ? 1 : dossier.brief.required.live_factor;
}

std::optional<Measure> live_factor(const AskedProof& f) {
  const std::optional<double> factor = live_factor_of(f.proof);
  if (!factor || !(*factor > 0)) return std::nullopt;
  const double asked = factor_asked(f);
  Measure out{"live_factor", asked / *factor, -1, ""};  // the hinges are in the mechanism
  const auto [could, wanted] = told_apart(*factor, asked, times);
  out.says = std::string("all that is live could be ") +
             (factor_at_cap(f.proof) ? "at least " : "") + could + " times as much; " + wanted +
             " times is asked for";
  return out;
}

std::optional<Measure> joint_stress(const AskedProof& f) {
  const PadState* pads = pads_of(f.proof);
  if (pads == nullptr) return std::nullopt;
  std::optional<Measure> out;
  for (std::size_t j = 0; j < pads->joints.size(); ++j) {
    const double peak = pads->joints[j].peak_pa;
    const double limit = joint_limit(f.bridge.brief(), f.blocks.assembly.joints[j]);
    if (!(peak > 0) || !(limit > 0) || (out && peak / limit <= out->share)) continue;
    const int joint = static_cast<int>(j);
    const auto [pressed, may] = told_apart(peak, limit, kMegapascals);
    out = Measure{"joint_stress", peak / limit, joint,
                  "joint " + joint_name(f.blocks.assembly, joint) + " is pressed with " + pressed +
                      " at its worst point; " + may + " is what it may take"};
  }
  return out;
}

std::optional<Measure> friction(const AskedProof& f) {
  if (!f.proof.friction_needed) return std::nullopt;
  double has = HUGE_VAL;
  for (const Joint& joint : f.blocks.assembly.joints) has = std::min(has, joint.friction);
  if (!std::isfinite(has) || !(has > 0)) return std::nullopt;
  const double needs = *f.proof.friction_needed,
               reserve = f.bridge.brief().required.friction_reserve;
  return Measure{"friction", needs * reserve / has, -1,
                 "a friction of " + figure_as("%.3f", needs) +
                     " in every joint would do; they have " + figure_as("%.3g", has) + ", and " +
                     figure_as("%.3g", reserve) + " times is asked for"};
}

std::optional<Measure> footing(const AskedProof& f) {
  if (!f.ties || !f.ties->soil_known(f.bridge.brief())) return std::nullopt;
  std::optional<Measure> out;
  for (const BareFoot& foot : f.ties->bare) {
    const auto [holds, resists] = told_apart(foot.push_n.norm(), foot.resists_n, kKilonewtons);
    if (foot.used() > 0 && (!out || foot.used() > out->share))
      out = Measure{
          "footing", foot.used(), -1,
          "the soil is to hold " + holds + " under footing " + foot.id + " and resists " + resists};
    if (foot.bears && (!out || *foot.bears > out->share))
      out = Measure{"footing", *foot.bears, -1,
                    "the soil under footing " + foot.id + " is asked for " +
                        percent_used(*foot.bears) + " of what it bears"};
  }
  return out;
}

/// "12 of its 51 blocks move: four hinges: ..."
std::string fall_in_words(const Assembly& assembly, const Mechanism& mechanism) {
  constexpr double kMoves = 0.01;  // of the greatest speed, which is 1
  int all = 0, moving = 0;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    if (assembly.blocks[b].fixed) continue;
    ++all;
    const BlockVelocity& u = mechanism.blocks[b];
    if ((u.v + u.w.cross(centre_of_gravity(assembly.blocks[b]))).norm() > kMoves) ++moving;
  }
  return std::to_string(moving) + " of its " + std::to_string(all) +
         " blocks move: " + in_words(assembly, mechanism);
}

std::string verdict_in_words(const AskedProof& f) {
  const CaseProof& proof = f.proof;
  if (proof.verdict == Verdict::kFalls) {
    const auto* mechanism = std::get_if<Mechanism>(&proof.evidence);
    return "It falls: " +
           (mechanism != nullptr ? fall_in_words(f.blocks.assembly, *mechanism) : proof.reason) +
           ".";
  }
  if (proof.verdict == Verdict::kUndecided) {
    const bool stopped = proof.reason.ends_with(".");
    return "Undecided: " + proof.reason + (stopped ? "" : ".");
  }
  if (f.quick)
    return "It stands, by the pads alone: they reach a state in balance. How far the load could "
           "grow was not looked at.";
  return "It stands: forces balance every block, and the pads reach such a state.";
}

/// What the pads show beside their limits.
void tell_pads(const AskedProof& f, std::vector<std::string>& words) {
  const PadState* pads = pads_of(f.proof);
  if (pads == nullptr) return;
  constexpr double kOpen = 0.05e-3;
  if (pads->opening_joint >= 0 && pads->opening_max_m > kOpen) {
    const JointPad& pad = pads->joints[static_cast<std::size_t>(pads->opening_joint)];
    words.push_back("Joint " + joint_name(f.blocks.assembly, pads->opening_joint) + " opens by " +
                    figure_as("%.2f mm", 1e3 * pads->opening_max_m) + "; " +
                    percent_used(pad.closed_share) + " of it stays closed.");
  }
  if (pads->friction_joint >= 0) {
    const Joint& joint = f.blocks.assembly.joints[static_cast<std::size_t>(pads->friction_joint)];
    if (joint.friction > 0)
      words.push_back("Joint " + joint_name(f.blocks.assembly, pads->friction_joint) + " uses " +
                      percent_used(pads->friction_used / joint.friction) + " of its friction.");
  }
}

/// The peak, and how far the highest block that is still there has gone down.
std::optional<std::string> pads_changed(const AskedProof& f, const PadState& now,
                                        const PadState& then) {
  const Assembly& assembly = f.blocks.assembly;
  int crown = -1;
  const auto z = [&](int b) {
    return centre_of_gravity(assembly.blocks[static_cast<std::size_t>(b)]).z();
  };
  for (int b = 0; b < static_cast<int>(assembly.blocks.size()); ++b) {
    if (assembly.blocks[static_cast<std::size_t>(b)].fixed) continue;
    if (crown < 0 || z(b) > z(crown) + 1e-9) crown = b;
  }
  if (crown < 0) return std::nullopt;
  const auto raised = [&](const BlockVelocity& move) {
    const Vec3 at = centre_of_gravity(assembly.blocks[static_cast<std::size_t>(crown)]);
    return (move.v + move.w.cross(at)).z();
  };
  const auto before = static_cast<std::size_t>(f.blocks.block_of[static_cast<std::size_t>(crown)]);
  const double down =
      raised(then.moves[before]) - raised(now.moves[static_cast<std::size_t>(crown)]);
  constexpr double kSame = 0.005;  // of the peak; mm of the crown
  if (std::abs(down) < 1e-3 * kSame && std::abs(now.peak_pa - then.peak_pa) < kSame * then.peak_pa)
    return "the pads bear as before";
  const std::string at = "; the crown (" + assembly.blocks[static_cast<std::size_t>(crown)].id;
  return "peak pressure " + deliver::now_and_before(now.peak_pa, then.peak_pa, kMegapascals) + at +
         (std::abs(down) < 1e-3 * kSame
              ? ") as high as before"
              : figure_as(") %.2f mm ", 1e3 * std::abs(down)) + (down >= 0 ? "lower" : "higher"));
}

std::optional<std::string> changed(const AskedProof& f) {
  if (f.unasked == nullptr) return std::nullopt;
  std::vector<std::string> parts;
  const PadState *now = pads_of(f.proof), *then = pads_of(*f.unasked);
  if (now != nullptr && then != nullptr) {
    if (auto pads = pads_changed(f, *now, *then)) parts.push_back(*std::move(pads));
  }
  const auto factor = live_factor_of(f.proof), before = live_factor_of(*f.unasked);
  if (factor && before)
    parts.push_back("factor on the live load " + deliver::now_and_before(*factor, *before, times));
  if (parts.empty() && f.proof.verdict == f.unasked->verdict) return std::nullopt;
  std::string text = "Against the case " + f.question.case_id + " as it is";
  if (f.proof.verdict != f.unasked->verdict)
    parts.insert(parts.begin(),
                 std::string(word(f.proof.verdict)) + ", before " + word(f.unasked->verdict));
  for (std::size_t i = 0; i < parts.size(); ++i) text += (i > 0 ? "; " : ": ") + parts[i];
  return text + ".";
}

}  // namespace

std::vector<Measure> measures(const AskedProof& f) {
  std::vector<Measure> out;
  if (f.proof.verdict == Verdict::kFalls) return out;
  if (const auto feet = footing(f)) out.push_back(*feet);
  // a state that is not true has no figures; view 1 does not feel a push
  const bool blocks_hold = f.proof.verdict == Verdict::kStands || f.ties;
  if (blocks_hold)
    if (const auto stress = joint_stress(f)) out.push_back(*stress);
  if (blocks_hold && f.question.pushes.empty())
    for (const auto& measure : {live_factor(f), friction(f)})
      if (measure) out.push_back(*measure);
  std::ranges::stable_sort(out, std::greater<>{}, &Measure::share);
  return out;
}

std::vector<std::string> words_of(const AskedProof& f, const std::vector<Measure>& measured) {
  std::vector<std::string> words{verdict_in_words(f)};
  if (f.friction_least)
    words.push_back("It takes a friction of " + figure_as("%.3f", *f.friction_least) +
                    " in every joint.");
  for (std::size_t i = 0; i < measured.size(); ++i) {
    std::string says = measured[i].says;
    if (i > 0) says.front() = static_cast<char>(std::toupper(says.front()));
    const char* stands = measured[i].share > 1 ? "Over its limit (" : "Nearest its limit (";
    const std::string used = percent_used(measured[i].share) + " used)";
    words.push_back((i == 0 ? stands + used + ": " + says : says + " (" + used) + ".");
  }
  tell_pads(f, words);
  if (f.ties)
    for (std::string& line : words_of(f.bridge.brief(), *f.ties)) words.push_back(std::move(line));
  words.insert(words.end(), f.load.words.begin(), f.load.words.end());
  if (!f.question.pushes.empty())
    words.emplace_back(
        "The push on the footings is felt by the pads only: how far the load could grow is that "
        "of feet where they were.");
  if (auto line = changed(f)) words.push_back(*std::move(line));
  return words;
}

}  // namespace skewback
