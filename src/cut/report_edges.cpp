// What chips or carries nothing: sharp arrises that could not be blunted, joints of next to no
// contact.

#include <algorithm>
#include <cstdio>
#include <utility>
#include <vector>

#include "base/constants.hpp"
#include "cut/arrises.hpp"
#include "cut/pieces.hpp"

namespace skewback {
namespace {

std::string and_more(std::size_t all) {
  return all > 1 ? "; " + std::to_string(all - 1) + " more like it" : std::string();
}

}  // namespace

void report_sharp(const Assembly& assembly, CutReport& report) {
  char text[240];
  const Block* worst = nullptr;
  Arris sharpest{kPi, 0};
  std::size_t sharp = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const Arris arris = sharpest_arris(block.solid);
    if (arris.length_m < kLeastArris_m) continue;
    ++sharp;
    if (arris.inside_rad >= sharpest.inside_rad) continue;
    sharpest = arris;
    worst = &block;
  }
  if (worst != nullptr) {
    std::snprintf(text, sizeof text,
                  "%s has an arris of %.0f degrees; %.0f mm of its arrises are sharper than %.0f, "
                  "which chip when it is stripped, slung or set",
                  worst->id.c_str(), sharpest.inside_rad * 180 / kPi, 1e3 * sharpest.length_m,
                  kSharpArris_rad * 180 / kPi);
    report.remarks.push_back(text + and_more(sharp));
  }
  const double limit = small_contact_m2(assembly);
  std::vector<std::pair<double, const Joint*>> small;
  for (const Joint& joint : assembly.joints)
    if (const double contact = area(joint.contact); contact < limit)
      small.emplace_back(contact, &joint);
  if (small.empty()) return;
  const auto& [contact, least] =
      *std::ranges::min_element(small, {}, &std::pair<double, const Joint*>::first);
  std::snprintf(text, sizeof text,
                "%s and %s touch over %.1f cm2, half of all joints over %.0f cm2 or more: on "
                "so little a pad hardly carries",
                assembly.blocks[static_cast<std::size_t>(least->a)].id.c_str(),
                assembly.blocks[static_cast<std::size_t>(least->b)].id.c_str(), 1e4 * contact,
                1e5 * limit);
  report.remarks.push_back(text + and_more(small.size()));
}

}  // namespace skewback
