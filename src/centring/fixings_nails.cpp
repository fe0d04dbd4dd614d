// Nails of the packings between crossed braces, screws of laggings.

#include <algorithm>
#include <cmath>

#include "centring/fixings_parts.hpp"
#include "centring/judge_parts.hpp"
#include "centring/polyline.hpp"

namespace skewback {
namespace {

constexpr double kOnAxis_m = 0.02;  // from a packing's middle to the axes of the pair it packs
constexpr int kNails = 2;           // from each board

std::string sized(const NailSize& nail) {
  return size_in_mm(nail.thick_m) + " x " + size_in_mm(nail.long_m);
}

void count(Fixings& out, const Fixing& more) {
  const auto alike = std::ranges::find_if(out.rows, [&](const Fixing& f) {
    return f.what == more.what && f.where == more.where && f.size == more.size;
  });
  if (alike == out.rows.end()) {
    out.rows.push_back(more);
    return;
  }
  alike->number += more.number;
  alike->at.insert(alike->at.end(), more.at.begin(), more.at.end());
}

/// A pair is a/b and b/a, its packing axb.
bool is_packed_by(const Stick& brace, const Stick& packing) {
  const std::size_t between = brace.id.find('/');
  if (between == std::string::npos) return false;
  const std::string a = brace.id.substr(0, between), b = brace.id.substr(between + 1);
  return packing.id == a + "x" + b || packing.id == b + "x" + a;
}

void packed_braces(const Centring& centring, Fixings& out) {
  for (const Stick& packing : centring.sticks) {
    if (packing.kind != "packing") continue;
    const Vec3 middle = (packing.from + packing.to) / 2;
    int boards = 0;
    double thick = 0;
    for (const Stick& brace : centring.sticks) {
      if (brace.kind != "brace" || !is_packed_by(brace, packing) ||
          off_stick_m(brace, middle) > kOnAxis_m)
        continue;
      ++boards;
      thick = std::max(thick, std::min(brace.width_m, brace.depth_m));
    }
    if (boards == 0) continue;
    count(out, {"nail",
                "packing of crossed braces",
                sized(nail_for(thick)),
                "",
                kNails * boards,
                thick,
                0,
                {packing.id},
                "two from each board; 2.5 times the board long (common practice, no source)"});
  }
}

/// Ribs along on whose top the lagging lies.
int ribs_under(const Centring& centring, const Stick& lagging) {
  int under = 0;
  for (const Rib& rib : centring.ribs) {
    if (rib.is_cross || rib.top.empty()) continue;
    const Vec3 a = rib.place.to_local(lagging.from), b = rib.place.to_local(lagging.to);
    if (a.z() * b.z() > 0 || std::abs(a.z() - b.z()) < 1e-9) continue;
    const Vec3 there = a + a.z() / (a.z() - b.z()) * (b - a);
    if (there.x() < rib.top.front().x() || there.x() > rib.top.back().x()) continue;
    // half the lagging square to the soffit, more upright where that is steep
    const double reach = std::max(lagging.width_m, lagging.depth_m);
    if (std::abs(there.y() - height(rib.top, there.x())) < reach) ++under;
  }
  return under;
}

void laggings(const Brief& brief, const Centring& centring, Fixings& out) {
  std::vector<std::string> loose;
  for (const Stick& lagging : centring.sticks) {
    if (lagging.kind != "lagging") continue;
    const int under = ribs_under(centring, lagging);
    const double thick = std::min(lagging.width_m, lagging.depth_m);
    if (under == 0) {
      loose.push_back(lagging.id);
      continue;
    }
    count(out, {"screw",
                "lagging on a rib",
                sized(screw_for(thick, brief.centring.sheet_thickness_m)),
                "",
                under == 1 ? 2 : under,
                thick,
                0,
                {lagging.id},
                "one at each rib it lies on, two where it lies on one alone, holes drilled first; "
                "2.5 times the lagging long, a quarter of the sheet thick at most (common "
                "practice, no source)"});
  }
  if (!loose.empty())
    out.missing.push_back("Laggings that lie on no rib: " + named_ids(loose) + ".");
}

}  // namespace

std::string named_ids(std::vector<std::string> ids) {
  std::string out;
  for (const std::string& id : ids) out += (out.empty() ? "" : ", ") + id;
  return out;
}

void list_nails(const Brief& brief, const Centring& centring, Fixings& out) {
  packed_braces(centring, out);
  laggings(brief, centring, out);
}

}  // namespace skewback
