#pragma once
// What a plain elastomer pad gives and takes, by its shape. SI. Gent and Lindley 1959, EN 1337-3:
// from memory.

#include "geometry/geometry.hpp"

namespace skewback {

/// Loaded area over free area; the rims of holes are free.
[[nodiscard]] double pad_shape(const Regions& contact, double thickness_m);
/// E_b of rubber, EN 1337-3 5.3.3.7, from memory.
inline constexpr double kRubberBulk_pa = 2000e6;
/// 1 / E = 1 / (3 G (1 + 2 S^2)) + 1 / E_b.
[[nodiscard]] double pad_modulus_pa(double shear_modulus_pa, double shape);
/// S of a pad of that modulus; without bound from E_b on.
[[nodiscard]] double pad_shape_of(double modulus_pa, double shear_modulus_pa);
/// G of one of that modulus, below E_b, and shape.
[[nodiscard]] double pad_shear_modulus_of(double modulus_pa, double shape);
/// Plain pads, EN 1337-3 5.4: the lesser of 1.4 G S and 7 G.
[[nodiscard]] double pad_stress_limit_pa(double shear_modulus_pa, double shape);
/// On concrete under a mean pressure, EN 1337-3 5.3.3.6: 0.1 + 0.9 MPa / sigma; tests give no more
/// than about 0.5 (Magliulo and others 2011), and so does this.
[[nodiscard]] double pad_friction(double pressure_pa);

}  // namespace skewback
