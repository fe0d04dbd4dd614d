#pragma once
// Private to print/: the bead, and how fast it is laid. Its sides are half rounds, so that its
// section is A = w h - (1 - pi/4) h2; written A = share x height, with w = share + (1 - pi/4) h,
// beads side by side overlap by (1 - pi/4) h and a wall of them is as wide as their shares.

#include "print/print_parts.hpp"

namespace skewback {

/// Section of a bead `width_m` over all, m2; needs width >= height (else there is no flat).
[[nodiscard]] double bead_section_m2(double width_m, double height_m);
[[nodiscard]] double bead_width_m(double share_m, double height_m);  // over all
[[nodiscard]] double bead_share_m(double width_m, double height_m);  // wall that it stands for

/// What leaves the nozzle: the pump's mix and the accelerator dosed into it, m3/s.
[[nodiscard]] double nozzle_flow_m3_s(const PrintRequest& print);
[[nodiscard]] double accelerator_flow_m3_s(const PrintRequest& print);
/// The part of a laid volume that was mixed (the rest is accelerator), m3.
[[nodiscard]] double mix_volume_m3(const PrintRequest& print, double laid_m3);

/// Speed at which the nozzle's flow makes this bead, m/s; not held to speed_min and speed_max.
[[nodiscard]] double bead_speed_m_s(const PrintRequest& print, double share_m, double height_m);
/// Share of a bead of this height laid at this speed, m.
[[nodiscard]] double share_at_speed_m(const PrintRequest& print, double speed_m_s, double height_m);

}  // namespace skewback
