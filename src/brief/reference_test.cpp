#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brief/sample_text.hpp"
#include "brief/values.hpp"
namespace skewback {
namespace {

using namespace sample;

TEST(Reference, PageIsUpToDate) {
  EXPECT_TRUE(file_text(source("docs/brief.md")) == brief_reference())
      << "make it again: skewback --keys > docs/brief.md";
}

// Every example in the table is one that its own row accepts.
TEST(Reference, ExamplesAreValid) {
  const Units units;
  for (const Key& key : keys()) {
    Draft draft;
    const Heading* heading = find_heading(section_of(key.path));
    ASSERT_NE(heading, nullptr) << key.path;
    if (heading->resize != nullptr) heading->resize(draft, 1);
    const toml::table table = toml::parse("x = " + key.example);
    read_value(*table.get("x"), key, 0, key.path, units, draft);
    EXPECT_TRUE(draft.faults.empty()) << all_of(draft.faults);
    EXPECT_FALSE(key.meaning.empty()) << key.path;
  }
}

}  // namespace
}  // namespace skewback
