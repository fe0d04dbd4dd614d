#pragma once
// A form close to one that was found before: its forces are gone on from, not sought anew.

#include <optional>

#include "form/form.hpp"

namespace skewback {

struct FollowOptions {
  int steps = 3;  // Gauss-Newton, of the fit to the plan and to level sections; 0: forces are only
                  // scaled to the rise, all in one proportion
};

/// As find_form under `vertex_load_n` (needed), from the force densities of `before`. None where
/// its net has not as many vertices and edges, or where there are wishes (has_wishes): find_form
/// then. In equilibrium as exactly, the rise as exact; how near it comes to the plan and to level
/// sections depends on where it began.
[[nodiscard]] std::optional<Result<Form>> follow_form(const Brief& brief, const Form& before,
                                                      const std::vector<double>& vertex_load_n,
                                                      const FollowOptions& options = {});

}  // namespace skewback
