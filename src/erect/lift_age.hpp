#pragma once
// How strong concrete is at the age at which a block is lifted. EN 1992-1-1:2004, 3.1.2 (5) to (9),
// from memory. Theory: docs/theory/lifting.md.

#include <optional>

#include "brief/brief.hpp"

namespace skewback {

/// s of (3.2) for a class of cement, "S", "N" or "R".
[[nodiscard]] double cement_coefficient(const std::string& cement_class);
/// f_ctm(t) / f_ctm, (3.4): beta_cc to the power 1 before 28 days, 2/3 from then on.
[[nodiscard]] double tension_at_age(double cement, double days);
/// f_ck(t) / f_ck, 3.1.2 (5): beta_cc f_cm - 8 MPa, from 28 days on f_ck; never below 0. The
/// standard asks for tests under 3 days.
[[nodiscard]] double compression_at_age(double cement, double days, double fck_pa);
/// Least age at which that is so much, days, up to 28. None: not by then.
[[nodiscard]] std::optional<double> days_to_tension(double cement, double share);
[[nodiscard]] std::optional<double> days_to_compression(double cement, double share, double fck_pa);

/// What is counted on at a lift, over what is at 28 days; no more than that.
struct LiftAge {
  double days = 28;
  double tension = 1, compression = 1;
  bool as_tested = false;  // lifting.early_strength says it, not the age
};
/// Off its table: lifting.early_strength, else at lifting.table_age, else after print.curing; of
/// what is not printed 28 days.
[[nodiscard]] LiftAge age_off_table(const Brief& brief);
/// On the road: just cured, and no older than when it is lifted on site.
[[nodiscard]] LiftAge age_on_the_road(const Brief& brief);
/// Into its place: at lifting.site_age, else after curing and the shortest journey.
[[nodiscard]] LiftAge age_on_site(const Brief& brief);

}  // namespace skewback
