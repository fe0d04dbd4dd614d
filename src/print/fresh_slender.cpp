#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "print/fresh_buckling.hpp"
#include "print/fresh_pile.hpp"

namespace skewback {
namespace {

/// When something is worst, by the last layer laid.
struct Moment {
  int last = -1;
  double value = 0, limit = 0;
  [[nodiscard]] double use() const { return value / limit; }
};

/// What stands while layer `last` is the last, as a column; `wall`: of one metre of wall, a metre
/// thick, else of the whole section.
double reserve(const PrintRequest& print, const FreshPile& pile, int last, bool wall) {
  std::vector<ColumnPiece> pieces;
  for (int i = 0; i <= last; ++i) {
    const FreshLayer& layer = pile.layer(i);
    const double weight = print.fresh_density * kGravity;
    pieces.push_back({layer.height_m, weight * (wall ? layer.height_m : layer.volume_m3),
                      pile.stiffness_pa(i, last) * (wall ? 1.0 / 12 : layer.second_moment_m4)});
  }
  return column_reserve(pieces);
}

/// Least reserve over the whole printing, as a height that stands and one that buckles.
Moment worst_column(const PrintRequest& print, const FreshPile& pile, bool wall) {
  Moment worst;
  for (int last = 0; last < pile.size(); ++last) {
    const double height = pile.height_m(0, last);
    const Moment now{last, height, height * std::cbrt(reserve(print, pile, last, wall))};
    if (worst.last < 0 || now.use() > worst.use()) worst = now;
  }
  return worst;
}

std::string while_layer(const FreshPile& pile, int last) {
  return "while layer " + std::to_string(last + 1) + " of " + std::to_string(pile.size()) +
         " is laid";
}

/// Least reserve of a wall held at upright edges; the height at which it would buckle is given on
/// the safe side: it grows with the reserve at least as the cube root, and shrinks at most with it.
Moment worst_plate(const FreshPile& pile, double thickness_m, double width_m, WallEdges edges) {
  Moment worst;
  double least = 0;  // of a wall one metre thick
  for (int last = pile.size() - 1; last >= 0; --last) {
    std::vector<WallPiece> pieces;
    for (int i = 0; i <= last; ++i) {
      pieces.push_back({pile.layer(i).height_m, pile.stiffness_pa(i, last),
                        pile.pressure_pa(i, last), i < last ? pile.pressure_pa(i + 1, last) : 0});
    }
    if (worst.last >= 0 && wall_stands(pieces, width_m, edges, least)) continue;
    least = wall_reserve(pieces, width_m, edges);
    const double times = thickness_m * thickness_m * least;
    const double height = pile.height_m(0, last);
    worst = {last, height, height * std::min(times, std::cbrt(times))};
  }
  return worst;
}

}  // namespace

void judge_column(const PrintRequest& print, const FreshPile& pile, FreshStack& out) {
  for (int i = 0; i < pile.size(); ++i) {
    if (!(pile.layer(i).second_moment_m4 > 0)) return;
  }
  const Moment worst = worst_column(print, pile, false);
  out.column_height_limit_m = worst.limit;
  out.checks.push_back({"column of fresh mix", worst.value, worst.limit, "m", false,
                        "the whole, " + while_layer(pile, worst.last),
                        "a stiffer mix: print.fresh_stiffness, "
                        "print.fresh_stiffness_growth"});
}

void judge_walls(const PrintRequest& print, const FreshPile& pile,
                 const std::vector<FreshWall>& walls, FreshStack& out) {
  if (walls.empty()) return;
  const Moment alone = worst_column(print, pile, true);  // of a wall one metre thick
  Moment worst, least;
  std::string place, least_place;
  int leaning_on_others = 0;
  for (const FreshWall& wall : walls) {
    const Moment free{alone.last, alone.value,
                      alone.limit * std::cbrt(wall.thickness_m * wall.thickness_m)};
    Moment now = free;
    if (wall.span_m > 0 || wall.outstand_m > 0) {
      const bool both = wall.span_m > 0;
      now = worst_plate(pile, wall.thickness_m, both ? wall.span_m : wall.outstand_m,
                        both ? WallEdges::kBothHeld : WallEdges::kOneFree);
      if (free.use() > 1 && now.use() <= 1) {
        ++leaning_on_others;
        if (least.last < 0 || free.limit < least.limit) least = free, least_place = wall.place;
      }
    }
    if (worst.last >= 0 && now.use() <= worst.use()) continue;
    worst = now;
    place = wall.place;
  }
  if (leaning_on_others > 0) {
    out.warnings.push_back("fresh walls that stand only because others across them hold them: " +
                           std::to_string(leaning_on_others) +
                           "; alone the least would buckle at " + millimetres(least.limit) + " (" +
                           least_place + ")");
  }
  out.wall_height_limit_m = worst.limit;
  out.checks.push_back({"wall of fresh mix", worst.value, worst.limit, "m", false,
                        place + ", " + while_layer(pile, worst.last),
                        "webs closer: section.web_spacing; a thicker wall; or a stiffer mix: "
                        "print.fresh_stiffness"});
}

}  // namespace skewback
