#pragma once
// For tests only: an arch on two footings, measured and put right.

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/sample_give.hpp"
#include "survey/survey.hpp"

namespace skewback::sample {

/// All marks of the brief, those of `support` moved (empty: all).
inline SurveyRequest surveyed(const Brief& brief, const std::string& support, const Rigid& X) {
  SurveyRequest request;
  for (const Mark& mark : springing_marks(brief)) {
    const Vec3 at = support.empty() || support == mark.of ? X(mark.designed) : mark.designed;
    request.points.push_back({mark.of, mark.name.substr(mark.of.size() + 1), at});
  }
  return request;
}
inline Rigid shift(const Vec3& by) { return {Mat3::Identity(), by}; }

struct Case {
  Assembly assembly;
  Brief brief;
};
inline Case arch_case(double pad = 0) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 0.6};
  Case c{sample::arch_assembly(arch), sample::barrel_brief(arch.radius, arch.width)};
  c.brief.packing = sample::half_mm();
  LoadCase point;
  point.id = "point";
  point.live = {{2, centre_of_gravity(c.assembly.blocks[2]), {0, 0, -1e5}}};
  c.assembly.cases.push_back(point);
  if (pad > 0) {
    for (Joint& joint : c.assembly.joints) joint.pad = Pad{pad, 1e9, 1e8};
  }
  return c;
}

inline RefitInput input(const Case& c) {
  RefitInput in;
  in.brief = &c.brief;
  in.assembly = &c.assembly;
  return in;
}

inline Refit refit_with(Case& c, const std::string& support, const Rigid& X) {
  c.brief.survey = surveyed(c.brief, support, X);
  Result<Refit> found = refit(input(c), {});
  EXPECT_TRUE(found.ok()) << (found.ok() ? "" : describe(found.faults()[0]));
  return found.ok() ? std::move(found).value() : Refit{};
}

}  // namespace skewback::sample
