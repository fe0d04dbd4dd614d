// The blocks of the demonstration bridge on another site.

#include <gtest/gtest.h>

#include <algorithm>

#include "works/works.hpp"

namespace skewback {
namespace {

Brief wren_leat() {
  Brief brief = *read_brief(std::string(SKEWBACK_SOURCE_DIR) + "/examples/wren-leat/brief.toml");
  brief.survey.reset();
  return brief;
}

Stock all_good(const Assembly& assembly, const std::string& bridge) {
  Stock stock;
  stock.bridge = bridge;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    StockedBlock there;
    there.block = block.id;
    there.copy = 1;
    there.standing = Standing::kTakenDown;
    there.mass_kg = concrete_mass_kg(block);
    there.centre = block.mass.centroid;
    stock.blocks.push_back(there);
  }
  return stock;
}

// One block broke: it alone is printed, it alone is new concrete, and nothing is said of how to
// change blocks that are made.
TEST(WrenLeatElsewhere, OnlyTheBlockThatBrokeIsMadeAnew) {
  const Brief before = wren_leat();
  Brief fresh = before;
  fresh.name = "mill-race";
  WorksOptions options;
  options.until = "cut";
  const Assembly cut = run_works(before, options, {})->cut->assembly;
  options.old = {&before, all_good(cut, before.name), "book"};
  const auto lost = std::ranges::find(options.old.stock->blocks, "yard-05", &StockedBlock::block);
  ASSERT_NE(lost, options.old.stock->blocks.end());
  lost->copy = 0;
  lost->standing = Standing::kBroken;
  options.until = "print";
  options.depth = false;
  const Result<Dossier> again = run_works(fresh, options, {});
  ASSERT_TRUE(again.ok());
  ASSERT_TRUE(again->print.has_value());
  ASSERT_EQ(again->print->blocks.size(), 1U);
  EXPECT_EQ(again->print->blocks[0].id, "yard-05");
  EXPECT_TRUE(again->print->blocks[0].printable);
  const auto line = [&](const std::string& what) {
    return *std::ranges::find(again->quantities->lines, what, &QuantityLine::what);
  };
  EXPECT_NEAR(line("printed concrete of the blocks").mass_kg, lost->mass_kg, 1e-6);
  EXPECT_NEAR(line("blocks used again").amount + line("printed concrete of the blocks").amount,
              again->quantities->concrete_m3, 1e-9);
  const auto check = std::ranges::find(again->required, "blocks_there", &RequiredCheck::name);
  ASSERT_NE(check, again->required.end());
  EXPECT_EQ(check->passes, false);
}

}  // namespace
}  // namespace skewback
