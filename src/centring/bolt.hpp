#pragma once
// Bolts through timber: how long they have to be. Sizes of ISO 4014, 4032, 888 and washers of EN
// 1995-1-1, 10.4.3, from memory.

#include <string>

namespace skewback {

/// M10, M12, M16 or M20, both sides of timber.
struct BoltSet {
  double bolt_m = 0;
  double length_m = 0;                       // least of the lengths sold that does
  double washer_across_m = 0, washer_m = 0;  // 3 d and 0.3 d at least, whole mm
  [[nodiscard]] std::string name() const;    // "M10 x 80"
};
/// What it goes through, two washers, the nut's height and two turns of thread past it. `bolt_m`:
/// one of the four; another has its nut taken 0.9 d high. Longer than any sold: to 20 mm upwards.
[[nodiscard]] BoltSet bolt_through(double bolt_m, double through_m);

}  // namespace skewback
