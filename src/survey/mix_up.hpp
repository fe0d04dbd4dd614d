#pragma once
// What mix-up explains springings that are measured far from where they are drawn. Private to
// survey/.

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

/// Per support its marks right, left, back; bridge axes, metres.
struct Springings {
  std::vector<std::string> supports;
  std::vector<std::array<Vec3, 3>> drawn, measured;
};
/// The axes that the measured points were written in.
struct WrittenAxes {
  const SiteGrid* site = nullptr;  // null: the bridge's own
};

struct MixUp {
  std::string found, change;          // empty: none
  std::vector<std::size_t> supports;  // whose names are exchanged; of axes: none
  std::optional<std::pair<std::size_t, std::size_t>> mark;  // of two exchanged the first: support,
                                                            // place in its three
};
/// Only where some mark, as named, is more than `near_m` from its place. What is looked for brings
/// every mark within `near_m`: on the axes of the drawing names of whole supports exchanged (any
/// order of up to six, else pairs), two level axes exchanged, one axis negated, the names of two
/// marks exchanged; and, where no turn about the vertical and shift of all brings them within
/// `near_m` as named and one does five times as well so, the same on axes of the survey's own.
/// Where several mix-ups do, all are said.
[[nodiscard]] MixUp mix_up(const Springings& marks, const WrittenAxes& axes, double near_m);

/// Best turn about the vertical and shift of points onto others: heights are plumb.
[[nodiscard]] Rigid plumb_fit(const std::vector<Vec3>& drawn, const std::vector<Vec3>& measured);

}  // namespace skewback
