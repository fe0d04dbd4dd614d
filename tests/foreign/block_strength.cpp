// Our figures for three blocks as JSON, for check_block_strength.py, which holds them to finite
// elements.
#include <cstdio>

#include "strength/checks.hpp"

namespace {

using namespace skewback;

void skin(const char* name, const SkinShape& shape, double load_n, double side_m) {
  const SkinStress s = skin_units(shape, side_m).patch;
  std::printf("\"%s\": {\"across\": %.17g, \"inside\": %.17g, \"along\": %.17g},\n", name,
              load_n * s.across_pa, load_n * s.inside_pa, load_n * s.along_pa);
}

Polygon rectangle(double x0, double x1, double y0, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

}  // namespace

int main() {
  // three tubes: leaves and webs 45 mm, 255 mm clear, 0.34 m deep, 0.4 m from bed to bed
  const double leaf = 0.045, web = 0.045, span = 0.255, depth = 0.34, length = 0.4;
  const double high = depth - 2 * leaf;
  std::printf("{");
  const double inner = turning(leaf, span, span, web, high),
               outer = turning(leaf, span, 0, leaf, high);
  skin("inner", {span, length, leaf, inner, inner}, 10e3, 0.1);
  skin("outer", {span, length, leaf, outer, inner}, 10e3, 0.1);
  const double stiff = turning(leaf, span, 0, 0.16, high);
  skin("stiff", {span, length, leaf, stiff, inner}, 10e3, 0.1);
  const double wide = 3 * span + 4 * web;
  Regions box{{rectangle(-wide / 2, wide / 2, -depth / 2, depth / 2), {}}};
  for (int i = 0; i < 3; ++i) {
    const double x = -wide / 2 + leaf + i * (span + web);
    Polygon hole = rectangle(x, x + span, -high / 2, high / 2);
    box.front().holes.push_back({hole.rbegin(), hole.rend()});
  }
  const double N = 300e3, e = 0.15 * depth;
  const LinearStress stress = linear_stress(box, Vec3(N, 0, N * e));
  std::printf("\"middle\": {\"least\": %.17g, \"greatest\": %.17g},\n", stress.least_pa,
              stress.greatest_pa);
  std::printf("\"strips\": [");
  for (const double a : {0.1, 0.2, 0.3}) {
    std::printf("%s{\"a\": %.17g, \"tie\": %.17g, \"stress\": %.17g}", a > 0.1 ? ", " : "", a,
                tie_share(a, 0.4, 0), tie_stress_share(a, 0.4, 0));
  }
  std::printf("]}\n");
  return 0;
}
