#pragma once
// Shapes laid on sheets one after the other, each where it fits best. Private to centring/.

#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "centring/nest_shape.hpp"

namespace skewback::nest {

/// Where the origin of one shape may not lie for another at rest at the origin: found once for each
/// pair and each turn of one against the other.
class NoFit {
 public:
  explicit NoFit(const std::vector<Shape>& shapes) : shapes_(&shapes) {}
  [[nodiscard]] const Paths& at(int fixed, const Turn& fixed_turn, int moving,
                                const Turn& moving_turn);

 private:
  [[nodiscard]] const Paths& upright(int fixed, int moving, const Turn& against);
  const std::vector<Shape>* shapes_;
  std::map<std::tuple<int, int, int>, Paths> upright_;  // fixed, moving, turn against it
  std::map<std::tuple<int, int, int, int>, Paths> turned_;
};

struct Placed {
  int item = -1;  // the caller's
  int shape = -1;
  Turn turn;
  IntPoint at;
};

struct Stock {  // a sheet, micrometres
  ClipperLib::cInt length = 0, width = 0;
  ClipperLib::cInt edge = 0;  // kept free along it
};

/// What is better of two places: the lesser sum.
struct Liking {
  double top = 1, right = 0.05;  // of the far corner of its box
  double middle = 0;             // of its centroid's height
};

class LaidSheet {
 public:
  explicit LaidSheet(const Stock& stock) : stock_(stock) {}
  /// The best place for a shape in any of its turns; none if it does not fit.
  [[nodiscard]] std::optional<Placed> place_for(const std::vector<Shape>& shapes, NoFit& no_fit,
                                                int shape, const std::vector<Turn>& turns,
                                                const Liking& liking);
  void put(const Placed& placed) { placed_.push_back(placed); }
  [[nodiscard]] const std::vector<Placed>& placed() const { return placed_; }

 private:
  struct Room {
    Paths region;          // where the origin may lie
    std::size_t seen = 0;  // of placed_, already taken off
  };
  [[nodiscard]] const Paths& room(const std::vector<Shape>& shapes, NoFit& no_fit, int shape,
                                  const Turn& turn);
  Stock stock_;
  std::vector<Placed> placed_;
  std::map<std::pair<int, int>, Room> rooms_;
};

}  // namespace skewback::nest
