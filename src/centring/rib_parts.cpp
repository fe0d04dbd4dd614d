#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "centring/rib_draft.hpp"
#include "centring/rib_marks.hpp"

namespace skewback {
namespace {

constexpr double kHolePlay = 0.001;   // m, of a hole over its bolt
constexpr double kLeastHalf = 0.06;   // m; shorter plates hold nothing
constexpr double kPlateShare = 0.85;  // of what is free of the rib's depth, that a plate takes

struct Splice {
  Frame flat;  // in the rib's plane: x along, y square to it, origin in the middle of the plate
  double half_length, half_width;
  std::vector<Vec2> holes;  // in `flat`
};

Vec2 to_rib(const Splice& s, const Vec2& p) { return s.flat.to_world(p).head<2>(); }

Polygon round_hole(const CentringDraft& draft, const Vec2& centre, bool clockwise) {
  const double hole_m = splice_bolt_m(draft.design) + kHolePlay;
  constexpr int kSides = 24;
  Polygon hole;
  for (int i = 0; i < kSides; ++i) {
    const double turn = (clockwise ? -2 : 2) * kPi * i / kSides;
    hole.push_back(centre + hole_m / 2 * Vec2(std::cos(turn), std::sin(turn)));
  }
  return hole;
}

Polygon plate(const Splice& s) {
  return {{-s.half_length, -s.half_width},
          {s.half_length, -s.half_width},
          {s.half_length, s.half_width},
          {-s.half_length, s.half_width}};
}

bool lies_in(const Splice& s, const Regions& whole) {
  Polygon in_rib;
  for (const Vec2& p : plate(s)) in_rib.push_back(to_rib(s, p));
  return area(subtract({{in_rib, {}}}, whole)) < 1e-9;
}

/// Plate along the rib's middle depth, as wide as lies within the rib.
Splice splice_at(const RibDraft& rib, const Regions& whole, double x) {
  Splice s;
  const double half_x = std::max(1e-3, splice_half_m(rib, x));
  const auto middle = [&](double at) {
    return Vec2(at, (height(rib.rib.top, at) + height(rib.rib.bottom, at)) / 2);
  };
  const Vec2 from = middle(x - half_x), to = middle(x + half_x);
  const Vec2 way = (to - from).normalized(), mid = middle(x);
  s.half_length = half_x / way.x();
  s.flat = {{mid.x(), mid.y(), 0}, {way.x(), way.y(), 0}, {-way.y(), way.x(), 0}, Vec3::UnitZ()};
  s.half_width = kPlateShare / 2 * (height(rib.rib.top, x) - height(rib.rib.bottom, x)) * way.x();
  for (int i = 0; i < 30 && !lies_in(s, whole); ++i) s.half_width *= 0.93;
  for (const double sx : {-1.0, 1.0}) {
    for (const double sy : {-1.0, 1.0}) {
      s.holes.emplace_back(sx * s.half_length / 2, sy * s.half_width / 2);
    }
  }
  return s;
}

std::string letters(std::size_t i) {
  std::string out(1, static_cast<char>('a' + i % 26));
  return i < 26 ? out : letters(i / 26 - 1) + out;
}

/// A piece's own frame: x along the chord of its top edge, origin at the corner of its box.
SheetPart piece_of(const RibDraft& rib, const Region& in_rib, double from, double to) {
  const Vec2 chord =
      Vec2(to - from, height(rib.rib.top, to) - height(rib.rib.top, from)).normalized();
  const Vec2 up(-chord.y(), chord.x());
  Vec2 low(1e9, 1e9);
  for (const Vec2& p : in_rib.outer) low = low.cwiseMin(Vec2(p.dot(chord), p.dot(up)));
  const Vec2 corner = low.x() * chord + low.y() * up;
  SheetPart part;
  part.rib = rib.rib.id;
  part.kind = rib.rib.is_cross ? "cross rib" : "rib";
  const Frame& f = rib.rib.place;
  part.place = {f.to_world(corner), chord.x() * f.x + chord.y() * f.y, up.x() * f.x + up.y() * f.y,
                f.z};
  const auto turned = [&](const Polygon& p) {
    Polygon out;
    for (const Vec2& v : p) out.emplace_back((v - corner).dot(chord), (v - corner).dot(up));
    return out;
  };
  part.outline.outer = turned(in_rib.outer);
  for (const Polygon& hole : in_rib.holes) part.outline.holes.push_back(turned(hole));
  return part;
}

void add_plates(CentringDraft& draft, const RibDraft& rib, const Splice& s,
                const std::string& between_ids) {
  const Frame& f = rib.rib.place;
  for (const int side : {1, -1}) {
    SheetPart part;
    part.id = between_ids + (side > 0 ? "+" : "-");
    part.rib = rib.rib.id;
    part.kind = "splice";
    const auto direction = [&](const Vec3& d) -> Vec3 { return d.x() * f.x + d.y() * f.y; };
    part.place = {f.to_world(s.flat.origin) + side * draft.request().sheet_thickness_m * f.z,
                  direction(s.flat.x), direction(s.flat.y), f.z};
    // origin at the corner, as of every part
    const Vec2 corner(-s.half_length, -s.half_width);
    part.place.origin = part.place.to_world(corner);
    for (const Vec2& p : plate(s)) part.outline.outer.push_back(p - corner);
    for (const Vec2& h : s.holes) part.outline.holes.push_back(round_hole(draft, h - corner, true));
    mark_words(part, part.id, -corner, 0.012);
    draft.out.parts.push_back(std::move(part));
  }
}

Region largest(const Regions& regions) {
  return *std::ranges::max_element(regions, {}, [](const Region& r) { return area(r); });
}

void cut_rib(CentringDraft& draft, const RibDraft& rib) {
  Regions whole = rib_region(draft, rib);
  std::vector<Splice> splices;
  for (const double x : rib.rib.splices) splices.push_back(splice_at(rib, whole, x));
  Regions holes;
  for (const Splice& s : splices) {
    if (s.half_length < kLeastHalf) continue;
    for (const Vec2& h : s.holes) holes.push_back({round_hole(draft, to_rib(s, h), false), {}});
  }
  if (!holes.empty()) whole = subtract(whole, holes);
  const std::size_t pieces = splices.size() + 1;
  for (std::size_t i = 0; i < pieces; ++i) {
    const double from = i == 0 ? 0 : rib.rib.splices[i - 1];
    const double to = i + 1 == pieces ? rib.run.length : rib.rib.splices[i];
    const Polygon box{{from, -1e3}, {to, -1e3}, {to, 1e3}, {from, 1e3}};
    const Regions cut = pieces == 1 ? whole : intersect(whole, {{box, {}}});
    if (cut.empty()) continue;
    SheetPart part = piece_of(rib, largest(cut), from, to);
    part.id = pieces == 1 ? rib.rib.id : rib.rib.id + letters(i);
    if (pieces == 1) part.rib = rib.rib.id;
    mark_piece(draft, rib, from, to, part);
    draft.out.parts.push_back(std::move(part));
  }
  for (std::size_t i = 0; i < splices.size(); ++i) {
    if (splices[i].half_length < kLeastHalf) continue;
    add_plates(draft, rib, splices[i], rib.rib.id + letters(i) + letters(i + 1));
  }
}

}  // namespace

double splice_bolt_m(const CentringDesign& design) {
  constexpr double kBolts[] = {0.010, 0.012, 0.016};
  return kBolts[static_cast<std::size_t>(std::clamp(design.bolts, 0, kThickerBolts))];
}

void cut_parts(CentringDraft& draft) {
  for (const RibDraft& rib : draft.ribs) {
    if (!rib.rib.top.empty() && !rib.rib.bottom.empty()) cut_rib(draft, rib);
  }
}

}  // namespace skewback
