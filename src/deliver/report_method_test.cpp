#include <gtest/gtest.h>

#include "deliver/report.hpp"
#include "deliver/sample_dossier.hpp"

namespace skewback::deliver {
namespace {

TEST(ReportMethod, WatchesWhatTheFeetStandOn) {
  Dossier dossier = sample::small_dossier();
  const auto all = [&] {
    std::string text;
    for (const std::string& line : watch_words(dossier)) text += line + "\n";
    return text;
  };
  EXPECT_NE(all().find("wedges that have moved"), std::string::npos);
  EXPECT_EQ(all().find("jack"), std::string::npos);
  dossier.brief.centring.feet = "jacks";
  dossier.brief.centring.travel_m = 0.05;
  EXPECT_EQ(all().find("wedge"), std::string::npos);
  EXPECT_NE(all().find("whose lock nut is loose"), std::string::npos);
  EXPECT_NE(all().find("none wound beyond its travel of 50 mm"), std::string::npos);
}

TEST(ReportMethod, SaysWhereTheCrownComesUpAndWhatNoEyeSets) {
  CentringRequest ask;
  ask.strike_step_m = 0.5e-3;
  std::vector<Stage> stages(3);
  const double drops[] = {0.4e-3, 0.6e-3, 0.3e-3};
  std::vector<const Stage*> given;
  for (std::size_t k = 0; k < 3; ++k) {
    stages[k].step = 10 + static_cast<int>(k);
    stages[k].crown_drop_m = drops[k];
    given.push_back(&stages[k]);
  }
  EXPECT_NE(lowering_words(ask, given).find("In step 12 the crown comes up again by 0.3 mm"),
            std::string::npos);
  EXPECT_EQ(lowering_words(ask, {given[0], given[1]}), "");
  ask.strike_step_m = 0.1e-3;
  EXPECT_NE(lowering_words(ask, {}).find("finer than wedges are driven"), std::string::npos);
}

}  // namespace
}  // namespace skewback::deliver
