#include "print/fresh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/constants.hpp"
#include "print/fresh_buckling.hpp"
#include "print/fresh_words.hpp"

namespace skewback {
namespace {

constexpr double kRoot3 = std::numbers::sqrt3;

/// Where and when something is worst: foot at a layer, while another is the last laid.
struct Moment {
  int foot = -1, last = -1;
  double value = 0, limit = 0;
  [[nodiscard]] double use() const { return value / limit; }
};

class Stack {
 public:
  Stack(const PrintRequest& print, const std::vector<FreshLayer>& layers)
      : print_(print), layers_(layers) {
    for (const FreshLayer& layer : layers) {
      done_s_.push_back(end_s() + layer.time_s);
      top_m_.push_back((top_m_.empty() ? 0 : top_m_.back()) + layer.height_m);
      volume_m3_.push_back((volume_m3_.empty() ? 0 : volume_m3_.back()) + layer.volume_m3);
      moment_m4_.emplace_back(layer.volume_m3 * layer.middle_m +
                              (moment_m4_.empty() ? Vec2(0, 0) : moment_m4_.back()));
    }
  }

  [[nodiscard]] int size() const { return static_cast<int>(layers_.size()); }
  [[nodiscard]] double end_s() const { return done_s_.empty() ? 0 : done_s_.back(); }
  [[nodiscard]] double done_s(int i) const { return i < 0 ? 0 : done_s_[at(i)]; }
  [[nodiscard]] const FreshLayer& layer(int i) const { return layers_[at(i)]; }

  /// Since a place in a layer was laid, when the bead of layer `last` passes over it: the shorter
  /// of that where the layers begin and that where they end.
  [[nodiscard]] double age_s(int i, int last) const {
    return std::min(done_s(last) - done_s(i), done_s(last - 1) - done_s(i - 1));
  }
  [[nodiscard]] double yield_pa(int i, int last) const {
    return print_.fresh_yield_pa + print_.fresh_yield_growth_pa_s * age_s(i, last);
  }
  [[nodiscard]] double stiffness_pa(int i, int last) const {
    return print_.fresh_stiffness_pa + print_.fresh_stiffness_growth_pa_s * age_s(i, last);
  }
  /// From the foot of a layer to the top of the last.
  [[nodiscard]] double height_m(int i, int last) const {
    return top_m_[at(last)] - (i > 0 ? top_m_[at(i - 1)] : 0);
  }
  /// Greatest under a layer: of its weight and what is above, out of its middle.
  [[nodiscard]] double pressure_pa(int i, int last) const {
    const FreshLayer& foot = layer(i);
    const double volume = volume_m3_[at(last)] - (i > 0 ? volume_m3_[at(i - 1)] : 0);
    double per_volume = 1 / foot.area_m2;
    if (foot.edge_m > 0 && foot.second_moment_m4 > 0) {
      const Vec2 before = i > 0 ? moment_m4_[at(i - 1)] : Vec2(0, 0);
      const Vec2 out = (moment_m4_[at(last)] - before) / volume - foot.middle_m;
      per_volume += out.norm() * foot.edge_m / foot.second_moment_m4;
    }
    return print_.fresh_density * kGravity * volume * per_volume;
  }
  [[nodiscard]] std::string place(int i, int last) const {
    const double age = done_s(last) - done_s(i);
    return "layer " + std::to_string(i + 1) + " of " + std::to_string(size()) +
           (last == i ? ", as it is laid" : ", " + duration(age) + " after it was laid");
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  const PrintRequest& print_;
  const std::vector<FreshLayer>& layers_;
  std::vector<double> done_s_, top_m_, volume_m3_;
  std::vector<Vec2> moment_m4_;  // volume times middle, up to and with each layer
};

// ---- strength ----------------------------------------------------------------------------------

/// Growth of yield with which no layer ever carries too much; none if one does as it is laid.
std::optional<double> growth_needed(const PrintRequest& print, const Stack& stack,
                                    const std::vector<double>& shear_factor) {
  double most = 0;
  for (int i = 0; i < stack.size(); ++i) {
    for (int last = i; last < stack.size(); ++last) {
      const double lacking =
          stack.pressure_pa(i, last) * shear_factor[static_cast<std::size_t>(i)] / kRoot3 -
          print.fresh_yield_pa;
      if (!(lacking > 0)) continue;
      const double age = stack.age_s(i, last);
      if (!(age > 0)) return std::nullopt;
      most = std::max(most, lacking / age);
    }
  }
  return most;
}

void judge_strength(const PrintRequest& print, const Stack& stack, FreshStack& out) {
  std::vector<double> shear_factor;
  int worst_last = 0;
  for (int i = 0; i < stack.size(); ++i) {
    // pressure cos, shear sin: sqrt(cos2 + 3 sin2) of the weight over the section
    const double sine = std::sin(stack.layer(i).lean_rad);
    shear_factor.push_back(std::sqrt(1 + 2 * sine * sine));
    double stress = 0, yield = 0, use = -1;
    for (int last = i; last < stack.size(); ++last) {
      const double s = stack.pressure_pa(i, last) * shear_factor.back();
      const double y = stack.yield_pa(i, last);
      if (s / (kRoot3 * y) <= use) continue;
      stress = s, yield = y, use = s / (kRoot3 * y);
      if (out.worst_layer >= 0 && use <= out.worst_use) continue;
      out.worst_layer = i;
      out.worst_use = use;
      worst_last = last;
    }
    out.stress_pa.push_back(stress);
    out.yield_pa.push_back(yield);
    out.use.push_back(use);
  }
  out.worst_time_s = stack.done_s(worst_last);
  out.worst_age_s = out.worst_time_s - stack.done_s(out.worst_layer);
  out.growth_needed_pa_s = growth_needed(print, stack, shear_factor);
  std::string change = "a stiffer mix: print.fresh_yield; or thinner layers: print.layer_max";
  if (out.growth_needed_pa_s && *out.growth_needed_pa_s > 0) {
    const double slower = print.fresh_yield_growth_pa_s / *out.growth_needed_pa_s;
    change = "a mix that sets faster: print.fresh_yield_growth " +
             rounded(*out.growth_needed_pa_s, true) + " Pa/s";
    if (slower > 0) {
      change += "; or a slower rise: waiting, or print.flow " +
                rounded(slower * print.flow_m3_s * 6e4, false) + " L/min";
    }
  }
  out.checks.push_back({"fresh strength", out.worst_use, 1, "", false,
                        stack.place(out.worst_layer, worst_last), change});
}

void judge_own_height(const PrintRequest& print, const Stack& stack, FreshStack& out) {
  const auto thickest = [&](int i) {
    return std::max(stack.layer(i).height_m, stack.layer(i).height_max_m);
  };
  int worst = 0;
  for (int i = 1; i < stack.size(); ++i) {
    if (thickest(i) > thickest(worst)) worst = i;
  }
  out.checks.push_back({"fresh layer", thickest(worst),
                        height_that_stands_m(print.fresh_yield_pa, print.fresh_density), "m", false,
                        stack.place(worst, worst),
                        "thinner layers: print.layer_max; or a stiffer mix: print.fresh_yield"});
}

// ---- buckling ----------------------------------------------------------------------------------

/// What stands while layer `last` is the last, as a column; `wall`: of one metre of wall, a metre
/// thick, else of the whole section.
double reserve(const PrintRequest& print, const Stack& stack, int last, bool wall) {
  std::vector<ColumnPiece> pieces;
  for (int i = 0; i <= last; ++i) {
    const FreshLayer& layer = stack.layer(i);
    const double weight = print.fresh_density * kGravity;
    pieces.push_back({layer.height_m, weight * (wall ? layer.height_m : layer.volume_m3),
                      stack.stiffness_pa(i, last) * (wall ? 1.0 / 12 : layer.second_moment_m4)});
  }
  return column_reserve(pieces);
}

/// Least reserve over the whole printing, as a height that stands and one that buckles.
Moment worst_column(const PrintRequest& print, const Stack& stack, bool wall, double times) {
  Moment worst;
  for (int last = 0; last < stack.size(); ++last) {
    const double height = stack.height_m(0, last);
    const Moment now{0, last, height,
                     height * std::cbrt(times * reserve(print, stack, last, wall))};
    if (worst.last < 0 || now.use() > worst.use()) worst = now;
  }
  return worst;
}

std::string while_layer(const Stack& stack, int last) {
  return "while layer " + std::to_string(last + 1) + " of " + std::to_string(stack.size()) +
         " is laid";
}

void judge_column(const PrintRequest& print, const Stack& stack, FreshStack& out) {
  for (int i = 0; i < stack.size(); ++i) {
    if (!(stack.layer(i).second_moment_m4 > 0)) return;
  }
  const Moment worst = worst_column(print, stack, false, 1);
  out.column_height_limit_m = worst.limit;
  out.checks.push_back({"column of fresh mix", worst.value, worst.limit, "m", false,
                        "the whole, " + while_layer(stack, worst.last),
                        "a slower rise: print.flow; or a stiffer mix: print.fresh_stiffness, "
                        "print.fresh_stiffness_growth"});
}

/// A plate between what holds it: pressure at a foot against the stiffness of the youngest layer in
/// the half-wave over it, as high as the plate is wide.
Moment worst_plate(const Stack& stack, double thickness_m, double width_m, bool edge_free) {
  Moment worst;
  for (int last = 0; last < stack.size(); ++last) {
    int top = last;
    for (int foot = last; foot >= 0; --foot) {
      while (top > foot && stack.height_m(foot, top - 1) >= width_m) --top;
      const double height = stack.height_m(foot, last);
      const double holds =
          wall_pressure_pa(stack.stiffness_pa(top, last), thickness_m, width_m, edge_free);
      const Moment now{foot, last, height, height * holds / stack.pressure_pa(foot, last)};
      if (worst.last < 0 || now.use() > worst.use()) worst = now;
    }
  }
  return worst;
}

void judge_walls(const PrintRequest& print, const Stack& stack, const std::vector<FreshWall>& walls,
                 FreshStack& out) {
  if (walls.empty()) return;
  const Moment alone = worst_column(print, stack, true, 1);  // of a wall one metre thick
  Moment worst, least;
  std::string place, least_place;
  int leaning_on_others = 0;
  for (const FreshWall& wall : walls) {
    const Moment free{0, alone.last, alone.value,
                      alone.limit * std::cbrt(wall.thickness_m * wall.thickness_m)};
    const bool edge_free = !(wall.span_m > 0);
    const double width = edge_free ? wall.outstand_m : wall.span_m;
    Moment now = free;
    if (width > 0) {
      const Moment held = worst_plate(stack, wall.thickness_m, width, edge_free);
      if (held.use() < free.use()) now = held;
      if (free.use() > 1 && held.use() <= 1) {
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
                        place + ", over the foot of layer " + std::to_string(worst.foot + 1) +
                            ", " + while_layer(stack, worst.last),
                        "webs closer: section.web_spacing; a thicker wall; a slower rise: "
                        "print.flow; or a stiffer mix: print.fresh_stiffness"});
}

// ---- layer times -------------------------------------------------------------------------------

/// A place is covered after the time of its own layer where layers begin, of the next where they
/// end: so a single layer has none.
void judge_times(const PrintRequest& print, const Stack& stack, FreshStack& out) {
  if (stack.size() < 2) return;
  int least = 0, most = 0;
  for (int i = 1; i < stack.size(); ++i) {
    if (stack.layer(i).time_s < stack.layer(least).time_s) least = i;
    if (stack.layer(i).time_s > stack.layer(most).time_s) most = i;
  }
  const auto place = [&](int i) {
    return "layer " + std::to_string(i + 1) + " of " + std::to_string(stack.size());
  };
  out.checks.push_back(
      {"layer time, least", stack.layer(least).time_s, print.layer_time_min_s, "s", true,
       place(least),
       "two blocks by turns, or waiting; less flow: print.flow; or a mix that sets faster, with "
       "print.layer_time_min to match"});
  out.checks.push_back({"layer time, greatest", stack.layer(most).time_s, print.layer_time_max_s,
                        "s", false, place(most),
                        "more flow: print.flow; shorter blocks: blocks.length; or a mix that stays "
                        "open longer, with "
                        "print.layer_time_max to match"});
}

}  // namespace

double height_that_stands_m(double yield_pa, double density) {
  return kRoot3 * yield_pa / (density * kGravity);
}

double yield_needed_pa(double height_m, double density) {
  return density * kGravity * height_m / kRoot3;
}

double rise_rate_m_s(double growth_pa_s, double density) {
  return kRoot3 * growth_pa_s / (density * kGravity);
}

FreshStack judge_fresh(const PrintRequest& print, const std::vector<FreshLayer>& layers,
                       const std::vector<FreshWall>& walls) {
  FreshStack out;
  if (layers.empty()) return out;
  const Stack stack(print, layers);
  out.height_m = stack.height_m(0, stack.size() - 1);
  judge_strength(print, stack, out);
  judge_own_height(print, stack, out);
  judge_column(print, stack, out);
  judge_walls(print, stack, walls, out);
  judge_times(print, stack, out);
  return out;
}

}  // namespace skewback
