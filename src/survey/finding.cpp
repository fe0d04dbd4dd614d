#include "survey/finding.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/constants.hpp"
#include "survey/footing_move.hpp"

namespace skewback {
namespace {

std::string figure(double value, int decimals, const char* unit) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f%s", decimals, value, unit);
  return text;
}
std::string millimetres(double m) { return figure(m * 1e3, 0, " mm"); }
std::string degrees(double radians) { return figure(std::abs(radians) * 180 / kPi, 2, " degrees"); }

std::string listed(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    text += (i == 0 ? "" : (i + 1 == parts.size() ? " and " : ", ")) + parts[i];
  }
  return text;
}

std::vector<std::string> motion_in_words(const Support& support, const Rigid& motion) {
  const auto [outward, left, up, turn, tilt] = footing_move(support, motion);
  constexpr double kLength = 0.5e-3, kAngle = 0.05 * kPi / 180;
  std::vector<std::string> parts;
  const auto add = [&](double length, const char* positive, const char* negative) {
    if (std::abs(length) < kLength) return;
    parts.push_back(millimetres(std::abs(length)) + (length > 0 ? positive : negative));
  };
  add(up, " high", " low");
  add(outward, " outward", " inward");
  add(left, " to the left", " to the right");
  if (std::abs(turn) >= kAngle) {
    parts.push_back("turned " + degrees(turn) + (turn > 0 ? " counter-clockwise" : " clockwise"));
  }
  if (tilt >= kAngle) parts.push_back("tilted " + degrees(tilt));
  return parts;
}

}  // namespace

std::string footings_in_words(const Brief& brief, const std::vector<Rigid>& motion) {
  std::string text;
  for (std::size_t s = 0; s < motion.size(); ++s) {
    const auto parts = motion_in_words(brief.plan.supports[s], motion[s]);
    if (parts.empty()) continue;
    text += (text.empty() ? "" : "; ") + ("footing " + brief.plan.supports[s].id + " is ") +
            listed(parts);
  }
  return text.empty() ? "every footing is within 0.5 mm of the plan" : text;
}

namespace {
std::string fewest_in_words(const Packed& packed) {
  if (!packed.fewest) return "";
  const auto& [places, bound] = *packed.fewest;
  if (bound >= places) return " (no choice of bed edges has fewer places)";
  return " (no choice of bed edges has fewer than " + std::to_string(bound) +
         " places; the edges taken have " + std::to_string(places) + ")";
}
}  // namespace

std::string closing_in_words(const Refit& found) {
  const auto chosen = std::ranges::find_if(found.trials, &RemedyTrial::chosen);
  const std::string remedy = chosen == found.trials.end() ? "" : chosen->name;
  if (!found.key_goes_in) {
    return "the key does not go in, whichever remedy is taken; nearest to it is \"" + remedy +
           "\": " + found.packed.reason;
  }
  const Packed& packed = found.packed;
  const std::string flush =
      found.stack.key_goes_in
          ? ""
          : "; laid flush, without packers, it does not (" + found.stack.finding + ")";
  if (packed.packers.empty() && packed.springers.empty()) {
    return "the key goes in without packers" +
           std::string(flush.empty() ? "" : " where every joint takes its share of the error") +
           (found.shifted ? ", " + remedy : "") + flush;
  }
  std::string text = "the key goes in: " + remedy + ", packers in " +
                     std::to_string(packed.packers.size()) + " places of " +
                     std::to_string(packed.packed_joints) +
                     (packed.packed_joints == 1 ? " joint" : " joints");
  if (!packed.packers.empty())
    text += ", the thickest " + figure(1e3 * packed.thickest_m, 1, " mm") + fewest_in_words(packed);
  return text + flush;
}

std::string crown_in_words(const Refit& found) {
  if (std::abs(found.crown_lower_m) < 0.5e-3) return "";
  return "; the crown then lies " + figure(1e3 * std::abs(found.crown_lower_m), 0, " mm") +
         (found.crown_lower_m > 0 ? " lower" : " higher") + " than drawn";
}

namespace {
/// Worst first, a few by name; empty where all stand within 10 mm (ours).
std::string feet_aside(const FeetSet& set) {
  constexpr double kOutOfPlace = 10e-3;
  constexpr std::size_t kNamed = 4;
  std::vector<const FootSetting*> aside;
  for (const FootSetting& foot : set.feet)
    if (foot.aside_m > kOutOfPlace) aside.push_back(&foot);
  if (aside.empty()) return "";
  std::ranges::stable_sort(aside, std::ranges::greater{}, &FootSetting::aside_m);
  std::string text;
  for (std::size_t i = 0; i < std::min(kNamed, aside.size()); ++i)
    text += (i == 0 ? "" : ", ") + aside[i]->foot + " by " + millimetres(aside[i]->aside_m);
  if (aside.size() > kNamed) text += " and " + std::to_string(aside.size() - kNamed) + " more";
  return "feet of the centring out of their places in plan: " + text +
         "; set them where they are drawn, ribs and seats are not made for these places";
}

/// Those far off each, of the others the worst few.
void add_blocks_in_place(const std::vector<BlockInPlace>& blocks, std::vector<std::string>& out) {
  constexpr std::size_t kNamed = 6;
  std::vector<const BlockInPlace*> off;
  for (const BlockInPlace& block : blocks)
    if (block.beyond) off.push_back(&block);
  std::ranges::stable_sort(off, std::ranges::greater{}, &BlockInPlace::worst_m);
  std::size_t said = 0;
  for (const BlockInPlace* block : off) {
    if (!block->far && said >= kNamed) break;
    out.push_back("block " + block->block + ", in place, " + block->finding);
    ++said;
  }
  if (said < off.size())
    out.push_back("and " + std::to_string(off.size() - said) +
                  " more blocks in place: all in asbuilt/blocks-in-place.csv");
}
}  // namespace

std::vector<std::string> measure_again(const Assembly& assembly, const Refit& found,
                                       const std::vector<std::string>& doubtful) {
  constexpr double kThick = 10e-3;  // ours: worth a second look before it is cut or cast
  std::vector<std::string> out = doubtful;
  for (const std::string& remark : found.blocks.remarks) out.push_back("block " + remark);
  add_blocks_in_place(found.in_place, out);
  for (const MeasuredBlock& block : found.blocks.blocks) {
    if (block.fit.outliers.empty()) continue;
    out.push_back("block " + assembly.blocks[static_cast<std::size_t>(block.block)].id + ": " +
                  std::to_string(block.fit.outliers.size()) + " of its points are off");
  }
  std::vector<double> thickest(assembly.joints.size(), 0);
  for (const Packer& packer : found.packed.packers) {
    double& most = thickest[static_cast<std::size_t>(packer.joint)];
    most = std::max(most, packer.thickness_m());
  }
  for (std::size_t j = 0; j < thickest.size(); ++j) {
    if (thickest[j] <= kThick) continue;
    const Joint& joint = assembly.joints[j];
    out.push_back("joint " + assembly.blocks[static_cast<std::size_t>(joint.a)].id + " | " +
                  assembly.blocks[static_cast<std::size_t>(joint.b)].id + ", packed by up to " +
                  millimetres(thickest[j]) + ": its gap, when both blocks are in reach");
  }
  for (const int s : found.packed.springers) {
    out.push_back("footing " + found.supports[static_cast<std::size_t>(s)] +
                  ", before its springer is made anew");
  }
  if (!found.feet) return out;
  if (std::string words = feet_aside(*found.feet); !words.empty()) out.push_back(std::move(words));
  for (const FootSetting& foot : found.feet->feet) {
    if (foot.trim_m > 0)
      out.push_back("foot " + foot.foot + ", before " + millimetres(foot.trim_m) +
                    " are cut off its post");
  }
  return out;
}

}  // namespace skewback
