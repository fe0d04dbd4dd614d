// What holds of every plan with an opening in a leg, on random star plans; the seed is the test's
// parameter.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "cut/cut.hpp"
#include "form/at_rest.hpp"
#include "form/leg_opening.hpp"
#include "star_plans.hpp"

namespace skewback::properties {
namespace {

constexpr unsigned kHoled = 24;

// None where no opening fits.
std::optional<StarPlan> holed(unsigned seed) {
  StarPlan star = star_plan(seed, 1, 0);
  const double size = 9;  // so that the least material beside an opening is not all there is
  star = star_plan(seed, size / star.size, 0);
  Random random(seed + 1000);
  if (!give_leg_opening(star, random)) return std::nullopt;
  Brief& brief = star.brief;
  brief.form.mesh_size_m = size / 20;
  const double width = (brief.plan.supports[0].a - brief.plan.supports[0].b).norm();
  brief.blocks.length_m = size / 12;
  brief.blocks.mass_max_kg =
      2 * brief.material.density * brief.blocks.length_m * width * brief.section.depth_springing_m;
  return star;
}

// Each plan is made once, for both tests.
struct Outcome {
  std::optional<StarPlan> star;
  std::optional<Result<Form>> form;
  std::optional<Result<Body>> body;
  std::optional<Result<Cut>> cut;
  [[nodiscard]] const Fault& refusal() const {
    if (!*form) return (*form).faults().front();
    return *body ? (*cut).faults().front() : (*body).faults().front();
  }
};
const Outcome& outcome(unsigned seed) {
  static std::map<unsigned, Outcome> all;
  const auto [it, fresh] = all.try_emplace(seed);
  Outcome& out = it->second;
  if (!fresh) return out;
  out.star = holed(seed);
  if (!out.star) return out;
  out.form = find_form(out.star->brief);
  if (!*out.form) return out;
  out.body = give_body(out.star->brief, **out.form);
  if (*out.body) out.cut = cut_blocks(out.star->brief, **out.body);
  return out;
}

class HoledLeg : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, HoledLeg, testing::Range(1u, kHoled + 1));

// A refusal says where, why and what would help; what is not refused is in balance without tension,
// near its drawing, and its blocks fill it once.
TEST_P(HoledLeg, StandsAndIsCutOrIsRefusedWithReasons) {
  const Outcome& out = outcome(GetParam());
  if (!out.star) return;
  SCOPED_TRACE("seed " + std::to_string(GetParam()) + ", " +
               std::to_string(out.star->brief.plan.supports.size()) + " supports");
  if (!out.cut || !*out.cut) {
    const Fault& fault = out.refusal();
    EXPECT_FALSE(fault.key.empty());
    EXPECT_FALSE(fault.found.empty());
    EXPECT_FALSE(fault.change.empty());
  }
  if (!*out.form) return;
  const Form& form = **out.form;
  expect_at_rest(form);
  const Polygon& drawn = out.star->brief.plan.openings[0];
  const Region hole{Polygon(drawn.rbegin(), drawn.rend()), {}};
  const Regions inside = offset({hole}, -0.25 * std::sqrt(area(hole)));
  for (const NetEdge& e : form.edges)
    for (const Region& r : inside)
      EXPECT_FALSE(contains(
          r,
          (0.5 * (form.vertices[std::size_t(e.a)] + form.vertices[std::size_t(e.b)])).head<2>()));
  if (!out.cut || !*out.cut) return;
  const Cut& cut = **out.cut;
  std::set<std::string> names;
  double volume = 0;
  for (const Block& block : cut.assembly.blocks) {
    EXPECT_TRUE(names.insert(block.id).second) << block.id;
    EXPECT_TRUE(closed(block.solid)) << block.id;
    if (!block.fixed) volume += mass_properties(block.solid).volume;
  }
  EXPECT_LT(cut.report.volume_error_rel, 1e-9);
  const double whole = (*out.body)->outer_volume_m3, designed = cut.report.designed_volume_m3;
  EXPECT_NEAR(volume, designed, 1e-9 * volume);  // less the tips of sharp arrises
  if (cut.report.blunted_arrises == 0) {
    EXPECT_NEAR(designed, whole, 1e-9 * whole);
  } else {
    EXPECT_LT(designed, whole);
  }
}

// Few are refused: the plans are such as compression can hold.
TEST(HoledLegs, MostAreFormedAndCut) {
  int tried = 0, formed = 0, made = 0;
  std::string refused;
  for (unsigned seed = 1; seed <= kHoled; ++seed) {
    const Outcome& out = outcome(seed);
    if (!out.star) continue;
    ++tried;
    formed += out.form->ok() ? 1 : 0;
    if (out.cut && *out.cut)
      ++made;
    else
      refused += "\nseed " + std::to_string(seed) + ": " + describe(out.refusal());
  }
  RecordProperty("tried", tried);
  RecordProperty("formed", formed);
  RecordProperty("cut", made);
  EXPECT_GE(tried, int(kHoled) / 2);
  EXPECT_EQ(formed, tried) << refused;
  EXPECT_GE(made, tried * 3 / 4) << refused;
}

}  // namespace
}  // namespace skewback::properties
