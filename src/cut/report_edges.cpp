// What chips: sharp arrises, and joints of next to no contact.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <utility>

#include "base/constants.hpp"
#include "cut/pieces.hpp"

namespace skewback {
namespace {

constexpr double kSharp_rad = 30 * kPi / 180;  // ours; no source
constexpr double kLeastLength_m = 0.02;        // of sharp arris in a block
constexpr double kLeastFace_m2 = 1e-6;         // whose normal is to be trusted
constexpr double kSmallShare = 0.1;            // of the median contact; ours

/// Twice the area, along the outward normal (Newell).
Vec3 doubled_normal(const Solid& solid, const std::vector<int>& face) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 0; i < face.size(); ++i) {
    const Vec3& p = solid.vertices[static_cast<std::size_t>(face[i])];
    const Vec3& q = solid.vertices[static_cast<std::size_t>(face[(i + 1) % face.size()])];
    sum += p.cross(q);
  }
  return sum;
}

std::string and_more(std::size_t all) {
  return all > 1 ? "; " + std::to_string(all - 1) + " more like it" : std::string();
}

}  // namespace

Arris sharpest_arris(const Solid& solid) {
  Arris out{kPi, 0};
  std::map<std::pair<int, int>, Vec3> across;  // by edge, from the lower vertex: unit normal
  for (const std::vector<int>& face : solid.faces) {
    const Vec3 normal = doubled_normal(solid, face);
    if (normal.norm() < 2 * kLeastFace_m2) continue;
    for (std::size_t i = 0; i < face.size(); ++i)
      across.insert({{face[i], face[(i + 1) % face.size()]}, normal.normalized()});
  }
  for (const auto& [edge, normal] : across) {
    const auto other = across.find({edge.second, edge.first});
    if (edge.first > edge.second || other == across.end()) continue;
    const Vec3 way = solid.vertices[static_cast<std::size_t>(edge.second)] -
                     solid.vertices[static_cast<std::size_t>(edge.first)];
    const double turn =
        std::atan2(normal.cross(other->second).dot(way.normalized()), normal.dot(other->second));
    const double inside = kPi - turn;
    if (inside >= kSharp_rad) continue;
    out.inside_rad = std::min(out.inside_rad, inside);
    out.length_m += way.norm();
  }
  return out;
}

void report_sharp(const Assembly& assembly, CutReport& report) {
  char text[240];
  const Block* worst = nullptr;
  Arris sharpest{kPi, 0};
  std::size_t sharp = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const Arris arris = sharpest_arris(block.solid);
    if (arris.length_m < kLeastLength_m) continue;
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
                  kSharp_rad * 180 / kPi);
    report.remarks.push_back(text + and_more(sharp));
  }
  std::vector<std::pair<double, const Joint*>> contacts;
  for (const Joint& joint : assembly.joints) contacts.emplace_back(area(joint.contact), &joint);
  if (contacts.empty()) return;
  std::ranges::stable_sort(contacts, {}, &std::pair<double, const Joint*>::first);
  const double median = contacts[contacts.size() / 2].first;
  const auto small = static_cast<std::size_t>(std::ranges::count_if(
      contacts, [&](const auto& one) { return one.first < kSmallShare * median; }));
  if (small == 0) return;
  const Joint& least = *contacts.front().second;
  std::snprintf(text, sizeof text,
                "%s and %s touch over %.1f cm2, half of all joints over %.0f cm2 or more: too "
                "little for a pad to be laid and to carry",
                assembly.blocks[static_cast<std::size_t>(least.a)].id.c_str(),
                assembly.blocks[static_cast<std::size_t>(least.b)].id.c_str(),
                1e4 * contacts.front().first, 1e4 * median);
  report.remarks.push_back(text + and_more(small));
}

}  // namespace skewback
