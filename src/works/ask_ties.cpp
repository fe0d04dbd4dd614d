#include "works/ask_ties.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

std::string kilonewtons(double n) { return figure_as("%.1f kN", n / 1e3); }
std::string millimetres(double m) { return figure_as("%.1f mm", 1e3 * m); }

bool holds(const BareFoot& foot) {
  return !foot.slides() && !foot.beyond_third && !(foot.bears && *foot.bears > 1);
}

const BareFoot* worst_slider(const std::vector<BareFoot>& feet) {
  const BareFoot* worst = nullptr;
  for (const BareFoot& foot : feet) {
    if (!foot.slides()) continue;
    const auto over = [](const BareFoot& f) { return f.push_n.norm() - f.resists_n; };
    if (worst == nullptr || over(foot) > over(*worst)) worst = &foot;
  }
  return worst;
}

/// What one foot has to do, and did while all ties were there.
std::string of_foot(const BareFoot& foot, const BareFoot& tied, bool soil_known) {
  const double push = foot.push_n.norm();
  std::string text = "Footing " + foot.id + " pushes the soil sideways with " + kilonewtons(push) +
                     " (" + kilonewtons(tied.push_n.norm()) + " with every tie)";
  if (!soil_known) {
    return text + ", which asks for a friction of " +
           figure_as("%.2f", push / std::max(1.0, foot.vertical_n)) + " under its base.";
  }
  text += "; its base resists " + kilonewtons(foot.resists_n) + ".";
  if (foot.beyond_third)
    text += std::string(" Its load passes beyond a third of the base") +
            (tied.beyond_third ? ", as with every tie." : ": it tips.");
  if (foot.bears && *foot.bears > 1)
    text += " The soil below is asked for " + figure_as("%.0f %%", 100 * *foot.bears) +
            " of what it bears (" + figure_as("%.0f %%", 100 * tied.bears.value_or(0)) +
            " with every tie).";
  if (std::abs(foot.turning_nm) > 0.05 * foot.vertical_n)
    text += " A turning moment of " + figure_as("%.1f kN m", std::abs(foot.turning_nm) / 1e3) +
            " about the vertical is left to the soil too, and was not judged.";
  return text;
}

std::string list_of(const std::vector<std::string>& ids) {
  std::string text = ids.size() > 1 ? "the ties " : "the tie ";
  for (std::size_t i = 0; i < ids.size(); ++i) text += (i > 0 ? ", " : "") + ids[i];
  return text;
}

/// What it comes to.
std::string outcome(const Brief& brief, const TiesOut& out) {
  const std::string without = "Without " + list_of(out.ids) + " ";
  if (!out.soil_known(brief))
    return without + "only the soil holds the feet, and the brief does not say what the soil is.";
  if (out.holds(brief)) return without + "the footings hold by themselves.";
  const BareFoot* slider = worst_slider(out.bare);
  if (slider == nullptr) {
    const auto it = std::ranges::find_if_not(out.bare, [](const BareFoot& f) { return holds(f); });
    return without + "footing " + it->id +
           (it->beyond_third ? " tips: its load passes beyond a third of its base."
                             : " sinks: the soil does not bear its load.");
  }
  if (!out.way) return without + "footing " + slider->id + " slides.";
  const std::string went = millimetres(out.way->most_m);
  if (!out.way->rests) {
    const BareFoot* last = worst_slider(out.way->feet);
    const BareFoot& foot = last != nullptr ? *last : *slider;
    return without + "it gives way: footing " + foot.id + " slides. " + went +
           " out it still pushes with " + kilonewtons(foot.push_n.norm()) +
           ", and its base resists " + kilonewtons(foot.resists_n) + "; " + out.way->reason + ".";
  }
  std::string text = without + "the feet slide and come to rest " + went +
                     " out, where the thrust has fallen to what their bases resist, with nothing "
                     "to spare";
  for (const BareFoot& foot : out.way->feet)
    if (foot.beyond_third || (foot.bears && *foot.bears > 1))
      text += "; there footing " + foot.id + (foot.beyond_third ? " tips" : " sinks");
  return text + ".";
}

}  // namespace

bool TiesOut::soil_known(const Brief& brief) const { return brief.soil.kind != SoilKind::kUnknown; }

bool TiesOut::holds(const Brief& brief) const {
  return soil_known(brief) &&
         std::ranges::all_of(bare, [](const BareFoot& foot) { return skewback::holds(foot); });
}

std::vector<Tie> ties_left(const AskedBridge& bridge, const std::vector<std::string>& without) {
  std::vector<Tie> out;
  for (const Tie& tie : bridge.ties)
    if (std::ranges::find(without, tie.id) == without.end()) out.push_back(tie);
  return out;
}

TiesOut take_ties_out(const AskedBridge& bridge, const AskedBlocks& blocks, const Forces& forces,
                      const std::vector<std::string>& ids) {
  TiesOut out;
  const std::vector<double> pulls = tie_pulls(bridge, blocks, forces, bridge.ties);
  for (std::size_t t = 0; t < bridge.ties.size(); ++t) {
    if (std::ranges::find(ids, bridge.ties[t].id) == ids.end()) continue;
    out.ids.push_back(bridge.ties[t].id);
    out.pulled_n.push_back(pulls[t]);
  }
  out.tied = bare_feet(bridge, blocks, forces, bridge.ties);
  out.bare = bare_feet(bridge, blocks, forces, ties_left(bridge, ids));
  return out;
}

void join_ground(const Brief& brief, const TiesOut& out, CaseProof& proof) {
  if (out.way && out.way->rests) join_views(Assembly{}, out.way->state, proof);
  if (proof.verdict != Verdict::kStands || out.holds(brief)) return;
  proof.verdict = Verdict::kUndecided;
  proof.reason = outcome(brief, out) +
                 " The blocks themselves balance on feet that stay; this is the balance of the "
                 "ground, no mechanism of the blocks.";
}

std::vector<std::string> words_of(const Brief& brief, const TiesOut& out) {
  std::vector<std::string> words;
  if (out.holds(brief)) words.push_back(outcome(brief, out));
  std::string pulled;
  for (std::size_t t = 0; t < out.ids.size(); ++t)
    pulled += (t > 0 ? ", " : "") + out.ids[t] + " " + kilonewtons(out.pulled_n[t]);
  words.push_back("Under this load it pulled: " + pulled + " (all its rods).");
  for (std::size_t i = 0; i < out.bare.size(); ++i)
    words.push_back(of_foot(out.bare[i], out.tied[i], out.soil_known(brief)));
  words.emplace_back(
      "Soil counted with no partial factors (the check of a lost tie, tie_loss, counts no soil at "
      "all); the stretch of the ties left is not part of this.");
  return words;
}

}  // namespace skewback
