// What the judgement has to say beside its checks.

#include <algorithm>
#include <cmath>
#include <map>

#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

/// Vertical load from the blocks of each arm; keys and blocks of no arm under -1.
std::map<int, double> by_arm(const Assembly& assembly, const Centring& centring,
                             const SeatCase& from) {
  std::map<int, double> out;
  for (std::size_t s = 0; s < centring.seats.size(); ++s) {
    const auto block = static_cast<std::size_t>(centring.seats[s].prop.block);
    out[assembly.blocks[block].place.arm] -= from.force[s].z();
  }
  return out;
}

}  // namespace

std::vector<std::string> load_remarks(const Assembly& assembly, const SeatCases& cases,
                                      Centring& centring) {
  std::vector<std::string> out;
  std::string stage, design_stage, uneven_stage;
  double design = 0, uneven = 0, light = 0, heavy = 0;
  for (const SeatCase& from : cases.all) {
    const double n = down_n(from);
    if (from.design) {
      if (n > design) design = n, design_stage = from.stage;
      continue;
    }
    if (n > centring.load_max_n) centring.load_max_n = n, stage = from.stage;
    auto arms = by_arm(assembly, centring, from);
    arms.erase(-1);
    if (arms.size() < 2) continue;
    const auto [low, high] = std::ranges::minmax_element(
        arms, {}, [](const std::pair<const int, double>& a) { return a.second; });
    if (high->second - low->second <= uneven) continue;
    uneven = high->second - low->second;
    light = low->second;
    heavy = high->second;
    uneven_stage = from.stage;
  }
  if (stage.empty()) return out;
  out.push_back("It carries most at " + stage + ": " + kilonewtons_of(centring.load_max_n) +
                " of blocks; with factors, people and tools " + kilonewtons_of(design) + " at " +
                design_stage + ".");
  if (uneven > 0)
    out.push_back("Legs differ most at " + uneven_stage + ": " + kilonewtons_of(light) +
                  " on one, " + kilonewtons_of(heavy) + " on another.");
  if (cases.whole) {
    const SeatCase& whole = cases.all[*cases.whole];
    const auto idle =
        std::ranges::count_if(whole.force, [](const Vec3& f) { return f.norm() < 1; });
    out.push_back("At " + whole.stage + " " + std::to_string(idle) + " of " +
                  std::to_string(whole.force.size()) + " seats carry nothing (under 1 N).");
  }
  return out;
}

std::vector<std::string> limit_remarks(const Brief& brief) {
  std::vector<std::string> out = {
      "Ribs: plane beams on feet that do not give; slots count in strength, not in stiffness; "
      "shear modulus a twelfth of Young's (birch plywood, from memory). What the seats push along "
      "a rib goes to its braced feet; without braces it leaves in equal parts at all feet.",
      "Sheets: compression along taken as strong as the posts; E_0.05 two thirds of the mean for "
      "sheets, posts and braces.",
      "Working load: " + kilonewtons_of(brief.centring.working_load_pa) +
          "/m2 on the plan of every block, placed or not, in equal parts on its seats; at stages "
          "with people their own loads instead.",
      "Not looked at: the ground under the feet, slip of joints, wind on the centring, impact of "
      "a block that is set down, uneven settlement of feet, weight of posts and braces."};
  if (brief.centring.seats == "laggings")
    out.emplace_back(
        "Laggings: blocks are taken to bear where a lagging crosses a rib; none is judged as a "
        "beam.");
  return out;
}

}  // namespace skewback
