#pragma once
// A small level centring for tests: ribs along x at even distances, ribs across, posts and braces;
// every block is a box that lies on all ribs.

#include <algorithm>
#include <string>

#include "base/constants.hpp"
#include "centring/centring.hpp"

namespace skewback::sample {

struct LevelCentring {
  int ribs = 2, blocks = 4;
  double length_m = 2.4, width_m = 1, rib_depth_m = 0.3;
  std::vector<double> feet = {0.1, 1.2, 2.3};       // x
  std::vector<double> crossings = {0.1, 1.2, 2.3};  // x
  double block_depth_m = 0.3, density = 2000;
  double ground_m = -1;  // top of the ribs is at 0
  double side_m = 0.1;   // of a post
  bool braced = true;
};

inline double rib_y(const LevelCentring& with, int r) {
  return with.width_m * (r + 0.5) / with.ribs;
}

inline Assembly blocks_on(const LevelCentring& with) {
  Assembly out;
  for (int i = 0; i < with.blocks; ++i) {
    Block block;
    block.id = "b" + std::to_string(i + 1);
    const double a = with.length_m / with.blocks;
    block.solid = box({a * i, 0, 0}, {a * (i + 1), with.width_m, with.block_depth_m});
    block.density = with.density;
    block.place.arm = i < with.blocks / 2 ? 0 : 1;
    out.blocks.push_back(block);
  }
  measure(out);
  return out;
}

inline Rib level_rib(const std::string& id, const Frame& place, double length, double depth) {
  Rib rib;
  rib.id = id;
  rib.place = place;
  rib.top = {{0, 0}, {length, 0}};
  rib.bottom = {{0, -depth}, {length, -depth}};
  return rib;
}

inline void add_foot(const LevelCentring& with, Rib& rib, double x, Centring& out) {
  CentringFoot foot;
  foot.id = rib.id + "-" + std::to_string(rib.feet.size() + 1);
  foot.rib = rib.id;
  foot.head = rib.place.to_world(Vec2(x, -with.rib_depth_m));
  foot.at = foot.head;
  foot.at.z() = with.ground_m;
  foot.down_m = 0.04;
  foot.up_m = 0.02;
  foot.post = static_cast<int>(out.sticks.size());
  out.sticks.push_back({"P" + foot.id, "post", foot.at, foot.head, with.side_m, with.side_m});
  out.feet.push_back(foot);
  rib.feet.push_back(x);
}

inline void add_braces(const LevelCentring& with, Centring& out) {
  const std::size_t per_rib = with.feet.size();
  const auto brace = [&](std::size_t from, std::size_t to) {
    out.sticks.push_back({"B" + std::to_string(out.sticks.size()), "brace", out.feet[from].at,
                          out.feet[to].head, with.side_m / 2, with.side_m, 0.112, Vec3::Zero()});
  };
  for (std::size_t r = 0; r < static_cast<std::size_t>(with.ribs); ++r)
    brace(r * per_rib, r * per_rib + 1);
  for (std::size_t k = 0; k < per_rib; ++k) brace(k, per_rib + k);
}

/// Two seats a block and rib, at quarters of the block.
inline Centring level_centring(const LevelCentring& with) {
  Centring out;
  Frame along;
  along.y = Vec3::UnitZ();
  along.z = -Vec3::UnitY();
  Frame across;
  across.x = Vec3::UnitY();
  across.y = Vec3::UnitZ();
  across.z = Vec3::UnitX();
  for (int r = 0; r < with.ribs; ++r) {
    along.origin = {0, rib_y(with, r), 0};
    Rib rib = level_rib("R" + std::to_string(r + 1), along, with.length_m, with.rib_depth_m);
    rib.crossings = with.crossings;
    for (const double x : with.feet) add_foot(with, rib, x, out);
    out.ribs.push_back(rib);
    const double a = with.length_m / with.blocks;
    for (int i = 0; i < 2 * with.blocks; ++i) {
      Seat seat;
      seat.along_m = a * (i / 2 + (i % 2 == 0 ? 0.25 : 0.75));
      seat.prop = {i / 2, along.to_world(Vec2(seat.along_m, 0)), Vec3::UnitZ(), 0.3};
      seat.rib = rib.id;
      seat.length_m = 0.1;
      seat.width_m = 0.0177;
      out.seats.push_back(seat);
    }
  }
  for (const double x : with.crossings) {
    across.origin = {x, 0, 0};
    Rib rib =
        level_rib("C" + std::to_string(out.ribs.size() - static_cast<std::size_t>(with.ribs) + 1),
                  across, with.width_m, with.rib_depth_m);
    rib.is_cross = true;
    for (int r = 0; r < with.ribs; ++r) rib.crossings.push_back(rib_y(with, r));
    out.ribs.push_back(rib);
  }
  if (with.braced) add_braces(with, out);
  return out;
}

/// Every block's weight in equal parts on its seats, the first `placed` blocks there.
inline SeatLoads weights(const Assembly& assembly, const Centring& centring, int placed) {
  SeatLoads out;
  out.stage = "place b" + std::to_string(placed);
  std::vector<int> count(assembly.blocks.size(), 0);
  for (const Seat& seat : centring.seats) ++count[static_cast<std::size_t>(seat.prop.block)];
  for (const Seat& seat : centring.seats) {
    const auto b = static_cast<std::size_t>(seat.prop.block);
    const bool there = seat.prop.block < placed;
    out.force.push_back(there ? mass_kg(assembly.blocks[b]) * kGravity / count[b] *
                                    seat.prop.direction
                              : Vec3(Vec3::Zero()));
  }
  return out;
}

inline const CentringCheck* find(const Centring& centring, const std::string& name) {
  const auto it = std::ranges::find(centring.checks, name, &CentringCheck::name);
  return it == centring.checks.end() ? nullptr : &*it;
}
inline bool says(const Centring& centring, const std::string& words) {
  return std::ranges::any_of(centring.remarks, [&](const std::string& remark) {
    return remark.find(words) != std::string::npos;
  });
}

/// A level centring with its blocks, placed one after the other.
struct Case {
  Brief brief;
  LevelCentring with;
  Assembly assembly;
  Centring centring;
  std::vector<SeatLoads> loads;
  explicit Case(const LevelCentring& w) : with(w) {
    assembly = blocks_on(with);
    centring = level_centring(with);
    for (int k = 1; k <= with.blocks; ++k) loads.push_back(weights(assembly, centring, k));
  }
  void judge() { judge_centring(brief, assembly, loads, centring); }
};

/// Ribs on posts alone, nothing across them; weight is all that loads them.
inline Case bare_case(const std::vector<double>& feet, double density = 2000) {
  LevelCentring with;
  with.feet = feet;
  with.crossings = {};
  with.braced = false;
  with.density = density;
  Case on(with);
  on.brief.centring.working_load_pa = on.brief.centring.horizontal_share = 0;
  return on;
}

}  // namespace skewback::sample
