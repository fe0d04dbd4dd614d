#include "deliver/report_ground.hpp"

#include <gtest/gtest.h>

#include "deliver/sample_dossier.hpp"

namespace skewback::deliver {
namespace {

Groundworks some_ground() {
  Groundworks g;
  g.laid = sample::small_brief().ground.ties;
  TieForce tie;
  tie.id = "west-east";
  tie.thread = "M20";
  tie.resistance_n = 111e3;
  g.ties = {tie};
  FootingReport f;
  f.id = "west";
  f.size = {2.2, 0.1, 0.4, 0.5};
  f.reason = "not cleared: soil unknown";
  FootingCase c;
  c.case_id = "dead";
  c.approach = "DA1-2";
  c.bearing_used = 0.338;
  f.cases = {c};
  f.worst_bearing = f.worst_sliding = f.worst_eccentric = 0;
  g.footings = {f};
  Layout best;
  best.ties = {{"west-east", 6, 83e3, 2, "M20", 33.2, 44.4}};
  best.steel_kg = 33.2;
  g.layout.best = best;
  g.layout.second_reason = "every tie of the best is needed";
  LossState loss;
  loss.tie = "west-east";
  loss.reason = "not held in case dead: footing east lacks 82.11 kN in plan";
  loss.cases = 1;
  g.losses = {loss};
  Shoe shoe;
  shoe.id = "west";
  shoe.bolts = 4;
  shoe.bolt = "M12";
  g.shoes = {shoe};
  return g;
}

TEST(Feet, JsonHoldsWhatWasFound) {
  const auto json = feet_json(some_ground());
  EXPECT_EQ(json["footings"][0]["cases"][0]["bearing_used"], 0.338);
  EXPECT_TRUE(json["footings"][0]["cases"][0]["sliding_used"].is_null());
  EXPECT_EQ(json["ties"][0]["thread"], "M20");
  EXPECT_EQ(json["layout"]["best"]["steel_kg"], 33.2);
  EXPECT_TRUE(json["layout"]["second"].is_null());
  EXPECT_FALSE(json["losses"][0]["held"]);
  EXPECT_EQ(json["shoes"][0]["bolts"], 4);
}

TEST(Feet, PlanShowsEveryFootAndTie) {
  const std::string drawn = svg(feet_plan(sample::small_brief(), some_ground(), 170, 110));
  for (const char* text : {"west", "east", "west-east 2 M20"})
    EXPECT_NE(drawn.find(text), std::string::npos) << text;
}

TEST(Feet, PagesAreTheSameEveryTime) {
  const auto made = [] {
    Pages pages("feet", 0);
    pages.heading("Ground");
    add_feet(pages, sample::small_brief(), some_ground());
    return pages.finish();
  };
  EXPECT_EQ(made(), made());
  EXPECT_GT(made().size(), 3000u);
}

}  // namespace
}  // namespace skewback::deliver
