#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "cut/cut.hpp"
#include "form/spine_plans.hpp"

namespace skewback {
namespace {

TEST(Stars, Probe) {
  Brief brief = sample::double_y_brief();
  brief.blocks.mass_max_kg = 500;
  brief.blocks.length_m = 0.5;
  brief.blocks.width_max_m = 1.2;
  brief.joints.friction = 0.6;
  brief.joints.pad_thickness_m = 0.008;
  const Result<Form> form = find_form(brief);
  ASSERT_TRUE(form.ok());
  const Result<Body> body = give_body(brief, *form);
  ASSERT_TRUE(body.ok()) << describe(body.faults().front());
  const Result<Cut> cut = cut_blocks(brief, *body);
  ASSERT_TRUE(cut.ok()) << describe(cut.faults().front());
  printf("vol err %.2e watertight %d spread %.2f height %.2f stagger %.2f\n",
         cut->report.volume_error_rel, cut->report.watertight, cut->report.mass_spread,
         cut->report.height_ratio_max, cut->report.stagger_min);
  for (const std::string& r : cut->report.remarks) printf("%s\n", r.c_str());
  for (const Block& b : cut->assembly.blocks)
    printf("%s arm %d course %d place %d crown %d phi %.2f mass %.0f at %.2f %.2f %.2f\n",
           b.id.c_str(), b.place.arm, b.place.course, b.place.place, b.place.crown, b.place.phi_m,
           concrete_mass_kg(b), b.mass.centroid.x(), b.mass.centroid.y(), b.mass.centroid.z());
  for (const Joint& j : cut->assembly.joints)
    printf("%s | %s area %.3f\n", cut->assembly.blocks[j.a].id.c_str(),
           cut->assembly.blocks[j.b].id.c_str(), area(j.contact));
}

}  // namespace
}  // namespace skewback
