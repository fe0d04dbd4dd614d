#pragma once
// Private to print/: the fresh stack as it grows, layer by layer.

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "print/fresh.hpp"
#include "print/words.hpp"

namespace skewback {

/// Ages, heights and stresses of layers laid one on the other. Index `last`: the moment at which
/// the bead of that layer passes over.
class FreshPile {
 public:
  FreshPile(const PrintRequest& print, const std::vector<FreshLayer>& layers)
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
  /// Plain pressure that yields as soon as this: on a leaning layer a part of the weight is shear,
  /// sqrt(cos2 + 3 sin2) of it by von Mises.
  [[nodiscard]] double stress_pa(int i, int last) const {
    const double sine = std::sin(layer(i).lean_rad);
    return pressure_pa(i, last) * std::sqrt(1 + 2 * sine * sine);
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

/// Adds the checks of the whole as a column and of its walls (fresh_slender.cpp).
void judge_column(const PrintRequest& print, const FreshPile& pile, FreshStack& out);
void judge_walls(const PrintRequest& print, const FreshPile& pile,
                 const std::vector<FreshWall>& walls, FreshStack& out);

}  // namespace skewback
