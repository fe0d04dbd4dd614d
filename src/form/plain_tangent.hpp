#pragma once
// The linearised map from u = log(q - floor) to what a plain wish finds amiss, at one net in
// equilibrium after another.

#include <array>
#include <span>
#include <vector>

#include "form/free_system.hpp"
#include "form/plain_fit.hpp"

namespace skewback::plain {

/// Residuals: x, y of each point by its plan weight, level rows, crown.
[[nodiscard]] VectorX residuals(const std::vector<Vec3>& points, const ShapeWish& wish);

/// J, the derivatives of the residuals by u.
class Tangent {
 public:
  Tangent(const Net& net, const ShapeWish& wish);
  void move_to(const Net& net);  // of the same edges and fixed points

  [[nodiscard]] VectorX backward(const VectorX& r) const;  // J' r
  /// image = (J'J + damping) du. Uses scratch space: one thread at a time.
  void normal(const VectorX& du, double damping, VectorX& image) const;

 private:
  struct Entry {
    int column;
    double factor;
  };
  struct Rows {  // of a sparse matrix
    std::vector<int> start{0};
    std::vector<Entry> entries;
    void end_row() { start.push_back(int(entries.size())); }
    [[nodiscard]] std::span<const Entry> operator[](std::size_t row) const {
      return {entries.data() + start[row], entries.data() + start[row + 1]};
    }
  };

  void wire_edges(const Net& net);
  void wire_level();
  void take_net(const Net& net);
  [[nodiscard]] double by_u(const FreeSystem::Sides& adjoint, std::size_t edge) const;

  const ShapeWish& wish_;
  FreeSystem system_;
  std::vector<int> point_;                // per row of the system
  std::vector<double> plan_weight_;       // per row
  std::vector<int> crown_;                // rows
  std::vector<std::array<int, 2>> ends_;  // per edge: rows of a and b
  Rows pushes_;                           // per row of the system, by edge
  Rows level_, level_back_;               // times their weight; columns are rows of the other
  std::vector<Lanes> span_;               // per edge: a less b
  std::vector<double> slope_;             // per edge: dq/du
  mutable FreeSystem::Sides sides_;
  mutable std::vector<double> push_size_, lift_;
};

}  // namespace skewback::plain
