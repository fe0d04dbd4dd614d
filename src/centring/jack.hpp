#pragma once
// Screw jacks under posts: one size for all feet, from a table of trapezoidal threads. Theory:
// docs/theory/centring-loads.md.

#include <string>
#include <vector>

#include "centring/centring.hpp"

namespace skewback {

struct TrapezoidalThread {  // ISO 2904, preferred; root from the clearances of that standard
  double outer_m = 0, pitch_m = 0;
  [[nodiscard]] double mean_m() const { return outer_m - pitch_m / 2; }
  [[nodiscard]] double root_m() const;
  [[nodiscard]] std::string name() const;  // "Tr 32 x 6"
};
[[nodiscard]] const std::vector<TrapezoidalThread>& trapezoidal_threads();  // rising

/// A screw that stands on the ground and goes up into a bore in its post, a nut under the post's
/// end. Its length follows from the travel; the least thread of the table that carries all feet.
struct Jack {
  bool found = false;  // else the largest of the table, which does not do
  TrapezoidalThread thread;
  double extension_m = 0;  // ground to post, raised all the way
  double overlap_m = 0;    // in the bore then, at least
  double length_m = 0;
  double bore_m = 0;      // depth in the post, lowered all the way
  double nut_m = 0;       // height
  double turning_nm = 0;  // to raise it under the greatest weight of blocks
  std::string foot;       // that asks most of it
  double load_n = 0, sideways_n = 0, moment_nm = 0;  // there, design; second order
  double used = 0;
  int posts_too_short = 0;  // for the bore
  int without_post = 0;     // feet: the rib bears on a head of its own there
};
/// `centring`: judged. Loads from its findings.
[[nodiscard]] Jack jack_for(const Brief& brief, const Centring& centring);

/// Share of a screw's root used by compression and by bending about its fixed upper end, of second
/// order: N/(A f) + M/(W f (1 - N/N_cr)), M = (H + N/200) e, N_cr = pi^2 E I/(2 e)^2, f = f_y/1.1.
/// Over N_cr: infinite. `moment_nm`: that moment.
[[nodiscard]] double screw_used(const TrapezoidalThread& thread, double extension_m, double load_n,
                                double sideways_n, double* moment_nm = nullptr);
/// To raise the load: N d2/2 tan(phi + rho), tan phi = P/(pi d2), tan rho = mu/cos 15 deg, mu 0.15.
[[nodiscard]] double turning_nm(const TrapezoidalThread& thread, double load_n);

}  // namespace skewback
