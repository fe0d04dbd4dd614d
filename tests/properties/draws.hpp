#pragma once
// Assemblies drawn at random whose forces run in more ways than one: three-legged bridges, and
// domes with an eye; a push on one of their blocks.

#include <cmath>
#include <random>

#include "../published/dome.hpp"
#include "assembly/sample_tripod.hpp"

namespace skewback {

struct SpaceDraw {
  std::mt19937 rng;
  double unit() { return std::uniform_real_distribution<double>(0, 1)(rng); }
  double log(double a, double b) { return a * std::pow(b / a, unit()); }
};

/// A push on one of the free blocks, one to ten times its weight, mostly down (-1) or up (1).
inline void put_push(SpaceDraw& draw, double up, Assembly& assembly) {
  std::vector<int> free;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (!assembly.blocks[i].fixed) free.push_back(static_cast<int>(i));
  }
  const int struck = free[static_cast<std::size_t>(draw.unit() * static_cast<double>(free.size()))];
  const Block& block = assembly.blocks[static_cast<std::size_t>(struck)];
  const Vec3 way(0.8 * (draw.unit() - 0.5), 0.8 * (draw.unit() - 0.5), up);
  LoadCase load;
  load.id = "live";
  load.live = {{struck, block.mass.centroid, mass_kg(block) * kGravity * draw.log(1, 10) * way}};
  assembly.cases = {load};
}

inline Assembly draw_tripod(SpaceDraw& draw) {
  sample::Tripod t;
  t.courses = 2 + static_cast<int>(draw.log(1, 6));
  t.thickness = draw.log(0.45, 0.9);
  t.width = draw.log(0.8, 1.2);
  t.core = 0.75 * t.width;
  t.friction = draw.log(0.6, 1.2);
  Assembly assembly = sample::tripod_assembly(t);
  put_push(draw, -1, assembly);
  return assembly;
}

inline Assembly draw_dome(SpaceDraw& draw) {
  Dome dome;
  dome.sectors = 8 + static_cast<int>(5 * draw.unit());
  dome.courses = 3 + static_cast<int>(3 * draw.unit());
  dome.thickness = draw.log(0.08, 0.2);
  dome.eye = (10 + 20 * draw.unit()) * kPi / 180;
  dome.edge = (60 + 25 * draw.unit()) * kPi / 180;
  dome.friction = draw.log(0.6, 1.2);
  Assembly assembly = make_dome(dome);
  put_push(draw, 1, assembly);  // down it holds any
  return assembly;
}

inline Assembly draw_one(SpaceDraw& draw, int round) {
  return round % 2 == 0 ? draw_tripod(draw) : draw_dome(draw);
}

inline const char* name_of(int round) { return round % 2 == 0 ? "tripod" : "dome"; }

}  // namespace skewback
