#pragma once
// For tests only: blocks printed by closed forms. The printed one stands for a hollow wedge with
// two cells: layers that turn evenly about an axis beside it, so that their heights grow with the
// distance from it.

#include <algorithm>
#include <cmath>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"
#include "print/print.hpp"

namespace skewback::sample {

struct HollowWedge {
  int layers = 20;
  double axis_m = 1.75;                                 // from the middle of the block
  double turn_rad = 0.01 / 1.75;                        // of a layer: 10 mm at the middle
  double half_long_m = 0.35, half_wide_m = 0.15;        // of the leaves' middle line
  double wall_m = 0.045, web_m = 0.045, step_m = 0.05;  // the web is laid in two goes
  double flow_m3_s = 5e-3 / 60, fastest_m_s = 0.3;
  /// Of the section of the walls: length of their middle lines times their width.
  [[nodiscard]] double wall_plan_m2() const {
    return wall_m * (4 * half_long_m + 4 * half_wide_m) + web_m * 2 * half_wide_m;
  }
  /// Pappus: the middle of the walls goes round the axis.
  [[nodiscard]] double volume_m3() const { return layers * turn_rad * axis_m * wall_plan_m2(); }
};

struct WedgeLeg {
  Vec2 from, to;
  double share_m;
};

/// Round one cell and then the other, from the foot of the web and back to it.
inline std::vector<WedgeLeg> wedge_round(const HollowWedge& w) {
  const double a = w.half_long_m, b = w.half_wide_m;
  const Vec2 foot(0, -b), head(0, b);
  return {{foot, {a, -b}, w.wall_m}, {{a, -b}, {a, b}, w.wall_m}, {{a, b}, head, w.wall_m},
          {head, foot, w.web_m / 2}, {foot, {-a, -b}, w.wall_m},  {{-a, -b}, {-a, b}, w.wall_m},
          {{-a, b}, head, w.wall_m}, {head, foot, w.web_m / 2}};
}

inline Vec3 wedge_point(const HollowWedge& w, const Vec2& p, int layer) {
  const double angle = (layer + 1) * w.turn_rad, r = w.axis_m + p.x();
  return {r * std::cos(angle) - w.axis_m, p.y(), r * std::sin(angle)};
}

inline void add_wedge_layer(const HollowWedge& w, int layer, std::vector<Pose>& poses) {
  const double angle = (layer + 1) * w.turn_rad;
  for (const WedgeLeg& leg : wedge_round(w)) {
    const int steps = static_cast<int>(std::ceil((leg.to - leg.from).norm() / w.step_m - 1e-9));
    for (int i = 0; i < steps; ++i) {
      const Vec2 p = leg.from + (leg.to - leg.from) * i / steps;
      const Vec2 middle = leg.from + (leg.to - leg.from) * (i + 0.5) / steps;
      Pose pose;
      pose.tip = wedge_point(w, p, layer);
      pose.turn = {0, static_cast<float>(-std::sin(angle / 2)), 0,
                   static_cast<float>(std::cos(angle / 2))};
      pose.share_m = static_cast<float>(leg.share_m);
      pose.height_m = static_cast<float>((w.axis_m + middle.x()) * w.turn_rad);
      pose.speed_m_s = static_cast<float>(std::min(w.fastest_m_s, w.flow_m3_s / section_m2(pose)));
      pose.overhang_rad = static_cast<float>(angle * p.x() / w.half_long_m);
      pose.layer = layer;
      poses.push_back(pose);
    }
  }
}

inline LayerFacts wedge_facts(const HollowWedge& w, int layer) {
  LayerFacts facts;
  facts.height_min_m = (w.axis_m - w.half_long_m) * w.turn_rad;
  facts.height_max_m = (w.axis_m + w.half_long_m) * w.turn_rad;
  facts.area_m2 = w.wall_plan_m2();
  facts.volume_m3 = w.volume_m3() / w.layers;
  facts.overhang_max_rad = (layer + 1) * w.turn_rad;
  facts.stress_pa = 2200 * 9.81 * 0.01 * (w.layers - layer);
  facts.yield_pa = 1000 + 4 * 25 * (w.layers - layer);
  facts.strokes = 1;
  return facts;
}

inline void add_times(BlockPrint& block) {
  for (std::size_t i = 0; i + 1 < block.poses.size(); ++i) {
    Pose &a = block.poses[i], &b = block.poses[i + 1];
    const double length = (b.tip - a.tip).norm();
    const double time = length / static_cast<double>(a.speed_m_s);
    b.time_s = a.time_s + time;
    LayerFacts& layer = block.layers[static_cast<std::size_t>(a.layer)];
    layer.path_m += length;
    layer.time_s += time;
    layer.laid_m3 += section_m2(a) * length;
    block.path_m += length;
    block.volume_m3 += section_m2(a) * length;
  }
  block.poses.back().speed_m_s = 0;
  block.time_s = block.poses.back().time_s;
}

inline BlockPrint wedge_print(const HollowWedge& w, int index, const std::string& id) {
  BlockPrint block;
  block.block = index;
  block.id = id;
  block.way = PrintWay::kBedToBed;
  block.printable = true;
  block.on_table = "lower bed, on a flat table: the shorter way up";
  block.field = "planes";
  for (int layer = 0; layer < w.layers; ++layer) {
    block.layers.push_back(wedge_facts(w, layer));
    add_wedge_layer(w, layer, block.poses);
  }
  Pose end = block.poses.back();
  end.tip = wedge_point(w, {0, -w.half_wide_m}, w.layers - 1);
  block.poses.push_back(end);
  add_times(block);
  block.layer_min_m = block.layers.front().height_min_m;
  block.layer_max_m = block.layers.front().height_max_m;
  block.overhang_max_rad = w.layers * w.turn_rad;
  block.solid_m3 = w.volume_m3();
  block.normal_to_thrust_rad = 0.02;
  block.normal_to_thrust_max_rad = 0.11;
  block.normal_to_thrust_case = "half, west";
  block.checks = {
      {"layer height", block.layer_max_m, 0.015, "m", false, "layer 1", "blocks.height"},
      {"overhang", block.overhang_max_rad, 0.3491, "rad", false, "top layer, far end",
       "print.overhang_max"},
      {"clearance", 0.021, 0.005, "m", true, "layer 20", "print.wrist"}};
  return block;
}

/// Over the blocks of `sample::arch_assembly`: hollow wedges, one of them flat; one that cannot be
/// printed, and the key, which is cast.
inline PrintSet small_print(const Assembly& assembly) {
  PrintSet set;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(i)];
    if (block.fixed) continue;
    HollowWedge wedge;
    wedge.layers = 20 + i;
    set.blocks.push_back(wedge_print(wedge, i, block.id));
    BlockPrint& print = set.blocks.back();
    print.normal_to_thrust_rad = 0.01 * (1 + i);
    if (block.place.arm < 0) {
      print = {};
      print.way = PrintWay::kCast;
      print.reason = "four beds: cast in a mould (print.otherwise)";
    } else if (i == 1) {
      print.poses.clear();
      print.path_m = print.time_s = print.volume_m3 = 0;
      print.printable = false;
      print.overhang_max_rad = 0.41;
      print.checks[1] = {"overhang",
                         0.41,
                         0.3491,
                         "rad",
                         false,
                         "layer 31, outer leaf",
                         "print.overhang_max, or a stand under the low bed"};
      print.reason = "overhang 23.5 degrees, over 20";
    } else if (i == 2) {
      print.way = PrintWay::kFlat;
      print.on_table = "on its side: all thrust runs in the layers";
    }
    print.block = i;
    print.id = block.id;
    if (print.poses.empty()) continue;
    set.print_s += print.time_s;
    const int day = 1 + static_cast<int>(set.order.size()) / 3;
    set.order.push_back({i, day, 3000.0 * static_cast<double>(set.order.size() % 3), day + 7});
    if (set.batches.empty() || set.batches.back().blocks.size() == 2)
      set.batches.push_back({{}, 0, 1});
    set.batches.back().blocks.push_back(block.id);
    set.batches.back().volume_m3 += print.volume_m3;
    set.days = day;
  }
  set.normal_to_thrust_median_rad = 0.04;
  set.remarks = {"v2 is not printed and stands in no batch."};
  return set;
}

}  // namespace skewback::sample
