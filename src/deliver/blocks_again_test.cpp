#include "deliver/blocks_again.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace skewback::deliver {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

Stock stock() {
  Stock out;
  out.bridge = "little-arch";
  out.blocks = {{"a1", 1, Standing::kTakenDown, true, 0, 2},
                {"a2", 2, Standing::kOnSite, false, 1, 1},
                {"key", 0, Standing::kBroken, false, 1, 0},
                {"b1", 1, Standing::kPlaced, false, 0, 2}};
  return out;
}

Dossier again(const std::optional<Stock>& known) {
  Dossier dossier;
  dossier.again = BlocksAgain{"little-arch", false, known};
  return dossier;
}

TEST(BlocksAgainWords, EveryBlockHasSomethingToBeDone) {
  EXPECT_EQ(blocks_again_csv(stock()),
            "block,copy,standing,looked_at,broken_copies,held_back,to_do\r\n"
            "a1,a1,taken down,yes,0,2,use it\r\n"
            "a2,a2/2,on site,no,1,1,look at it\r\n"
            "key,,broken,no,1,0,make anew\r\n"
            "b1,b1,placed,no,0,2,take it down\r\n");
}

TEST(BlocksAgainWords, SayWhatTheDaybookSaysOrThatNoneWasRead) {
  EXPECT_EQ(blocks_again_words({}), "");
  EXPECT_THAT(blocks_again_words(again(stock())),
              AllOf(HasSubstr("made anew: key"), HasSubstr("used: a2"), HasSubstr("in place"),
                    Not(HasSubstr("spares"))));
  EXPECT_THAT(blocks_again_words(again({})),
              AllOf(HasSubstr("no daybook was read"), HasSubstr("Look at every one")));
  Dossier with_programme = again(stock());
  with_programme.spares.emplace();
  EXPECT_THAT(blocks_again_words(with_programme), HasSubstr("come by its journey alone"));
  with_programme.again->printed = true;
  EXPECT_THAT(blocks_again_words(with_programme),
              AllOf(HasSubstr("No spares are chosen"), HasSubstr("cured and brought")));
  Stock good;
  good.bridge = "little-arch";
  good.blocks = {{"a1", 1, Standing::kTakenDown, true, 0, 2}};
  EXPECT_THAT(blocks_again_words(again(good)), HasSubstr("all are good"));
}

TEST(BlocksAgainWords, SayWhichSupportIsWhich) {
  Dossier d = again(stock());
  d.again->supports = {{"left", "left"}, {"right", "right"}};
  EXPECT_EQ(supports_again_words(*d.again), "");
  d.again->supports = {{"left", "south"}, {"right", "north"}};
  EXPECT_THAT(supports_again_words(*d.again),
              HasSubstr("names of little-arch: left is south, right is north in the brief"));
  EXPECT_THAT(blocks_again_words(d), HasSubstr("right is north"));
}

}  // namespace
}  // namespace skewback::deliver
