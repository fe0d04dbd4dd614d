// What stays on the paper.
#include "deliver/paper.hpp"

#include <gtest/gtest.h>

namespace skewback::deliver {
namespace {

TEST(Paper, TitleLinesAndFootStayWithinThePage) {
  std::string many;
  for (int i = 0; i < 60; ++i) many += "several words ";
  const Sheet sheet = paper(kA4, "Title", many, many);
  std::size_t words = 0;
  for (const auto& item : sheet.items) {
    const auto* line = std::get_if<Words>(&item);
    if (line == nullptr) continue;
    words += line->text.size() + 1;
    EXPECT_LE(line->at.x() + 0.6 * line->size_mm * static_cast<double>(line->text.size()), 200)
        << line->text;  // a letter of this face is no wider than 0.6 of its size
    EXPECT_GE(line->at.y(), kPaperMargin);
    EXPECT_LE(line->at.y(), 297 - kPaperMargin + 3 + 1e-9);
  }
  EXPECT_GE(words, 2 * many.size());  // nothing left out
}

}  // namespace
}  // namespace skewback::deliver
