#include "centring/rib_marks.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kWide = 0.65;                   // of a letter's height, its width
constexpr double kFree = 0.004;                  // m, between words and the outline
constexpr double kSmall = 0.008, kTick = 0.018;  // m

/// Corners and middles of a box about words: within the outline, and no other mark in it.
bool is_free(const SheetPart& part, const Vec2& middle, const Vec2& half) {
  for (const double sx : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    for (const double sy : {-1.0, 0.0, 1.0}) {
      if (!contains(part.outline, middle + Vec2(sx * half.x(), sy * half.y()))) return false;
    }
  }
  for (const Engraving& other : part.marks) {
    if (!other.words.empty()) {
      const Vec2 centre = other.at + Vec2(0, other.height_m / 2);
      const double wide = kWide * other.height_m * static_cast<double>(other.words.size()) / 2;
      if (std::abs(centre.x() - middle.x()) < half.x() + wide &&
          std::abs(centre.y() - middle.y()) < half.y() + other.height_m / 2) {
        return false;
      }
    }
    for (const Vec2& p : other.line) {
      if (std::abs(p.x() - middle.x()) < half.x() && std::abs(p.y() - middle.y()) < half.y()) {
        return false;
      }
    }
  }
  for (const Polygon& hole : part.outline.holes) {
    for (const Vec2& p : hole) {
      if (std::abs(p.x() - middle.x()) < half.x() && std::abs(p.y() - middle.y()) < half.y()) {
        return false;
      }
    }
  }
  return true;
}

struct Placed {  // rib x, y to the part's
  const Frame& rib;
  const Frame& part;
  Vec2 operator()(const Vec2& p) const { return part.to_local(rib.to_world(p)).head<2>(); }
};

void engrave(SheetPart& part, std::vector<Vec2> line) {
  Engraving mark;
  mark.line = std::move(line);
  part.marks.push_back(std::move(mark));
}

void tick(SheetPart& part, const Vec2& from, const Vec2& to) {
  if (contains(part.outline, from) && contains(part.outline, to)) {
    engrave(part, {from, to});
  }
}

void mark_joints(const CentringDraft& draft, const RibDraft& rib, double from, double to,
                 const Placed& placed, SheetPart& part) {
  for (std::size_t i = 0; i + 1 < rib.spans.size(); ++i) {
    const Span &a = rib.spans[i], &b = rib.spans[i + 1];
    const double x = (a.to + b.from) / 2;
    if (a.block == b.block || x < from + 0.01 || x > to - 0.01) continue;
    const Vec2 edge = placed({x, height(rib.rib.top, x)});
    tick(part, edge - Vec2(0, 0.002), edge - Vec2(0, kTick));
    const auto name = [&](int block) {
      return draft.assembly.blocks[static_cast<std::size_t>(block)].id;
    };
    mark_words(part, name(a.block) + "|" + name(b.block), edge - Vec2(0, kTick + kFree + kSmall),
               kSmall);
  }
}

void mark_slots(const CentringDraft& draft, const RibDraft& rib, double from, double to,
                const Placed& placed, SheetPart& part) {
  for (const Crossing& c : rib.crossings) {
    if (c.x < from || c.x > to) continue;
    const double past = (rib.rib.is_cross ? 1 : -1) * 0.02;
    mark_words(part, draft.ribs[static_cast<std::size_t>(c.other)].rib.id,
               placed({c.x, c.slot_end_m + past}), 0.012);
  }
}

void mark_feet(const RibDraft& rib, double from, double to, const Placed& placed, SheetPart& part) {
  for (std::size_t i = 0; i < rib.rib.feet.size(); ++i) {
    const double x = rib.rib.feet[i];
    if (x < from || x > to) continue;
    const Vec2 edge = placed({x, height(rib.rib.bottom, x)});
    tick(part, edge + Vec2(0, 0.002), edge + Vec2(0, kTick));
    mark_words(part, rib.rib.id + "-" + std::to_string(i + 1),
               edge + Vec2(0, kTick + kFree + kSmall), kSmall);
  }
}

/// An arrow along the part towards the support from which the rib starts, and its name.
void mark_way(const CentringDraft& draft, const RibDraft& rib, double from, double to,
              const Placed& placed, SheetPart& part) {
  if (rib.rib.is_cross || rib.spans.empty() || rib.run.bridging) return;
  const int arm =
      draft.assembly.blocks[static_cast<std::size_t>(rib.spans.front().block)].place.arm;
  const auto& supports = draft.brief.plan.supports;
  if (arm < 0 || arm >= static_cast<int>(supports.size())) return;
  for (const double t : {0.3, 0.7, 0.2, 0.8, 0.4, 0.6}) {
    const double x = from + t * (to - from);
    const Vec2 at = placed({x, height(rib.rib.bottom, x) * 0.65 + height(rib.rib.top, x) * 0.35});
    if (!mark_words(part, supports[static_cast<std::size_t>(arm)].id, at, 0.012)) continue;
    const Vec2 tip = at - Vec2(0.1, 0.016), tail = at + Vec2(0.03, -0.016);
    if (contains(part.outline, tip) && contains(part.outline, tail)) {
      engrave(part, {tail, tip});
      engrave(part, {tip + Vec2(0.015, 0.006), tip, tip + Vec2(0.015, -0.006)});
    }
    return;
  }
}

}  // namespace

bool mark_words(SheetPart& part, const std::string& words, const Vec2& middle, double height_m) {
  const Vec2 half(kWide * height_m * static_cast<double>(words.size()) / 2 + kFree,
                  height_m / 2 + kFree);
  for (const double lift :
       {0.0, -0.5, 0.5, -1.0, 1.0, -1.6, 1.6, -2.4, 2.4, -3.5, 3.5, -5.0, 5.0}) {
    const Vec2 at = middle + Vec2(0, lift * (height_m + 2 * kFree));
    if (!is_free(part, at, half)) continue;
    Engraving mark;
    mark.words = words;
    mark.at = at - Vec2(0, height_m / 2);
    mark.height_m = height_m;
    part.marks.push_back(std::move(mark));
    return true;
  }
  return false;
}

void mark_piece(const CentringDraft& draft, const RibDraft& rib, double from, double to,
                SheetPart& part) {
  const Placed placed{rib.rib.place, part.place};
  mark_joints(draft, rib, from, to, placed, part);
  mark_slots(draft, rib, from, to, placed, part);
  mark_feet(rib, from, to, placed, part);
  for (const double t : {0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65}) {
    const double x = from + t * (to - from);
    const Vec2 at = placed({x, (height(rib.rib.bottom, x) + height(rib.rib.top, x)) / 2});
    if (mark_words(part, part.id, at, 0.02)) break;
  }
  mark_way(draft, rib, from, to, placed, part);
}

}  // namespace skewback
