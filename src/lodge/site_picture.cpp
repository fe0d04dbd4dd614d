#include "lodge/site_picture.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/parallel.hpp"
#include "deliver/outline.hpp"
#include "geometry/simplify.hpp"

namespace skewback::lodge {
namespace {

using Json = nlohmann::ordered_json;
using deliver::View;
using Indices = std::vector<std::size_t>;

/// What is thinner than that stays as it is.
Polygon coarser(const Polygon& ring, double true_to_m) {
  Polygon few = simplified(ring, true_to_m);
  return few.size() < 3 ? ring : few;
}

double to_mm(double metres) { return std::round(1000 * metres) / 1000 + 0.0; }

Json ring_json(const Polygon& ring) {
  Json out = Json::array();
  for (const Vec2& p : ring) out.push_back({to_mm(p.x()), to_mm(p.y())});
  return out;
}

Json drawn(const Assembly& assembly, const Indices& blocks, const View& view, double true_to_m) {
  std::vector<Regions> seen(blocks.size());
  for_each_index(blocks.size(), [&](std::size_t i) {
    seen[i] = deliver::silhouette(assembly.blocks[blocks[i]].solid, view);
  });
  Json out = Json::array();
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const Block& block = assembly.blocks[blocks[i]];
    Json rings = Json::array();
    for (const Region& region : seen[i]) {
      rings.push_back(ring_json(coarser(region.outer, true_to_m)));
      for (const Polygon& hole : region.holes) rings.push_back(ring_json(coarser(hole, true_to_m)));
    }
    out.push_back({{"id", block.id}, {"ground", block.fixed}, {"rings", rings}});
  }
  return out;
}

Vec2 middle_of(const Assembly& assembly, const Indices& blocks) {
  Vec2 sum = Vec2::Zero();
  for (const std::size_t i : blocks) sum += assembly.blocks[i].mass.centroid.head<2>();
  return sum / static_cast<double>(blocks.size());
}

Indices farthest_first(const Assembly& assembly, Indices blocks, const View& view) {
  std::ranges::stable_sort(blocks, [&](std::size_t a, std::size_t b) {
    return view.depth(assembly.blocks[a].mass.centroid) <
           view.depth(assembly.blocks[b].mass.centroid);
  });
  return blocks;
}

struct Parts {
  std::map<int, Indices> arms;     // what stands, by arm
  std::map<int, Indices> grounds;  // what each arm stands on
  Indices keys, all;
};

Parts parts_of(const Assembly& assembly) {
  Parts out;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    out.all.push_back(i);
    if (!block.fixed) (block.place.arm < 0 ? out.keys : out.arms[block.place.arm]).push_back(i);
  }
  for (const Joint& joint : assembly.joints) {
    if (joint.a < 0 || joint.b < 0) continue;
    const auto a = static_cast<std::size_t>(joint.a), b = static_cast<std::size_t>(joint.b);
    for (const auto& [ground, block] : {std::pair{a, b}, {b, a}}) {
      const int arm = assembly.blocks[block].place.arm;
      if (!assembly.blocks[ground].fixed || assembly.blocks[block].fixed || arm < 0) continue;
      Indices& of_arm = out.grounds[arm];
      if (std::ranges::find(of_arm, ground) == of_arm.end()) of_arm.push_back(ground);
    }
  }
  return out;
}

std::string title_of(const Assembly& assembly, const Indices& grounds, const char* where = "left") {
  return assembly.blocks[grounds.front()].id + " on the " + where;
}

Json side_json(const Assembly& assembly, const std::string& title, const Indices& blocks,
               const Vec2& from, const Vec2& to, double true_to_m) {
  const Vec2 end = (to - from).norm() > 1e-6 ? to : Vec2(from + Vec2::UnitX());
  const View view = deliver::side_view(from, end);
  return {{"title", title},
          {"blocks", drawn(assembly, farthest_first(assembly, blocks, view), view, true_to_m)}};
}

}  // namespace

Json picture_json(const Assembly& assembly, double true_to_m) {
  const Parts parts = parts_of(assembly);
  Json sides = Json::array();
  const auto ground = [&](int arm) { return middle_of(assembly, parts.grounds.at(arm)); };
  if (parts.grounds.size() == 2) {
    const int left = parts.grounds.begin()->first, right = parts.grounds.rbegin()->first;
    sides.push_back(side_json(assembly,
                              title_of(assembly, parts.grounds.at(left)) + ", " +
                                  title_of(assembly, parts.grounds.at(right), "right"),
                              parts.all, ground(left), ground(right), true_to_m));
  } else {
    for (const auto& [arm, grounds] : parts.grounds) {
      Indices blocks = parts.arms.at(arm);
      blocks.insert(blocks.end(), parts.keys.begin(), parts.keys.end());
      blocks.insert(blocks.end(), grounds.begin(), grounds.end());
      const Vec2 to = middle_of(assembly, parts.keys.empty() ? parts.all : parts.keys);
      sides.push_back(
          side_json(assembly, title_of(assembly, grounds), blocks, ground(arm), to, true_to_m));
    }
  }
  return {{"plan", drawn(assembly, parts.all, deliver::plan_view(), true_to_m)}, {"sides", sides}};
}

bool same_blocks(const Assembly& assembly, const DayPlan& plan) {
  constexpr double kMoved_m = 1e-3, kMassOff = 1e-3;
  std::size_t found = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const PlannedBlock* const planned = find_block(plan, block.id);
    if (planned == nullptr) return false;
    if (!((planned->centre - block.mass.centroid).norm() <= kMoved_m)) return false;
    if (!(std::abs(planned->mass_kg - concrete_mass_kg(block)) <= kMassOff * planned->mass_kg))
      return false;
    ++found;
  }
  return found == plan.blocks.size();
}

}  // namespace skewback::lodge
