#include <gtest/gtest.h>

#include <cmath>

#include "form/form.hpp"
#include "form/mesh.hpp"
#include "form/plan_check.hpp"
#include "form/spine_plans.hpp"

namespace skewback {
namespace {

const Form& spine_form() {
  static const Form form = find_form(sample::double_y_brief()).value();
  return form;
}

TEST(SpineForm, Report) {
  const Result<Form> r = find_form(sample::double_y_brief());
  if (!r) {
    for (const Fault& f : r.faults()) printf("%s\n", describe(f).c_str());
    FAIL();
  }
  const Form& f = spine_form();
  printf("n %zu rise %.6f fit %.4f shift %.4f resid %.1e thrust %.0f steps %d\n", f.vertices.size(),
         f.rise_m, f.fit_rms_m, f.plan_shift_max_m, f.residual_rel, f.thrust_max_n, f.cost.steps);
  for (std::size_t k = 0; k < f.arms.size(); ++k) {
    double low = 1e9, high = -1e9;
    for (std::size_t t = 0; t < f.arm.size(); ++t)
      if (f.arm[t] == int(k))
        for (double v : f.phi[t]) low = std::min(low, v), high = std::max(high, v);
    printf("arm %zu scale %.3f med %.2f p90 %.2f phi %.3f %.3f\n", k, f.arms[k].scale,
           f.arms[k].angle_median_deg, f.arms[k].angle_p90_deg, low, high);
  }
}

TEST(SpineForm, Probe) {
  struct Case { const char* name; sample::DoubleY d; double rise, mesh; std::array<double,4> level; };
  const Case cases[] = {{"spread30", {6, 3.5, 30, 1.6, 1.0}, 1.8, .25, {}}, {"spread65", {6, 3.5, 65, 1.6, 1.0}, 1.8, .25, {}},
    {"spread75", {6, 3.5, 75, 1.6, 0.9}, 1.8, .25, {}}, {"spread88", {6, 3.5, 88, 1.6, 0.8}, 1.8, .25, {}}, {"long", {14, 4, 45, 2, 1.5}, 2.5, .3, {}}, {"short", {2.5, 4, 45, 1.6, 1.1}, 1.5, .25, {}},
    {"levels", {6, 3.5, 50, 1.6, 1.2}, 1.8, .25, {0.5,0.5,0,0}}, {"onelevel", {6, 3.5, 50, 1.6, 1.2}, 1.8, .25, {0.5,0,0,0}}, {"fine", {6, 3.5, 50, 1.6, 1.2}, 1.8, .12, {}}};
  for (const Case& c : cases) {
    Brief b = sample::double_y_brief(c.d);
    b.form.rise_m = c.rise; b.form.mesh_size_m = c.mesh;
    for (int k = 0; k < 4; ++k) b.plan.supports[k].level_m = c.level[k];
    const Result<Form> r = find_form(b);
    if (!r) { for (const Fault& f : r.faults()) printf("%s: %s\n", c.name, describe(f).c_str()); continue; }
    const Form& f = *r;
    printf("%s: n %zu rise %.4f fit %.4f shift %.4f thrust %.0f ", c.name, f.vertices.size(), f.rise_m, f.fit_rms_m, f.plan_shift_max_m, f.thrust_max_n);
    for (const auto& a : f.arms) printf(" (%.2f %.1f %.1f)", a.scale, a.angle_median_deg, a.angle_p90_deg);
    printf("\n");
  }
}

}  // namespace
}  // namespace skewback
