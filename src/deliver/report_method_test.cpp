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

}  // namespace
}  // namespace skewback::deliver
