#include "works/old_blocks.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

namespace skewback {
namespace {

using testing::HasSubstr;

Brief drovers_hop() {
  return *read_brief(std::string(SKEWBACK_SOURCE_DIR) + "/examples/drovers-hop/brief.toml");
}

Brief mill_stream() {
  Brief brief = drovers_hop();
  brief.name = "mill-stream";
  return brief;
}

Result<Dossier> cut_again(const OldBlocks& old, const Brief& fresh) {
  WorksOptions options;
  options.until = "cut";
  options.old = old;
  return run_works(fresh, options, {});
}

/// As a daybook whose bridge was taken down has it.
Stock stock_of(const Assembly& assembly) {
  Stock stock;
  stock.bridge = "drovers-hop";
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    stock.blocks.push_back({block.id, 1, Standing::kTakenDown, true, 0, 0, concrete_mass_kg(block),
                            block.mass.centroid});
  }
  return stock;
}

struct OldBlocksAgain : testing::Test {
  Brief before = drovers_hop();
  Assembly cut = run_works(before, {0, "cut"}, {})->cut->assembly;
  OldBlocks old{&before, stock_of(cut), "book"};

  std::string refused(const Brief& fresh) {
    const Result<Dossier> found = cut_again(old, fresh);
    return found.ok() ? "" : describe(found.faults().front());
  }
};

TEST_F(OldBlocksAgain, BlocksAreCutAsTheyWereOnTheFootingsOfTheNewSite) {
  Brief fresh = mill_stream();
  fresh.blocks.mass_max_kg = 300;  // another cut, were it asked
  fresh.loads.people_pa = before.loads.people_pa + 1000;
  fresh.ground.footing_depth_m = before.ground.footing_depth_m + 0.5;
  const Result<Dossier> again = cut_again(old, fresh);
  ASSERT_TRUE(again.ok()) << describe(again.faults().front());
  const std::vector<Block>& blocks = again->cut->assembly.blocks;
  ASSERT_EQ(blocks.size(), cut.blocks.size());
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (blocks[i].fixed) {
      EXPECT_GT(blocks[i].mass.volume, 1.1 * cut.blocks[i].mass.volume);
    } else {
      EXPECT_EQ(blocks[i].mass.volume, cut.blocks[i].mass.volume);
    }
  }
  EXPECT_EQ(again->brief.name, "mill-stream");
  EXPECT_EQ(again->brief.loads.people_pa, fresh.loads.people_pa);
  EXPECT_EQ(again->brief.blocks.mass_max_kg, before.blocks.mass_max_kg);
}

TEST_F(OldBlocksAgain, OnlyWhatIsMissingIsMade) {
  old.stock->blocks[3].copy = 0;
  old.stock->blocks[3].held_back = 7;
  const Result<Dossier> again = cut_again(old, mill_stream());
  ASSERT_TRUE(again.ok());
  const std::string lost = old.stock->blocks[3].block;
  const auto made = blocks_to_make(*again);
  ASSERT_TRUE(made);
  double lost_m3 = 0, all_m3 = 0;
  for (const Block& block : made->blocks) EXPECT_TRUE(block.fixed || block.id == lost) << block.id;
  for (const Block& block : cut.blocks) {
    if (block.fixed) continue;
    all_m3 += block.mass.volume;
    if (block.id == lost) lost_m3 = block.mass.volume;
  }
  ASSERT_GT(lost_m3, 0);
  EXPECT_NEAR(used_blocks(*again).volume_m3, all_m3 - lost_m3, 1e-9 * all_m3);
  const auto check = required_blocks_there(*again);
  ASSERT_TRUE(check);
  EXPECT_EQ(check->passes, false);
  EXPECT_EQ(check->value, 1);
  EXPECT_THAT(check->note, HasSubstr("made anew: " + lost + "; 7 cannot be placed before"));
}

TEST_F(OldBlocksAgain, AllThereIsNothingToMake) {
  before.print.wanted = true;
  const Result<Dossier> again = cut_again(old, mill_stream());
  ASSERT_TRUE(again.ok());
  EXPECT_FALSE(blocks_to_make(*again));
  EXPECT_FALSE(again->brief.print.wanted);
  EXPECT_TRUE(again->again->printed);
  EXPECT_EQ(required_blocks_there(*again)->passes, true);
  old.stock.reset();
  const Result<Dossier> unread = cut_again(old, mill_stream());
  ASSERT_TRUE(unread.ok());
  EXPECT_FALSE(blocks_to_make(*unread));
  EXPECT_FALSE(required_blocks_there(*unread));
}

TEST_F(OldBlocksAgain, AMarkByTheSitesOwnNameIsToldTheOldOne) {
  Brief fresh = mill_stream();
  fresh.plan.supports[0].id = "north";
  fresh.plan.supports[1].id = "south";
  Result<Dossier> again = cut_again(old, fresh);
  ASSERT_TRUE(again.ok());
  const std::string was = before.plan.supports[1].id;
  const std::filesystem::path file =
      std::filesystem::temp_directory_path() / ("by-name-" + std::to_string(::getpid()) + ".csv");
  std::ofstream(file) << "mark,x_m,y_m,z_m\nsouth left,0,0,0\n" << was << " right,0,0,0\n";
  again.value().brief.survey->file = file;
  const Result<PointFile> read = read_survey(*again);
  std::filesystem::remove(file);
  ASSERT_FALSE(read.ok());
  ASSERT_EQ(read.faults().size(), 1u);
  EXPECT_THAT(describe(read.faults()[0]),
              testing::AllOf(HasSubstr("\"south left\""), HasSubstr("write \"" + was + " left\"")));
}

TEST_F(OldBlocksAgain, ADaybookOfOtherBlocksIsRefused) {
  EXPECT_EQ(refused(mill_stream()), "");
  old.stock->blocks[2].mass_kg += 1;
  EXPECT_THAT(refused(mill_stream()), HasSubstr("kg, in the place that the brief gives it"));
  old.stock->blocks[2].mass_kg -= 1;
  old.stock->blocks[2].centre.x() += 0.001;
  EXPECT_THAT(refused(mill_stream()), HasSubstr("in the place that the brief gives it"));
  old.stock = stock_of(cut);
  old.stock->blocks.pop_back();
  EXPECT_THAT(refused(mill_stream()), HasSubstr("no block key"));
  old.stock = stock_of(cut);
  old.stock->blocks.push_back(old.stock->blocks.front());
  EXPECT_THAT(refused(mill_stream()), HasSubstr("as the brief cuts them"));
  old.stock = stock_of(cut);
  old.stock->bridge = "wren-leat";
  EXPECT_THAT(refused(mill_stream()), HasSubstr("blocks of wren-leat"));
}

}  // namespace
}  // namespace skewback
