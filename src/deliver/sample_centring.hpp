#pragma once
// For tests only: three ribs of two pieces each under the middle of `sample::arch_assembly`, two
// ribs across, splices, posts and feet. Measures are chosen; loads and checks are made up.

#include "assembly/sample_arch.hpp"
#include "centring/centring.hpp"

namespace skewback::sample {

struct SmallCentring {
  double radius_m = 2.775;  // of the arch's underside
  double depth_m = 0.25, reach_m = 1.9, ground_m = -0.6;
  double slot_m = 0.018, half_width_m = 0.4;
  double crossing_m = 0.9;  // of the ribs across, to either side
};

inline double rib_level(const SmallCentring& c, double x, double down_m) {
  const double r = c.radius_m - down_m;
  return std::sqrt(r * r - x * x);
}

inline Region rib_piece(const SmallCentring& c, double from, double to, double slot_at) {
  Region out;
  const int steps = 24;
  const auto at = [&](int i) { return from + (to - from) * i / steps; };
  const double left = slot_at - c.slot_m / 2, right = slot_at + c.slot_m / 2;
  const double head = rib_level(c, slot_at, c.depth_m) + c.depth_m / 2;
  bool is_cut = false;
  for (int i = 0; i <= steps; ++i) {  // lower edge, left to right
    const double x = at(i);
    if (x > left && !is_cut) {
      is_cut = true;
      out.outer.insert(out.outer.end(), {{left, rib_level(c, left, c.depth_m)},
                                         {left, head},
                                         {right, head},
                                         {right, rib_level(c, right, c.depth_m)}});
    }
    if (x < left || x > right) out.outer.emplace_back(x, rib_level(c, x, c.depth_m));
  }
  for (int i = steps; i >= 0; --i) out.outer.emplace_back(at(i), rib_level(c, at(i), 0));
  return out;
}

inline Region cross_piece(const SmallCentring& c) {
  const double end = c.half_width_m + 0.1, h = c.depth_m, s = c.slot_m / 2;
  Region out{{{-end, 0}, {end, 0}, {end, h}}, {}};
  for (const double x : {c.half_width_m, 0.0, -c.half_width_m})
    out.outer.insert(out.outer.end(), {{x + s, h}, {x + s, h / 2}, {x - s, h / 2}, {x - s, h}});
  out.outer.emplace_back(-end, h);
  return out;
}

inline Region splice_plate() {
  Region out{{{-0.25, 0.02}, {0.25, 0.02}, {0.25, 0.22}, {-0.25, 0.22}}, {}};
  for (const double x : {-0.15, 0.15}) {  // holes for bolts
    Polygon hole;
    for (int i = 0; i < 16; ++i)
      hole.emplace_back(x + 0.006 * std::cos(-2 * kPi * i / 16),
                        0.12 + 0.006 * std::sin(-2 * kPi * i / 16));
    out.holes.push_back(hole);
  }
  return out;
}

inline Engraving words_on(const std::string& words, const Vec2& at, double turn_rad = 0) {
  Engraving mark;
  mark.words = words;
  mark.at = at;
  mark.turn_rad = turn_rad;
  return mark;
}

inline void add_feet(const SmallCentring& c, const Rib& rib, Centring& out) {
  int count = 0;
  for (const double x : rib.feet) {
    const Vec3 head = rib.place.to_world(Vec2(x, rib_level(c, x, c.depth_m)));
    Stick post{rib.id + " post " + std::to_string(++count), "post", head, head, 0.1, 0.1};
    post.from.z() = c.ground_m;
    out.feet.push_back({rib.id + "-" + std::to_string(count), rib.id,
                        static_cast<int>(out.sticks.size()), post.from, head, 0.04, 0.02});
    out.sticks.push_back(post);
  }
}

inline Rib along_rib(const SmallCentring& c, int k) {
  Rib rib;
  rib.id = "R" + std::to_string(k + 1);
  rib.place = {Vec3(0, c.half_width_m * (k - 1), 0), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  for (int i = 0; i <= 40; ++i) {
    const double x = c.reach_m * (i / 20.0 - 1);
    rib.top.emplace_back(x, rib_level(c, x, 0));
    rib.bottom.emplace_back(x, rib_level(c, x, c.depth_m));
  }
  rib.feet = {-1.6, 0.05, 1.6};
  rib.splices = {0};
  rib.crossings = {-c.crossing_m, c.crossing_m};
  return rib;
}

/// The part's own x along its chord: it lies lower on a sheet, and the grain runs along it.
inline void turn_to_chord(SheetPart& part, double turn_rad) {
  const Eigen::Rotation2Dd back(-turn_rad);
  for (Vec2& p : part.outline.outer) p = back * p;
  for (Engraving& mark : part.marks) {
    mark.at = back * mark.at;
    for (Vec2& p : mark.line) p = back * p;
  }
  const Vec2 x(std::cos(turn_rad), std::sin(turn_rad));
  const Frame whole = part.place;
  part.place.x = x.x() * whole.x + x.y() * whole.y;
  part.place.y = -x.y() * whole.x + x.x() * whole.y;
}

inline void add_along(const SmallCentring& c, Centring& out) {
  for (int k = 0; k < 3; ++k) {
    const Rib rib = along_rib(c, k);
    for (const int side : {-1, 1}) {
      SheetPart part{rib.id + (side < 0 ? "a" : "b"), rib.id, "rib", rib.place, {}, {}, true};
      part.outline = side < 0 ? rib_piece(c, -c.reach_m, 0, -c.crossing_m)
                              : rib_piece(c, 0, c.reach_m, c.crossing_m);
      part.marks = {words_on(part.id, {side * 0.4, rib_level(c, 0.4, 0.15)})};
      for (const double x : {0.3, 0.75, 1.2, 1.65})
        part.marks.push_back(
            {{{side * x, rib_level(c, x, 0.001)}, {side * x, rib_level(c, x, 0.02)}},
             {},
             {},
             0,
             0});
      turn_to_chord(part,
                    -side * std::atan2(rib_level(c, 0, 0) - rib_level(c, c.reach_m, 0), c.reach_m));
      out.parts.push_back(part);
    }
    SheetPart plate{rib.id + "s", rib.id, "splice", rib.place, splice_plate(), {}, true};
    plate.place.origin += rib.place.to_world(Vec2(0, c.radius_m - c.depth_m)) - rib.place.origin;
    plate.marks = {words_on(plate.id, {0, 0.1})};
    out.parts.push_back(plate);
    add_feet(c, rib, out);
    out.ribs.push_back(rib);
  }
}

inline void add_across(const SmallCentring& c, Centring& out) {
  int k = 0;
  for (const double x : {-c.crossing_m, c.crossing_m}) {
    Rib rib;
    rib.id = "X" + std::to_string(++k);
    rib.is_cross = true;
    rib.place = {Vec3(x, 0, rib_level(c, x, c.depth_m)), Vec3::UnitY(), Vec3::UnitZ(),
                 Vec3::UnitX()};
    const double end = c.half_width_m + 0.1;
    rib.top = {{-end, c.depth_m}, {end, c.depth_m}};
    rib.bottom = {{-end, 0}, {end, 0}};
    rib.crossings = {-c.half_width_m, 0, c.half_width_m};
    out.ribs.push_back(rib);
    out.parts.push_back({rib.id,
                         rib.id,
                         "cross rib",
                         rib.place,
                         cross_piece(c),
                         {words_on(rib.id, {0.2, 0.1})},
                         true});
  }
}

/// Two seats a rib for each block over it, one metre of rib carrying 2 kN.
inline void add_seats(const SmallCentring& c, const Assembly& assembly, Centring& out) {
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    const Vec3 middle = assembly.blocks[b].mass.centroid;
    if (assembly.blocks[b].fixed || std::abs(middle.x()) > c.reach_m) continue;
    for (const Rib& rib : out.ribs) {
      if (rib.is_cross) continue;
      for (const double off : {-0.2, 0.2}) {
        const double x = std::clamp(middle.x() + off, -c.reach_m, c.reach_m);
        Seat seat;
        seat.prop.block = static_cast<int>(b);
        seat.prop.point = rib.place.to_world(Vec2(x, rib_level(c, x, 0)));
        seat.prop.direction = (seat.prop.point - rib.place.origin).normalized();
        seat.rib = rib.id;
        seat.along_m = x;
        seat.length_m = 0.1;
        seat.width_m = 0.0177;
        out.seats.push_back(seat);
      }
    }
  }
}

/// Not nested yet.
inline Centring small_centring(const Assembly& assembly, const SmallCentring& c = {}) {
  Centring out;
  add_along(c, out);
  add_across(c, out);
  add_seats(c, assembly, out);
  for (const SheetPart& part : out.parts) out.plywood_m2 += area(part.outline);
  for (const Stick& stick : out.sticks)
    out.timber_m3 += (stick.to - stick.from).norm() * stick.width_m * stick.depth_m;
  out.mass_kg = out.plywood_m2 * 0.0177 * 685 + out.timber_m3 * 420;
  out.checks = {{"bending", 5.2e6, 22e6, "Pa", 0.236, "R2, over its middle foot", "place v4",
                 "EN 1995-1-1:2004, 6.1.6"},
                {"shear", 2.6e6, 2.33e6, "Pa", 1.116, "R2, at x = 1.60 m", "place v3",
                 "EN 1995-1-1:2004, 6.1.7"},
                {"deflection", 0.0011, 0.003, "m", 0.367, "R1, its longest bay", "place v4",
                 "centring.deflection_max"}};
  for (const Rib& rib : out.ribs)
    out.rib_findings.push_back({rib.id, rib.is_cross ? 310.0 : 5200.0, 0.0011, 0.0042,
                                rib.id == "R2" ? 1.116 : 0.4, "shear"});
  for (const CentringFoot& foot : out.feet)
    out.foot_findings.push_back({foot.id, 1900, 2900, 0.21});
  out.load_max_n = 15800;
  out.deflection_max_m = 0.0011;
  out.remarks = {"Wind on the centring is not looked at."};
  return out;
}

}  // namespace skewback::sample
